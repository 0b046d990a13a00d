"""The answer's scale, line-up and survey groups."""

import math
from dataclasses import fields

from forescale.engine.files.faults import BadInput
from forescale.engine.formulas import contrast, frame_rate, holding, lineup, scale, survey
from forescale.engine.formulas.head import STEPS, poses
from forescale.engine.formulas.projection import Frame
from forescale.engine.kit.kit import Kit
from forescale.engine.kit.profiles import Lens, Mode
from forescale.engine.shot.records import Setting
from forescale.engine.shot.rows import SurveyRow
from forescale.engine.shot.sections import Part, Rounding
from forescale.engine.solve.groups import BuildItem, LineupAnswer, ScaleAnswer, StockItem, SurveyAnswer, SurveyReading
from forescale.engine.solve.lens_setup import LensSetup, own_lens
from forescale.engine.solve.view import View
from forescale.engine.units import UnitSystem, shop_length

NOT_READ = SurveyRow.model_construct()
STANDS_MM = 0.5  # a tape distance that is another by less is the same


def scale_group(setting: Setting, kit: Kit, setup: LensSetup, system: UnitSystem, with_contrast: bool) -> ScaleAnswer:
    """Return what the ratio builds, and beside it what a second ratio would; how fine, only with contrast."""
    rounding: Rounding = setting.scale.rounding or ("1/16 in" if system == "imperial" else "0.5 mm")
    other = setting.scale.compare
    detail, action = kit.mode.pixel_mm * setup.model_mm / setup.image_mm, setting.action
    finest = None
    if with_contrast:  # how wide a line on the model is that lens and pixels still show: half a pair of them
        lens = (setup.focus_mm, kit.focal_mm, setup.f_number, kit.mode.pixel_mm, setup.pupil_magnification)
        shown = contrast.finest_lpmm(setup.model_mm, *lens)
        finest = lineup.span_mm(1 / (2 * shown), setup.model_mm, setup.image_mm)

    def reads_as(size_mm: float) -> tuple[float, float | None]:
        compared = None if other is None else scale.real_length_mm(size_mm, other)
        return scale.real_length_mm(size_mm, setup.ratio), compared

    match = fps = None
    if other is not None:
        match = setup.tape(lineup.match_distance_mm(setup.seems_mm, other))
        fps = frame_rate.ideal_fps(action.scaled, other, action.playback_fps, action.heft)
    return ScaleAnswer(
        ratio=setup.ratio,
        inches_per_foot=scale.inches_per_foot(setup.ratio),
        build=tuple(_build_item(part, setup.ratio, other, rounding) for part in setting.build),
        stock=tuple(StockItem(stock.item, stock.size, *reads_as(stock.size)) for stock in setting.stock),
        rounding=rounding,
        detail_model_mm=detail,
        detail_real_mm=scale.real_length_mm(detail, setup.ratio),
        finest_model_mm=finest,
        finest_real_mm=None if finest is None else scale.real_length_mm(finest, setup.ratio),
        compare_ratio=other,
        compare_match_distance_mm=match,
        compare_ideal_fps=fps,
    )


def _build_item(part: Part, ratio: float, other: float | None, rounding: Rounding) -> BuildItem:
    model = scale.model_length_mm(part.real, ratio)
    shop = shop_length(model, rounding)
    compared = compared_error = None
    if other is not None:
        other_shop = shop_length(scale.model_length_mm(part.real, other), rounding)
        compared, compared_error = other_shop.text, scale.real_length_mm(other_shop.error_mm, other)
    error = scale.real_length_mm(shop.error_mm, ratio)
    return BuildItem(part.part, part.quantity, part.real, model, shop.text, error, compared, compared_error)


def lineup_group(setting: Setting, kit: Kit, setup: LensSetup, view: View) -> LineupAnswer:
    """Return where the model stands, how it reads there, and how far off anything may be."""
    place = setting.place
    reads_as = lineup.reads_as_ratio(setup.model_mm, setup.seems_mm)
    lens, point = place.lens_height, place.feature_height
    slip_across = slip_across_mm(setting, kit.mode, kit.lens)
    turning = tuple(at for _, at in poses(view.about_pupil, STEPS))
    cover = holding.cover_mm(setup.level(setup.model_mm), turning, view.frame)

    def height(real_mm: float | None, ratio: float) -> float | None:
        return None if lens is None or real_mm is None else lineup.built_height_mm(real_mm, lens, ratio)

    return LineupAnswer(
        model_mm=setup.tape(setup.model_mm),
        background_mm=setup.tape(setup.background_mm),
        match_distance_mm=setup.tape(lineup.match_distance_mm(setup.seems_mm, setup.ratio)),
        reads_as_ratio=reads_as,
        size_error=reads_as / setup.ratio,
        seems_mm=setup.tape(setup.seems_mm),
        hang_height_mm=height(point, reads_as),
        scaled_height_mm=height(point, setup.ratio),
        foot_height_mm=height(0.0, reads_as),
        scaled_foot_height_mm=height(0.0, setup.ratio),
        frame_width_model_mm=lineup.span_mm(setup.frame_width_mm, setup.model_mm, setup.image_mm),
        frame_height_model_mm=lineup.span_mm(kit.mode.height, setup.model_mm, setup.image_mm),
        cover_width_mm=cover[0],
        cover_height_mm=cover[1],
        drift_tolerance_mm=lineup.drift_tolerance_mm(slip_across, setup.model_mm, setup.background_mm, setup.image_mm),
        place_tolerance_mm=lineup.place_tolerance_mm(slip_across, setup.model_mm, setup.frame_width_mm),
    )


def slip_across_mm(setting: Setting, mode: Mode, lens: Lens) -> float:
    """Return the slip across the sensor that may pass, in mm as the lens unsqueezes it."""
    return setting.move.tolerance * mode.pixel_mm * lens.squeeze


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
    visible, wide, high = row.visibility if reached else None, row.feature_width, row.feature_height
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
