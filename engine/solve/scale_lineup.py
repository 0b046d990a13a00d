"""The answer's scale and line-up groups."""

from forescale.engine.formulas import contrast, frame_rate, holding, lineup, scale
from forescale.engine.formulas.head import STEPS, poses
from forescale.engine.kit.kit import Kit
from forescale.engine.kit.profiles import Lens, Mode
from forescale.engine.shot.records import Setting
from forescale.engine.shot.sections import Part, Rounding
from forescale.engine.solve.groups import BuildItem, LineupAnswer, ScaleAnswer, StockItem
from forescale.engine.solve.lens_setup import LensSetup
from forescale.engine.solve.view import View
from forescale.engine.units import UnitSystem, shop_length


def scale_group(setting: Setting, kit: Kit, setup: LensSetup, system: UnitSystem, with_contrast: bool) -> ScaleAnswer:
    """Return what the ratio builds, and beside it what a second ratio would; how fine, only with contrast."""
    rounding: Rounding = setting.scale.rounding or ("1/16 in" if system == "imperial" else "0.5 mm")
    action, other = setting.action, setting.scale.compare
    detail = kit.mode.pixel_mm * setup.model_mm / setup.image_mm
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
    place, reads_as = setting.place, lineup.reads_as_ratio(setup.model_mm, setup.seems_mm)
    lens, point = place.lens_height, place.feature_height
    slip_across = slip_across_mm(setting, kit.mode, kit.lens)
    turning = tuple(at for _, at in poses(view.about_pupil, STEPS))
    ground = None if place.mount == "hangs" else 0.0  # what hangs has no foot
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
        foot_height_mm=height(ground, reads_as),
        scaled_foot_height_mm=height(ground, setup.ratio),
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
