"""Puts measured tables into the page of the documentation that shows them."""

import os
import platform

from guide.setup import ROOT

PAGE = ROOT / "site_src" / "docs" / "project" / "benchmarks.md"


def put(section: str, how: str, table: str) -> None:
    """Write a table between the marks of a section; ValueError where they do not stand there once.

    section: what stands in the marks: ``<!-- section -->`` and ``<!-- /section -->``
    how: how it was measured, in a sentence after the machine
    """
    begin, end = f"<!-- {section} -->", f"<!-- /{section} -->"
    text = PAGE.read_text(encoding="utf-8")
    if (text.count(begin), text.count(end)) != (1, 1):
        raise ValueError(f"{PAGE.name} has not one place for the section “{section}”")
    before, _, rest = text.partition(begin)
    after = rest.partition(end)[2]
    machine = f"{os.cpu_count()} cores, {platform.system()}"
    written = f"{begin}\nMeasured on: {machine}; {how}.\n\n{table}{end}"
    PAGE.write_text(f"{before}{written}{after}", encoding="utf-8")


def picture(name: str, drawn: str) -> None:
    """Write a picture beside the page, under the name by which the page shows it."""
    PAGE.with_name(name).write_text(drawn, encoding="utf-8")
