"""``python3 -m guide COMMAND``: set everything up on a fresh machine, then run the command.

This file and the modules it imports use the standard library only, because nothing else is
installed yet when they run.
"""

import os
import sys
import threading


def main() -> int:
    """Prepare the environment that the command needs and run ``rig-guide`` inside it."""
    if sys.version_info < (3, 11):  # noqa: UP036 - whoever starts an old Python deserves a sentence
        print("Rig Power Guide needs Python 3.11 or newer; start it with one, for example:")
        print("  python3.11 -m guide serve")
        return 2
    from guide import terminal  # noqa: PLC0415 - an old Python cannot read it

    terminal.prepare()
    return terminal.guarded(begin)


def begin() -> int:
    """Set up and hand over; returns only where that cannot be done."""
    from guide import setup, setup_browser  # noqa: PLC0415 - an old Python cannot read them

    arguments = sys.argv[1:]
    for_tests = arguments[:1] == ["test"]
    system = threading.Thread(target=setup_browser.install_missing)
    if for_tests:
        system.start()
    try:
        command = setup.prepare("test" if for_tests else "run")
    except setup.SetupError as error:
        print(f"setup stopped: {error}", file=sys.stderr)
        return 2
    if for_tests:
        system.join()
    sys.stdout.flush()
    return os.execv(command, [command, *arguments])


if __name__ == "__main__":
    sys.exit(main())
