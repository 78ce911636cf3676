"""The commands that make the site, and the one that tests it: one thin function a command."""

import argparse
import time
from pathlib import Path

from guide import gate, site
from guide.cli_author import GOOD, tell_kept
from guide.content_folder import edition_of
from guide.earlier_engine import earlier_engine, put_back
from guide.editions import keep
from guide.paths_kept import open_guide
from guide.setup import SetupError


def serve(options: argparse.Namespace) -> int:
    """Build the site, then serve it and follow every saved edit, until interrupted."""
    return site.serve(options.content, options.port)


def build(options: argparse.Namespace) -> int:
    """Build the site into a folder, and keep what its answers are."""
    before = edition_of(options.content)
    with earlier_engine(options.out) as earlier:
        site.build(options.out, options.content, report=options.report)
        size = put_back(earlier, options.out)
    if size:
        kept = f"It keeps the calculator of the edition before, {size / 1e6:.1f} MB"
        print(f"{kept}, for open pages, until you build the next edition.")
    if options.precompress:
        tell_packed(options.out)
    guide = open_guide(options.content)
    if guide.edition != before:
        raise SetupError("the content was edited while the site was built. Build it again.")
    if not guide.shop.invented:  # nobody has a link to the answers of an invented shop
        tell_kept(keep(guide, options.content), options.content)
    return GOOD


def tell_packed(out: Path) -> None:
    """Pack copies of a built site's files, and say what they save and took."""
    from guide.precompress import precompress  # noqa: PLC0415 - Brotli is for this alone

    began = time.monotonic()
    made = precompress(out)
    sizes = f"{made.engine_brotli / 1e6:.1f} MB instead of {made.engine_gzip / 1e6:.1f} MB"
    print(f"Packed {made.files} copies in {time.monotonic() - began:.0f} s: the engine {sizes}.")


def pack(options: argparse.Namespace) -> int:
    """Build the site and make of it a folder and a zip for a USB stick."""
    site.pack(options.out, options.content)
    return GOOD


def test(options: argparse.Namespace) -> int:
    """Run every check of this repository."""
    return gate.run(options.pytest_arguments)
