"""Where a module can be changed in a small way, and the module so changed."""

from __future__ import annotations

import ast
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

NO_MEANING = {"strict", "encoding", "frozen", "slots", "parents", "exist_ok"}  # arguments that change no answer
TURNED = {
    ast.Lt: ast.Gt, ast.Gt: ast.Lt, ast.LtE: ast.GtE, ast.GtE: ast.LtE, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}  # fmt: skip
MOVED = {ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt}
SWAPPED = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Div, ast.Mod: ast.Mult,
    ast.Pow: ast.Mult, ast.And: ast.Or, ast.Or: ast.And,
}  # fmt: skip


@dataclass(frozen=True)
class Mutant:
    """A module to be changed in one place: the node at `number` in the walk of its tree; `draw` settles the rest."""

    path: Path
    kind: str
    number: int
    draw: int


@dataclass(frozen=True)
class Changed:
    """The changed module, what is otherwise in words, and where.

    `lines` run the change, `around` are those of the function that it stands in, whose name within the module is
    `function`; outside of any, and in one that another makes, which may have been made already, it is None, and `names`
    are what the statement sets.
    """

    tree: ast.Module
    before: str
    after: str
    lines: range
    around: range
    function: str | None
    names: tuple[str, ...]


def _comparison(node: ast.AST, chance: random.Random) -> None:
    assert isinstance(node, ast.Compare)
    at = chance.choice([at for at, op in enumerate(node.ops) if type(op) in TURNED])
    node.ops[at] = TURNED[type(node.ops[at])]()


def _boundary(node: ast.AST, chance: random.Random) -> None:
    assert isinstance(node, ast.Compare)
    at = chance.choice([at for at, op in enumerate(node.ops) if type(op) in MOVED])
    node.ops[at] = MOVED[type(node.ops[at])]()


def _constant(node: ast.AST, _chance: random.Random) -> None:
    assert isinstance(node, ast.Constant)
    if isinstance(node.value, bool):
        node.value = not node.value
    elif isinstance(node.value, int):
        node.value += 1
    else:
        assert isinstance(node.value, float)
        node.value = node.value * 2 or 1.0


def _operator(node: ast.AST, _chance: random.Random) -> None:
    assert isinstance(node, ast.BinOp | ast.BoolOp)
    node.op = SWAPPED[type(node.op)]()  # type: ignore[assignment]


def _argument(node: ast.AST, chance: random.Random) -> None:
    assert isinstance(node, ast.Call)
    named = [one for one in node.keywords if one.arg not in NO_MEANING]
    if named and (not node.args or chance.random() < 0.5):
        node.keywords.remove(chance.choice(named))
    else:
        node.args.pop()


def _negation(node: ast.AST, _chance: random.Random) -> ast.expr:
    assert isinstance(node, ast.UnaryOp)
    return node.operand


def _returned(node: ast.AST, _chance: random.Random) -> None:
    assert isinstance(node, ast.Return)
    assert node.value is not None
    truth = isinstance(node.value, ast.Compare | ast.BoolOp) or isinstance(getattr(node.value, "value", None), bool)
    number = isinstance(node.value, ast.BinOp)
    if truth:
        node.value = ast.UnaryOp(ast.Not(), node.value)
    elif number:
        node.value = ast.BinOp(node.value, ast.Add(), node.value)
    else:
        node.value = ast.Constant(None)


CHANGES: dict[str, Callable[[ast.AST, random.Random], ast.expr | None]] = {
    "comparison turned": _comparison,
    "boundary moved": _boundary,
    "constant changed": _constant,
    "operator swapped": _operator,
    "argument dropped": _argument,
    "negation dropped": _negation,
    "return changed": _returned,
}


def kinds_of(node: ast.AST) -> Iterator[str]:
    """Yield the kinds of change that a node of the tree can take."""
    match node:
        case ast.Compare(ops=ops):
            yield from ("comparison turned",) if any(type(op) in TURNED for op in ops) else ()
            yield from ("boundary moved",) if any(type(op) in MOVED for op in ops) else ()
        case ast.Constant(value=bool() | int() | float()):
            yield "constant changed"
        case ast.BinOp(op=op) | ast.BoolOp(op=op) if type(op) in SWAPPED:
            yield "operator swapped"
        case ast.Call(args=args, keywords=named) if args or any(one.arg not in NO_MEANING for one in named):
            yield "argument dropped"
        case ast.UnaryOp(op=ast.Not() | ast.USub()):
            yield "negation dropped"
        case ast.Return(value=ast.expr() as value) if not (isinstance(value, ast.Constant) and value.value is None):
            yield "return changed"


def mutants(paths: list[Path], chance: random.Random) -> Iterator[Mutant]:
    """Yield mutants of these modules, each kind of change as often as any other, none twice."""
    by_kind: dict[str, list[Mutant]] = {kind: [] for kind in CHANGES}
    for path in paths:
        tree = ast.parse(path.read_text())
        left_out = _never_run(tree)
        for number, node in enumerate(ast.walk(tree)):
            for kind in () if node in left_out else kinds_of(node):
                by_kind[kind].append(Mutant(path, kind, number, chance.randrange(2**32)))
    for found in by_kind.values():
        chance.shuffle(found)
    while any(by_kind.values()):
        yield from [found.pop() for found in by_kind.values() if found]


def _never_run(tree: ast.Module) -> set[ast.AST]:
    """Return what a change of would mean nothing: annotations, decorators, and what only a type checker reads."""
    found: set[ast.AST] = set()
    for node in ast.walk(tree):
        parts: list[ast.AST | None] = [getattr(node, "annotation", None), getattr(node, "returns", None)]
        parts += getattr(node, "decorator_list", [])
        parts += [node] if isinstance(node, ast.pattern) else []
        parts += [node] if isinstance(node, ast.keyword) and node.arg in NO_MEANING else []
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test):
            parts.append(node)
        for part in filter(None, parts):
            found.update(ast.walk(part))
    return found


def changed(mutant: Mutant) -> Changed:
    """Return the module with its change made."""
    tree = ast.parse(mutant.path.read_text())
    node, above = list(ast.walk(tree))[mutant.number], _parents(tree)
    line = next(one for one in _upward(node, above) if isinstance(one, ast.stmt | ast.match_case))
    before = _first_line(line)
    instead = CHANGES[mutant.kind](node, random.Random(mutant.draw))
    if instead is not None:
        _put(above[node], node, instead)
    ast.fix_missing_locations(tree)
    lines, after = _lines(line), _first_line(line)
    way = list(_upward(node, above))
    functions = [at for at, one in enumerate(way) if isinstance(one, ast.FunctionDef | ast.AsyncFunctionDef)]
    if len(functions) != 1 or way[functions[0] - 1] not in getattr(way[functions[0]], "body", []):
        outside = [] if functions else list(ast.walk(line))  # what is set within a function is read there alone
        names = (one.id for one in outside if isinstance(one, ast.Name) and isinstance(one.ctx, ast.Store))
        return Changed(tree, before, after, lines, lines, None, tuple(names))
    within = way[functions[0] :]
    named = [one.name for one in within if isinstance(one, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef)]
    return Changed(tree, before, after, lines, _lines(within[0]), ".".join(reversed(named)), ())


def _parents(tree: ast.Module) -> dict[ast.AST, ast.AST]:
    return {inner: outer for outer in ast.walk(tree) for inner in ast.iter_child_nodes(outer)}


def _upward(node: ast.AST, above: dict[ast.AST, ast.AST]) -> Iterator[ast.AST]:
    while node in above:
        yield node
        node = above[node]


def _first_line(node: ast.AST) -> str:
    """Return a statement as text, without the block that it heads."""
    return ast.unparse(node).strip().splitlines()[0]


def _lines(node: ast.AST) -> range:
    """Return the lines of a statement, without those of the block that it heads; of a function all."""
    at = node.pattern if isinstance(node, ast.match_case) else node
    assert isinstance(at, ast.stmt | ast.pattern)
    first, last = at.lineno, at.end_lineno or at.lineno
    body = getattr(node, "body", None)
    if isinstance(body, list) and body and not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
        last = max(first, body[0].lineno - 1)
    return range(first, last + 1)


def _put(holder: ast.AST, node: ast.AST, instead: ast.expr) -> None:
    for name, value in ast.iter_fields(holder):
        if value is node:
            setattr(holder, name, instead)
        elif isinstance(value, list) and node in value:
            value[value.index(node)] = instead
