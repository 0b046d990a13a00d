"""The modules stand on one another one way: no two know each other, not even by type or from inside a function."""

import ast
import subprocess
import sys
from graphlib import TopologicalSorter
from pathlib import Path

ROOT = Path(__file__).parent.parent


def imported(source: str) -> set[str]:
    """Return the names that a module imports, wherever in it, of modules and of what stands in them."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
    return found


def module_name(path: Path) -> str:
    """Return the name by which a file of this project is imported."""
    return ".".join(("forescale", *path.relative_to(ROOT).with_suffix("").parts)).removesuffix(".__init__")


def graph(sources: dict[str, str]) -> dict[str, set[str]]:
    """Return, for each module, those that it imports, itself left out."""
    known: dict[str, set[str]] = {}
    for name, source in sources.items():
        found = imported(source)
        known[name] = ((found | {full.rpartition(".")[0] for full in found}) & sources.keys()) - {name}
    return known


def test_no_modules_import_each_other() -> None:
    files = [path for top in ("engine", "tui") for path in (ROOT / top).rglob("*.py")]
    known = graph({module_name(path): path.read_text() for path in files})
    assert "forescale.engine.solve.record" in known["forescale.engine.answer"]
    assert len(known) > 200
    order = list(TopologicalSorter(known).static_order())  # raises where there is a circle
    assert order.index("forescale.engine.solve.record") < order.index("forescale.engine.answer")


def test_the_board_is_there_before_what_prints_and_what_the_tasks_need() -> None:
    code = "import sys, forescale.tui.app; print(*(name for name in sys.modules if name.startswith('forescale.')))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    rooms = {".".join(name.split(".")[1:3]) for name in done.stdout.split()}
    assert {"engine.answer", "tui.board"} <= rooms
    late = {f"engine.{room}" for room in ("bench", "compare", "moved", "options", "parts", "survey", "workings", "day")}
    assert not late & rooms
    assert "forescale.engine.sheet.sections" not in done.stdout
