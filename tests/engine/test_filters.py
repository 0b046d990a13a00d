"""A neutral-density filter is read in stops or by its density, and shown as both. 0.3 of density is a stop."""

import pytest
from cases import shot, solve

from forescale.engine.files.faults import BadInput
from forescale.engine.shot import edit
from forescale.engine.units import EntryError, filter_text, parse_filter


@pytest.mark.parametrize(
    ("text", "stops"),
    [
        ("1", 1),
        ("0.3 stops", 0.3),
        ("1 stop", 1),
        ("2 stops", 2),
        ("1 1/3 stops", 4 / 3),
        ("ND 0.3", 1),
        ("nd0.9", 3),
        ("ND 1,2", 4),
        ("ND .6", 2),
        ("2 stops (ND 0.6)", 2),
        ("0", 0),
    ],
)
def test_stops_and_densities_are_read(text: str, stops: float) -> None:
    assert parse_filter(text) == pytest.approx(stops, rel=1e-12)


@pytest.mark.parametrize("text", ["ND", "ND 4", "two", "1 stop (ND 0.6)", "nan", "ND nan", "stops", ""])
def test_what_may_mean_two_things_is_refused_with_what_would_be_right(text: str) -> None:
    with pytest.raises(EntryError, match='write "2 stops", or a density'):
        parse_filter(text)


@pytest.mark.parametrize("text", ["0.3", "0,3", ".6", "1.2", "1.0"])
def test_a_number_with_a_point_alone_may_be_a_density_and_is_asked_about(text: str) -> None:
    plain = text.replace(",", ".")
    with pytest.raises(EntryError, match=f'stops or a density.*write "{plain} stops" or "ND {plain}"'):
        parse_filter(text)
    assert parse_filter(f"{plain} stops") == pytest.approx(float(plain))
    assert parse_filter(f"ND {plain}") == pytest.approx(float(plain) / 0.3)


@pytest.mark.parametrize(
    ("stops", "text"),
    [(1, "1 stop (ND 0.3)"), (2, "2 stops (ND 0.6)"), (10, "10 stops (ND 3.0)"), (0.3, "0.3 stops (ND 0.09)")],
)
def test_a_filter_is_shown_in_stops_and_as_its_density(stops: float, text: str) -> None:
    assert filter_text(stops) == text
    assert parse_filter(text) == stops


def test_an_entry_is_echoed_in_stops_and_a_file_holds_them_bare() -> None:
    setting = solve().setting
    assert edit.entry("light.nd", "0.3 stops", setting, "metric", None) == (0.3, "0.3 stops (ND 0.09)")
    assert edit.entry("light.nd", "ND 0.3", setting, "metric", None) == (1, "1 stop (ND 0.3)")
    held = edit.changed(setting, {"light.nd": "ND 0.6"}).light
    assert held.model_dump(exclude_none=True)["nd"] == 2
    with pytest.raises(BadInput, match="0 to 20 stops"):
        shot({"light.nd": "ND 9.0"})
