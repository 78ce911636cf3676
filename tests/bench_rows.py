"""A line of the benchmark's tables: what was measured, its rival beside it, and the bar it has.

Whether a bar is reached is worked out from the figures as they were measured, never typed.
"""

import statistics
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

HEAD = (
    "| what | here | rival | ratio | must reach | reached |\n"
    "|---|---|---|---|---|---|\n"
)  # fmt: skip
Judged = Literal["median", "most", "p95", "ratio", "ratio of p95"]


@dataclass(frozen=True, slots=True)
class Bar:
    """What a figure must not exceed; at least as good is reached."""

    judged: Judged
    most: float

    def text(self, unit: str) -> str:
        """The bar as the table says it."""
        if self.judged in ("ratio", "ratio of p95"):
            return f"{self.judged} ≤ {self.most:.2f}"
        each = {"p95": "p95 ", "most": "each "}.get(self.judged, "")
        return f"{each}≤ {self.most:g} {unit}"


@dataclass(frozen=True, slots=True)
class Row:
    """Some figures of one kind, in the order measured; the rival's by turns with ours.

    unit: what is counted
    digits: behind the point
    bar: what must be reached; None where nothing is asked
    tail: whether the value that nineteen of twenty do not exceed is told, too
    ratios: ours over the rival's, one a run, where there were several
    """

    what: str
    ours: Sequence[float]
    rival: Sequence[float] = ()
    unit: str = "ms"
    digits: int = 0
    bar: Bar | None = None
    tail: bool = False
    ratios: Sequence[float] = ()

    @property
    def ratio(self) -> float | None:
        """Ours over the rival's: of medians, or of p95 where the bar is about those."""
        if self.ratios:
            return statistics.median(self.ratios)
        if not self.rival:
            return None
        middle = high if self.bar and self.bar.judged == "ratio of p95" else statistics.median
        return float(middle(self.ours)) / float(middle(self.rival))

    @property
    def found(self) -> float | None:
        """The figure that the bar is about."""
        if self.bar is None:
            return None
        if self.bar.judged in ("ratio", "ratio of p95"):
            return self.ratio
        if self.bar.judged == "most":
            return max(self.ours)
        return high(self.ours) if self.bar.judged == "p95" else statistics.median(self.ours)

    @property
    def verdict(self) -> str:
        """Whether the bar is reached, and by how much not."""
        if self.bar is None:
            return "–"
        if self.found is None:
            raise ValueError(f"“{self.what}” has a bar about a rival, and no rival")
        over = self.found - self.bar.most
        if over <= 0:
            return "yes"
        if not self.bar.most:
            return "**missed**"
        return f"**missed** by {max(1, round(100 * over / self.bar.most))} %"

    @property
    def cells(self) -> tuple[str, ...]:
        """The line's texts, one a column."""
        bar = self.bar.text(self.unit) if self.bar else "–"
        return (
            self.what,
            self.told(self.ours),
            self.told(self.rival),
            self.share,
            bar,
            self.verdict,
        )

    @property
    def share(self) -> str:
        """The ratio as it is read."""
        if self.ratio is None:
            return "–"
        if not self.ratios:
            return f"{self.ratio:.2f}"
        return f"{self.ratio:.2f} ({min(self.ratios):.2f}–{max(self.ratios):.2f})"

    def told(self, values: Sequence[float]) -> str:
        """Median and, in brackets, least and most; one figure as it is."""
        if not values:
            return "–"
        text = f"{statistics.median(values):.{self.digits}f} {self.unit}"
        if len(values) > 1:
            text += f" ({min(values):.{self.digits}f}–{max(values):.{self.digits}f})"
        return text + (f", p95 {high(values):.{self.digits}f} {self.unit}" if self.tail else "")


def high(values: Sequence[float]) -> float:
    """The value that nineteen of twenty do not exceed."""
    return sorted(values)[max(0, -(-len(values) * 19 // 20) - 1)]


def together(runs: Sequence[Sequence[Row]]) -> list[Row]:
    """The same rows of several runs as one: all figures, and the ratio of each run.

    A run has too few figures for what nineteen of twenty do not exceed: that is told of all.
    """
    return [_pooled(same) for same in zip(*runs, strict=True)]


def _pooled(same: Sequence[Row]) -> Row:
    first = same[0]
    if len(same) == 1:
        return first
    of_tails = first.bar is not None and first.bar.judged == "ratio of p95"
    ratios = [] if of_tails else [row.ratio for row in same if row.ratio is not None]
    return replace(
        first,
        ours=[each for row in same for each in row.ours],
        rival=[each for row in same for each in row.rival],
        ratios=ratios,
    )


def table(rows: Sequence[Row]) -> str:
    """The rows as a table in Markdown."""
    return HEAD + "".join(f"| {' | '.join(row.cells)} |\n" for row in rows)
