"""``python -m tests.recheck``: every end of the tree and 4,500 answers at random, worked out again.

Prints each answer that breaks a rule, and how many answers and violations there are; the exit code
is 1 where there are any. Runner-ups are re-checked with their answers. A number after the command
sets how many at random; some 20 ms go into each.
"""

import sys
from itertools import chain

from engine.conversation import Conversation
from guide.load import load_guide
from tests.recheck.sweep import at_random, ends, tally_of

AT_RANDOM = 4500


def main(count: int) -> int:
    """The sweep; 1 where anything is wrong."""
    conversation = Conversation(load_guide())
    tally = tally_of(conversation, chain(ends(conversation), at_random(conversation, count)))
    for answers, found in tally.wrong.items():
        print(answers, *found, sep="\n  ")
    print(f"{tally.answers} answers, {tally.violations} violations")
    print(
        f"{tally.recommended} of them are recommendations, with {tally.alternatives} runner-ups; "
        f"{len(tally.wrong)} break a rule"
    )
    return int(tally.violations > 0)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else AT_RANDOM))
