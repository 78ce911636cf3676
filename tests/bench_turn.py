"""One turn of ``python -m tests.bench --against``: what a few works of one tree take.

It is run as a file, with the tree's folder first on Python's path, and names only doors that
commits have in common; a work whose door a commit does not have is left out.
"""

import json
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from typing import Any


def works(count: int) -> Iterator[tuple[str, Callable[[], object]]]:
    """Yield what is measured and how it is done; each one finds done what came before it.

    count: of how many ends of the short path there are answers
    """
    found: dict[str, Any] = {}

    def read() -> None:
        from guide.load import load_guide  # noqa: PLC0415 - importing is part of the work

        found["guide"] = load_guide()

    def sweep() -> None:
        from engine.conversation import Conversation  # noqa: PLC0415
        from engine.model.answers import Answers  # noqa: PLC0415

        conversation = found["conversation"] = Conversation(found["guide"])
        ways = list(conversation.completions(Answers({})))
        found["ways"] = ways[:: max(1, len(ways) // count)][:count]
        for way in found["ways"]:
            conversation.outcome(way)

    def respond(cable: float, **options: Any) -> None:
        from engine.links import read_pairs  # noqa: PLC0415
        from engine.model.answers import Answers  # noqa: PLC0415
        from engine.respond import respond as page  # noqa: PLC0415

        for at, way in enumerate(found["ways"]):
            details = read_pairs(found["guide"], [f"cable={cable + at / 100:.2f}ft"]).values
            page(found["guide"], Answers({**way.values, **details}), **options)

    yield "engine imported, content read", read
    yield f"{count} ends of the short path planned", sweep
    yield "templates and units, the first time", lambda: respond(5.0, changes=False)
    yield f"{count} answers with a new detail", lambda: respond(7.0, changes=False)
    yield "the same, and what would change them", lambda: respond(9.0)


def turn(count: int) -> dict[str, float]:
    """Return the processor seconds that each work took, by its name."""
    took = {}
    for name, work in works(count):
        began = time.process_time()
        try:
            work()
        except (ImportError, AttributeError, TypeError, KeyError) as error:
            print(f"{name}: {type(error).__name__}: {error}", file=sys.stderr)
            continue
        took[name] = time.process_time() - began
    return took


def main(arguments: Sequence[str]) -> None:
    """Print one turn as JSON."""
    print(json.dumps(turn(int(arguments[0]))))


if __name__ == "__main__":
    main(sys.argv[1:])
