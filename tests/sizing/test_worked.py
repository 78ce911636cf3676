"""Worked examples of handbooks, laws, other libraries, measurements and plain arithmetic.

What an entry may say is told in `site_src/build/cases.py`; the page “How well it agrees” reads the
same. By hand a whole number without `within` is meant exactly. A document's figure may be missed by
a tenth; a case beyond that says why, and how far it may lie.
"""

from collections.abc import Mapping
from pathlib import Path
from typing import Any, get_args

import pytest

from engine.standards import awg
from site_src.build.cases import NEAR, Case, CaseError, Label, Seen, cases, found, ratio
from tests.reader import published

CASES = cases()


def _name(case: Case) -> str:
    return f"{case.file}: {case.name}"


def _assert_same(found: Any, expected: Any, within: float | None) -> None:
    if isinstance(expected, Mapping):
        for field, value in expected.items():
            _assert_same(getattr(found, field), value, within)
    elif isinstance(expected, list):
        assert len(found) == len(expected)
        for one, other in zip(found, expected, strict=True):
            _assert_same(one, other, within)
    elif isinstance(expected, bool | str) or expected is None:
        assert found == expected
        assert isinstance(found, type(expected))
    else:
        assert not isinstance(found, bool)
        assert within is not None or isinstance(expected, int), "a fraction needs `within`"
        assert found == pytest.approx(expected, abs=within or 0, rel=0)


@pytest.mark.parametrize("case", [each for each in CASES if not each.document], ids=_name)
def test_the_engine_agrees_with_what_was_worked_by_hand(case: Case) -> None:
    assert case.source.strip()
    assert not case.why
    _assert_same(found(case), case.gives, case.within)


@pytest.mark.parametrize("case", [each for each in CASES if each.document], ids=_name)
def test_the_engine_agrees_with_a_document_or_says_why_not(case: Case) -> None:
    made = found(case)
    apart = ratio(case, made)
    if apart is None:
        _assert_same(made, case.gives, case.within)
        return
    assert bool(case.why) == (abs(apart - 1) > NEAR), f"ratio {apart:.3f}"
    if case.why:
        assert case.within is not None, "a case that is explained is bound by `within`"
    if isinstance(case.gives, str):
        assert abs(awg.rank(made) - awg.rank(case.gives)) <= (case.within or 0), made
    elif case.within is not None:
        _assert_same(made, case.gives, case.within)


@pytest.mark.parametrize(("name", "told"), published("documents").items())
def test_a_document_says_whose_it_is_of_when_and_whether_it_was_seen(
    name: str, told: dict[str, Any]
) -> None:
    assert set(told) - {"own"} == {"title", "publisher", "year", "edition", "label", "seen"}
    assert all(isinstance(told[key], str) and told[key] for key in set(told) - {"own"}), name
    assert told["label"] in get_args(Label)
    assert told["seen"] in get_args(Seen)
    assert not told.get("own") or told["label"] == "measurement"


def test_no_two_examples_share_a_name() -> None:
    names = [_name(each) for each in CASES]
    assert len(names) == len(set(names)) > 0


def test_a_wrong_figure_is_found_out() -> None:
    with pytest.raises(AssertionError):
        _assert_same(0.195, 0.193, 0.001)
    with pytest.raises(AssertionError):
        _assert_same(True, 1, None)
    with pytest.raises(AssertionError):
        _assert_same(0.193, 0.193, None)
    with pytest.raises(AssertionError):
        _assert_same(1, True, None)
    with pytest.raises(AssertionError):
        _assert_same((1.0,), [1.0, 2.0], 0.1)


@pytest.mark.parametrize(
    ("entry", "told"),
    [
        ("{name: one, call: 'builtins:abs', with: {}, gives: 1, gvies: 2}", "gvies"),
        ("{name: one, call: 'builtins:abs', with: {}}", "lacks gives"),
        ("{name: one, from: nobody, call: 'builtins:abs', with: {}, gives: 1}", "nobody"),
    ],
)
def test_a_slip_in_an_entry_is_told_with_its_place(tmp_path: Path, entry: str, told: str) -> None:
    (tmp_path / "worked").mkdir()
    (tmp_path / "documents.yaml").write_text("{}", "utf-8")
    (tmp_path / "worked" / "one.yaml").write_text(f"- {entry}\n", "utf-8")
    with pytest.raises(CaseError, match=f"worked/one.yaml: “one” .*{told}"):
        cases(tmp_path)
