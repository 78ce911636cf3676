"""Which question comes next, and what another answer changes."""

from dataclasses import replace

import pytest

from engine.advice.judge.recommend import key_of
from engine.answer import answer_of
from engine.conversation import Conversation
from engine.links import read_link, read_pairs
from engine.model.answers import UNSURE, Answers
from engine.model.guide import Guide
from engine.model.result import Check, Considered
from engine.respond import conversation_of, respond_to
from engine.tree import follow, options, states


def asked(guide: Guide, *pairs: str) -> str:
    question = conversation_of(guide).next_question(read_pairs(guide, pairs))
    return question.id if question else ""


def test_the_short_path_is_asked_in_its_order(guide: Guide) -> None:
    assert asked(guide) == "rig"
    assert asked(guide, "rig=coach-50") == "scope"
    assert asked(guide, "rig=coach-50", "scope=whole") == "heavy"
    assert asked(guide, "rig=coach-50", "scope=whole", "heavy=1") == "biggest"


def test_the_plug_is_asked_only_of_those_who_do_not_know_their_rig(guide: Guide) -> None:
    assert asked(guide, "rig=unsure") == "plug"
    assert asked(guide, "rig=van") == "scope"


def test_nobody_without_a_heavy_load_is_asked_which_one(guide: Guide) -> None:
    assert asked(guide, "rig=van", "scope=whole", "heavy=0") == ""


def test_a_soft_starter_is_asked_for_only_with_an_air_conditioner(guide: Guide) -> None:
    before = ("rig=van", "scope=whole", "heavy=1")
    assert asked(guide, *before, "biggest=aircon-15k") == "softstart"
    assert asked(guide, *before, "biggest=cooking") == ""


def test_240_volts_are_asked_for_only_where_they_can_be(guide: Guide) -> None:
    before = ("scope=whole", "heavy=1", "biggest=cooking")
    assert asked(guide, "rig=coach-50", *before) == "v240"
    assert asked(guide, "rig=rig-30", *before) == ""


def test_details_do_not_change_what_is_asked(guide: Guide) -> None:
    assert asked(guide, "rig=van", "ambient=70C", "cable=30ft") == "scope"


def test_every_link_of_the_tree_leads_to_a_page_of_the_tree(guide: Guide) -> None:
    conversation = conversation_of(guide)
    paths = set(states(conversation))
    for path in paths:
        answers = read_link(guide, path)
        assert not answers.faults
        question = conversation.next_question(answers)
        if question is not None:
            leads = {
                conversation.place(follow(conversation, answers, question, choice))
                for choice in options(question)
            }
            assert all(fragment == "" and lead in paths for lead, fragment in leads), path


def test_the_tree_keeps_its_budget(guide: Guide) -> None:
    # 1,500 pages at the most: the project's own limit.
    assert 300 < len(states(conversation_of(guide))) <= 1500


def test_a_change_is_listed_only_where_it_changes_the_recommendation(guide: Guide) -> None:
    path = "rig=rig-30/scope=whole/heavy=1/biggest=heating/"
    answer = answer_of(conversation_of(guide), read_link(guide, path))
    now = key_of(answer.outcome.best if answer.outcome else None)
    assert now
    assert answer.changes
    for change in answer.changes:
        assert key_of(change.best) != now, change
    assert {change.question.id for change in answer.changes} >= {"rig", "heavy", "scope"}


def test_not_sure_of_the_tools_takes_what_is_assumed(guide: Guide) -> None:
    path = "rig=rig-30/scope=whole/heavy=1/biggest=heating/"
    open_answer = respond_to(guide, path).answer
    unsure = respond_to(guide, path, f"tools={UNSURE}").answer
    assert open_answer.outcome is not None
    assert unsure.outcome is not None
    assert unsure.outcome.considered == open_answer.outcome.considered


@pytest.mark.parametrize("have", ["200Ah", "2x100Ah-agm", "4x105Ah-flooded", "1x20Ah-agm"])
def test_what_makes_it_the_same_is_known_without_what_is_not_recommended(
    guide: Guide, have: str
) -> None:
    """With batteries that stay, their kind is planned on, as in the outcome."""
    for pairs in ("rig=van scope=whole heavy=0", "rig=rig-30 scope=some heavy=0"):
        answers = read_pairs(guide, [*pairs.split(), f"have={have}"])
        quick, whole = Conversation(guide), Conversation(guide)
        assert quick.signature_of(answers) == whole.signature(whole.outcome(answers))


def test_the_short_path_alone_is_known_and_what_lies_beside_it_is_worked_out(
    guide: Guide, monkeypatch: pytest.MonkeyPatch
) -> None:
    conversation = conversation_of(guide)
    path = ("rig=van", "scope=whole", "heavy=0")
    beside = (*path, "nights=3")
    best = conversation.best
    worked_out: list[Answers] = []

    def noted(answers: Answers) -> Considered | None:
        worked_out.append(answers)
        return best(answers)

    monkeypatch.setattr(conversation, "best", noted)
    for pairs, many in ((path, 0), (beside, 1)):
        worked_out.clear()
        answers = read_pairs(guide, pairs)
        found = conversation.setup(answers)
        assert len(worked_out) == many
        assert found == key_of(best(answers))


def test_answers_that_need_the_same_keep_their_own_words(guide: Guide) -> None:
    conversation = Conversation(guide)
    path = ("rig=van", "scope=whole", "heavy=0")
    feet, inches = (read_pairs(guide, (*path, each)) for each in ("cable=10ft", "cable=120in"))
    assert feet.values != inches.values
    assert conversation.needs(feet) == conversation.needs(inches)
    for answers in (feet, inches, feet):
        assert conversation.outcome(answers).answers.values == answers.values


def test_two_answers_differ_by_each_part_even_where_it_is_only_named(guide: Guide) -> None:
    """A part by its product, what is not in stock by its name."""
    conversation = Conversation(guide)
    outcome = conversation.outcome(read_pairs(guide, ("rig=van", "scope=whole", "heavy=0")))
    assert outcome.best is not None and outcome.best.design is not None
    best, design = outcome.best, outcome.best.design
    line = next(each for each in design.parts if each.product)
    twin, lacking = line._replace(product="twin"), line._replace(product="", name="lacking")
    told = {
        parts[0].product: conversation.signature(
            replace(outcome, considered=(replace(best, design=replace(design, parts=parts)),))
        )[1]
        for parts in ((line,), (twin,), (lacking,))
    }
    assert told == {line.product: (line.product,), "twin": ("twin",), "": ("lacking",)}


def test_where_nothing_fits_answers_differ_by_why_the_nearest_fails(guide: Guide) -> None:
    conversation = Conversation(guide)
    outcome = conversation.outcome(
        read_pairs(guide, ("rig=van", "scope=whole", "heavy=0", "ambient=70C"))
    )
    assert outcome.best is None
    nearest = replace(outcome.considered[0], checks=(Check("fit", 2.0, 1.0, "m", True),))
    further = replace(nearest, checks=(Check("payload", 2.0, 1.0, "kg", True),))
    signature = conversation.signature(replace(outcome, considered=(nearest, further)))
    assert signature == ((), ("fit",))


def test_asked_again_for_the_rig_the_plug_that_stood_for_it_is_forgotten(guide: Guide) -> None:
    """Even where one of its choices stands for no rig."""
    questions = tuple(
        replace(each, choices=(replace(each.choices[0], means={}), *each.choices[1:]))
        if each.id == "plug"
        else each
        for each in guide.questions
    )
    other = replace(guide, questions=questions)
    answers = read_pairs(other, ("rig=unsure", "plug=three-blade", "scope=whole"))
    again = Conversation(other).asked_again(answers, other.question("rig"))
    assert set(again.values) == {"scope"}


def test_a_detail_that_changes_the_setup_counts_however_few_are_given(guide: Guide) -> None:
    conversation = Conversation(guide)
    plain = read_pairs(guide, ("rig=van", "scope=whole", "heavy=0"))
    detailed = read_pairs(guide, ("rig=van", "scope=whole", "heavy=0", "bank=24V", "nights=4"))
    assert conversation.setup(plain) == key_of(conversation.best(plain))
    assert conversation.setup(detailed) == key_of(conversation.best(detailed))
    assert conversation.setup(plain) != conversation.setup(detailed)


def test_what_another_run_takes_over_is_what_each_whole_way_leads_to(guide: Guide) -> None:
    conversation = conversation_of(guide)
    known = conversation.known()
    assert known
    for key, signature in known.items():
        assert signature != ()
        assert conversation.next_question(Answers(dict(key))) is None


def test_every_way_to_answer_is_gone_in_the_order_in_which_is_asked(guide: Guide) -> None:
    conversation = Conversation(guide)
    ways = [each.values for each in conversation.completions(Answers({}))]
    asked_for = [each.id for each in conversation.path_questions]
    for values in ways:
        assert list(values) == [each for each in asked_for if each in values]
    assert {each["rig"] for each in ways} == {each.id for each in guide.question("rig").choices}
    assert len({tuple(each.items()) for each in ways}) == len(ways) > 1
