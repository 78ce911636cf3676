"""``python -m tests.bench --against REF``: this working copy beside another commit, in one run.

Both take turns (here, there, there, here …), each turn in fresh processes whose processor time is
counted, so that whatever else the machine does meets both alike. What is printed is how many times
as long it takes here: the median of the turns' ratios, and the least and the most of them. It
judges nothing; where all turns agree it says “slower” or “faster”.
"""

import argparse
import json
import os
import resource
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from guide.setup import ROOT, SetupError, say
from tests import bench_turn

ROUNDS = 5
ENDS = 12
ANSWER = (
    *("rig=coach-50", "scope=whole", "heavy=2"),
    *("biggest=aircon-15k", "softstart=yes", "v240=no", "cable=15ft"),
)
COMMANDS = {"rig-guide --help": ("--help",), "rig-guide answer": ("answer", *ANSWER)}
Turn = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Beside:
    """A work here and there: processor seconds, and how they stand to each other turn by turn."""

    what: str
    here_s: float
    there_s: float
    ratios: tuple[float, ...]

    @property
    def text(self) -> str:
        """A line of the table."""
        low, high = min(self.ratios), max(self.ratios)
        verdict = "slower" if low > 1 else "faster" if high < 1 else ""
        ratio = f"{statistics.median(self.ratios):.2f} ({low:.2f}–{high:.2f})"
        return f"{self.what:<42}{self.here_s:>9.3f}{self.there_s:>9.3f}  {ratio:<18} {verdict}"


def beside(here: Sequence[Turn], there: Sequence[Turn]) -> list[Beside]:
    """Compare turns pairwise; a work that either side lacks is left out.

    >>> beside([{"a": 2.0}, {"a": 3.0}], [{"a": 1.0}, {"a": 1.0}])[0].ratios
    (2.0, 3.0)
    """
    names = [name for name in here[0] if all(name in each for each in (*here, *there))]
    return [
        Beside(
            name,
            statistics.median(each[name] for each in here),
            statistics.median(each[name] for each in there),
            tuple(mine[name] / other[name] for mine, other in zip(here, there, strict=True)),
        )
        for name in names
    ]


def turn(tree: Path, ends: int, *, builds: bool) -> dict[str, float]:
    """Return the processor seconds of each work in a tree."""
    found = {
        name: seconds_of(tree, "-m", "guide.cli", *command)[0] for name, command in COMMANDS.items()
    }
    _, said = seconds_of(tree, str(Path(bench_turn.__file__)), str(ends))
    found.update(json.loads(said))
    if builds:
        with tempfile.TemporaryDirectory() as out:
            command = ("-m", "guide.cli", "build", "--out", f"{out}/site")
            found["site build, processes together"] = seconds_of(tree, *command)[0]
    return found


def seconds_of(tree: Path, *command: str) -> tuple[float, str]:
    """Run this Python in a tree; return its processor seconds, with its children's, and its words.

    Raises
    ------
    SetupError : if it fails.
    """
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run(
        [sys.executable, *command],
        cwd=tree,
        env={**os.environ, "PYTHONPATH": str(tree), "PYTHONHASHSEED": "0"},
        capture_output=True,
        text=True,
        check=False,
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    if done.returncode:
        raise SetupError(f"{' '.join(command)} failed in {tree.name}: {done.stderr[-800:]}")
    if done.stderr:
        say(done.stderr.strip()[-800:])
    spent = after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime
    return spent, done.stdout


@contextmanager
def worktree(commit: str) -> Iterator[Path]:
    """A folder with another commit of this repository, with the packages that this one has.

    Raises
    ------
    SetupError : if there is no such commit.
    """
    with tempfile.TemporaryDirectory() as folder:
        tree = Path(folder) / "there"
        git("worktree", "add", "--detach", "--quiet", str(tree), commit)
        try:
            for packages in ROOT.glob("site_src/shell/node_modules"):
                (tree / packages.relative_to(ROOT)).symlink_to(packages.resolve())
            yield tree
        finally:
            git("worktree", "remove", "--force", str(tree))


def git(*arguments: str) -> None:
    """Run git in this repository; SetupError says what it says."""
    done = subprocess.run(
        ["git", *arguments], cwd=ROOT, capture_output=True, text=True, check=False
    )
    if done.returncode:
        raise SetupError(f"git {' '.join(arguments[:2])}: {done.stderr.strip()}")


def main(arguments: Sequence[str]) -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench --against")
    parser.add_argument("commit", metavar="REF", help="what to compare with, as git names it")
    parser.add_argument("--rounds", type=int, default=ROUNDS, help=f"turns each ({ROUNDS})")
    parser.add_argument("--ends", type=int, default=ENDS, help=f"answers of a turn ({ENDS})")
    parser.add_argument("--build", action="store_true", help="the site's build, too: a minute each")
    asked = parser.parse_args(arguments)
    with worktree(asked.commit) as other:
        trees = {"here": ROOT, "there": other}
        for tree in trees.values():
            turn(tree, 1, builds=False)  # compiles what is imported
        took: dict[str, list[Turn]] = {"here": [], "there": []}
        for round_ in range(asked.rounds):
            for side in sorted(trees, reverse=round_ % 2 == 1):
                took[side].append(turn(trees[side], asked.ends, builds=asked.build))
    title = f"processor seconds, medians of {asked.rounds}"
    print(f"{title:<42}{'here':>9}{'there':>9}  here ÷ {asked.commit}")
    for row in beside(took["here"], took["there"]):
        print(row.text)
