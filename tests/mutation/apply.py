"""Puts a fault into modules that are loaded already, so that nothing has to be imported again."""

import ast
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any

from engine.kept import forget
from guide import guide_kept, paths_kept
from tests.guide.shops import demo_again
from tests.mutation import words
from tests.mutation.faults import Fault, blocks_in, with_fault

ROOT = Path(__file__).parent.parent.parent
NOWHERE = Path(__file__) / "nowhere"
NOTE = "_is_run"
DATA = (bool, int, float, str, tuple, frozenset, dict)


def module_of(fault: Fault) -> ModuleType:
    """The loaded module of a fault's file."""
    return sys.modules[_module_name(fault.file)]


def _module_name(file: str) -> str:
    return file.removesuffix(".py").replace("/", ".")


def function_of(module: ModuleType, name: str) -> FunctionType | None:
    """The function that a dotted name means in a module, whatever is wrapped around it."""
    found: Any = module
    for part in name.split("."):
        found = vars(found).get(part) if isinstance(found, type | ModuleType) else None
    for inner in ("fget", "func", "__func__"):
        found = getattr(found, inner, found) if not isinstance(found, FunctionType) else found
    while hasattr(found, "__wrapped__"):
        found = found.__wrapped__
    return found if isinstance(found, FunctionType) else None


def can_apply(fault: Fault) -> bool:
    """Whether the fault is in a function, in a module's own data, or in words."""
    return not fault.function or function_of(module_of(fault), fault.function) is not None


def note_blocks(files: Iterable[str]) -> set[str]:
    """Have the blocks of some files' functions note that they are run, for good: "file:line"."""
    run: set[str] = set()
    for file in files:
        module = sys.modules.get(_module_name(file))
        if module is None:
            continue
        vars(module)[NOTE] = run.add
        tree = ast.parse((ROOT / file).read_text(encoding="utf-8"))
        names = [name for name in _note_in(tree.body, file, "") if function_of(module, name)]
        code = compile(ast.fix_missing_locations(tree), module.__file__ or file, "exec")
        for name in names:
            _put(_code(code, name.split(".")), function_of(module, name))
    return run


def _note_in(body: list[ast.stmt], file: str, within: str) -> Iterator[str]:
    """Begin each block of a body's functions with its note; names of the functions."""
    for node in body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            name = f"{within}.{node.name}".strip(".")
            if isinstance(node, ast.ClassDef):
                yield from _note_in(node.body, file, name)
                continue
            blocks = [held for each in ast.walk(node) for held in blocks_in(each)]
            for block in blocks:
                place = 1 if block is node.body and ast.get_docstring(node) else 0
                note = ast.parse(f"{NOTE}({f'{file}:{block[0].lineno}'!r})").body
                block[place:place] = note
            yield name


def apply(fault: Fault) -> None:
    """Put the fault in, for good: meant for a process that ends with it."""
    # what was kept there is of the engine without the fault
    paths_kept.FOLDER = guide_kept.FOLDER = NOWHERE
    forget("guide")
    demo_again()
    if fault.file.startswith(words.FOLDER):
        words.leave_out(fault)
        return
    module = module_of(fault)
    tree = with_fault((ROOT / fault.file).read_text(encoding="utf-8"), fault)
    file = module.__file__ or fault.file
    if fault.function:
        function = function_of(module, fault.function)
        _put(_code(compile(tree, file, "exec"), fault.function.split(".")), function)
        _put_defaults(tree, fault.function.split("."), function, file)
        return
    changed = set()
    for old, name, new in _data(tree, file, module):
        changed.add(name)
        for other in list(sys.modules.values()):
            if other is not None and vars(other).get(name) is old:
                setattr(other, name, new)
    for names in _taken_as_default(tree, changed):
        _put_defaults(tree, names, function_of(module, names[-1]), file)


def _put(code: CodeType, function: FunctionType | None) -> None:
    assert function is not None
    function.__code__ = code
    if function.__doc__:
        function.__doc__ = str(code.co_consts[0])


def _taken_as_default(tree: ast.Module, changed: set[str]) -> Iterator[list[str]]:
    """Functions of a module that take its changed data for arguments that are not given."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef):
            taken = [*node.args.defaults, *filter(None, node.args.kw_defaults)]
            if {
                each.id for value in taken for each in ast.walk(value) if isinstance(each, ast.Name)
            } & changed:
                yield [node.name]


def _put_defaults(
    tree: ast.Module, names: list[str], function: FunctionType | None, file: str
) -> None:
    """What is taken for arguments that are not given, as the changed text has it."""
    body: list[ast.stmt] = tree.body
    node: ast.stmt | None = None
    for name in names:
        node = next(each for each in body if getattr(each, "name", "") == name)
        body = getattr(node, "body", [])
    assert function is not None
    assert isinstance(node, ast.FunctionDef)
    known = function.__globals__
    values = [
        eval(compile(ast.Expression(each), file, "eval"), known) for each in node.args.defaults
    ]
    function.__defaults__ = tuple(values) or None
    named = zip(node.args.kwonlyargs, node.args.kw_defaults, strict=True)
    function.__kwdefaults__ = {
        argument.arg: eval(compile(ast.Expression(each), file, "eval"), known)
        for argument, each in named
        if each is not None
    } or None


def _code(code: CodeType, names: list[str]) -> CodeType:
    for name in names:
        code = next(
            each for each in code.co_consts if isinstance(each, CodeType) and each.co_name == name
        )
    return code


def _data(tree: ast.Module, file: str, module: ModuleType) -> Iterator[tuple[Any, str, Any]]:
    """The module's own data that differ once the changed text is run: old value, name, new."""
    fresh: dict[str, Any] = {"__name__": module.__name__, "__file__": file}
    exec(compile(tree, file, "exec"), fresh)
    for name, new in fresh.items():
        old = vars(module).get(name)
        if isinstance(new, DATA) and not name.startswith("__") and repr(old) != repr(new):
            yield old, name, new
