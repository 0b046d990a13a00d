"""Findings on focus and slip, cautions, and what is said where all is well, each in a shot made for it."""

from shown import HEAD, PAN, TILT, Shown, seen, slips

ROUGHLY = [{"focal_length": "25 mm", "focus": "inf", "ahead": "30 mm", "uncertainty": "3.06 mm"}]

LIT = {"light.available": "1600 lx"}
LOW_AXIS = {"tilt_drop": "120 mm"}
FOCUS_AND_SLIP = [
    # Focus
    Shown(
        "stop-beyond-lens",
        "stop",
        {"focus.stop": "f/32"},
        ("from f/2 to f/22", "not to f/32"),
        {"focus.stop": "f/22"},
    ),
    Shown(
        "stop-beyond-lens",
        "stop",
        {"focus.stop": "f/=5.6"},
        ("from f/5.6 to f/22", "not to f/=5.6"),  # the mark 5.6 stands for 5.657
        {"focus.stop": "f/5.6"},
        {"lens": {"widest": "f/5.6"}},
    ),
    Shown(
        "stop-beyond-lens",
        "stop",
        {"focus.stop": "f/=22.7"},
        ("from f/2 to f/22", "not to f/22.7"),  # the mark 22 stands for 22.63
        {"focus.stop": "f/=22.6"},
    ),
    Shown(
        "nearest-behind",
        "warn",
        {"place.model": None, "place.model_near": "4.5 m"},
        ("taped at 4.5 m", "to stand at 4.03 m"),  # 64 m / 16, and 30 mm to the pupil
        {"place.model_near": "3.9 m"},
    ),
    Shown(
        "soft-in-picture",
        "warn",
        {
            "place.lens_height": "1.5 m",
            "point": [{"name": "stump", "aside": "1 m left", "height": "1.2 m", "distance": "45 m"}],
        },
        (
            "Stump on the model is blurred by 2.77 px, and 1.49 px pass",
            "nearest part at 2.84 m",
            "set the nearest part to 2.84 m",
        ),
        {"place.model_near": "2.84 m"},  # 4 m - (64 m - 44.97 m)/16, and 30 mm to the pupil
    ),
    Shown(
        "soft-in-picture",
        "warn",
        {
            "place.lens_height": "1.5 m",
            "place.background_far": "80 m",
            "point": [{"name": "spire", "aside": "1 m left", "height": "1.2 m", "distance": "250 m"}],
        },
        ("Spire in the place is blurred by", "farthest part at 250 m"),
        {"place.background_far": "250 m"},
    ),
    Shown(
        "soft-at-edge",
        "note",
        {"place.lens_height": "1.5 m", "place.aim": "20 deg up"},
        ("aimed 20 deg up", "blurred by 1.58 px at the bottom of the frame", "nearest part at 3.759 m"),
        {"focus.stop": "f/5.6"},
    ),
    Shown(
        "inside-close-focus",
        "stop",
        {"focus.distance": "250 mm"},
        ("no nearer than 300 mm", "set at 250 mm"),
        {"focus.distance": "300 mm"},
    ),
    Shown(
        "zone-short",
        "warn",
        {"focus.stop": "f/4"},
        ("At f/4", "4.418 m to 26.53 m", "part at 4.03 m", "farthest at 64.03 m", "set f/5"),
        {"focus.stop": "f/5"},
    ),
    Shown(
        "zone-short",
        "warn",
        {"place.model_near": "900 mm", "place.background_far": "inf"},
        ("no stop to f/22", "of +0.7 over"),  # (1/0.87 + 1/4)/2 − 1/128 = 0.69 dioptres, which hold the model whole
        {"place.model_near": "1000 mm"},
    ),
    Shown(
        "zone-short",
        "warn",
        {"place.model": "1530 mm", "place.background": "24030 mm", "focus.distance": "inf"},
        ("no stop to f/22 holds it from this focus", "focus at 2.854 m and set f/14"),
        {"focus.distance": "auto"},
    ),
    Shown(
        "zone-short",
        "warn",
        {"place.model": "350 mm", "place.background": "350 mm", "place.background_far": "inf", "scale.ratio": "1:1"},
        ("no stop to f/22 holds it", "let the far end go"),
        {"place.background_far": "350 mm"},
    ),
    Shown(
        "past-best-stop",
        "warn",
        {"focus.stop": "f/16"},
        ("f/16 holds 4.03 m to 64.03 m", "worst contrast is 62 %", "34 line pairs/mm", "f/8 gives 75 %"),
        {"focus.stop": "f/8"},
    ),
    # Within the margin: tapes off 25 mm to 10 m and 1 % of what lies beyond, so 25 mm and 565 mm at 64 m.
    Shown(
        "size-hair",
        "note",
        {"place.model": "4060 mm"},  # 4.03/4 is 0.74 % off; 25/4030 and 565/64000, squared and added, 1.08 %
        ("0.7 % off", "1.1 % more", "± 25 mm and ± 565 mm", "1.5 % shows", "stand it at 4.03 m"),
        {"place.model": "4030 mm"},
    ),
    Shown(
        "zone-hair",
        "note",
        {"limits.tape_error": "50 mm"},  # f/5.04 for f/4.93: 2.6e-6 to spare, 50/4000² is 3.1e-6
        ("f/5 holds the zone by a hair", "nearest part at 4.03 m", "set f/5.6"),
        {"focus.stop": "f/5.6"},
    ),
    Shown(
        "slip-hair",
        "note",
        PAN | {"move.slide": "51 mm"},  # 9.4 mm to either side of 60 mm
        ("by a hair", "off 0.45 mm", "every 1 mm", "forward 9 mm, to 60 mm"),
        {"move.slide": "52 mm"},
        HEAD,
    ),
    # Slip: the plain head has its sensor 90 mm behind the axis, so with the pupil 30 mm ahead the zero is at 60 mm.
    Shown("pupil-unknown", "note", {}, ("plain-lens",), {}, {"lens": {"pupil": []}}, {}),
    Shown("pupil-unknown", "warn", PAN, ("cannot be told",), {}, {"lens": {"pupil": []}} | HEAD, HEAD),
    Shown(
        "pupil-outside",
        "note",
        {},
        ("25 mm focused at 1 m",),
        {},
        {"lens": {"pupil": [{"focal_length": "25 mm", "focus": "1 m", "ahead": "30 mm"}]}},
        {},
    ),
    Shown("head-missing", "warn", PAN, ("No head",), {}, {}, HEAD),
    Shown(
        "slide-out-of-reach",
        "warn",
        PAN,
        ("at 170.0 mm", "0 mm to 120 mm"),
        {},
        {"head": {"sensor_at_zero": "-200 mm"}},
        HEAD,
    ),
    Shown(
        "slide-to-set",
        "warn",
        PAN,
        ("holds at 60.0 mm ± 9.4 mm", "set the slide at 60 mm"),
        {"move.slide": "60 mm"},
        HEAD,
    ),
    Shown(
        "slip-over",
        "warn",
        PAN | {"move.slide": "85 mm"},
        (
            "the pan the model outruns",
            "by 2.6 px",
            "1 px may pass",
            "holds at 60.0 mm ± 9.5 mm",
            "back 25 mm, to 60 mm",
        ),
        {"move.slide": "60 mm"},
        HEAD,
    ),
    Shown(
        "slip-over",
        "warn",
        PAN | {"move.slide": "35 mm"},
        ("lags", "by 2.6 px", "forward 25 mm, to 60 mm"),
        {"move.slide": "55 mm"},
        HEAD,
    ),
    Shown(
        "slip-uncertain",
        "warn",
        PAN | {"move.slide": "55 mm"},
        ("known to ± 6 mm", "off no more than 4.4 mm", "forward 5 mm, to 60 mm"),  # 9.4 mm to either side of 60 mm
        {"move.slide": "60 mm"},
        HEAD | {"lens": {"pupil": ROUGHLY}},
    ),
    Shown("slide-none-holds", "warn", TILT, ("within 1 px", "tilt"), {"move.tolerance": 2}, {"head": LOW_AXIS}),
    Shown(
        "slide-too-coarse",
        "note",
        PAN | {"move.slide": "60 mm"},
        ("every 25 mm", "within 9.4 mm"),
        {},
        {"head": {"slide_step": "25 mm"}},
        HEAD,
    ),
    Shown(
        "bench-out-of-frame",
        "note",
        PAN | {"move.sweep": "30 deg", "bench": slips((20, -5))},
        ("after 21.74 deg", "20 deg or less"),
        {"move.sweep": "20 deg"},
        HEAD,
    ),
    Shown("bench-fault", "warn", {"bench": slips((20, -5))}, ("set axis and sweep",), PAN, HEAD),
    Shown(
        "bench-fault",
        "warn",
        PAN | {"bench": slips((20, -4), (20, -5))},
        ("one place of the slide",),
        {"bench": slips((20, -4), (80, 2))},
        HEAD,
    ),
    Shown(
        "bench-slope",
        "warn",
        PAN | {"bench": slips((40, -4), (60, 0), (80, 4))},
        ("by 0.2 px a mm", "where 0.105 was"),  # 2.6 px over 25 mm
        {"bench": slips((40, -2), (60, 0), (80, 2))},
        HEAD,
    ),
    Shown(
        "bench-outside",
        "warn",
        PAN | {"bench": slips((70, 1), (80, 2), (90, 3))},
        ("one side",),
        {"bench": slips((50, -1), (70, 1), (80, 2), (90, 3))},
        HEAD,
    ),
    Shown(
        "bench-contradicts",
        "warn",
        PAN | {"bench": seen((40, "outruns"), (50, "lags"), (55, "lags"), (80, "outruns"))},
        ("Reading 1",),
        {"bench": seen((40, "lags"), (50, "lags"), (55, "lags"), (80, "outruns"))},
        HEAD,
    ),
    Shown(
        "bench-no-error",
        "note",
        PAN | {"bench": slips((40, -2), (80, 2))},
        ("Two readings",),
        {"bench": slips((40, -2), (80, 2), (60, 0))},
        HEAD,
    ),
    Shown(
        "bench-no-error",
        "note",
        PAN | {"bench": slips((40, -2))},
        ("One reading",),
        {"bench": slips((40, -2), (80, 2), (60, 0))},
        HEAD,
    ),
    Shown(
        "bench-try-next",
        "note",
        PAN | {"bench": seen((40, "lags"), (80, "outruns"))},
        ("at 60.0 mm",),
        {"bench": slips((40, -2), (80, 2), (60, 0))},
        HEAD,
    ),
    Shown(
        "pupils-taken-equal",
        "note",
        {"place.model": "430 mm", "place.background": "6430 mm"},  # 375/350 − 1 at 400 mm from the pupil
        ("7.1 %", "pupil_magnification"),
        {},
        {},
        {"lens": {"pupil_magnification": 1.2}},
    ),
    # Cautions
    Shown("caution-falling", "note", {}, ("Falling",), {"action.kind": "still"}),
    Shown("caution-fire", "note", {"action.kind": "fire"}, ("Fire",), {"action.kind": "still"}),
    Shown("caution-smoke", "note", {"action.kind": "smoke"}, ("Smoke",), {"action.kind": "still"}),
    Shown("caution-water", "note", {"action.kind": "water"}, ("Water near power",), {"action.kind": "still"}),
    Shown("caution-driven", "note", {"action.kind": "driven"}, ("roads",), {"action.kind": "still"}),
    Shown(
        "caution-overhead",
        "note",
        {"place.lens_height": "1.5 m", "place.feature_height": "7 m"},  # built at 1.5 + 5.5/16 = 1.844 m
        ("overhead",),
        {"place.feature_height": "6 m"},  # 1.781 m
    ),
    Shown("caution-height", "note", {"place.lens_height": "2.1 m"}, ("high",), {"place.lens_height": "1.9 m"}),
    # 250 · (22.63 · 1.0033)² / (1/192 s · 800) = 30 900 lx; a third of a stop wider 24 500 lx
    Shown("caution-lamps", "note", {"focus.stop": "f/22"}, ("high power",), {"focus.stop": "f/20"}),
    Shown("caution-lamps", "note", {"focus.stop": "f/22"}, ("high power",), {"light.available": "20000 lx"}),
    # All well: gone where something is amiss, and where there is nothing to be well.
    Shown("scale-ok", "ok", {}, ("matches",), {"place.model": "3830 mm"}),
    Shown("scale-ok", "ok", {}, ("matches",), {"place.background": "inf"}),
    Shown("speed-ok", "ok", {}, ("The rate holds; of move and light nothing is known",), {"action.fps": 48}),
    Shown("speed-ok", "ok", LIT, ("The rate and the light hold together; of the move nothing",), {"action.fps": 48}),
    Shown("speed-ok", "ok", PAN | LIT, ("The rate, the move and the light hold together",), {"action.fps": 48}),
    # 250 · 5.056² / (800 / 192) = 1534.1 lx; log2(2200 / 1534.1) = 0.52
    Shown(
        "speed-ok",
        "ok",
        {"light.available": "2200 lx"},
        ("The rate holds; of the move nothing is known; the light is 0.5 stops over",),
        {"action.fps": 48},
    ),
    Shown(
        "speed-ok",
        "ok",
        PAN | {"light.available": "2200 lx"},
        ("The rate and the move hold together; the light is 0.5 stops over",),
        {"action.fps": 48},
    ),
    Shown("focus-ok", "ok", {}, ("sharp",), {"focus.stop": "f/4"}),
    Shown("slip-ok", "ok", PAN | {"move.slide": "60 mm"}, ("not slide",), {"move.slide": "85 mm"}, HEAD),
    Shown("slip-ok", "ok", PAN | {"move.slide": "60 mm"}, ("not slide",), {"move.slide": None}, HEAD),
    Shown("slip-ok", "ok", PAN | {"move.slide": "60 mm"}, ("not slide",), {}, HEAD, {}),
]
