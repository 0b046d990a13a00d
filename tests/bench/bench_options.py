"""How long a search takes and how much it holds, from a thousand ways to sixty-four thousand: run it as a script.

The target: 16 000 ways (20 modes, 20 lenses, 40 ratios) in a second at most, in one process, with a time that
grows in step with the ways and a memory that does not.
"""

from __future__ import annotations

import gc
import math
import time
import tracemalloc
from typing import Any

from forescale.engine.formulas.scale import STANDARD_RATIOS
from forescale.engine.kit.profiles import Camera, Lens
from forescale.engine.options.outcome import find_options
from forescale.engine.options.to_try import Shelves
from forescale.engine.shot.records import Setting

KEPT = 200
SIZES = ((5, 5, 40), (10, 10, 40), (20, 20, 40), (40, 40, 40))  # modes, lenses, ratios
SET_APART = [ratio for ratio in (7, 11, 13, 14, 15, 17, 19, 21, 22, 26, 28, 30) if ratio not in STANDARD_RATIOS]


def kit(modes: int, lenses: int) -> Shelves:
    """Return a kit of so many modes, each of a camera of its own, and so many primes."""
    return Shelves(tuple(_camera(n) for n in range(modes)), tuple(_lens(n) for n in range(lenses)))


def _camera(n: int) -> Camera:
    width = 12 + 24 * (n % 20) / 19
    mode = {
        "name": "all of it",
        "width": f"{width:.3f} mm",
        "height": f"{width * 9 / 16:.3f} mm",
        "width_px": 2048 + 64 * n,
        "height_px": 1152 + 36 * n,
        "fps": {"min": 1, "max": 480},
        "iso_base": 800,
        "iso_max": 12800,
    }
    return Camera.model_validate({"schema": 1, "name": f"camera-{n}", "mode": [mode]})


def _lens(n: int) -> Lens:
    focal = 16 + 16 * (n % 20) / 19 + n // 20 / 10
    lens = {
        "focal_length": f"{focal:.3f} mm",
        "marks": "T",
        "widest": "T1.5",
        "smallest": "T64",
        "transmission_loss": 0.3,
        "close_focus": "250 mm",
        "pupil": [
            {"focal_length": f"{focal:.3f} mm", "focus": "inf", "ahead": "20 mm"},
            {"focal_length": f"{focal:.3f} mm", "focus": "1 m", "ahead": "24 mm"},
        ],
    }
    return Lens.model_validate({"schema": 1, "name": f"lens-{n}", **lens})


def shot(ratios: int, *, everything_works: bool) -> Setting:
    """Return a shot that tries so many ratios; where all works, contrast is worked out for every way."""
    own = SET_APART[: ratios - len(STANDARD_RATIOS) + 1]
    data: dict[str, Any] = {
        "kit": {"camera": "camera-0", "mode": "all of it", "lens": "lens-0"},
        "build": [{"part": "wall", "real": "20 m"}],
        "action": {"kind": "driven" if everything_works else "falling"},
        "place": {"background": "300 m" if everything_works else "40 m"},
        "light": {"available": "200000 lx"},
        "move": {"axis": "pan", "sweep": "15 deg"},
        "limits": {"ratios": own},
    }
    if everything_works:
        data["focus"] = {"sharpness": "1 mm"}
    else:
        data["limits"]["frame_min"] = 0.6
    return Setting.model_validate(data)


def main() -> None:
    """Print a line for each size: the best time of three runs, and the memory of a slower one."""
    for everything_works in (True, False):
        print("every way works" if everything_works else "most ways fail")
        for modes, lenses, ratios in SIZES:
            setting, shelves = shot(ratios, everything_works=everything_works), kit(modes, lenses)
            gc.collect()
            seconds = math.inf
            for _ in range(3):
                start = time.perf_counter()
                found = find_options(setting, "metric", shelves, keep=KEPT)
                seconds = min(seconds, time.perf_counter() - start)
            tracemalloc.start()
            find_options(setting, "metric", shelves, keep=KEPT)
            peak = tracemalloc.get_traced_memory()[1]
            tracemalloc.stop()
            front = sum(row.front for row in found.options)
            print(
                f"{found.searched:6} ways, {found.working:6} work, {front:4} on the front: {seconds:6.3f} s, "
                f"{1e6 * seconds / found.searched:5.1f} µs a way, {peak / 2**20:5.1f} MiB at most"
            )


if __name__ == "__main__":
    main()
