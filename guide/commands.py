"""The commands of ``rig-guide`` and their options, each with the function that carries it out.

A function is named as "module:function" below `guide`, and its module is read when it is needed:
most commands need a small part of what all of them need.
"""

import argparse
from pathlib import Path
from typing import NoReturn

from engine import __version__
from guide.content_folder import CONTENT
from guide.fault import visible
from guide.setup import ROOT


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
    _add_content(one)
    one.set_defaults(run="cli_site:serve")

    one = commands.add_parser("build", help="build the site into a folder")
    one.add_argument("--out", type=Path, default=ROOT / "site", help="default: site")
    one.add_argument("--report", action="store_true", help="with the page of the coverage report")
    packed = "with packed copies beside the files (.br, .gz), for hosts that send them"
    one.add_argument("--precompress", action="store_true", help=packed)
    _add_content(one)
    one.set_defaults(run="cli_site:build")

    one = commands.add_parser(
        "pack", help="make a folder and a ZIP file that open without a server"
    )
    one.add_argument(
        "--out", type=Path, default=ROOT / "dist" / "rig-power-guide", help="default: dist/…"
    )
    _add_content(one)
    one.set_defaults(run="cli_site:pack")

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
    _add_content(one)
    one.set_defaults(run="cli_answer:answer")

    _add_author(commands)
    _add_catalogue(commands)
    _add_new(commands)

    one = commands.add_parser("test", help="run every check of this repository")
    one.add_argument("pytest_arguments", nargs="*", metavar="ARGUMENT", help="passed to pytest")
    one.set_defaults(run="cli_site:test")
    return top


def port(text: str) -> int:
    """A port that somebody named; 0 is any free one."""
    if not (text.isdecimal() and int(text) < 65536):
        raise argparse.ArgumentTypeError("a port is a number up to 65535")
    return int(text)


def _add_author(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Describe the authors' commands and their options."""
    one = _named(
        commands, "check", "cli_author:check", "find every mistake in the content, with its mend"
    )
    one = _named(
        commands,
        "schema",
        "cli_author:schema",
        "write JSON Schemas for editors, named in each file",
    )
    one.add_argument("--answer", action="store_true", help="print that of an answer's JSON instead")
    one = _named(
        commands,
        "coverage",
        "cli_author:coverage",
        "walk every page of the guide; exit 1 on a fault",
    )
    _outputs(one)
    one = _named(
        commands,
        "compare",
        "cli_author:compare_editions",
        "say which answers an edit changes, and why",
    )
    one.add_argument("old", metavar="OLD", help="a folder, a ZIP file or a Git revision")
    one.add_argument(
        "new", metavar="NEW", nargs="?", help="the same; default: the content as it is"
    )
    _outputs(one)
    _named(
        commands,
        "keep",
        "cli_author:keep_edition",
        "keep this edition's answers, so that old links can say more",
    )
    one = commands.add_parser("publish-check", help="ask a published site what its host does wrong")
    one.add_argument("address", metavar="URL", help="for example https://shop.example/")
    one.add_argument("--all", action="store_true", help="every page, not some of each kind")
    one.set_defaults(run="cli_author:publish_check")
    _named(commands, "try", "cli_author:try_it", "answer the questions in this terminal")


def _named(
    commands: "argparse._SubParsersAction[argparse.ArgumentParser]",
    name: str,
    run: str,
    told: str,
) -> argparse.ArgumentParser:
    """A command that reads the content; `run` carries it out and `told` is its line of help."""
    one = commands.add_parser(name, help=told)
    _add_content(one)
    one.set_defaults(run=run)
    return one


def _add_content(one: argparse.ArgumentParser) -> None:
    """The option that names another content folder."""
    one.add_argument(
        "--content",
        type=content_folder,
        default=CONTENT,
        metavar="FOLDER",
        help="use the content in this folder",
    )


def content_folder(text: str) -> Path:
    """A content folder that somebody named."""
    folder = Path(text).resolve()
    try:
        found = (folder / "shop.yaml").is_file()
    except OSError:  # no system has a folder of such a name
        found = False
    if not found:
        raise argparse.ArgumentTypeError(f"there is no shop.yaml in {text}")
    return folder


def _outputs(one: argparse.ArgumentParser) -> None:
    one.add_argument("--json", action="store_true", help="print it as JSON")
    one.add_argument("--html", type=Path, metavar="FILE", help="write it as a page, too")


def _add_catalogue(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Describe these commands and their options."""
    top = commands.add_parser("catalogue", help="the catalog as a spreadsheet, out and in")
    inner = top.add_subparsers(title="commands", metavar="WHAT", required=True)
    one = _named(
        inner,
        "export",
        "cli_catalogue:export_tables",
        "write it to a workbook, or to a folder of CSV files",
    )
    one.add_argument("target", type=Path, metavar="FILE.xlsx|FOLDER")
    one = _named(
        inner,
        "import",
        "cli_catalogue:import_tables",
        "say what a spreadsheet changes; --write writes it",
    )
    _spreadsheet(one)
    one.add_argument(
        "--discontinue", action="store_true", help="mark what the table lacks as discontinued"
    )
    one = _named(
        inner,
        "prices",
        "cli_catalogue:import_prices",
        "prices and stock alone, from article,price,stock",
    )
    _spreadsheet(one)


def _spreadsheet(one: argparse.ArgumentParser) -> None:
    one.add_argument("source", type=Path, metavar="FILE.xlsx|FOLDER|FILE.csv")
    one.add_argument("--write", action="store_true", help="write the content files, too")
    one.add_argument(
        "--answers",
        action=argparse.BooleanOptionalAction,
        default=True,
        help="say which answers change (default: yes; takes some seconds)",
    )


def _add_new(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Describe these commands and their options."""
    top = commands.add_parser("new", help="write a new product, appliance, question or shop")
    inner = top.add_subparsers(title="commands", metavar="WHAT", required=True)
    one = _named(
        inner, "product", "cli_new:product", "a product like another one, every value written out"
    )
    one.add_argument("id", help="the item number under which you sell it")
    one.add_argument("--like", required=True, metavar="ID", help="the product that is nearest")
    one.add_argument("--name", default="", help="what it is called; default: its id")
    one = _named(
        inner, "appliance", "cli_new:appliance", "an appliance, with what its nameplate says"
    )
    one.add_argument("id")
    one.add_argument("--name", required=True, help="what people call it")
    one.add_argument("--running", required=True, metavar="POWER", help="such as “900 W”")
    one.add_argument("--source", required=True, help="where that stands, such as “nameplate”")
    one = _named(
        inner, "question", "cli_new:question", "a question whose choices stand for another one's"
    )
    one.add_argument("id")
    one.add_argument("--for", required=True, dest="leads_to", metavar="QUESTION")
    one = _named(
        inner, "shop", "cli_new:shop", "a content folder with every demo product taken out"
    )
    one.add_argument("folder", type=Path, metavar="FOLDER")
