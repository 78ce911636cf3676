"""What a build would trip over on the pages of a shop: each is filled in, as a build does it.

`rig-guide check` runs this as a command of its own: a guide comes in, faults go out as JSON.
"""

import json
import pickle
import sys
from dataclasses import astuple

from engine.model.guide import Guide
from guide.check_pages import DOCS, pages_of
from guide.fault import Fault
from site_src.build.explained import Filler, PageError


def page_faults(guide: Guide) -> list[Fault]:
    """The first fault of each page that this shop shows."""
    filler, found = Filler(guide, walked=False), []
    for page in (each for each in pages_of(guide) if each.is_file()):
        try:
            filler.fill(page.read_text(encoding="utf-8"), page.relative_to(DOCS).as_posix())
        except PageError as error:
            found += [error.fault] if error.fault else []  # a typed figure is told by `check`
    return found


def main() -> None:
    """Read a guide, print the faults of its pages."""
    guide: Guide = pickle.load(sys.stdin.buffer)
    json.dump([astuple(fault) for fault in page_faults(guide)], sys.stdout)


if __name__ == "__main__":
    main()
