"""Put the screens and the table of formulas as they are now into the README: `python -m tests.refresh_readme`.

Look at the difference afterwards: the tests only say that the README is true, not that the screens are right.
"""

from __future__ import annotations

import asyncio
import re
import tempfile
from pathlib import Path

import pytest

from forescale.engine.workings import WORKINGS
from tests.tui.app_pilot import press, running

README = Path(__file__).parent.parent / "README.md"
# The screens in the README, in their order: shot, columns, rows, and the keys that lead there.
SCREENS: tuple[tuple[str, int, int, tuple[str, ...]], ...] = (
    ("kiln-stack", 80, 24, ("3", "down")),
    ("lock-gate", 40, 15, ("3",)),
)


def table_markdown() -> str:
    """Return the formulas of all numbers as a table: name, formula, source; pane after pane."""
    cells = ((one.name, one.formula, one.source) for one in WORKINGS.values())
    rows = (" | ".join(cell.replace("|", "\\|") for cell in row) for row in cells)
    return "".join(f"| {row} |\n" for row in ("name | formula | source", "--- | --- | ---", *rows))


async def screen(shot: str, width: int, height: int, keys: tuple[str, ...]) -> str:
    """Return what the screen shows after these keys, without the spaces at the ends of its lines."""
    async with running(shot, width, height) as pilot:
        text = await press(pilot, *keys)
    return "\n".join(line.rstrip() for line in text.splitlines())


def refreshed(text: str, screens: list[str]) -> str:
    """Return the README with these screens in the places of its fenced blocks of text, and the table."""
    waiting = iter(screens)
    text = re.sub(
        r"^```text\n.*?^```$", lambda _: f"```text\n{next(waiting)}\n```", text, flags=re.MULTILINE | re.DOTALL
    )
    head = table_markdown().splitlines()[0]
    table = re.compile(rf"{re.escape(head)}\n(?:\|.*\n)*")
    return table.sub(lambda _: f"{table_markdown().rstrip()}\n", text, count=1)


def main() -> None:
    """Write the README anew."""
    with tempfile.TemporaryDirectory() as home, pytest.MonkeyPatch.context() as patch:
        patch.setenv("FORESCALE_HOME", home)
        screens = [asyncio.run(screen(*one)) for one in SCREENS]
    README.write_text(refreshed(README.read_text(encoding="utf-8"), screens), encoding="utf-8")


if __name__ == "__main__":
    main()
