"""``python -m tests.bench``: how long an answer and a build take; it judges nothing but its bars.

``python -m tests.bench browser`` measures the browser side, see tests/bench_browser.py;
``python -m tests.bench growth`` more products and more states, see tests/bench_growth.py;
``python -m tests.bench lighthouse`` has Lighthouse judge some pages, see bench_lighthouse.py;
``python -m tests.bench replies`` asks a page a thousand times, see bench_replies.py;
``python -m tests.bench --against REF`` compares with another commit, see bench_against.py.
"""

import sys

from tests import (
    bench_against,
    bench_browser,
    bench_commands,
    bench_growth,
    bench_guide,
    bench_lighthouse,
    bench_native,
    bench_parts,
    bench_replies,
)

PARTS = {
    "answers": bench_native.rows,
    "content": bench_guide.rows,
    "commands": bench_commands.rows,
}
OTHERS = {
    "--against": bench_against.main,
    "browser": bench_browser.main,
    "growth": bench_growth.main,
    "lighthouse": bench_lighthouse.main,
    "replies": bench_replies.main,
}


def main() -> None:
    """Print the tables."""
    if sys.argv[1:2] and sys.argv[1] in OTHERS:
        OTHERS[sys.argv[1]](sys.argv[2:])
    else:
        bench_parts.run(PARTS, sys.argv[1:], "python -m tests.bench")


if __name__ == "__main__":
    main()
