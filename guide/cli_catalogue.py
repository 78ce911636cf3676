"""The commands for the catalog as a spreadsheet: out, in, and prices alone."""

import argparse
from collections.abc import Iterator

from guide import reports
from guide.cli_author import FAULTS, GOOD, progress_bar
from guide.compare import compare
from guide.fault import counted
from guide.spreadsheet.book import read_tables
from guide.spreadsheet.export import export
from guide.spreadsheet.feed import plan_prices
from guide.spreadsheet.importing import Import, plan_import

MOST_SHOWN = 20
NOTHING = "nothing"
MOST_CAUSES = 6
"""Edits up to which it is worked out what each does by itself."""


def export_tables(options: argparse.Namespace) -> int:
    """Write the catalog as a spreadsheet."""
    count = export(options.content, options.target)
    print(f"wrote {options.target}: {count} products")
    return GOOD


def import_tables(options: argparse.Namespace) -> int:
    """Tell what a spreadsheet changes; write it where that is asked for and nothing is wrong."""
    sheets = read_tables(options.source)
    return _told(plan_import(options.content, sheets, discontinue=options.discontinue), options)


def import_prices(options: argparse.Namespace) -> int:
    """The same for a feed of prices and stock."""
    return _told(plan_prices(options.content, read_tables(options.source)), options)


def _told(found: Import, options: argparse.Namespace) -> int:
    for line in _lines(found):
        print(line)
    if found.faults:
        print(f"{counted(len(found.faults), 'fault')}; nothing is written")
        return FAULTS
    if not found.changed:
        print("Nothing to write: the content says the same already.")
        return GOOD
    if options.answers and found.old and found.new:
        few = sum(len(each.changes) + len(each.new) for each in found.families) <= MOST_CAUSES
        answers = compare(found.old, found.new, progress_bar("comparing"), causes=few)
        print(reports.compare_text(answers))
    if not options.write:
        print("Nothing is written yet. With --write it is.")
        return GOOD
    for file in found.write():
        print(f"wrote {file}")
    return GOOD


def _lines(found: Import) -> Iterator[str]:
    for each in found.families:
        for what, ids in (("new", each.new), ("not in the table", each.gone)):
            if ids:
                yield f"{each.shelf.file}: {len(ids)} {what}: {', '.join(_short(ids))}"
        if each.changes:
            yield f"{each.shelf.file}: {len(each.changes)} changed"
        for change in each.changes[:MOST_SHOWN]:
            before, now = change.before or NOTHING, change.now or NOTHING
            yield f"    {change.id}, {change.key}: {before} → {now}"
        if len(each.changes) > MOST_SHOWN:
            yield f"    … and {len(each.changes) - MOST_SHOWN} more"
    for line in found.look_at:
        yield f"Look at this: {line}"
    if found.still:
        yield f"{len(found.still)} faults that were there before are still there: rig-guide check"
    yield from found.faults


def _short(ids: list[str]) -> list[str]:
    return ids if len(ids) <= MOST_SHOWN else [*ids[:MOST_SHOWN], "…"]
