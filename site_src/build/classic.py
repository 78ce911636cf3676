"""Turns the shell's modules into one plain script, for pages that are opened from a folder.

Browsers import no modules there. The modules are ours or come from locked packages, and use three
forms only: named and default imports from a neighbor, exports at a declaration, one list of
exports at the end. Anything else stops the build.
"""

import re
from pathlib import Path

IMPORT = re.compile(r'^import (?:\{([^}]*)\}|(\w+)) from "\./([^"]+)";\n', re.MULTILINE)
DECLARED = re.compile(r"^export ((?:async )?function|const|class) (\w+)", re.MULTILINE)
LISTED = re.compile(r"export ?\{([^}]*)\};?")
DEFAULT = re.compile(r"export default (\w+);?")
LEFT_OVER = re.compile(r"^(?:import|export)\b.*", re.MULTILINE)
SOURCE_MAP = re.compile(r"^//# sourceMappingURL=.*$", re.MULTILINE)


class ClassicError(Exception):
    """A module uses a form that cannot be turned into a plain script."""


def classic(folder: Path, entry: str, address: str) -> str:
    """Return a module and all that it imports as one script.

    address: an expression for what ``import.meta.url`` stands for
    """
    done: dict[str, str] = {}
    _add(folder, entry, done)
    body = "".join(done.values()).replace("import.meta.url", "here")
    return (
        f'"use strict";\n(() => {{\nconst here = {address};\nconst modules = {{}};\n{body}}})();\n'
    )


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
        raise ClassicError(f"{name}: {left[0][:120]}")
    given = ", ".join(exports)
    done[name] = f'modules["{name}"] = (() => {{\n{text.strip()}\nreturn {{ {given} }};\n}})();\n'


def _renamed(names: str, sign: str) -> str:
    return ", ".join(each.strip().replace(" as ", f"{sign} ") for each in names.split(","))


def _renamed_export(name: str) -> str:
    local, _, shown = name.strip().partition(" as ")
    return f"{shown}: {local}" if shown else local
