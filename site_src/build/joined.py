"""Joins the modules of a page into one script: one request where there were a dozen.

What a browser has to ask for one by one holds up what it paints meanwhile, and from a folder it
imports no modules at all. The modules are ours or come from locked packages, and use three forms
only: named and default imports from a neighbor, exports at a declaration, one list of exports at
the end. Anything else stops the build.
"""

import re
from collections.abc import Sequence
from pathlib import Path

from rjsmin import jsmin

IMPORT = re.compile(r'^import (?:\{([^}]*)\}|(\w+)) from "\./([^"]+)";\n', re.MULTILINE)
DECLARED = re.compile(r"^export ((?:async )?function|const|class) (\w+)", re.MULTILINE)
LISTED = re.compile(r"export ?\{([^}]*)\};?")
DEFAULT = re.compile(r"export default (\w+);?")
LEFT_OVER = re.compile(r"^(?:import|export)\b.*", re.MULTILINE)
SOURCE_MAP = re.compile(r"^//# sourceMappingURL=.*$", re.MULTILINE)


class JoinError(Exception):
    """A module uses a form that cannot be joined with others."""


def joined(folder: Path, entry: str) -> str:
    """Return a module and all that it imports as one module, which exports nothing.

    Its only word that a plain script does not know is ``import.meta.url``, which it says once.
    """
    body = "".join(_parts(folder, entry).values()).replace("import.meta.url", "here")
    start = '"use strict";\n(() => {\nconst here = import.meta.url;\nconst modules = {};\n'
    return f"{start}{body}}})();\n"


def join(folder: Path, entries: Sequence[str], apart: str) -> None:
    """Put all that each of some modules imports into it, and remove what nobody imports then.

    apart: a module that stays as it is, as what it imports does
    """
    stay = {*_parts(folder, apart), *entries}
    texts = {name: joined(folder, name) for name in entries}
    for part in {part for name in entries for part in _parts(folder, name)} - stay:
        (folder / part).unlink()
    for name, text in texts.items():
        (folder / name).write_text(f"{short(text)}\n", encoding="utf-8")


def short(script: str) -> str:
    """The same script without what only those who write it read."""
    return str(jsmin(script))


def _parts(folder: Path, entry: str) -> dict[str, str]:
    """The text of a module and of all that it imports, by name, what is imported first."""
    done: dict[str, str] = {}
    _add(folder, entry, done)
    return done


def _add(folder: Path, name: str, done: dict[str, str]) -> None:
    text = SOURCE_MAP.sub("", (folder / name).read_text(encoding="utf-8"))
    base = Path(name).parent

    def taken(found: re.Match[str]) -> str:
        source = (base / found[3]).as_posix()
        if source not in done:
            _add(folder, source, done)
        names = f"{{ {_renamed(found[1], ':')} }}" if found[1] else f"{{ default: {found[2]} }}"
        return f'const {names} = modules["{source}"];\n'

    text = IMPORT.sub(taken, text)
    exports = [f"{found[2]}" for found in DECLARED.finditer(text)]
    text = DECLARED.sub(r"\1 \2", text)
    for found in LISTED.finditer(text):
        exports += [_renamed_export(each) for each in found[1].split(",") if each.strip()]
    text = LISTED.sub("", text)
    exports += [f"default: {found[1]}" for found in DEFAULT.finditer(text)]
    text = DEFAULT.sub("", text)
    if left := LEFT_OVER.search(text):
        raise JoinError(f"{name}: {left[0][:120]}")
    given = ", ".join(exports)
    done[name] = f'modules["{name}"] = (() => {{\n{text.strip()}\nreturn {{ {given} }};\n}})();\n'


def _renamed(names: str, sign: str) -> str:
    return ", ".join(each.strip().replace(" as ", f"{sign} ") for each in names.split(","))


def _renamed_export(name: str) -> str:
    local, _, shown = name.strip().partition(" as ")
    return f"{shown}: {local}" if shown else local
