"""Lets go of what only starting needed, before the browser's memory is kept."""

import contextlib
import gc
import linecache
import re
import sys
import zipimport
from dataclasses import FrozenInstanceError, is_dataclass
from types import CodeType, FunctionType, ModuleType

OWN = ("engine", "edition")
# CPython's table of lines: a byte for at most eight units of code, the upper bits "no line"
UNIT_BYTES, MOST_UNITS, NO_LINE = 2, 8, 0xF8
HAS_DOC = 0x4000000  # of a code's flags: its first constant is a docstring


def shed() -> None:
    """Forget the files that modules came from, and in which line each step of a library stands.

    The files are not there once the memory is put back. In a traceback the frames of libraries
    then name their file only; the engine's own keep their lines.

    What annotations say was read when classes were made; nobody reads it later, nor docstrings.

    What is left stays for good and is not searched for rubbish at every answer. That is settled
    last: `gc.get_objects` names nothing any more that is settled.
    """
    zipimport._zip_directory_cache.clear()  # type: ignore[attr-defined]
    for finder in sys.path_importer_cache.values():
        if isinstance(finder, zipimport.zipimporter):
            finder._files = {}  # type: ignore[attr-defined]
    sys.path_importer_cache.clear()
    linecache.clearcache()
    re.purge()
    share_guards(gc.get_objects())
    let_go_of_notes(gc.get_objects())
    gc.collect()
    gc.freeze()


def share_guards(objects: list[object]) -> None:
    """Let frozen dataclasses share what refuses a change, of which each has its own otherwise."""
    guard = FunctionType(refuse.__code__, {"FrozenInstanceError": FrozenInstanceError}, "refuse")
    for each in objects:
        if isinstance(each, type) and is_dataclass(each):
            for name in {"__setattr__", "__delattr__"} & each.__dict__.keys():
                setattr(each, name, guard)


def refuse(self: object, name: str, *_: object) -> None:
    """Refuse to change a field."""
    raise FrozenInstanceError(f"{type(self).__name__}.{name} is frozen")


def let_go_of_notes(objects: list[object]) -> None:
    """Take docstrings and annotations from all that has some, lines from the code of libraries.

    Functions that share their code go on sharing it.
    """
    sharing: dict[int, list[FunctionType]] = {}
    tables: dict[int, bytes] = {}
    for each in objects:
        if isinstance(each, FunctionType | ModuleType | property | type):
            let_go_of_text(each)
        if isinstance(each, FunctionType):
            each.__annotate__ = None  # type: ignore[attr-defined]
            sharing.setdefault(id(each.__code__), []).append(each)
        elif isinstance(each, type) and "__annotate_func__" in each.__dict__:
            each.__annotate__ = None  # type: ignore[attr-defined]
    for functions in sharing.values():
        if is_library(functions[0].__code__):
            code = without_lines(functions[0].__code__, tables)
            for each in functions:
                each.__code__ = code


def let_go_of_text(thing: object) -> None:
    """Take a docstring, if it is one that may be taken."""
    held = thing.__dict__.get("__doc__") if isinstance(thing, type) else thing.__doc__
    if isinstance(held, str):
        with contextlib.suppress(AttributeError, TypeError):  # of what is not made in Python
            thing.__doc__ = None


def is_library(code: CodeType) -> bool:
    """Whether code belongs to another package than the engine or the content."""
    parts = code.co_filename.replace("\\", "/").split("/")
    return not any(part.removesuffix(".py") in OWN for part in parts)


def without_lines(code: CodeType, tables: dict[int, bytes]) -> CodeType:
    """Return the same code, its inner functions included, that does not know its lines.

    tables: those of code without lines, by its units, which all code of a length shares
    """
    consts = tuple(
        without_lines(each, tables) if isinstance(each, CodeType) else each
        for each in code.co_consts
    )
    if code.co_flags & HAS_DOC:
        consts = (None, *consts[1:])
    units = len(code.co_code) // UNIT_BYTES
    return code.replace(
        co_linetable=tables.setdefault(units, no_lines(units)),
        co_consts=code.co_consts if consts == code.co_consts else consts,
        co_flags=code.co_flags & ~HAS_DOC,
    )


def no_lines(units: int) -> bytes:
    """Return the table for so many units of code of which none has a line."""
    whole, rest = divmod(units, MOST_UNITS)
    return bytes([NO_LINE | MOST_UNITS - 1]) * whole + bytes([NO_LINE | rest - 1] if rest else [])
