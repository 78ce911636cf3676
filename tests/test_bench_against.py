"""The comparison of two commits: what is put beside what, and that each side runs its own code."""

from pathlib import Path

import pytest

from guide.setup import SetupError
from tests import bench_turn
from tests.bench_against import beside, seconds_of, worktree


def test_turns_are_compared_pairwise_and_what_one_side_lacks_is_left_out() -> None:
    here = [{"a": 3.0, "b": 1.0, "new": 9.0}, {"a": 2.0, "b": 2.0, "new": 9.0}]
    there = [{"a": 2.0, "b": 2.0, "old": 9.0}, {"a": 1.0, "b": 1.0, "old": 9.0}]
    rows = beside(here, there)
    assert [(row.what, row.ratios) for row in rows] == [("a", (1.5, 2.0)), ("b", (0.5, 2.0))]
    assert rows[0].text.endswith("1.75 (1.50–2.00)   slower")
    assert rows[1].text.rstrip().endswith("1.25 (0.50–2.00)")


def test_no_work_of_a_turn_is_left_out_here() -> None:
    assert list(bench_turn.turn(1)) == [name for name, _ in bench_turn.works(1)]


def test_each_side_imports_its_own_tree(tmp_path: Path) -> None:
    engine = tmp_path / "engine"
    engine.mkdir()
    (engine / "__init__.py").write_text("")
    script = tmp_path / "elsewhere" / "script.py"
    script.parent.mkdir()
    script.write_text("import engine; print(engine.__file__)")
    seconds, said = seconds_of(tmp_path, str(script))
    assert seconds > 0
    assert Path(said.strip()) == engine / "__init__.py"


def test_what_is_no_commit_is_told() -> None:
    with pytest.raises(SetupError, match="git worktree add"), worktree("no-such-commit"):
        pass
