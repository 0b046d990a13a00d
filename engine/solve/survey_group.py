"""The answer's survey group: what each reading gives, and how far it may be off."""

import math
from dataclasses import fields

from forescale.engine.files.faults import BadInput
from forescale.engine.formulas import lineup, survey
from forescale.engine.formulas.projection import Frame
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.records import Setting
from forescale.engine.shot.rows import SurveyRow
from forescale.engine.solve.groups import SurveyAnswer, SurveyReading
from forescale.engine.solve.lens_setup import LensSetup, own_lens

NOT_READ = SurveyRow.model_construct()
STANDS_MM = 0.5  # a tape distance that is another by less is the same


def survey_group(setting: Setting, kit: Kit, setup: LensSetup) -> SurveyAnswer:
    """Return what each reading gives: size from distance, or distance from size; height; what the air leaves."""
    readings = tuple(_reading(row, setting, kit, setup) for row in setting.survey)
    first = readings[0] if readings else _reading(NOT_READ, setting, kit, setup)
    own = {field.name: getattr(first, field.name) for field in fields(SurveyReading)}
    return SurveyAnswer(**own, readings=readings)


def _reading(row: SurveyRow, setting: Setting, kit: Kit, setup: LensSetup) -> SurveyReading:
    try:
        seen, lens, ahead = sighting(row, setting, kit, setup)
        found = survey.sighted(seen, lens)
    except (BadInput, ValueError) as error:
        return SurveyReading(row.name, row.feature_width, None, row.feature_height, None, None, fault=str(error))
    tapes = {  # a reading of other tapes than now says where the camera then stood, but for one off by next to nothing
        "background": (row.background, setup.tape(setup.background_mm)),
        "lens height": (row.lens_height, setting.place.lens_height),
    }
    told = {name: (then, now) for name, (then, now) in tapes.items() if then is not None and now is not None}
    reached = math.isfinite(found.distance_mm)
    visible = row.visibility if reached else None
    wide, high = row.feature_width, row.feature_height
    return SurveyReading(
        name=row.name,
        feature_width_mm=found.width_mm,
        distance_mm=found.distance_mm + ahead,
        feature_height_mm=found.height_mm,
        rise_above_lens_mm=found.rise_mm,
        air_contrast=None if visible is None else lineup.air_contrast(found.distance_mm, visible, row.visibility_by),
        distance_by=found.by,
        distance_error_mm=None if row == NOT_READ else survey.errors(seen, lens, lambda of: of.distance_mm),
        feature_width_error_mm=survey.errors(seen, lens, lambda of: of.width_mm) if wide is None else None,
        feature_height_error_mm=survey.errors(seen, lens, lambda of: of.height_mm) if high is None else None,
        moved_on=tuple(name for name, (then, now) in told.items() if then != now and not abs(then - now) < STANDS_MM),
    )


def gainsaid_mm(row: SurveyRow, found: SurveyReading, setting: Setting) -> float | None:
    """Return the height of the top by its elevation, where another was entered and did not give the distance, in mm."""
    lens = setting.place.lens_height if row.lens_height is None else row.lens_height
    rise, known = found.rise_above_lens_mm, row.feature_height
    if known is None or rise is None or lens is None or abs(lens + rise - known) < STANDS_MM:
        return None
    return lens + rise


def by_elevation(row: SurveyRow, setting: Setting, kit: Kit, setup: LensSetup) -> tuple[SurveyReading, ...]:
    """Return what a reading gives without its share of the frame, then by its known height and one elevation alone."""
    left_out = (("frame_share",), ("frame_share", "elevation_nearer")) if row.elevation is not None else ()
    return tuple(_reading(row.model_copy(update=dict.fromkeys(out)), setting, kit, setup) for out in left_out)


def sighting(row: SurveyRow, setting: Setting, kit: Kit, setup: LensSetup) -> tuple[survey.Sighting, Frame, float]:
    """Return a reading for the formulas, the lens it was read through, the pupil ahead, level, mm; raises BadInput."""
    own, aim = own_lens(row, kit, setup), setting.place.aim if row.aim is None else row.aim
    ahead = own.ahead_mm * math.cos(math.radians(aim))
    tape = setup.tape(setup.background_mm) if row.background is None else row.background
    seen = survey.Sighting(
        taped_mm=tape - ahead,
        share=row.frame_share,
        of_height=row.share_of == "height",
        width_mm=row.feature_width,
        height_mm=row.feature_height,
        elevation=row.elevation,
        elevation_nearer=row.elevation_nearer,
        nearer_mm=row.nearer_by,
        lens_height_mm=setting.place.lens_height if row.lens_height is None else row.lens_height,
        aim_deg=aim,
    )
    return seen, own.frame, ahead
