"""Nothing that a person reads stands in the engine or in the page's scripts: words are content."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
SHELL = ROOT / "site_src" / "shell"

SIGNS = {
    "AC", "AGM", "AWG", "Ah", "BTU", "CFM", "DC", "LRA", "Pa", "VA", "Wh", "cm", "ft", "in",
    "inH", "kA", "kVA", "kW", "kWh", "kg", "lb", "mF", "mV", "min", "mm", "mohm", "money", "sq",
}  # fmt: skip
"""Signs of units, and abbreviations that are the same in every language."""
NOT_SAID = {
    "engine/standards": "sources of tables, and families of fuses by which the shelf names them",
    "engine/typed": "what people type is read there, not said",
    "engine/pages/drawings/diagram_symbols.py": "symbols by the names of their classes",
}
"""Where words may stand, and why."""

MARKUP = re.compile(
    r"""</?[a-zA-Z!][^>]*>?|[\w:-]+=("[^"]*"?|'[^']*'?|$)|&\w+;|\b[\w-]+:\s?[^;"]+;"""
)
WORD = re.compile(r"(?<![-\w{])[A-Za-z][A-Za-z'’]+(?![-\w=(])")
SPOKEN = re.compile(
    rf"\s{WORD.pattern}|{WORD.pattern}(?:\s|[.!?:]\s)|^\s*[A-Z][a-z]{{2,}}[.!?:]?\s*$"
)
"""A word beside a space or before a stop, or one that begins as a sentence does; ids do neither."""


def english(text: str) -> bool:
    """Whether a text has words for people in it, markup and units apart."""
    bare = MARKUP.sub("", text)
    return any(
        word not in SIGNS for found in SPOKEN.finditer(bare) for word in WORD.findall(found[0])
    )


def unread(tree: ast.AST) -> set[int]:
    """The constants that no visitor reads: docstrings, faults of programs, patterns, types."""
    found: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            found.add(id(node.value))
        elif isinstance(node, ast.Raise) or (
            isinstance(node, ast.Subscript | ast.Call)
            and ast.unparse(node).startswith(
                ("Literal[", "TypeVar(", "ParamSpec(", "re.", "cast(", "eval(", "ValueError(")
            )
        ):
            found |= {id(each) for each in ast.walk(node)}
        for annotation in (getattr(node, "annotation", None), getattr(node, "returns", None)):
            found |= {id(each) for each in ast.walk(annotation)} if annotation else set()
    return found


def said_in_python(source: str) -> Iterator[tuple[int, str]]:
    """Line and text of each constant of a module that has words for people in it."""
    tree = ast.parse(source)
    skipped = unread(tree)
    for node in ast.walk(tree):
        if not isinstance(node, ast.Constant) or id(node) in skipped:
            continue
        if isinstance(node.value, str) and english(node.value):
            yield node.lineno, node.value


SCRIPT = re.compile(
    r"""//[^\n]*|/\*.*?\*/|(?P<text>"(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\.)*`)"""
    r"""|(?<=[(,=:\s])/(?:[^/\\\n]|\\.)+/[gimsuy]*""",
    re.DOTALL,
)
FOR_PROGRAMS = re.compile(r"(?:console\.\w+|Error|runPython|matchMedia)\(\s*$")
KEYS = {"Backspace", "Enter"}


def said_in_script(source: str) -> Iterator[tuple[int, str]]:
    """Line and text of each string of a script that has words for people in it."""
    for found in SCRIPT.finditer(source):
        text = found["text"]
        if text and not FOR_PROGRAMS.search(source[: found.start()]):
            bare = re.sub(r"\$\{[^}]*\}", "", text[1:-1])
            if english(bare) and bare not in KEYS and not SELECTOR.fullmatch(bare):
                yield source.count("\n", 0, found.start()) + 1, bare


SELECTOR = re.compile(
    r"use strict|[a-z]+(?:, [a-z]+)*|[\w\s.#:\[\]=\"'>,()*-]*[#.\[\]][\w\s.#:\[\]=\"'>,()*-]*"
)
"""Which elements a script looks for."""


def test_the_scan_finds_words_and_passes_over_what_is_none() -> None:
    source = """
def name(count):
    \"\"\"A docstring says much.\"\"\"
    label: Literal["one of these"] = "branch-solar"
    if count < 0:
        raise ValueError("count must not be negative")
    return f"{count} soft starters" + "Price" + '<p class="a b">' + f"{count} sq ft"
"""
    assert {text for _, text in said_in_python(source)} == {" soft starters", "Price"}
    script = """
// A comment says much.
const label = document.querySelector("#rig-details form");
say(`${count} visits`); throw new Error("no such thing"); say('Try again');
"""
    assert [text for _, text in said_in_script(script)] == [" visits", "Try again"]


def is_excused(file: str) -> bool:
    """Whether words may stand in a file."""
    return file.startswith(tuple(NOT_SAID))


@pytest.mark.parametrize(
    "file",
    [
        name
        for path in sorted((ROOT / "engine").rglob("*.py"))
        if not is_excused(name := path.relative_to(ROOT).as_posix())
    ],
)
def test_no_words_stand_in_the_engine(file: str) -> None:
    assert list(said_in_python((ROOT / file).read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize("file", sorted(path.name for path in SHELL.glob("*.js")))
def test_no_words_stand_in_the_scripts(file: str) -> None:
    assert list(said_in_script((SHELL / file).read_text(encoding="utf-8"))) == []
