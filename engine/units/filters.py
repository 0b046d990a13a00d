"""How a neutral-density filter is written: in stops, "2 stops", or by its density, "ND 0.6"."""

import re

from forescale.engine.units.errors import EntryError, quoted
from forescale.engine.units.numbers import DECIMAL, parse_number, tidied
from forescale.engine.units.text import number_text

DENSITY_A_STOP = 0.3  # as filters are marked; a half is 0.30103 of density (common practice, no source)
_DENSITY = rf"nd\s*(?P<density>{DECIMAL})"
_BY_DENSITY = re.compile(_DENSITY)
_BY_STOPS = re.compile(rf"(?P<stops>.*?)\s*stops?(?:\s*\({_DENSITY}\))?")
_WANTED = 'write "2 stops", or a density with its point, "ND 0.6"'


def parse_filter(text: str) -> float:
    """Return a filter in stops: `2`, `2 stops`, `ND 0.6`, `2 stops (ND 0.6)`.

    Raises EntryError for anything else; for `ND 4` too, which may be a density or one that leaves a quarter.
    """
    plain = tidied(text)
    if by_density := _BY_DENSITY.fullmatch(plain):
        return _stops(by_density["density"], text)
    by_stops = _BY_STOPS.fullmatch(plain)
    try:
        stops = parse_number(by_stops["stops"] if by_stops else plain)
    except EntryError:
        raise EntryError(f"{quoted(text)}: not a filter", _WANTED) from None
    if by_stops and by_stops["density"] and abs(_stops(by_stops["density"], text) - stops) > 0.05:
        raise EntryError(f"{quoted(text)}: stops and density differ", _WANTED)
    return stops


def _stops(density: str, text: str) -> float:
    if "." not in density:
        raise EntryError(f"{quoted(text)}: a density, or how many times less light?", _WANTED)
    return round(float(density) / DENSITY_A_STOP, 9)


def filter_text(stops: float) -> str:
    """Return a filter as everything shows it, "1 stop (ND 0.3)"."""
    if not stops:
        return "0 stops (no filter)"
    density = f"{DENSITY_A_STOP * stops:.2f}".removesuffix("0")
    return f"{number_text(stops, 3)} stop{'' if stops == 1 else 's'} (ND {density})"
