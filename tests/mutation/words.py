"""Small faults of the words that a person reads: a sentence that leaves one of its facts out."""

import re
from collections.abc import Iterator
from pathlib import Path

import guide.load
from tests.mutation.faults import Fault

FOLDER = "guide/content/words/en"
NOT_SHOWN = ("style.yaml",)
"""Files of the folder whose texts nobody is shown: examples of how not to say it."""
TESTS = (
    "tests/guide/test_facts_told.py",
    "tests/guide/test_content.py",
    "tests/guide/test_languages.py",
    "tests/pages/test_pieces.py",
    "tests/safety/test_pieces_independently.py",
    "tests/scenarios/test_scenarios.py",
    "tests/pages/test_sheets.py",
    "tests/pages/test_diagram.py",
    "tests/safety/test_statements.py",
    "tests/engine/test_pages.py",
)
"""What finds such a fault: what holds the words against the code, then what reads drawn pages."""
FACT = re.compile(r"\{(\w+)\}")


def facts_of(file: str, text: str) -> Iterator[Fault]:
    """A fault for each place where a sentence names a fact."""
    for line, row in enumerate(text.splitlines(), start=1):
        if row.lstrip().startswith("#"):
            continue
        for found in FACT.finditer(row):
            yield Fault(file, line, found.start(), (), "", 0, f"{found[0]} -> nothing", row.strip())


def without_fact(text: str, fault: Fault) -> str:
    """The text of a file of words with one fact left out."""
    rows = text.splitlines(keepends=True)
    row, start = rows[fault.line - 1], fault.column
    rows[fault.line - 1] = row[:start] + FACT.sub("", row[start:], count=1)
    return "".join(rows)


def leave_out(fault: Fault) -> None:
    """Have this process read the words without the fact, for good."""
    compose = vars(guide.load)["compose"]

    def changed(name: str, text: str) -> object:
        same = fault.file.endswith(f"/{name}")
        return compose(name, without_fact(text, fault) if same else text)

    vars(guide.load)["compose"] = changed


def faults_of_words(root: Path) -> Iterator[Fault]:
    """Every fault of the words."""
    for path in sorted((root / FOLDER).glob("*.yaml")):
        if path.name not in NOT_SHOWN:
            yield from facts_of(path.relative_to(root).as_posix(), path.read_text(encoding="utf-8"))
