"""What one answer costs, in ms: the demo, moves of every kind, and with 20 points and 5 outlines in its picture.

Each answer is asked for with the model a little farther off, as a person steps it, so that nothing kept serves twice.
The least of some rounds, in time of the processor: what the program takes where nothing else wants the machine.
"""

from __future__ import annotations

from time import process_time
from timeit import repeat
from typing import Any

from forescale.engine.answer import answer
from forescale.engine.kit import library
from forescale.engine.kit.kit import load_kit
from forescale.engine.shot.edit import changed
from forescale.engine.shot.records import Setting

ROUNDS, TIMES = 9, 80  # more than is kept of anything
POINTS: list[dict[str, Any]] = [
    {
        "name": f"point {n}",
        "distance": f"{200 + 4 * n} ft",
        "aside": f"{abs(2 * n - 20)} ft {'left' if n < 10 else 'right'}",
        "height": f"{10 + 2 * n} ft",
    }
    for n in range(20)
]
ARCH = [
    ["3 ft left", "0 ft"],
    ["2 ft left", "59 ft"],
    ["0 ft", "60 ft", "arc"],
    ["2 ft right", "59 ft"],
    ["3 ft right", "0 ft"],
]
OUTLINES: list[dict[str, Any]] = [{"name": f"outline {n}", "corners": ARCH} for n in range(5)]
BOTH = {"move.start": "5 deg"}
SHOTS: dict[str, tuple[float, dict[str, Any]]] = {
    "the demo": (2.0, {}),
    "level, nothing in the picture": (2.0, {"place.aim": None, "point": None, "outline": None}),
    "tilt to both sides": (2.0, BOTH | {"move.axis": "tilt"}),
    "pan that tilts, carried": (2.0, BOTH | {"move.tilt_sweep": "3 deg up", "move.travel": "2 in left"}),
    "20 points and 5 outlines": (4.0, BOTH | {"point": POINTS, "outline": OUTLINES}),
}


def main() -> None:
    """Print the cost of each shot beside what it may cost."""
    demo = library.load_shot(library.shot_path("kiln-stack"))
    kit = load_kit(demo.kit)
    print(f"{'':32}{'ms':>8}{'at most':>10}")
    for name, (most, changes) in SHOTS.items():
        settings = [changed(demo, changes | {"place.model": f"{3000 + step / 8} mm"}) for step in range(TIMES)]

        def all_of(settings: list[Setting] = settings) -> None:
            for setting in settings:
                answer(setting, kit, "imperial")

        least = min(repeat(all_of, timer=process_time, number=1, repeat=ROUNDS))
        print(f"{name:32}{1000 * least / TIMES:8.2f}{most:10.1f}")


if __name__ == "__main__":
    main()
