"""The command ``rig-guide``: one thin function a command."""

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from engine import __version__
from engine import answer_text as report
from engine.completion import is_link, read_any
from engine.links import read_pairs
from engine.pages.unread import line_of
from engine.respond import conversation_of, respond
from guide import cli_author, cli_catalogue, cli_new, gate, site, terminal
from guide.cli_author import tell_kept
from guide.compare_source import SourceError
from guide.earlier_engine import earlier_engine, put_back
from guide.editions import keep
from guide.estimate_file import NoEstimateError, write_estimate
from guide.fault import ContentError, visible
from guide.garbage import collect_seldom
from guide.new_entry import NewError
from guide.paths_kept import open_guide
from guide.setup import ROOT, SetupError
from guide.spreadsheet.book import BookError

ANSWERED, CANNOT_BE_ANSWERED, BAD_INPUT = 0, 1, 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command that the arguments name and return its exit code."""
    collect_seldom()
    terminal.prepare()
    return terminal.guarded(lambda: _run(arguments))


def _run(arguments: Sequence[str] | None) -> int:
    options = parser().parse_args(arguments)
    try:
        code: int = options.run(options)
    except ContentError as error:  # a line each, which can be shown
        print(f"rig-guide: {error}", file=sys.stderr)
        return BAD_INPUT
    except (BookError, NewError, NoEstimateError, SetupError, SourceError) as error:
        print(f"rig-guide: {visible(str(error))}", file=sys.stderr)
        return BAD_INPUT
    return code


class Parser(argparse.ArgumentParser):
    """Tells what it refuses in signs that can be shown."""

    def error(self, message: str) -> NoReturn:
        """Tell and exit."""
        super().error(visible(message))


def parser() -> argparse.ArgumentParser:
    """Describe the commands and their options."""
    top: argparse.ArgumentParser = Parser(
        prog="rig-guide",
        description="Recommends an inverter/charger setup for a camper van or RV.",
    )
    top.add_argument("--version", action="version", version=f"rig-guide {__version__}")
    commands = top.add_subparsers(title="commands", metavar="COMMAND", required=True)

    one = commands.add_parser("serve", help="build the site and serve it on this machine")
    one.add_argument("--port", type=port, default=8000, help="default: 8000")
    cli_author.add_content(one)
    one.set_defaults(run=serve)

    one = commands.add_parser("build", help="build the site into a folder")
    one.add_argument("--out", type=Path, default=ROOT / "site", help="default: site")
    one.add_argument("--report", action="store_true", help="with the page of the coverage report")
    cli_author.add_content(one)
    one.set_defaults(run=build)

    one = commands.add_parser(
        "pack", help="make a folder and a ZIP file that open without a server"
    )
    one.add_argument(
        "--out", type=Path, default=ROOT / "dist" / "rig-power-guide", help="default: dist/…"
    )
    cli_author.add_content(one)
    one.set_defaults(run=pack)

    one = commands.add_parser("answer", help="print the answer for a set of answered questions")
    one.add_argument(
        "pairs",
        nargs="+",
        metavar="QUESTION=VALUE",
        help="for example rig=coach-50; or the link of an answer, whole or from guide/ on",
    )
    one.add_argument("--json", action="store_true", help="print the answer as JSON")
    one.add_argument(
        "--estimate", type=Path, metavar="FILE", help="write its estimate, too: .xlsx or .csv"
    )
    cli_author.add_content(one)
    one.set_defaults(run=answer)

    cli_author.add_commands(commands)
    cli_catalogue.add_catalogue(commands)
    cli_new.add_new(commands)

    one = commands.add_parser("test", help="run every check of this repository")
    one.add_argument("pytest_arguments", nargs="*", metavar="ARGUMENT", help="passed to pytest")
    one.set_defaults(run=test)
    return top


def port(text: str) -> int:
    """A port that somebody named; 0 is any free one."""
    if not (text.isdecimal() and int(text) < 65536):
        raise argparse.ArgumentTypeError("a port is a number up to 65535")
    return int(text)


def serve(options: argparse.Namespace) -> int:
    """Build the site, then serve it and follow every saved edit, until interrupted."""
    return site.serve(options.content, options.port)


def build(options: argparse.Namespace) -> int:
    """Build the site into a folder, and keep what its answers are."""
    before = open_guide(options.content).edition
    with earlier_engine(options.out) as earlier:
        site.build(options.out, options.content, report=options.report)
        size = put_back(earlier, options.out)
    if size:
        kept = f"It keeps the calculator of the edition before, {size / 1e6:.1f} MB"
        print(f"{kept}, for open pages, until you build the next edition.")
    guide = open_guide(options.content)
    if guide.edition != before:
        raise SetupError("the content was edited while the site was built. Build it again.")
    if not guide.shop.invented:  # nobody has a link to the answers of an invented shop
        tell_kept(keep(guide, options.content), options.content)
    return ANSWERED


def pack(options: argparse.Namespace) -> int:
    """Build the site and make of it a folder and a zip for a USB stick."""
    site.pack(options.out, options.content)
    return ANSWERED


def answer(options: argparse.Namespace) -> int:
    """Print the answer to question=value pairs, or to a link, as text or as JSON."""
    guide = open_guide(options.content)
    first, *others = options.pairs
    if is_link(first) and not others:
        answers = read_any(conversation_of(guide), first)
    else:
        answers = read_pairs(guide, options.pairs)
    found = respond(guide, answers).answer
    if options.json:
        terminal.print_json(report.as_json(guide, found))
    else:
        print(report.as_text(guide, found))
    if options.estimate:
        write_estimate(guide, found, options.estimate)
    if answers.faults:
        for fault in answers.faults:
            print(f"rig-guide: {line_of(guide, answers, fault)}", file=sys.stderr)
        return BAD_INPUT
    return ANSWERED if found.status == "recommended" else CANNOT_BE_ANSWERED


def test(options: argparse.Namespace) -> int:
    """Run every check of this repository."""
    return gate.run(options.pytest_arguments)


if __name__ == "__main__":
    sys.exit(main())
