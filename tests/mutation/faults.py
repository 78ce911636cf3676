"""Small faults of code: what can be changed in a source text, and the text with one change."""

import ast
import copy
import re
from collections.abc import Iterator
from typing import NamedTuple

from guide import formulas

SWAPPED: dict[type[ast.AST], type[ast.AST]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.And: ast.Or,
    ast.Or: ast.And,
}
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any"}
TOLERANCE = 1e-5
EQUATION = re.compile(rf"^ *{formulas.SIGN} [=≥] .+$", re.MULTILINE)
SIGNS = {"·": "+", "/": "·", "+": "−", "−": "+", "max": "min", "min": "max"}
SIGN = re.compile(r"(?<= )[·/+−](?= )|\b(?:max|min)\b")
Path = tuple[tuple[str, int], ...]


class Fault(NamedTuple):
    """Where a change is made, what it says ("Mult -> Div"), and the line of the text as it was.

    block: line of the first of the statements that run one after the other up to the place;
        0 where no function holds it
    """

    file: str
    line: int
    column: int
    path: Path
    function: str
    block: int
    change: str
    text: str = ""


def faults_of(file: str, source: str) -> tuple[Fault, ...]:
    """Every change that can be made in a source text, in the order of the text."""
    rows = ["", *source.splitlines()]
    found = _found(ast.parse(source))
    return tuple(Fault(file, *each, text=rows[each[0]].strip()) for each in found)


def _found(tree: ast.Module) -> Iterator[tuple[int, int, Path, str, int, str]]:
    for path, node, function, block in _walk(tree, (), "", 0):
        change = _change(node)
        if change:
            line, column = getattr(node, "lineno", 0), getattr(node, "col_offset", 0)
            yield line, column, path, function, block, change


def blocks_in(node: ast.AST) -> Iterator[list[ast.stmt]]:
    """The statements right inside a node, in lists of those that run one after the other."""
    for name in ("body", "orelse", "finalbody"):
        held = getattr(node, name, None)
        if isinstance(held, list) and held:
            yield held


def _walk(
    node: ast.AST, path: Path, function: str, block: int
) -> Iterator[tuple[Path, ast.AST, str, int]]:
    """Every node that runs when something is worked out; no annotations, no words but equations."""
    yield path, node, function, block
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        function = f"{function}.{node.name}".strip(".")
    if isinstance(node, ast.FunctionDef):
        block = node.body[0].lineno
    first_of = {id(each): held[0].lineno for held in blocks_in(node) for each in held}
    for name, value in ast.iter_fields(node):
        if name in ("annotation", "returns", "decorator_list", "type_params", "bases"):
            continue
        if isinstance(node, ast.Raise) or (isinstance(node, ast.keyword) and node.arg == "strict"):
            continue  # what only a programmer is told: words of an error, rows that do not pair
        for index, child in enumerate(value if isinstance(value, list) else [value]):
            if isinstance(child, ast.AST):
                within = first_of.get(id(child), block) if block else 0
                yield from _walk(child, (*path, (name, index)), function, within)


def _change(node: ast.AST) -> str:
    """What would be changed at this node; "" where nothing is."""
    if isinstance(node, ast.BinOp | ast.AugAssign | ast.BoolOp):
        after = SWAPPED.get(type(node.op))
        return f"{type(node.op).__name__} -> {after.__name__}" if after else ""
    if isinstance(node, ast.Compare):
        after = SWAPPED[type(node.ops[0])]
        return f"{type(node.ops[0]).__name__} -> {after.__name__}"
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not | ast.USub):
        return f"{type(node.op).__name__} -> none"
    if isinstance(node, ast.Constant):
        return _change_of(node.value)
    if isinstance(node, ast.Name) and node.id in NAMES and isinstance(node.ctx, ast.Load):
        return f"{node.id} -> {NAMES[node.id]}"
    return ""


def _change_of(value: object) -> str:
    if isinstance(value, str):
        return "another equation" if other_equation(value) else ""
    return f"{value!r} -> {_other(value)!r}" if _is_number(value) else ""


def _is_number(value: object) -> bool:
    return isinstance(value, bool | int | float)


def _other(value: object) -> object:
    if isinstance(value, str):
        return other_equation(value)
    if isinstance(value, bool):
        return not value
    assert isinstance(value, int | float)
    if isinstance(value, int):
        return value + 1
    if value == 0.0:
        return 1.0
    if abs(value) <= TOLERANCE:  # a tenth more of it is nothing that anybody could see
        return value * 1e6
    return value * 1.1


def other_equation(docstring: str) -> str:
    """A formula's docstring with a sign of its equation changed; "" where there is no equation."""
    equation = EQUATION.search(docstring)
    if not equation:
        return ""
    changed = SIGN.sub(lambda found: SIGNS[found[0]], equation[0], count=1)
    return docstring.replace(equation[0], changed, 1) if changed != equation[0] else ""


def with_fault(source: str, fault: Fault) -> ast.Module:
    """The module of a source text with one change made."""
    tree = ast.parse(source)
    parent: ast.AST | None = None
    node: ast.AST = tree
    for step in fault.path:
        parent, node = node, _child(node, step)
    assert parent is not None
    changed = _changed(copy.copy(node))
    name, index = fault.path[-1]
    held = getattr(parent, name)
    if isinstance(held, list):
        held[index] = changed
    else:
        setattr(parent, name, changed)
    return ast.fix_missing_locations(tree)


def _child(node: ast.AST, step: tuple[str, int]) -> ast.AST:
    value = getattr(node, step[0])
    found = value[step[1]] if isinstance(value, list) else value
    assert isinstance(found, ast.AST)
    return found


def _changed(node: ast.AST) -> ast.AST:
    if isinstance(node, ast.BinOp | ast.AugAssign | ast.BoolOp):
        node.op = SWAPPED[type(node.op)]()  # type: ignore[assignment]
    elif isinstance(node, ast.Compare):
        node.ops = [SWAPPED[type(node.ops[0])](), *node.ops[1:]]  # type: ignore[list-item]
    elif isinstance(node, ast.UnaryOp):
        return node.operand
    elif isinstance(node, ast.Constant):
        node.value = _other(node.value)  # type: ignore[assignment]
    elif isinstance(node, ast.Name):
        node.id = NAMES[node.id]
    return node
