"""What became of faults, kept line by line so that a run that was cut goes on where it was."""

from collections.abc import Collection, Sequence
from pathlib import Path

from tests.mutation.faults import Fault
from tests.mutation.trials import BROKEN, told

FOUND_BY = "found by "
NOT_FOUND = "not found"


class Verdicts:
    """The finder of each fault that was tried, "" where no test found it."""

    def __init__(self, file: str | None) -> None:
        self.file = Path(file) if file else None
        self.finders: dict[str, str] = {}
        if self.file and self.file.exists():
            for row in self.file.read_text(encoding="utf-8").splitlines():
                said, verdict = row.split("\t")
                self.finders[said] = verdict.removeprefix(FOUND_BY) if verdict != NOT_FOUND else ""

    def to_try(
        self, faults: Sequence[Fault], tests: Collection[str], *, again: bool
    ) -> list[Fault]:
        """Those not tried, those whose finder is gone, and, again, those that no test found."""

        def is_known(fault: Fault) -> bool:
            found_by = self.finders.get(told(fault))
            return found_by in (*tests, BROKEN) or (found_by == "" and not again)

        return [fault for fault in faults if not is_known(fault)]

    def finder(self, fault: Fault) -> str:
        """The test that found it, "" where none did."""
        return self.finders[told(fault)]

    def note(self, fault: Fault, finder: str) -> None:
        """Keep what became of a fault; what was kept of it before no longer counts."""
        self.finders[told(fault)] = finder
        if self.file:
            self.file.parent.mkdir(parents=True, exist_ok=True)
            verdict = f"{FOUND_BY}{finder}" if finder else NOT_FOUND
            with self.file.open("a", encoding="utf-8") as kept:
                kept.write(f"{told(fault)}\t{verdict}\n")
