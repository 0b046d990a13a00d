"""The Focus zone pane: focus mark, stop, the zone they hold, and what contrast is left over it."""

from collections.abc import Iterator

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.units import number_text
from forescale.tui.diagrams import bars, curves
from forescale.tui.panes.content import AnswerRow, PaneContent, fields, length


def content(answer: Answer) -> PaneContent:
    """Return what the pane holds for an answer."""
    words = Words(answer)
    stop = f"f/{number_text(answer.focus.f_number, 3)}" if answer.kit.lens.marks == "T" else ""
    return PaneContent(
        fields=fields("focus.distance focus.stop place.model_near place.background_far", {"focus.stop": stop}),
        more_fields=fields("focus.sharpness kit.focal_length", {}),
        answers=tuple(_answers(answer, words)),
        diagrams=(bars.distances, curves.contrast),
    )


def _answers(answer: Answer, words: Words) -> Iterator[AnswerRow]:
    zone, contrast = answer.focus, answer.focus.contrast
    near, far = f"sharp {words.sharp_from(zone.near_mm)} to", words.sharp_to(zone.far_mm)
    yield AnswerRow(f"{near} {far}", "focus.near_mm", f"{near}\n  {far}")
    mark = "T" if answer.kit.lens.marks == "T" else "f/"
    needed = f"{mark}{number_text(answer.kit.lens.mark(zone.stop_needed), 3)}"
    yield AnswerRow(f"the zone needs {needed}: {'held' if zone.covers else 'not held'}", "focus.stop_needed")
    if contrast is not None:
        best = f"best {words.stop(contrast.best_f_number)}, {words.percent(contrast.best_worst)}"
        yield AnswerRow(f"contrast {words.percent(contrast.worst)}; {best}", "focus.contrast.best_f_number")
        points = f"near {100 * contrast.near:.0f}, focus {100 * contrast.focus:.0f}, far {100 * contrast.far:.0f}"
        fineness = f"at {number_text(contrast.frequency_lpmm, 2)} lp/mm"
        yield AnswerRow(f"{fineness}: {points}", "focus.contrast.near", points)
    if zone.split_dioptres is not None:
        power = f"split-field +{zone.split_dioptres:g}"
        yield AnswerRow(f"no stop holds it: {power}, see f", "focus.split_dioptres", f"no stop: {power}, see f")
    yield AnswerRow(f"hyperfocal {length(zone.hyperfocal_mm, answer.system)}", "focus.hyperfocal_mm")
    blur = f"{1000 * zone.coc_mm:.1f} µm, Airy {1000 * zone.airy_mm:.1f} µm"
    yield AnswerRow(f"circle of confusion {blur}", "focus.coc_mm", f"CoC {blur}")
