"""What `options` prints is what the answers to the ways hold: the table's cells, what is to be built, the counts."""

from __future__ import annotations

import re
from typing import Any

import pytest
from options_kit import KIT, open_shot

from forescale.engine.options.option import Option, taken
from forescale.engine.options.outcome import find_options
from forescale.engine.options.printed import options_text
from forescale.engine.options.search import search
from forescale.engine.options.to_try import plan
from forescale.engine.units import UnitSystem, parse_length, parse_stop

ROW = re.compile(
    r"(?P<place>\d+)(?P<front>\*?) +1:(?P<ratio>[\d.]+) +(?P<model>\S.*?) +(?P<frame>\d+) % +(?P<fps>[\d.]+) +"
    r"(?P<stop>[fT]/?[\d.]+) +(?P<iso>\d+) +(?P<contrast>[\d.]+) % +(?P<light>[+-][\d.]+)"
)
SHOTS: list[dict[str, Any]] = [
    {},
    {"light.available": "6000 lx"},
    {"limits.order": ["model", "light"], "action.fps": 48},
    {"scale.ratio": "1:24"},
]


def blocks(text: str) -> list[tuple[re.Match[str], str]]:
    """Return each printed way: its row of the table, and the lines under it as one text."""
    table = text.partition("These are")[0].partition("The ways with")[0].split("\n\n")
    found = []
    for block in table:
        first, _, rest = block.partition("\n")
        if row := ROW.fullmatch(first.strip()):
            found.append((row, " ".join(rest.split())))
    return found


def size_mm(option: Option) -> float:
    return max(item.model_mm for item in taken(option)[1].scale.build)


@pytest.mark.parametrize("changes", SHOTS)
@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_each_cell_is_the_number_of_the_answer(changes: dict[str, Any], system: UnitSystem) -> None:
    found = find_options(open_shot(changes), system, KIT)
    printed = blocks(options_text(found, 8))
    assert len(printed) == min(8, found.working) > 0
    for place, ((row, _), ranked) in enumerate(zip(printed, found.options, strict=False), start=1):
        of = taken(ranked.option)[1]
        assert of.focus.contrast is not None
        assert of.light.over_stops is not None
        assert int(row["place"]) == place
        assert (row["front"] == "*") is ranked.front
        assert float(row["ratio"]) == pytest.approx(of.scale.ratio, rel=5e-3)
        assert parse_length(row["model"]) == pytest.approx(of.lineup.model_mm, abs=1, rel=1e-3)
        assert int(row["frame"]) == round(100 * size_mm(ranked.option) / of.lineup.frame_width_model_mm)
        assert float(row["fps"]) == pytest.approx(of.speed.fps, rel=1e-4)
        assert parse_stop(row["stop"]).value == pytest.approx(of.focus.stop_mark, rel=0.02)
        assert int(row["iso"]) == pytest.approx(of.light.iso, rel=1e-4)
        worst = 100 * of.focus.contrast.worst
        assert float(row["contrast"]) == pytest.approx(worst, abs=0.5 if worst >= 1 else 0.05)
        assert float(row["light"]) == pytest.approx(of.light.over_stops, abs=0.0501)


@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_the_lines_below_name_kit_size_to_build_and_what_is_traded(system: UnitSystem) -> None:
    found = find_options(open_shot(), system, KIT)
    printed = blocks(options_text(found, 12))
    best = found.options[0].option
    traded = 0
    for (_, below), ranked in zip(printed, found.options, strict=False):
        option = ranked.option
        kit = f"{option.in_mode.camera.name}, {option.in_mode.mode.name}; {option.lens_at.lens.name} at"
        assert below.startswith(f"{kit} {option.lens_at.focal_mm:g} mm; ")
        built = re.search(r"; ([^;]+?) to build", below)
        assert built
        assert parse_length(built[1]) == pytest.approx(size_mm(option), abs=1, rel=1e-3)
        if contrast := re.search(r"contrast (\d+) % instead of (\d+) %", below):
            shown = [round(100 * one.worst_contrast) for one in (option, best)]
            assert [int(contrast[1]), int(contrast[2])] == shown
            traded += 1
        if light := re.search(r"([\d.]+) stops (less|more) light", below):
            factor = 2 ** float(light[1]) if light[2] == "less" else 2 ** -float(light[1])
            assert best.base_lux / option.base_lux == pytest.approx(factor, rel=0.04)
            traded += 1
    assert traded > 3


def test_the_counts_add_up_and_are_those_of_the_ways_that_fail() -> None:
    found, to_try = find_options(open_shot(), "metric", KIT), plan(open_shot(), "metric", KIT)
    misses = [miss for batch in search(to_try, with_misses=True) for miss in batch.misses]
    text = options_text(found, 3)
    assert f"These are the first 3 of {found.working}." in text
    works = re.search(r"(\d+) of (\d+) ways work; (\d+) fail, (\d+) of them because", " ".join(text.split()))
    assert works
    assert [int(count) for count in works.groups()[:3]] == [found.working, found.searched, len(misses)]
    assert found.working + len(misses) == found.searched
    counts = sorted((sum(miss.reason == row.code for miss in misses) for row in found.dropped), reverse=True)
    assert counts
    assert [row.count for row in found.dropped] == counts
    lines = text.partition("Dropped\n")[2]
    assert [int(count) for count in re.findall(r"^ *(\d+)  ?", lines, re.MULTILINE)] == counts
    assert int(works[4]) == counts[0]
