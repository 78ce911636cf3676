"""A second shop, which sells other things to other people, needs no change of code."""

from pathlib import Path

import pytest

from engine.advice.plan.layouts import TWO_LEG
from engine.conversation import Conversation
from engine.links import read_pairs
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.result import Outcome
from engine.respond import conversation_of, respond, respond_to
from engine.tree import states
from guide import cli
from guide.coverage import cover
from guide.load import as_module, load_content
from guide.load import load_guide as load
from tests.guide.brute import asked
from tests.guide.shops import demo, other_shop
from tests.guide.test_asked_only_if_it_matters import hold_against_the_definition, signatures


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return other_shop(tmp_path_factory.mktemp("other"))


@pytest.fixture(scope="module")
def guide(folder: Path) -> Guide:
    return load(folder)


@pytest.fixture(scope="module")
def outcomes(guide: Guide) -> list[Outcome]:
    return [branch.outcome for branch in Conversation(guide).branches(Answers({}))]


def test_it_shares_no_product_and_no_rig_with_the_demo(guide: Guide) -> None:
    ids = {each.id for each in guide.catalogue.inverters + guide.catalogue.batteries}
    assert not any(demo().article(name) for name in ids)
    assert not {rig.id for rig in guide.rigs} & {rig.id for rig in demo().rigs}
    assert guide.shop.name != demo().shop.name


def test_it_sells_24_and_48_v_and_nothing_that_passes_two_legs_with_one_output(
    guide: Guide, outcomes: list[Outcome]
) -> None:
    assert {each.dc_nominal for each in guide.catalogue.inverters} == {24.0, 48.0}
    considered = [each.candidate for outcome in outcomes for each in outcome.considered]
    assert {each.inverter.dc_nominal for each in considered} == {24.0, 48.0}
    assert TWO_LEG not in {each.layout for each in considered}


def test_every_way_has_an_answer_with_metric_cable(outcomes: list[Outcome]) -> None:
    assert len(outcomes) > 30
    for outcome in outcomes:
        assert outcome.best is not None
        assert outcome.best.design is not None
        parts = {line.group: line.name for line in outcome.best.design.parts}
        assert "mm²" in parts["dc-cable"]
        assert "mm²" in parts["ac-cable"]
        assert all(line.product for line in outcome.best.design.parts)


def test_its_own_priorities_decide(guide: Guide) -> None:
    asked_for = "rig=liner heavy=2 biggest=stove scope=whole v240=no"
    best = conversation_of(guide).outcome(read_pairs(guide, asked_for.split())).best
    assert best is not None
    measures = [priority.measure for priority, _ in best.contributions]
    assert measures == [each.measure for each in guide.priorities.list]
    assert measures != [each.measure for each in demo().priorities.list]


def test_its_walk_finds_no_fault(folder: Path) -> None:
    content = load_content(folder)
    assert [each.name for each in cover(content.guide, content.coverage).faults] == []


def test_its_questions_are_asked_only_if_they_matter(guide: Guide) -> None:
    conversation = Conversation(guide)
    assert hold_against_the_definition(conversation, signatures(conversation)) > 20
    assert asked(guide, {}, signatures(conversation)) == guide.question("rig")


def test_every_page_is_drawn_with_its_own_words(guide: Guide) -> None:
    paths = states(conversation_of(guide))
    for path in paths[::9]:
        html = respond_to(guide, path).html
        for stranger in (demo().shop.name, "Quillmarsh", "Hobbeck", "12 AWG cable"):
            assert stranger not in html
    assert guide.question("rig").ask in respond(guide, Answers({})).html


def test_it_travels_to_the_browser_as_python_text(guide: Guide) -> None:
    names: dict[str, Guide] = {}
    exec(as_module(guide), names)
    again = names["GUIDE"]
    assert again.catalogue == guide.catalogue
    path = states(conversation_of(guide))[-1]
    assert respond_to(again, path).html == respond_to(guide, path).html


def test_commands_take_its_folder(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["check", "--content", str(folder)]) == 0
    pairs = ["rig=tourer", "heavy=1", "biggest=stove", "scope=whole"]
    assert cli.main(["answer", *pairs, "--content", str(folder)]) == 0
    assert "Oxbarrow" in capsys.readouterr().out
