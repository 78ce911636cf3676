"""The commands for those who write the content: one thin function a command."""

import argparse
import json
import sys
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from guide import reports, terminal
from guide.answer_schema import answer_schema
from guide.check_pages import filled_faults, page_faults
from guide.check_style import style_faults
from guide.compare import compare
from guide.compare_source import content_of
from guide.coverage import cover
from guide.editions import keep
from guide.fault import ContentError, counted
from guide.glossary import glossary_faults
from guide.load import load_content, load_guide
from guide.outliers import outliers
from guide.paths_kept import open_guide
from guide.publish_check import check_published
from guide.published import Published
from guide.schema import write_schemas
from guide.spreadsheet.shelf import place_in
from guide.trial import converse

GOOD, FAULTS = 0, 1
BAR = 30


def check(options: argparse.Namespace) -> int:
    """Print every fault of the content, and of the pages that explain it."""
    began = time.monotonic()
    try:
        content = load_content(options.content)
        guide = content.guide
        with ThreadPoolExecutor(1) as beside:
            filled = beside.submit(filled_faults, guide)
            styled = style_faults(options.content, content.styles, guide.shop.language)
            faults = page_faults(guide) + glossary_faults() + styled
        if faults := faults or filled.result():
            raise ContentError(faults)
    except ContentError as error:
        print(error)
        files = {fault.file for fault in error.faults}
        print(f"{counted(len(error.faults), 'fault')} in {counted(len(files), 'file')}")
        return FAULTS
    for each in outliers(guide.catalogue):
        place = place_in(options.content, each.family, each.id, each.key)
        print(f"Look at this: {place}: “{each.id}”, {each.key}: {each.why}")
    took = time.monotonic() - began
    print(f"No fault; edition {guide.edition} of {guide.shop.prices_as_of} ({took:.1f} s)")
    return GOOD


def schema(options: argparse.Namespace) -> int:
    """Write the schemas and name them in the content files; or print that of an answer."""
    if options.answer:
        terminal.print_json(json.dumps(answer_schema(), ensure_ascii=False, indent=2))
        return GOOD
    written = write_schemas(options.content)
    for file in written:
        print(f"wrote {file.relative_to(options.content)}")
    print(f"{len(written)} files written" if written else "Everything was up to date.")
    return GOOD


def coverage(options: argparse.Namespace) -> int:
    """Walk the tree and print what is wrong with it."""
    content = load_content(options.content)
    report = cover(content.guide, content.coverage, progress_bar("walking"))
    _tell(reports.as_json(report) if options.json else reports.coverage_text(report), options)
    if options.html:
        page = reports.as_page("Coverage", reports.coverage_html(content.guide, report))
        options.html.write_text(page, encoding="utf-8")
    return FAULTS if report.faults else GOOD


def compare_editions(options: argparse.Namespace) -> int:
    """Compare two editions and print what changes."""
    now = options.content
    with content_of(options.old, now) as old, content_of(options.new or str(now), now) as new:
        before, after = load_guide(old), load_guide(new)
    found = compare(before, after, progress_bar("comparing"))
    _tell(reports.as_json(found) if options.json else reports.compare_text(found), options)
    if options.html:
        page = reports.as_page("What the edit changes", reports.compare_html(found))
        options.html.write_text(page, encoding="utf-8")
    return GOOD


def _tell(text: str, options: argparse.Namespace) -> None:
    if options.json:
        terminal.print_json(text)
    else:
        print(text)


def keep_edition(options: argparse.Namespace) -> int:
    """Keep this edition's answers in the content folder."""
    tell_kept(keep(open_guide(options.content), options.content), options.content)
    return GOOD


def publish_check(options: argparse.Namespace) -> int:
    """Ask a published site for its files, and print what its host does wrong."""
    site = Published(options.address)
    findings = check_published(site, progress_bar("asking"), whole=options.all)
    for finding in findings:
        print(finding.text)
    wrong = sum(finding.breaks for finding in findings)
    print(f"{site.address}: {wrong} wrong, {len(findings) - wrong} could be better")
    return FAULTS if wrong else GOOD


def tell_kept(file: Path, content: Path) -> None:
    """Say where an edition's answers were kept."""
    print(f"kept {file.relative_to(content)} ({file.stat().st_size / 1000:.0f} kB)")


def try_it(options: argparse.Namespace) -> int:
    """Have the conversation."""
    converse(open_guide(options.content), input, print)
    return GOOD


def progress_bar(what: str) -> Callable[[int, int], None]:
    """A bar on the terminal's error stream; silent where that is no terminal."""

    def told(done: int, total: int) -> None:
        if sys.stderr.isatty():
            filled = BAR * done // max(total, 1)
            end = "\n" if done == total else ""
            bar = "█" * filled + "░" * (BAR - filled)
            print(f"\r{what} {bar} {done}/{total}", end=end, file=sys.stderr, flush=True)

    return told
