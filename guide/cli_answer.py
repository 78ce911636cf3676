"""The command that prints an answer."""

import argparse
import sys

from engine import answer_text as report
from engine.answer import answer_of
from engine.completion import is_link, read_any
from engine.links import read_pairs
from engine.pages.unread import line_of
from engine.respond import conversation_of
from guide import terminal
from guide.paths_kept import open_guide

ANSWERED, CANNOT_BE_ANSWERED, BAD_INPUT = 0, 1, 2


def answer(options: argparse.Namespace) -> int:
    """Print the answer to question=value pairs, or to a link, as text or as JSON."""
    guide = open_guide(options.content)
    first, *others = options.pairs
    if is_link(first) and not others:
        answers = read_any(conversation_of(guide), first)
    else:
        answers = read_pairs(guide, options.pairs)
    found = answer_of(conversation_of(guide), answers)
    if options.json:
        terminal.print_json(report.as_json(guide, found))
    else:
        print(report.as_text(guide, found))
    if options.estimate:
        from guide.estimate_file import write_estimate  # noqa: PLC0415 - it brings workbooks

        write_estimate(guide, found, options.estimate)
    if answers.faults:
        for fault in answers.faults:
            print(f"rig-guide: {line_of(guide, answers, fault)}", file=sys.stderr)
        return BAD_INPUT
    return ANSWERED if found.status == "recommended" else CANNOT_BE_ANSWERED
