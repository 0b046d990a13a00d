"""Profiles and shots in words: each value of a camera, a lens, a head or a shot, and what it means."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.kit.gauges import gauge_text, pixel_doubt
from forescale.engine.kit.profiles import Camera, Head, Lens, Mode, Rates
from forescale.engine.sheet.blocks import Block, Row, Section, Table
from forescale.engine.sheet.cells import clean
from forescale.engine.shot.records import Shot
from forescale.engine.units import length_text, number_text, ratio_text, stop_label, time_text


def _mm(mm: float) -> str:
    return f"{number_text(mm, 9)} mm"


def _both(mm: float) -> str:
    """Return a distance as both tapes have it."""
    return f"{length_text(mm, 'metric')} ({length_text(mm, 'imperial')})"


def camera_sections(camera: Camera) -> Iterator[Section]:
    """Describe each mode of a camera."""
    for mode in camera.mode:
        yield Section(f"Mode {clean(mode.name)}", tuple(_mode_rows(mode)))


def _mode_rows(mode: Mode) -> Iterator[Row]:
    pixels = f"{mode.width_px} × {mode.height_px} px, {number_text(1000 * mode.pixel_mm)} µm a pixel"
    yield Row("Active area", f"{number_text(mode.width, 9)} × {_mm(mode.height)}", pixels)
    if doubt := pixel_doubt(mode):
        yield Row("Look again", clean(doubt))
    if gauge := gauge_text(mode.width, mode.height):
        yield Row("Usual frame", gauge)
    yield Row("Rates", _rates(mode), "frames a second")
    yield Row("ISO", number_text(mode.iso_base, 7), f"the base; it goes to {number_text(mode.iso_max, 8)}")
    if mode.readout is not None:
        yield Row("Readout", time_text(mode.readout), "rolling shutter, first row to last")
    if mode.data_rate is not None:
        yield Row("Data", f"{number_text(mode.data_rate, 6)} MB/s", f"at {number_text(mode.top_fps, 6)} fps")


def _rates(mode: Mode) -> str:
    if isinstance(mode.fps, Rates):
        return f"any whole rate from {number_text(mode.fps.min, 6)} to {number_text(mode.fps.max, 6)}"
    return ", ".join(number_text(rate, 6) for rate in sorted(mode.fps))


def lens_sections(lens: Lens) -> Iterator[Section]:
    """Describe a lens and its entrance pupil."""
    yield Section("Lens", tuple(_lens_rows(lens)))
    yield Section("Entrance pupil", (_pupil(lens),), "the point about which a move does not slip")


def _lens_rows(lens: Lens) -> Iterator[Row]:
    span = f"{number_text(lens.shortest, 6)} mm to {_mm(lens.longest)}" if lens.is_zoom else _mm(lens.longest)
    yield Row("Focal length", span, "a zoom" if lens.is_zoom else "a prime")
    mark = "T" if lens.marks == "T" else "f/"
    stops = f"{mark}{stop_label(lens.widest.value)} to {mark}{stop_label(lens.smallest.value)}"
    yield Row("Stops", stops, f"marked in {lens.marks}-stops")
    yield Row("Loss in the glass", f"{number_text(lens.transmission_loss)} stops", "between f-stop and T-stop")
    yield Row("Close focus", _both(lens.close_focus), "from the sensor plane")
    if lens.squeeze != 1:
        yield Row("Squeeze", number_text(lens.squeeze, 4), "across")


def _pupil(lens: Lens) -> Block:
    if not lens.pupil:
        return Row("Pupil", "not measured", "the bench can find it")
    heads = ("Focal length", "Focused at", "Ahead of the sensor plane", "Uncertainty", "Measured")
    rows = (
        (
            _mm(row.focal_length),
            _both(row.focus) if row.focus < float("inf") else "infinity",
            _mm(row.ahead),
            "not given" if row.uncertainty is None else f"± {_mm(row.uncertainty)}",
            "not given" if row.measured is None else row.measured.isoformat(),
        )
        for row in lens.pupil
    )
    return Table(heads, tuple(rows))


def head_sections(head: Head) -> Iterator[Section]:
    """Describe a head."""
    rows = (
        Row("Slide runs", f"{number_text(head.slide_min, 9)} mm to {_mm(head.slide_max)}"),
        Row("Slide is marked", f"every {_mm(head.slide_step)}"),
        Row("Sensor plane at 0", _ahead(head.sensor_at_zero), "of the pan axis, slide at 0"),
        Row("Tilt axis", _ahead(head.tilt_ahead), "of the pan axis"),
        Row("Tilt axis lies", _mm(head.tilt_drop), "below the lens axis"),
    )
    yield Section("Head", rows)


def _ahead(mm: float) -> str:
    return f"{_mm(abs(mm))} {'behind' if mm < 0 else 'ahead'}"


def shot_sections(shot: Shot) -> Iterator[Section]:
    """Describe a shot by what it is made with and where things stand; its sheet says the rest."""
    kit, place = shot.kit, shot.place
    rows = [
        Row("Camera", clean(kit.camera), clean(kit.mode)),
        Row("Lens", clean(kit.lens), "" if kit.focal_length is None else f"at {_mm(kit.focal_length)}"),
        Row("Head", clean(kit.head) if kit.head else "none named"),
        Row("Scale", "left open" if shot.scale.ratio is None else ratio_text(shot.scale.ratio)),
        Row("Action", shot.action.kind),
        Row("Model at", "left open" if place.model is None else _both(place.model), "on the tape"),
        Row("Background at", _both(place.background) if place.background < float("inf") else "infinity", "on the tape"),
    ]
    yield Section("Shot", tuple(rows), "forescale sheet prints every number of it")
