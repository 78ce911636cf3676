"""Lets go of what only starting needed, before the browser's memory is kept."""

import gc
import importlib
import linecache
import re
import sys
import zipimport
from types import CodeType, FunctionType

OWN = ("engine", "edition")
# CPython's table of lines: a byte for at most eight units of code, the upper bits "no line"
UNIT_BYTES, MOST_UNITS, NO_LINE = 2, 8, 0xF8


def shed() -> None:
    """Forget the files that modules came from, and in which line each step of a library stands.

    The files are not there once the memory is put back. In a traceback the frames of libraries
    then name their file only; the engine's own keep their lines.

    What is left stays for good and is not searched for rubbish at every answer. That is settled
    last: `gc.get_objects` names nothing any more that is settled.
    """
    importlib.invalidate_caches()
    zipimport._zip_directory_cache.clear()  # type: ignore[attr-defined]
    for finder in sys.path_importer_cache.values():
        if isinstance(finder, zipimport.zipimporter):
            finder._files = {}  # type: ignore[attr-defined]
    sys.path_importer_cache.clear()
    linecache.clearcache()
    re.purge()
    for function in gc.get_objects():
        if isinstance(function, FunctionType) and is_library(function.__code__):
            function.__code__ = without_lines(function.__code__)
    gc.collect()
    gc.freeze()


def is_library(code: CodeType) -> bool:
    """Whether code belongs to another package than the engine or the content."""
    parts = code.co_filename.replace("\\", "/").split("/")
    return not any(part.removesuffix(".py") in OWN for part in parts)


def without_lines(code: CodeType) -> CodeType:
    """Return the same code, its inner functions included, that does not know its lines."""
    consts = tuple(
        without_lines(each) if isinstance(each, CodeType) else each for each in code.co_consts
    )
    whole, rest = divmod(len(code.co_code) // UNIT_BYTES, MOST_UNITS)
    lines = bytes([NO_LINE | MOST_UNITS - 1]) * whole + bytes([NO_LINE | rest - 1] if rest else [])
    return code.replace(co_linetable=lines, co_consts=consts)
