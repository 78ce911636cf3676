"""The command that writes a new product, appliance, question or shop, to be edited."""

import argparse

from guide import new_entry
from guide.cli_author import GOOD
from guide.load import load_guide
from guide.new_shop import NEEDED, WORKBOOK, new_shop


def product(options: argparse.Namespace) -> int:
    """Write a product like another one."""
    name = options.name or options.id
    file = new_entry.product(options.content, options.like, options.id, name)
    return _told(options, file, "compare each value with its data sheet")


def appliance(options: argparse.Namespace) -> int:
    """Write an appliance."""
    guide, name = load_guide(options.content), options.name
    file = new_entry.appliance(
        options.content, guide, options.id, name, options.running, options.source
    )
    return _told(options, file, "set its hours, and its voltage if it is not 120 V")


def question(options: argparse.Namespace) -> int:
    """Write a question."""
    guide = load_guide(options.content)
    file = new_entry.question(options.content, guide, options.id, options.leads_to)
    return _told(options, file, "write its words, and which signs mean which answer")


def _told(options: argparse.Namespace, file: str, then: str) -> int:
    line = new_entry.line_of(options.content, file, options.id)
    print(f"wrote {file}:{line}: {then}; then run rig-guide check")
    return GOOD


def shop(options: argparse.Namespace) -> int:
    """Write a content folder without products."""
    count = new_shop(options.content, load_guide(options.content), options.folder)
    print(
        f"wrote {options.folder}; {count} products are needed for an answer to every kind of rig:"
    )
    print(f"{options.folder / NEEDED} lists them, {options.folder / WORKBOOK} has a row for each")
    return GOOD
