"""What an answer warns of first: by the harm that it prevents, whatever the order of the files."""

import pytest

from engine.model.guide import Guide
from engine.pages.answer.first_look import MOST_WARNINGS, first_warnings
from tests.pages.conftest import Case, case_of

KILLS = {"one-source-two-legs", "dryer-outlet", "generator", "van-ground", "vented-battery"}
"""Fire, 240 V on 120 V, exhaust, a live body, gas that explodes: common practice, no source."""


def shown(case: Case) -> list[str]:
    """Ids of the warnings of the first look, in their order."""
    return [row.link for row in first_warnings(case.advice)]


def test_who_may_do_it_and_one_bond_stand_first_in_every_answer(tree: tuple[Case, ...]) -> None:
    assert all(shown(case)[:2] == ["qualified-person", "one-bond"] for case in tree)


def test_what_can_kill_is_in_the_first_look_wherever_it_is_true(
    guide: Guide, tree: tuple[Case, ...]
) -> None:
    ranked = {each.id: each.rank for each in guide.cautions if each.rank}
    seen = set()
    for case in tree:
        true = {note.caution.id for note in case.advice.cautions} & ranked.keys()
        found = shown(case)
        assert len(found) <= MOST_WARNINGS
        assert found == sorted(true, key=ranked.__getitem__)[: len(found)], case.link
        assert KILLS & true <= set(found), case.link
        seen |= KILLS & true
    assert {"one-source-two-legs", "dryer-outlet", "van-ground"} <= seen


@pytest.mark.parametrize(
    ("path", "fragment", "says"),
    [
        (
            "rig=rig-30/scope=whole/heavy=1/biggest=cooking/",
            "bank=24V&chemistry=agm",
            "25 A or less within 18 in",
        ),
        ("rig=van/scope=whole/heavy=1/biggest=cooking/", "gen=2200W", "20 ft (6 m) or more away"),
    ],
)
def test_what_to_do_stands_beside_its_title_with_its_figure(
    guide: Guide, path: str, fragment: str, says: str
) -> None:
    case = case_of(guide, path, fragment)
    assert case is not None
    said = [note.card for note in case.advice.cautions if note.caution.rank]
    assert any(says in text for text in said)
    assert all(text and "{" not in text for text in said)
