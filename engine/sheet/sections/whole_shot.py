"""What is said of the whole shot: kit, verdict, what to set, how far off, cautions, findings and takes."""

from collections.abc import Iterator

from forescale.engine.answer import Answer, Finding
from forescale.engine.answer.to_set import to_set
from forescale.engine.findings.built import DEFER
from forescale.engine.findings.words import Words, stop_on
from forescale.engine.formulas.scale import MM_PER_FOOT
from forescale.engine.kit.kit import Kit
from forescale.engine.kit.profiles import Profile
from forescale.engine.kit.slide_scale import SlideScale, scale_of
from forescale.engine.margins.sensitivity import Edge, Sensitivity, sensitivity
from forescale.engine.mends import joined
from forescale.engine.sheet.blocks import Remark, Row, Section, Table
from forescale.engine.sheet.cells import clean
from forescale.engine.shot.records import Shot
from forescale.engine.states.takes import judged, numbered, take_text
from forescale.engine.units import INCH_MM, UnitSystem, angle_text, length_at_most, number_text, rounded_down, tape_text

CHOSEN = "What is marked (auto) was left open and chosen by the program."
NOTHING = "any"
NO_TAKES = Section("Takes", (Row("Recorded", "none yet"),))
_MARKS = {"stop": "STOP", "warn": "WARN", "note": "note", "ok": "ok"}


def kit_rows(answer: Answer) -> tuple[Row, ...]:
    """Return what the shot is made with, by title where a profile has one."""
    kit = answer.kit
    mode = kit.mode
    size = f"{number_text(mode.width, 5)} × {number_text(mode.height, 5)} mm, {mode.width_px} × {mode.height_px} px"
    at = f", at {Words.focal(kit.focal_mm)}" if kit.lens.is_zoom else ""
    return (
        Row("Camera", _titled(kit.camera)),
        Row("Mode", f"{clean(mode.name)}, {size}"),
        Row("Lens", _titled(kit.lens) + at),
        Row("Head", "none named" if kit.head is None else _titled(kit.head)),
    )


def _titled(profile: Profile) -> str:
    return clean(profile.title or profile.name)


def verdict(answer: Answer) -> tuple[Row, ...]:
    """Return whether it can be shot as set, and the gravest finding in full."""
    levels = [finding.level for finding in answer.findings]
    counted = ((levels.count("stop"), "fault"), (levels.count("warn"), "warning"))
    counts = [f"{count} {word}{'' if count == 1 else 's'}" for count, word in counted if count]
    if not counts:
        return (Row("Verdict", "good to shoot"),)
    word = "CANNOT BE SHOT AS SET" if answer.stopped else "can be shot, at a price"
    first = clean(joined(answer, answer.findings[0]))
    return Row("Verdict", word, f"{', '.join(counts)}: see Findings"), Row("First", first)


def set_by_hand(voice: Words) -> Iterator[Row]:
    """Return what to set, in the order of setting it."""
    return (Row(item.label, clean(item.text), clean(item.remark), item.chosen) for item in to_set(voice.of))


def is_caution(finding: Finding) -> bool:
    """Return whether a finding is a caution for safety and not a matter of the picture."""
    return finding.code.startswith("caution-")


def caution_texts(answer: Answer) -> list[str]:
    """Return the cautions, each without the words that all of them end in."""
    return [clean(one.text.removesuffix(f"; {DEFER}")) for one in answer.findings if is_caution(one)]


def cautions(voice: Words) -> Iterator[Remark]:
    """Yield the cautions."""
    yield from (Remark("!", text) for text in caution_texts(voice.of))


def findings(voice: Words) -> Iterator[Remark]:
    """Yield the findings, the most important first."""
    for one in voice.of.findings:
        if not is_caution(one):
            yield Remark(_MARKS[one.level], clean(f"{one.pane.capitalize()}: {joined(voice.of, one)}"))


def takes(shot: Shot) -> Section:
    """Return the takes that were recorded."""
    rows = tuple(
        (str(number), f"{take.time:%Y-%m-%d %H:%M}", clean(take_text(take)), judged(take), clean(take.note))
        for number, take in numbered(shot.take)
    )
    heads = ("Take", "When", "Set", "Judged", "Note")
    return Section("Takes", (Table(heads, rows, frozenset({0})),)) if rows else NO_TAKES


def margins(voice: Words) -> Iterator[Table]:
    """Yield how far each value may be off on the day before something is to be said, what matters most first."""
    of = voice.of
    rows = [row for row in sensitivity(of.setting, of.kit, of.system) if row.less or row.more]
    if cells := tuple(margin_cells(row, of.system, of.kit) for row in rows):
        yield Table(("Value", "Stands at", "Less by", "More by", "Then"), cells)


def margin_cells(row: Sensitivity, system: UnitSystem, kit: Kit) -> tuple[str, str, str, str, str]:
    """Return one value's label, where it stands, how far it may be less and more, and what turns."""
    scale = scale_of(kit.head, system)
    if row.unit == "stops":
        value = stop_on(kit.lens, row.value)
    elif row.unit == "deg":
        value = angle_text(row.value)
    else:
        value = scale.mark(row.value) if row.path == "move.slide" else tape_text(row.value, system)
    # What turns is told by its short name: "zone short", or "zone short ends" where it goes.
    edges = [edge for edge in (row.less, row.more) if edge is not None]
    turns = dict.fromkeys(f"{edge.finding.code.replace('-', ' ')}{'' if edge.comes else ' ends'}" for edge in edges)
    less, more = (_off(row, edge, system, scale) for edge in (row.less, row.more))
    return row.label, value, less, more, "; ".join(turns)


def _off(row: Sensitivity, edge: Edge | None, system: UnitSystem, scale: SlideScale) -> str:
    """Return how far off a value may be, rounded down: what may be off must not be shown as more."""
    if edge is None:
        return NOTHING
    if row.unit != "mm":
        return f"{number_text(rounded_down(edge.off), 2)} {row.unit}"
    if row.path == "move.slide":
        return scale.at_most(edge.off)
    if system == "metric":
        return length_at_most(rounded_down(edge.off), system)
    if edge.off < INCH_MM / 8:
        return f"{number_text(rounded_down(edge.off / INCH_MM), 2)} in"
    return length_at_most(edge.off, system, fraction=8 if edge.off < MM_PER_FOOT else 1)
