"""The safety statements of the guide, each with its source and its tests, from one table."""

from dataclasses import dataclass

from engine.kept import kept
from guide.setup import ROOT
from guide.yaml_text import values_of

TABLE = ROOT / "site_src" / "safety_statements.yaml"
WORDS_TEST = "tests/safety/test_statements.py"


@dataclass(frozen=True, slots=True)
class Statement:
    """One statement: what is right, who says so, and which tests find it."""

    id: str
    says: str
    source: str
    tests: tuple[str, ...]


@kept("never", 1)  # the table is read once a build
def safety_statements() -> tuple[Statement, ...]:
    """Every statement of the table, in its order."""
    rows = values_of(TABLE)
    return tuple(
        Statement(
            each["id"],
            each["says"],
            each["source"],
            (f"{WORDS_TEST}: {each['id']}", *each.get("tests", ())),
        )
        for each in rows
    )
