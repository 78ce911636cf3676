"""The command ``rig-guide``."""

import argparse
import sys
from collections.abc import Callable, Sequence
from importlib import import_module

from guide import terminal
from guide.commands import parser
from guide.fault import ContentError, Refusal, visible
from guide.garbage import collect_seldom
from guide.setup import SetupError

BAD_INPUT = 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command that the arguments name and return its exit code."""
    collect_seldom()
    terminal.prepare()
    return terminal.guarded(lambda: _run(arguments))


def _run(arguments: Sequence[str] | None) -> int:
    options = parser().parse_args(arguments)
    try:
        return _function(options.run)(options)
    except ContentError as error:  # a line each, which can be shown
        print(f"rig-guide: {error}", file=sys.stderr)
        return BAD_INPUT
    except (Refusal, SetupError) as error:
        print(f"rig-guide: {visible(str(error))}", file=sys.stderr)
        return BAD_INPUT


def _function(named: str) -> Callable[[argparse.Namespace], int]:
    module, _, name = named.partition(":")
    found: Callable[[argparse.Namespace], int] = getattr(import_module(f"guide.{module}"), name)
    return found


if __name__ == "__main__":
    sys.exit(main())
