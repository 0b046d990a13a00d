"""Findings on the built object, each in a shot made for it.

A model of 20 kg with 1 m² in the wind, its middle 0.5 m up, on a foot 1 m deep: 0.5 m to the lee edge. W = 196.1 N; it
tips at 196.1/1.5 = 130.8 N and slides at 0.4·196.1/1.5 = 52.3 N, which is a gust of √(52.3/1.125) = 6.8 m/s.
"""

from shown import Shown, Table

WIND: Table = {"area": "1 m2", "area_height": "0.5 m", "foot_deep": "1 m", "weight": "20 kg"}


def stand(**changes: str | float) -> Table:
    return {"stand": WIND | changes}


STAND = [
    Shown("stand-open", "note", {"stand": {"area": "1 m2"}}, ("give the weight", "foot's depth"), stand()),
    Shown("stand-wind", "note", stand(), ("6.8 m/s before it slides", "margin of 1.5", "4 m/s"), {"stand": {}}),
    # 10 m/s push 112.5 N; 1.5·112.5/0.4/9.80665 = 43.0 kg hold it, 23.0 kg besides its own.
    Shown(
        "stand-falls",
        "stop",
        stand(gust="10 m/s"),
        ("10 m/s the model slides: it holds only to 6.8 m/s", "23.1 kg"),
        stand(gust="6 m/s"),
    ),
    Shown(
        "stand-falls",
        "stop",
        stand(gust="10 m/s", area_height="2 m"),  # 196.1·0.5/(1.5·2) = 32.7 N: 5.4 m/s
        ("tips", "5.3 m/s"),
        stand(gust="5 m/s", area_height="2 m"),
    ),
    Shown(
        "stand-sways",
        "warn",
        stand(gust="5 m/s", pull="20 N", moves="10 mm"),  # 0.5·10·28.1/20 = 7.0 mm
        ("sways 7 mm", "14 mm"),
        stand(gust="5 m/s", pull="20 N", moves="1 mm"),
    ),
    Shown(  # 112.5 N on 20 kg: atan(112.5 / 196.1) = 29.8°
        "hung-wind",
        "warn",
        stand(gust="10 m/s") | {"place.mount": "hangs"},
        ("0.57 times as hard as it weighs", "about 30 deg"),
        stand(gust="1 m/s") | {"place.mount": "hangs"},
    ),
    Shown("too-strong", "note", {"action.kind": "falling"}, ("16 times", "64 where"), {"action.kind": "still"}),
    Shown(
        "too-small",
        "note",
        {"build": [{"part": "wire", "real": "3 mm"}], "stock": [{"item": "card", "size": "1 mm"}]},
        ("A part", "at 0.5 mm", "cut to 0.1 mm"),  # 3 mm at 1:16 is 0.19 mm
        {"build": [{"part": "wire", "real": "30 mm"}]},
    ),
    Shown(
        "too-small",
        "note",
        {
            "build": [{"part": "wire", "real": "0.5 mm"}],
            "stock": [{"item": "card", "size": "1 mm"}],
            "scale.rounding": "0.1 mm",
        },
        ("A part", "at 0.1 mm", "1 mm", "reads as 16 mm", "paint"),
        {"build": [{"part": "wire", "real": "30 mm"}]},
    ),
    # 16^2.5 = 1024; √16 = 4.
    Shown(
        "smoke-plume",
        "note",
        {"action.kind": "smoke"},
        ("1000 times less", "4 times more slowly", "ground fog", "1 m/s", "4 m/s"),
        {"action.kind": "still"},
    ),
    Shown("caution-fog", "note", {"action.kind": "smoke"}, ("carbon dioxide",), {"action.kind": "still"}),
    Shown(
        "caution-stand",
        "note",
        stand(),
        ("second restraint", "a gust of 6.8 m/s"),
        {"stand": {}, "action.kind": "still"},
    ),
]
