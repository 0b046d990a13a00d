"""The workings of the survey group."""

from __future__ import annotations

from typing import TYPE_CHECKING

from forescale.engine.formulas.lineup import VISIBILITY
from forescale.engine.formulas.survey import ELEVATION_ERROR_DEG, SHARE_ERROR, TAPE_MM
from forescale.engine.shot.records import SurveyRow
from forescale.engine.solve.survey_group import sighting
from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import Working, told

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

_by_eye = on.both(on.tape, on.always("The share is read on the recorded picture, the whole side being 1."))
_OFF = (
    f"One standard error: a share is off {100 * SHARE_ERROR:g} % of itself, an elevation by {ELEVATION_ERROR_DEG:g}°, "
    f"a tape by {TAPE_MM:g} mm and 1 % of what lies beyond 10 m."
)


class _Seen:
    """The first reading as it is worked with: what was read, the lens that it was read through, and its pupil."""

    def __init__(self, of: Answer) -> None:
        rows = of.setting.survey
        self.row = rows[0] if rows else SurveyRow()
        self.read, self.lens, self.ahead = sighting(self.row, of.setting, of.kit, of.setup)
        self.say = say = Figures(of)
        side = self.lens.height_mm if self.read.of_height else self.lens.width_mm
        self.picture = f"{say.number(self.read.share or 0.0)} × {say.mm(side)}"
        tape, ahead = say.length(of.survey.distance_mm or 0.0), say.small(abs(self.ahead))
        self.away = tape if self.ahead == 0 else f"({tape} {'−' if self.ahead > 0 else '+'} {ahead})"
        self.to_tape = "" if self.ahead == 0 else f" {'+' if self.ahead > 0 else '−'} {ahead}"
        aimed = f" × cos({say.degrees(self.lens.aim_deg)})" if self.lens.aim_deg else ""
        self.image = f"({say.mm(self.lens.image_mm)}{aimed})" if aimed else say.mm(self.lens.image_mm)
        self.spans = f"{self.picture} × {self.away} / {self.image}"
        self.tilted = bool(aimed) and self.read.of_height  # then a share of the height is no plain product

    def tan(self, degrees: float | None) -> str:
        """Return a tangent as it is written."""
        return f"tan({self.say.degrees(degrees or 0.0)})"


def _width(of: Answer) -> str:
    seen, found = _Seen(of), value_text("survey.feature_width_mm", of)
    return f"as entered: {found}" if seen.read.width_mm is not None else f"{seen.spans} = {found}"


def _distance(of: Answer) -> str:
    seen, found = _Seen(of), value_text("survey.distance_mm", of)
    say, read, by = seen.say, seen.read, of.survey.distance_by
    if by == "tape":
        return f"as taped: {found}"
    if by == "share" and seen.tilted:
        return f"{say.length(read.height_mm or 0.0)} over its share of a tilted picture: {found}"
    if by == "share":
        size = say.length((read.height_mm if read.of_height else read.width_mm) or 0.0)
        sum_text = f"{size} × {seen.image} / ({seen.picture})"
    elif by == "height":
        lens = say.length(read.lens_height_mm or 0.0)
        sum_text = f"({say.length(read.height_mm or 0.0)} − {lens}) / {seen.tan(read.elevation)}"
    else:
        apart = f"({seen.tan(read.elevation_nearer)} − {seen.tan(read.elevation)})"
        sum_text = f"{say.length(read.nearer_mm or 0.0)} × {seen.tan(read.elevation_nearer)} / {apart}"
    return f"{sum_text}{seen.to_tape} = {found}"


def _rise(of: Answer) -> str:
    seen = _Seen(of)
    return f"{seen.away} × {seen.tan(seen.read.elevation)} = {value_text('survey.rise_above_lens_mm', of)}"


def _height(of: Answer) -> str:
    seen, found = _Seen(of), value_text("survey.feature_height_mm", of)
    if seen.read.height_mm is not None:
        return f"as entered: {found}"
    rise, lens = of.survey.rise_above_lens_mm, seen.read.lens_height_mm
    if rise is None or lens is None:
        return f"by its share of a tilted picture: {found}" if seen.tilted else f"{seen.spans} = {found}"
    return f"{seen.say.length(lens)} {'−' if rise < 0 else '+'} {seen.say.length(abs(rise))} = {found}"


def _air(of: Answer) -> str:
    seen = _Seen(of)
    path = f"{seen.away} / {seen.say.length(seen.row.visibility or 0.0)}"
    power = f"{seen.say.number(VISIBILITY[seen.row.visibility_by])} × {path}"
    return f"exp(−{power}) = {value_text('survey.air_contrast', of)}"


def _error(result: str) -> Working:
    """Return the working of what a result may be off."""
    key = f"survey.{result}_error_mm"
    name = result.removeprefix("feature_")
    return Working(
        key=key,
        name=f"{name} off by",
        meaning=f"How far off the {name} that was found may be, one standard error: right about 68 times of 100.",
        formula="√(a² + b² + ...), a what one reading off by its error does",
        put_in=lambda of: (
            f"what each thing read may be off, and what that does to it, summed as squares: {value_text(key, of)}"
        ),
        conventions=on.always(_OFF),
        leads_to=(),
        source="JCGM 100:2008, 5.1.3; what each may be off is common practice, no source",
        needs="only what was found from readings has one",
    )


WORKINGS = (
    told("survey.distance_mm", _distance, _by_eye),
    told("survey.feature_width_mm", _width, _by_eye),
    told("survey.rise_above_lens_mm", _rise, on.both(on.tape, on.always("The angle is from the level at the lens."))),
    told(
        "survey.feature_height_mm",
        _height,
        on.always("The lens height is above the ground on which the background stands."),
    ),
    told(
        "survey.air_contrast",
        _air,
        on.always(
            "Visibility is a weather report's, at which 5 % of the contrast is left, or the range at which 2 % is."
        ),
    ),
    _error("distance"),
    _error("feature_width"),
    _error("feature_height"),
)
