"""Puts measured tables into the page of the documentation that shows them."""

import os
import platform

from guide.setup import ROOT

PAGE = ROOT / "site_src" / "docs" / "project" / "benchmarks.md"


def put(section: str, how: str, table: str) -> None:
    """Write a table between the marks of a section; ValueError where the page has no such marks.

    section: what stands in the marks: ``<!-- section -->`` and ``<!-- /section -->``
    how: how it was measured, in a sentence after the machine
    """
    begin, end = f"<!-- {section} -->", f"<!-- /{section} -->"
    before, found, rest = PAGE.read_text(encoding="utf-8").partition(begin)
    _, closed, after = rest.partition(end)
    if not (found and closed):
        raise ValueError(f"{PAGE.name} has no place for the section “{section}”")
    machine = f"{os.cpu_count()} cores, {platform.system()}"
    written = f"{begin}\nMeasured on: {machine}; {how}.\n\n{table}{end}"
    PAGE.write_text(f"{before}{written}{after}", encoding="utf-8")


def picture(name: str, drawn: str) -> None:
    """Write a picture beside the page, under the name by which the page shows it."""
    PAGE.with_name(name).write_text(drawn, encoding="utf-8")
