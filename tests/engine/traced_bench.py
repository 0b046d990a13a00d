"""A bench whose slips are traced through a real lens: its kit as profiles on the user's shelves, its shot as a file.

The double Gauss of `ray_lens` is focused 3 m from its first vertex; the sensor plane stands where it forms that image.
"""

from __future__ import annotations

from pathlib import Path

from ray_lens import DOUBLE_GAUSS, SlidingCamera

from forescale.engine.answer import Answer, answer
from forescale.engine.files.toml_files import write_toml
from forescale.engine.kit.kit import load_kit
from forescale.engine.shot.records import Shot

MODEL_MM, BACKGROUND_MM, FOCUSED_MM = 3000.0, 70000.0, 3000.0  # from the axis, from the axis, from the vertex
WIDTH_MM, WIDTH_PX = 24.0, 6000
SENSOR_MM = DOUBLE_GAUSS.image_plane(-FOCUSED_MM)  # behind the first vertex
SLIDE_MM = 40.0  # where the slide stood when the distances were taped
HEADS = {"long-head": -160.0, "short-head": -118.5}  # where the sensor stands at reading 0


def camera_on(head: str) -> SlidingCamera:
    """Return the lens on a head, the vertex as far ahead of the sensor as the glass has it."""
    return SlidingCamera(DOUBLE_GAUSS, HEADS[head] + SENSOR_MM, FOCUSED_MM, WIDTH_MM / WIDTH_PX)


def traced_px(head: str, slide_mm: float, sweep_deg: float) -> float:
    """Return the slip that the rays show."""
    return camera_on(head).slip_px(MODEL_MM, BACKGROUND_MM, slide_mm, sweep_deg)


def pupil_ahead(sweep_deg: float) -> float:
    """Return the true pupil ahead of the sensor plane, for rays as oblique as the sweep."""
    return SENSOR_MM - DOUBLE_GAUSS.chief_from_infinity(sweep_deg)


def write_kit(home: Path) -> None:
    """Put camera, lens (its pupil not known) and two heads on the shelves."""
    mode = {
        "name": "all", "width": f"{WIDTH_MM} mm", "height": "13.5 mm", "width_px": WIDTH_PX, "height_px": 3375,
        "fps": [24], "iso_base": 800, "iso_max": 800,
    }  # fmt: skip
    lens = {
        "name": "gauss-100", "focal_length": "100 mm", "marks": "f", "widest": "f/2", "smallest": "f/22",
        "close_focus": "900 mm",
    }  # fmt: skip
    write_toml(home / "cameras/plate.toml", {"schema": 1, "name": "plate", "mode": [mode]}, folders=True)
    write_toml(home / "lenses/gauss-100.toml", {"schema": 1, **lens}, folders=True)
    for name, sensor in HEADS.items():
        head = {"name": name, "slide_min": "0 mm", "slide_max": "120 mm", "slide_step": "1 mm"}
        write_toml(home / f"heads/{name}.toml", {"schema": 1, **head, "sensor_at_zero": f"{sensor} mm"}, folders=True)


def shot_table(head: str, rows: list[dict[str, object]], sweep_deg: float = 6.0) -> dict[str, object]:
    """Return what the file of a shot with these readings holds."""
    to_tape = -(SLIDE_MM + HEADS[head])
    return {
        "schema": 1, "title": "Bench", "units": "metric",
        "kit": {"camera": "plate", "mode": "all", "lens": "gauss-100", "head": head},
        "place": {"model": f"{MODEL_MM + to_tape} mm", "background": f"{BACKGROUND_MM + to_tape} mm"},
        "focus": {"distance": f"{FOCUSED_MM + SENSOR_MM!r} mm"},
        "move": {"axis": "pan", "sweep": f"{sweep_deg} deg", "slide": f"{SLIDE_MM} mm"},
        "bench": rows,
    }  # fmt: skip


def answered(head: str, rows: list[dict[str, object]]) -> Answer:
    """Return the answer to a shot with these readings, its kit from the shelves."""
    shot = Shot.read(shot_table(head, rows), "bench")
    return answer(shot, load_kit(shot.kit, "bench"), shot.units, with_contrast=False)
