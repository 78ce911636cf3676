"""The documents for those who change the project, and the fenced blocks in them."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parent.parent.parent
PROJECT = ROOT / "site_src/docs/project"
DEVELOPERS = ROOT / "DEVELOPERS.md"
DOCUMENTS = (ROOT / "README.md", DEVELOPERS, *sorted(PROJECT.rglob("*.md")))
FENCED = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


class Block(NamedTuple):
    """A fenced block: what it is marked as, its text, and where it begins."""

    mark: str
    text: str
    place: str

    @property
    def commands(self) -> list[str]:
        """Its lines, where it is one of commands; none else."""
        return [] if self.mark else self.text.splitlines()


def blocks(file: Path) -> Iterator[Block]:
    """Every fenced block of a page, in order."""
    source = file.read_text(encoding="utf-8")
    for number, found in enumerate(FENCED.finditer(source), 1):
        line = source.count("\n", 0, found.start()) + 1
        place = f"{file.relative_to(ROOT).as_posix()}, line {line}, block {number}"
        yield Block(found[1], found[2], place)
