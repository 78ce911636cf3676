"""What is kept is worked out once, and forgotten by the one call that says why."""

import ast
from pathlib import Path

import pytest

from engine.kept import Until, forget, kept

ROOT = Path(__file__).parent.parent.parent
OWN = ("engine", "guide", "site_src")
# Set-up runs before anything can be imported from the engine, once, and ends.
DECLARE_NOTHING = (ROOT / "engine" / "kept.py", ROOT / "guide" / "setup.py")


@pytest.mark.parametrize(
    ("until", "forgotten", "times"),
    [
        ("answer", "answer", 2),
        ("answer", "guide", 2),
        ("guide", "guide", 2),
        ("guide", "answer", 1),
        ("never", "guide", 1),
    ],
)
def test_a_result_is_kept_until_what_it_was_declared_with(
    until: Until, forgotten: Until, times: int
) -> None:
    worked: list[int] = []

    @kept(until, None)
    def double(number: int) -> int:
        worked.append(number)
        return 2 * number

    assert double(4) == double(4) == 8
    assert worked == [4]
    forget(forgotten)
    assert double(4) == 8
    assert worked == [4] * times


def test_no_more_are_kept_than_was_said() -> None:
    worked: list[int] = []

    @kept("answer", 2)
    def same(number: int) -> int:
        worked.append(number)
        return number

    for number in (1, 2, 3, 1):
        same(number)
    assert worked == [1, 2, 3, 1]


def test_nothing_is_kept_without_being_declared() -> None:
    undeclared = [
        f"{file.relative_to(ROOT)}:{node.lineno}"
        for room in OWN
        for file in (ROOT / room).rglob("*.py")
        if "node_modules" not in file.parts and file not in DECLARE_NOTHING
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom)
        and node.module == "functools"
        and {"cache", "lru_cache"} & {alias.name for alias in node.names}
    ]
    assert undeclared == []
