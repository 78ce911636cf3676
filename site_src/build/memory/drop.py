"""Lets go of modules that no reply uses, before the browser's memory is kept."""

import gc
import sys
from types import CodeType, FunctionType, ModuleType

NAMES = """
_compat_pickle _opcode_metadata _pyodide.docs_argspec _pyodide.docstring annotationlib asyncio bz2
compression concurrent dis email encodings.cp437 glob gzip html.entities http importlib.metadata
inspect ipaddress jinja2.bccache jinja2.compiler jinja2.idtracking jinja2.lexer jinja2.nodes
jinja2.optimizer jinja2.parser jinja2.visitor logging lzma ntpath numbers opcode pickle
quopri random selectors shutil site socket ssl subprocess tempfile urllib.error
urllib.request urllib.response xml zipfile
"""
DROPPED = NAMES.split()
"""What only starting needed (files, byte code, templates) or nobody needs (network, processes):
modules, each with those inside it."""

PARTS = {"html": ("_html5", "unescape")}
"""Of modules that are used, what is not, and holds much."""

LOOKS = ("pyodide._package_loader", "init_loaded_packages")
"""What Pyodide has at each start look for packages, in a file system that is empty then."""

STAYS = {"EvalContext"}
"""What is used of them all the same: Jinja2 asks it whether it is to escape."""


def drop() -> None:
    """Empty the modules, and what is still held of their functions by others.

    An emptied function that is called all the same raises RuntimeError.
    """
    if "logging" in sys.modules:
        sys.modules["logging"]._handlerList.clear()  # it calls back
    for name in PARTS.keys() & sys.modules:  # a bare Python has none of them
        for part in PARTS[name]:
            delattr(sys.modules[name], part)
    if LOOKS[0] in sys.modules:
        setattr(sys.modules[LOOKS[0]], LOOKS[1], nothing)
    for name in [each for each in sys.modules if is_dropped(each)]:
        empty(sys.modules.pop(name))
    for module in list(sys.modules.values()):
        if isinstance(module, ModuleType):
            forget_in(module)
    gc.collect()
    bodies: dict[int, CodeType] = {}
    for each in gc.get_objects():
        if isinstance(each, FunctionType) and is_of_dropped(each):
            free = len(each.__code__.co_freevars)
            each.__code__ = bodies.setdefault(free, body(free))
            each.__defaults__ = each.__kwdefaults__ = None


def is_dropped(name: object) -> bool:
    """Whether a module is one of those, or lies in one."""
    return isinstance(name, str) and any(f"{name}.".startswith(f"{each}.") for each in DROPPED)


def is_of_dropped(thing: ModuleType | FunctionType | type) -> bool:
    """Whether something belongs to such a module and does not stay."""
    if isinstance(thing, ModuleType):
        return is_dropped(thing.__name__)
    return is_dropped(thing.__module__) and thing.__qualname__.partition(".")[0] not in STAYS


def empty(module: ModuleType) -> None:
    """Take from a module all that does not stay."""
    for name in list(vars(module)):
        if not name.startswith("__") and name not in STAYS:
            del vars(module)[name]


def forget_in(module: ModuleType) -> None:
    """Take from a module what it has of dropped ones."""
    for name, value in list(vars(module).items()):
        if isinstance(value, ModuleType | FunctionType | type) and is_of_dropped(value):
            del vars(module)[name]


def nothing() -> None:
    """Find nothing, as there is nothing."""


def gone(*_: object, **__: object) -> None:
    """Stand in for what was emptied."""
    raise RuntimeError("not in the browser's memory")


def body(free: int) -> CodeType:
    """Return the code of such a function that has so many free variables."""
    return gone.__code__.replace(co_freevars=tuple(f"_{place}" for place in range(free)))
