"""What a printing command costs, beside the imports it cannot do without: `python tests/bench/bench_commands.py`.

Each command is run in turn with the baseline, so that both see the same machine. A start counts from the first
instruction of a new process to its end. Pint imports NumPy where it is installed, so the baseline is slower with the
tests' extra than without.
"""

from __future__ import annotations

import compileall
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from forescale.engine.answer import answer
from forescale.engine.kit.kit import Kit, load_kit
from forescale.engine.kit.library import load_shot, shot_path
from forescale.engine.shot.records import Shot

ROOT = Path(__file__).resolve().parents[2]
BASELINE = ["-c", "import pydantic, pint"]
COMMANDS = {
    "sheet": ["-m", "forescale.tui.cli.commands", "sheet", "kiln-stack"],
    "sheet --json": ["-m", "forescale.tui.cli.commands", "sheet", "kiln-stack", "--json"],
    "sheet --svg -": ["-m", "forescale.tui.cli.commands", "sheet", "kiln-stack", "--svg", "-"],
    "sheet --html -": ["-m", "forescale.tui.cli.commands", "sheet", "kiln-stack", "--html", "-"],
    "kit list": ["-m", "forescale.tui.cli.commands", "kit", "list"],
}
STARTS, ANSWERS = 9, 300
START_TARGET, PLAIN_TARGET_MS, CONTRAST_TARGET_MS = 2.0, 2.0, 6.0


def start(words: list[str], home: str) -> tuple[float, float]:
    """Run Python with these words; return the time in s and the peak memory in MB."""
    begun = time.perf_counter()
    environment = os.environ | {"FORESCALE_HOME": home}
    process = subprocess.Popen([sys.executable, *words], stdout=subprocess.DEVNULL, cwd=ROOT, env=environment)
    _, status, usage = os.wait4(process.pid, 0)
    taken = time.perf_counter() - begun
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise SystemExit(f"{words} ended with {process.returncode}")
    return taken, usage.ru_maxrss / 1024


def compare(name: str, words: list[str], home: str) -> None:
    """Print a command's start beside the baseline's, taken in turn."""
    ours, theirs = [], []
    for _ in range(STARTS):
        theirs.append(start(BASELINE, home))
        ours.append(start(words, home))
    (taken, memory), (base, base_memory) = (
        (statistics.median(run[0] for run in runs), max(run[1] for run in runs)) for runs in (ours, theirs)
    )
    print(
        f"{name:<28}{1000 * taken:7.0f} ms, {memory:4.0f} MB   baseline {1000 * base:5.0f} ms, {base_memory:4.0f} MB"
        f"   {taken / base:.2f} times (target {START_TARGET:.0f})"
    )


def answer_ms(shots: list[Shot], kit: Kit, *, with_contrast: bool) -> float:
    """Return the median time of an answer in ms; each shot is asked once, so that nothing remembered helps."""
    times = []
    for shot in shots:
        begun = time.perf_counter()
        answer(shot, kit, shot.units, with_contrast=with_contrast)
        times.append(time.perf_counter() - begun)
    return 1000 * statistics.median(times)


def moved(shot: Shot, by_mm: float) -> Shot:
    """Return the shot with the model, its nearest part and the background a little farther off."""
    place = shot.place
    assert place.model is not None
    assert place.model_near is not None
    farther = {"model": place.model + by_mm, "model_near": place.model_near + by_mm / 2}
    return shot.model_copy(update={"place": place.model_copy(update=farther)})


def main() -> None:
    """Print everything."""
    for package in ("engine", "tui"):  # as an installation does, and as what they import is
        compileall.compile_dir(ROOT / package, quiet=1)
    with tempfile.TemporaryDirectory() as home:
        for name, words in COMMANDS.items():
            compare(name, words, home)
    shot = load_shot(shot_path("kiln-stack"))
    kit = load_kit(shot.kit)
    first, second = ([moved(shot, start + number / 3) for number in range(ANSWERS)] for start in (0, 200))
    plain, full = answer_ms(first, kit, with_contrast=False), answer_ms(second, kit, with_contrast=True)
    print(f"one answer without contrast  {plain:.2f} ms (target {PLAIN_TARGET_MS:.0f})")
    print(f"one answer with contrast     {full:.2f} ms (target {CONTRAST_TARGET_MS:.0f})")


if __name__ == "__main__":
    main()
