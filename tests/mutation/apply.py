"""Puts a fault into modules that are loaded already, so that nothing has to be imported again."""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any

from engine.kept import forget
from guide import guide_kept, paths_kept
from tests.mutation import words
from tests.mutation.faults import Fault, with_fault

ROOT = Path(__file__).parent.parent.parent
NOWHERE = Path(__file__) / "nowhere"
DATA = (bool, int, float, str, tuple, frozenset, dict)


def module_of(fault: Fault) -> ModuleType:
    """The loaded module of a fault's file."""
    return sys.modules[fault.file.removesuffix(".py").replace("/", ".")]


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


def apply(fault: Fault) -> None:
    """Put the fault in, for good: meant for a process that ends with it."""
    # what was kept there is of the engine without the fault
    paths_kept.FOLDER = guide_kept.FOLDER = NOWHERE
    forget("guide")
    if fault.file.startswith(words.FOLDER):
        words.leave_out(fault)
        return
    module = module_of(fault)
    tree = with_fault((ROOT / fault.file).read_text(encoding="utf-8"), fault)
    file = module.__file__ or fault.file
    if fault.function:
        function = function_of(module, fault.function)
        assert function is not None
        function.__code__ = _code(compile(tree, file, "exec"), fault.function.split("."))
        if function.__doc__:
            function.__doc__ = str(function.__code__.co_consts[0])
        return
    for old, name, new in _data(tree, file, module):
        for other in list(sys.modules.values()):
            if other is not None and vars(other).get(name) is old:
                setattr(other, name, new)


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
