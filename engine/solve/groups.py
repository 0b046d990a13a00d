"""The groups of an answer. Field names are those of the JSON answer: mm, s, degrees, lux; None is "not known"."""

from dataclasses import dataclass
from typing import NamedTuple

from forescale.engine.kit.profiles import PupilRow
from forescale.engine.units import Rounding


class BuildItem(NamedTuple):
    """A part at full size and at model size, as the shop would cut it."""

    part: str
    quantity: int
    real_mm: float
    model_mm: float
    shop: str
    shop_error_real_mm: float
    compare_shop: str | None
    compare_shop_error_real_mm: float | None


class StockItem(NamedTuple):
    """What a stock at hand reads as at full size."""

    item: str
    size_mm: float
    reads_as_mm: float
    compare_reads_as_mm: float | None


class ScaleAnswer(NamedTuple):
    """The ratio and what it builds."""

    ratio: float
    inches_per_foot: float
    build: tuple[BuildItem, ...]
    stock: tuple[StockItem, ...]
    rounding: Rounding
    detail_model_mm: float
    detail_real_mm: float
    finest_model_mm: float | None
    finest_real_mm: float | None
    compare_ratio: float | None
    compare_match_distance_mm: float | None
    compare_ideal_fps: float | None


class LineupAnswer(NamedTuple):
    """Where the model stands, how it reads there, and how far off anything may be; heights above the place's ground."""

    model_mm: float
    background_mm: float
    match_distance_mm: float
    reads_as_ratio: float
    size_error: float
    seems_mm: float
    hang_height_mm: float | None  # on the line of sight where the model stands
    scaled_height_mm: float | None  # to scale
    foot_height_mm: float | None  # of the model's own ground; None for one that hangs, as the next
    scaled_foot_height_mm: float | None
    frame_width_model_mm: float
    frame_height_model_mm: float
    cover_width_mm: float | None
    cover_height_mm: float | None
    drift_tolerance_mm: float
    place_tolerance_mm: float


class SpeedAnswer(NamedTuple):
    """How fast everything runs."""

    time_factor: float
    ideal_fps: float
    fps: float
    top_fps: float
    rates: tuple[float, ...]
    apparent_gravity: float
    gravity_as_read: float | None
    largest_ratio: float
    screen_time_s: float
    set_time_s: float
    frames: float
    exposure_s: float
    model_speed_mm_s: float | None
    move_set_time_s: float | None
    crossing_s: float | None
    readout_skew_px: float | None
    data_mb: float | None


class ContrastAnswer(NamedTuple):
    """Modulation at the frequency that the circle of confusion stands for, 0 to 1."""

    frequency_lpmm: float
    near: float
    focus: float
    far: float
    worst: float
    best_f_number: float
    best_worst: float


class FocusAnswer(NamedTuple):
    """Focus mark, stop, and the zone they hold; distances on the tape, f-numbers exact."""

    coc_mm: float
    focal_length_mm: float
    f_number: float
    stop_mark: float
    near_needed_mm: float
    far_needed_mm: float
    focus_mm: float
    stop_needed: float
    near_mm: float
    far_mm: float
    hyperfocal_mm: float
    covers: bool
    contrast: ContrastAnswer | None
    airy_mm: float
    split_dioptres: float | None


class LampLight(NamedTuple):
    """One kind of lamp: what it gives at the model where it stands, and where it would have to stand."""

    name: str
    lux: float | None
    stands_mm: float | None  # where it gives what is short without it, None where nothing is
    fall_stops: float | None  # from the model's nearest to its farthest part, None without a depth
    point_from_mm: float | None  # where the inverse square begins
    sun_width_mm: float | None  # how wide it may be to read as sun


class LightAnswer(NamedTuple):
    """What the speed and the stop need of light, and whether lamps will flicker."""

    iso: float
    t_stop_working: float
    lux_needed: float  # without a filter
    footcandles_needed: float
    lux_with_nd: float  # with the one that is fitted
    available_lux: float | None  # read at the model, and what the lamps give there
    at_background_lux: float | None
    background_stops: float | None  # the background's reading over it, + brighter
    shift_mired: float | None  # from the light at the model to that at the background, + warmer
    lamps: tuple[LampLight, ...]
    pulse_depth: float  # the first harmonic of the light's pulse over its mean, 0 to 1, as far as lamps tell it
    over_stops: float | None  # with the filter fitted
    nd_stops: float | None  # what to fit in all
    nd_fitted: float | None
    iso_needed: float | None
    mains_hz: float | None
    flicker_safe: bool | None
    flicker_stops: float | None
    safe_fps: float | None
    safe_shutter_deg: float | None

    @property
    def fit_stops(self) -> float | None:
        """The filter to fit, where another than is fitted is wanted and none was set: advice, no setting."""
        return self.nd_stops if self.nd_fitted is None and self.nd_stops else None


class BenchAnswer(NamedTuple):
    """What the readings on the bench say; where they say nothing, why, and what would mend it."""

    readings: int
    slide_for_zero_mm: float | None = None
    std_error_mm: float | None = None
    band_mm: float | None = None
    pupil_ahead_mm: float | None = None
    slope_px_per_mm: float | None = None
    slope_predicted_px_per_mm: float | None = None
    outside: bool = False
    suspects: tuple[str, ...] = ()
    bracket_mm: tuple[float | None, float | None] | None = None
    try_next_mm: float | None = None
    contradicting: tuple[int, ...] = ()
    fault: str | None = None
    mend: str | None = None


class SlipAnswer(NamedTuple):
    """Where the lens turns, and what the model does against the background over the move."""

    axis: str
    sweep_deg: float
    start_deg: float
    pupil_ahead_mm: float
    pupil_known: bool
    pupil_outside: bool
    pupil_uncertainty_mm: float | None
    pupil_rows: tuple[PupilRow, ...]
    slide_mm: float | None
    offset_mm: float | None
    slip_px: float | None
    slip_mm: float | None
    largest_slip_px: float | None
    leaves_frame_deg: float | None
    tolerance_px: float
    tolerance_mm: float | None
    slide_for_zero_mm: float | None
    slide_best_mm: float | None
    best_within_mm: float | None
    travel_mm: float | None
    travel_allowed_mm: float | None
    model_from_axis_mm: float | None
    background_from_axis_mm: float | None
    bench: BenchAnswer | None


@dataclass(frozen=True, slots=True)
class SurveyReading:
    """What one reading of the survey gives: distance on the tape, sizes, and one standard error of each."""

    name: str
    feature_width_mm: float | None
    distance_mm: float | None
    feature_height_mm: float | None
    rise_above_lens_mm: float | None
    air_contrast: float | None
    distance_by: str = "tape"  # "tape", "share", "two elevations" or "height"
    distance_error_mm: float | None = None
    feature_width_error_mm: float | None = None
    feature_height_error_mm: float | None = None
    moved_on: tuple[str, ...] = ()  # what is no longer as it was when it was read
    fault: str | None = None  # why it gives nothing


@dataclass(frozen=True, slots=True)
class SurveyAnswer(SurveyReading):
    """The first reading's own results, and those of every reading."""

    readings: tuple[SurveyReading, ...] = ()


class StandAnswer(NamedTuple):
    """Whether the model stands: first estimates, a margin of 1.5 in what holds; winds are gusts of 3 s."""

    strength_factor: float
    crack_factor: float
    parts_weight_kg: float | None
    unweighed: int  # parts of the list that have no weight
    real_weight_kg: float | None
    held_kg: float | None  # what presses on the foot, model and ballast
    wind_n: float | None
    held_needed_kg: float | None
    ballast_needed_kg: float | None
    tips_at_mm_s: float | None
    slides_at_mm_s: float | None
    stop_gust_mm_s: float | None
    stop_mean_mm_s: float | None  # the mean reading that goes with the gust to stop at
    gust_reads_mm_s: float | None
    sway_mm: float | None
    sway_sudden_mm: float | None
    sway_allowed_mm: float
    holds: bool | None
