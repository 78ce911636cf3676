"""``python3 -m guide COMMAND``: set everything up on a fresh machine, then run the command.

This file and the modules it imports use the standard library only, because nothing else is
installed yet when they run.
"""

import os
import sys


def main() -> int:
    """Prepare the environment that the command needs and run ``rig-guide`` inside it."""
    if sys.version_info < (3, 11):  # noqa: UP036 - whoever starts an old Python deserves a sentence
        print("Rig Power Guide needs Python 3.11 or newer; start it with one, for example:")
        print("  python3.11 -m guide serve")
        return 2
    from guide import setup  # noqa: PLC0415 - it may use what an old Python cannot read

    arguments = sys.argv[1:]
    try:
        command = setup.prepare("test" if arguments[:1] == ["test"] else "run")
    except setup.SetupError as error:
        print(f"set-up stopped: {error}", file=sys.stderr)
        return 2
    sys.stdout.flush()
    return os.execv(command, [command, *arguments])


if __name__ == "__main__":
    sys.exit(main())
