"""Which tests of a run stay together in one process, for what they share."""

from xdist.scheduler import LoadScopeScheduling

SPREAD = ("tests/browser/", "tests/advice/test_random_answers.py")
"""Tests that take long and share nothing dear: each goes to whatever process is free."""
TOGETHER = {
    "tests/browser/test_engines.py": "two more browsers",
    "tests/advice/test_works_when.py": "every answer of the tree",
    "tests/pages/": "every answer of the tree",
    "tests/safety/test_nets.py": "every answer of the tree",
}
"""What stays together all the same, and for what."""


def unit_of(nodeid: str) -> str:
    """The name of what a test stays together with: a file, but for those above."""
    file = nodeid.partition("::")[0]
    for place, shared in TOGETHER.items():
        if file.startswith(place):
            return shared
    return nodeid if file.startswith(SPREAD) else file


class ByFile(LoadScopeScheduling):  # type: ignore[misc]
    """Gives each process one unit after the other, in their order."""

    def _split_scope(self, nodeid: str) -> str:
        return unit_of(nodeid)
