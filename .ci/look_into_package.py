"""Look into a folder with a wheel and an sdist: all that the program needs is there, and only under its own name."""

from __future__ import annotations

import sys
import tarfile
import zipfile
from pathlib import Path

NEEDED = (
    "forescale/py.typed",
    "forescale/engine/units/other_units.txt",
    "forescale/tui/app.tcss",
    "forescale/tui/tasks/frame/tasks.tcss",
    "forescale/profiles/shots/kiln-stack.toml",
)
SOURCES = (".package/forescale/__init__.py", "engine/__init__.py", "tui/app.py", "profiles", "tests", "README.md")


def main(folder: Path) -> int:
    """Return 1 with a line a fault, else 0."""
    (wheel,), (sdist,) = folder.glob("*.whl"), folder.glob("*.tar.gz")
    inside = zipfile.ZipFile(wheel).namelist()
    faults = [f"{wheel.name}: lacks {name}" for name in NEEDED if name not in inside]
    faults += [f"{wheel.name}: {name} lies outside forescale" for name in inside if not name.startswith("forescale")]
    with tarfile.open(sdist) as sources:
        names = sources.getnames()
    faults += [f"{sdist.name}: lacks {part}" for part in SOURCES if not any(part in name for name in names)]
    print("\n".join(faults) or f"{wheel.name} and {sdist.name} hold what they should")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
