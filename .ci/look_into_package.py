"""Look into a folder with a wheel and an sdist: all that the program needs is there, and only under its own name."""

from __future__ import annotations

import sys
import tarfile
import zipfile
from pathlib import Path

ROOT = Path(__file__).parents[1]
FOLDERS = ("engine", "tui", "profiles")
SOURCES = ("tests/conftest.py", "README.md", "DEVELOPERS.md", "pyproject.toml")


def held() -> list[str]:
    """Return every file of the program, code and data, by its path here."""
    found = (path for folder in FOLDERS for path in sorted((ROOT / folder).rglob("*")) if path.is_file())
    return [path.relative_to(ROOT).as_posix() for path in found if path.suffix != ".pyc"]


def main(folder: Path) -> int:
    """Return 1 with a line a fault, else 0."""
    (wheel,), (sdist,) = folder.glob("*.whl"), folder.glob("*.tar.gz")
    inside = set(zipfile.ZipFile(wheel).namelist())
    needed = ["forescale/__init__.py", "forescale/py.typed", *(f"forescale/{name}" for name in held())]
    faults = [f"{wheel.name}: lacks {name}" for name in needed if name not in inside]
    faults += [f"{wheel.name}: {name} lies outside forescale" for name in inside if not name.startswith("forescale")]
    with tarfile.open(sdist) as sources:
        names = {name.partition("/")[2] for name in sources.getnames()}
    sought = (*SOURCES, *(f".package/{name}" for name in needed))  # the links of the package are followed
    faults += [f"{sdist.name}: lacks {name}" for name in sought if name not in names]
    print(
        "\n".join(faults) or f"{wheel.name} and {sdist.name} hold what they should: {len(held())} files of the program"
    )
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
