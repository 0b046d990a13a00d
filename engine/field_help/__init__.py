"""The registry of a shot's fields: label, help, natural step, and the range of what may be entered."""

from collections.abc import Iterable
from datetime import date, datetime
from pathlib import Path
from typing import Any, Literal, NamedTuple, get_args, get_origin

from forescale.engine.fields.kinds import Sharpness
from forescale.engine.fields.ways import ASIDE, FARTHEST_MM, LEVEL, WAYS, Carried, FramePlace
from forescale.engine.files.faults import Fault, FieldPath, field_path, parts_of
from forescale.engine.files.toml_files import read_own
from forescale.engine.formulas.light import ISO_STEPS
from forescale.engine.formulas.scale import STANDARD_RATIOS
from forescale.engine.formulas.silhouette import Corner
from forescale.engine.shot.edit import alone_means, field_at, quantity_of
from forescale.engine.shot.records import Setting
from forescale.engine.units import LARGEST_STOP_NUMBER, SMALLEST_STOP_NUMBER, Stop, UnitSystem, stop_text

LARGE = 3  # natural steps in a large one, where no other size is given
_RUNGS = {"standard ratios": STANDARD_RATIOS, "ISO speeds": ISO_STEPS}


class By(NamedTuple):
    """A step of this much, and a large one, in the unit that the value is held in."""

    small: float
    large: float


class Rungs(NamedTuple):
    """A step from one of these values to the next."""

    values: tuple[float, ...]


# An inch or 5 cm on a tape, ten times as much far off; the mode's next rate; the lens's next mark; a third of a stop of
# light; a little more or less of what sharp is said in.
Step = By | Rungs | Literal["tape", "mode's rates", "lens's marks", "third of a stop", "sharpness"]


class FieldHelp(NamedTuple):
    """One field of a shot, as fields.toml has it; its kind and range stand in its record.

    `what` it is, how it `enters` the answer, how to `measure` or find it on set; `leads_to` are the keys of the numbers
    that it goes into first. Left open, it is what the program chose, the number of the answer at the key `chosen`; or,
    where nothing is chosen but another value holds, that at `follows`. A remedy that sets it says `to`, one that leaves
    it open `opened`; empty is as for most.
    """

    label: str
    what: str
    leads_to: tuple[str, ...]
    enters: str
    measure: str
    step: Step = "tape"
    first: float | None = None
    chosen: str = ""
    follows: str = ""
    to: str = ""
    opened: str = ""


def _field(label: str, what: str, leads_to: Any, enters: str, measure: str, more: Any = ()) -> FieldHelp:
    leads_to = _TOLD["notes"][leads_to] if isinstance(leads_to, str) else leads_to
    enters, measure, more = (*(_TOLD["notes"].get(text, text) for text in (enters, measure)), dict(more))
    if isinstance(step := more.get("step"), list):
        more["step"] = By(*step)
    if rungs := more.pop("rungs", None):
        more["step"] = Rungs(_RUNGS[rungs] if isinstance(rungs, str) else tuple(rungs))
    return FieldHelp(label, what, tuple(leads_to), enters, measure, **more)


_TOLD = read_own(Path(__file__).with_name("fields.toml"))
FIELD_HELP = {path: _field(*row) for path, row in _TOLD["fields"].items()}
LEFT_OPEN = tuple(path for path, field in FIELD_HELP.items() if field.chosen)  # what the program can choose


def prompt(path: str, system: UnitSystem, shown: float | None = None) -> str:
    """Return a field's label with the unit of a number that has none, as an entry asks for it: "farthest part (ft)"."""
    unit = alone_means(quantity_of(Setting, path), system, shown)
    return f"{FIELD_HELP[path].label} ({unit})" if unit else FIELD_HELP[path].label


def range_of(path: str, system: UnitSystem) -> str:
    """Return what may be entered at a path, '10 mm to 100 km or inf'; raises KeyError where there is no such field."""
    quantity, field = quantity_of(Setting, path), field_at(Setting, path)
    if quantity is not None:
        return quantity.range_text(system)
    kinds = tuple(parts_of(field.annotation))
    if Stop in kinds:
        return f"{stop_text(SMALLEST_STOP_NUMBER, 'f')} to {stop_text(LARGEST_STOP_NUMBER, 'f')}, or as a T-stop"
    if Carried in kinds:
        return f"0 to {FARTHEST_MM / 1000:g} m, {', '.join(WAYS[:-1])} or {WAYS[-1]}"
    if FramePlace in kinds:
        return "0 to 1, or 0 px to 100000 px"
    if Corner in kinds:
        return f"aside {ASIDE.range_text(system)}, height {LEVEL.range_text(system)}"
    if Sharpness in kinds:
        return "diagonal/100 to diagonal/20000, 0.0005 mm to 1 mm, 0.25 px to 100 px, or measured"
    if choices := _choices_in(kinds):
        return f"{'any' if any(get_origin(part) is tuple for part in kinds) else 'one'} of {', '.join(choices)}"
    if datetime in kinds:
        return "a day and a time, as 2026-05-03 10:10"
    if date in kinds:
        return "a day from 1950 to 2050, as 2026-06-21"
    if bool in kinds:
        return "one of true, false"
    if int in kinds:
        limits = {name: getattr(mark, name) for mark in field.metadata for name in ("ge", "le") if hasattr(mark, name)}
        return f"{limits['ge']} to {limits['le']}"
    return "a name"


def choices_of(path: str) -> tuple[str, ...]:
    """Return the words of which one may be written at a path; none where it holds no word, or several."""
    kind = field_at(Setting, path).annotation
    return () if get_origin(kind) is tuple else _choices_in(parts_of(kind))


def _choices_in(kinds: Iterable[Any]) -> tuple[str, ...]:
    return tuple(choice for part in kinds if get_origin(part) is Literal for choice in get_args(part))


# Faults as a screen says them


def in_words(fault: Fault) -> str:
    """Return a fault for a screen: "farthest part: ..." where its line in a file has "place.background_far: ...".

    One in a file stays as it is, since the file is where its reader will look; one of a whole section needs no more
    than the labels of the fields that it names.
    """
    return str(fault) if fault.file else fault.spelt("" if len(fault.path) == 1 else place_in_words(fault.path), called)


def place_in_words(path: FieldPath) -> str:
    """Return a field's label, after the number of its row if it has one: "bench 4, slide at"."""
    section, name = path[:1], path[-1:]
    label = FIELD_HELP.get(".".join(map(str, section + name)))
    if label is None:
        return field_path(path)
    return f"{field_path(path[:2])}, {label.label}" if len(path) == 3 else label.label


def called(path: str) -> str:
    """Return a field's label, or its path where it has none."""
    return FIELD_HELP[path].label if path in FIELD_HELP else path
