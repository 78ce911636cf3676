"""Links from older editions: kept small, read back, and told what became of their answer."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from engine.advice.judge.recommend import key_of
from engine.conversation import Conversation
from engine.editions import notice
from engine.links import read_link, read_pairs
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.past import link_of, read_said
from guide.editions import edition_file, keep, past_of, read_edition
from guide.fault import Fault
from guide.load import load_guide
from tests.guide.shops import demo, edited

ASKED = "rig=van scope=whole heavy=1 biggest=cooking"
INVERTERS = "catalogue/inverters.yaml"
WORDS = ("words/en/page.yaml", "why-this: ", "why-this: Reasons, ")
DAY = "2026-02-03"
OF = demo().wording.page.say("edition-of-day", date=DAY)
WAITING = "  - measure: waiting\n    counts: 150"


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of the demo's own edition."""
    return keep(demo(), tmp_path_factory.mktemp("kept"), DAY)


def later(kept: Path, folder: Path, *edits: tuple[str, str, str]) -> Guide:
    """The demo after some edits, with its own former edition kept."""
    edited(folder, *edits)
    (folder / "editions").mkdir(exist_ok=True)
    (folder / "editions" / kept.name).write_bytes(kept.read_bytes())
    return load_guide(folder)


def told(guide: Guide, asked: str = ASKED) -> str:
    answers = read_pairs(guide, [*asked.split(), f"edition={demo().edition}"])
    assert not answers.faults
    return " ".join(notice(Conversation(guide), answers))


def unit_of(guide: Guide) -> str:
    best = Conversation(guide).outcome(read_pairs(guide, ASKED.split())).best
    assert best is not None
    return best.candidate.inverter.id


def test_a_kept_edition_is_read_back_whole(kept: Path) -> None:
    again, past = read_edition(kept), past_of(demo())
    assert not isinstance(again, Fault)
    assert (again.id, again.date, again.setups) == (past.id, past.date, past.setups)
    assert again.published == DAY
    assert (again.answers, again.names, again.prices) == (past.answers, past.names, past.prices)
    assert kept == edition_file(demo(), kept.parent.parent)


def test_the_edition_of_today_is_none_of_the_older_ones(tmp_path: Path) -> None:
    edited(tmp_path)
    keep(load_guide(tmp_path), tmp_path)
    assert load_guide(tmp_path).editions == ()


def test_a_kept_edition_is_small_and_has_every_way(kept: Path) -> None:
    ways = sum(1 for _ in Conversation(demo()).completions(Answers({})))
    assert len(json.loads(kept.read_text("utf-8"))["answers"]) == ways
    assert kept.stat().st_size < 200 * ways


def test_todays_edition_has_no_notice() -> None:
    assert told(demo()) == ""


def test_an_unchanged_answer_is_said_to_be_the_same(kept: Path, tmp_path: Path) -> None:
    guide = later(kept, tmp_path, WORDS)
    assert told(guide) == guide.wording.page.say("edition-same", edition=OF)


def test_a_new_price_is_named_where_the_set_up_stays(kept: Path, tmp_path: Path) -> None:
    unit = unit_of(demo())
    guide = later(kept, tmp_path, WORDS)
    cheaper = tuple(
        replace(each, price=each.price - 11) if each.id == unit else each
        for each in guide.catalogue.inverters
    )
    guide = replace(guide, catalogue=replace(guide.catalogue, inverters=cheaper))
    assert unit_of(guide) == unit
    assert "The setup is still the same. Its parts were $" in told(guide)


def test_a_discontinued_unit_is_named_with_its_successor(kept: Path, tmp_path: Path) -> None:
    unit = demo().article(unit_of(demo()))
    assert unit is not None
    gone = f"  id: {unit.id}\n  stock: discontinued\n  successor: tall-48v-3200va\n"
    guide = later(kept, tmp_path, (INVERTERS, f"  id: {unit.id}\n", gone))
    text = told(guide)
    assert f"{unit.name} is no longer sold; Tall 3200, 48 V replaces it." in text
    then, _, now = text.partition("Today it is")
    assert unit.name in then and unit.name not in now.partition("planning figure")[0]


def test_a_unit_out_of_stock_that_lost_is_named(kept: Path, tmp_path: Path) -> None:
    unit = demo().article(unit_of(demo()))
    assert unit is not None
    out = f"  id: {unit.id}\n  stock: out-of-stock\n"
    guide = later(
        kept,
        tmp_path,
        (INVERTERS, f"  id: {unit.id}\n", out),
        ("priorities.yaml", WAITING, WAITING.replace("150", "9000")),
    )
    assert f"{unit.name} is out of stock." in told(guide)


def test_a_link_with_details_tells_their_answer_then_and_now(kept: Path, tmp_path: Path) -> None:
    asked = f"{ASKED} cable=15ft nights=3"
    was = said_by(asked)
    before = Conversation(demo()).outcome(read_pairs(demo(), asked.split())).best
    assert before is not None
    unit = before.candidate.inverter
    gone = f"  id: {unit.id}\n  stock: discontinued\n  successor: tall-48v-3200va\n"
    guide = later(kept, tmp_path / "gone", (INVERTERS, f"  id: {unit.id}\n", gone))
    text = told(guide, f"{asked} was={was}")
    now = Conversation(guide).outcome(read_pairs(guide, asked.split())).best
    for each in (before, now):
        assert each is not None and each.design is not None
        assert f"{each.candidate.units} × {each.candidate.inverter.name}" in text
        assert f"${each.design.parts_price:,.0f}, planning figure" in text
    assert OF in text and f"{unit.name} is no longer sold; Tall 3200, 48 V replaces it." in text
    assert guide.wording.page["edition-details"] not in text
    same = later(kept, tmp_path / "same", WORDS)
    assert told(same, f"{asked} was={was}").startswith(
        same.wording.page.say("edition-same", edition=OF)
    )


def said_by(asked: str) -> str:
    """What the link of these answers says of its own answer."""
    link = link_of(Conversation(demo()), read_pairs(demo(), asked.split()))
    return link.partition("&was=")[2].partition("&")[0]


def test_a_link_of_an_edition_that_is_gone_still_tells_its_own_answer() -> None:
    said = "was=single:old-unit:old-battery:1:0:1:2:0:4321"
    answers = read_pairs(demo(), [*ASKED.split(), "nights=3", said, f"edition={'f' * 12}"])
    text = " ".join(notice(Conversation(demo()), answers))
    assert demo().wording.page["edition-older"] in text
    assert "old-unit" in text and "$4,321" in text and "old-unit is no longer sold" in text


@pytest.mark.parametrize("was", ["", "none", "single", "a:b:c:d:e:f:g:h:i", "<b>:x:y:1:0:1:1:0:1"])
def test_what_a_link_says_of_itself_never_breaks_it(was: str) -> None:
    asked = read_pairs(demo(), [*ASKED.split(), "nights=3", f"was={was}", f"edition={'f' * 12}"])
    assert not asked.faults
    assert "<" not in "".join(notice(Conversation(demo()), asked))


def test_batteries_that_are_kept_are_the_same_then_and_now() -> None:
    asked = f"{ASKED} have=4x100Ah-lifepo4"
    said = read_said(said_by(asked))
    best = Conversation(demo()).outcome(read_pairs(demo(), asked.split())).best
    assert said is not None and best is not None
    assert said.key == key_of(best)


def test_an_edition_kept_again_keeps_the_day_on_which_it_was_first(tmp_path: Path) -> None:
    keep(demo(), tmp_path, DAY)
    again = read_edition(keep(demo(), tmp_path, "2026-05-05"))
    assert not isinstance(again, Fault) and again.published == DAY


def test_a_link_without_its_own_answer_is_compared_without_details(
    kept: Path, tmp_path: Path
) -> None:
    guide = later(kept, tmp_path, WORDS)
    assert guide.wording.page["edition-details"] in told(guide, f"{ASKED} cable=15ft")


def test_a_link_to_a_question_asks_it(kept: Path, tmp_path: Path) -> None:
    guide = later(kept, tmp_path, WORDS)
    assert told(guide, "rig=van") == guide.wording.page.say("edition-open", edition=OF)


def test_not_sure_is_compared_over_all_that_it_stands_for(kept: Path, tmp_path: Path) -> None:
    guide = later(kept, tmp_path, WORDS)
    asked = "rig=unsure plug=unsure scope=unsure heavy=unsure biggest=unsure softstart=unsure"
    same = guide.wording.page.say("edition-same", edition=OF)
    assert told(guide, f"{asked} v240=unsure") == same


@pytest.mark.parametrize("link", ["rig=van/scope=whole/heavy=0/", "RIG=VAN/Scope=WHOLE/HEAVY=0/"])
@pytest.mark.parametrize("edition", ["edition=ffffffffffff", "EDITION=FFFFFFFFFFFF"])
def test_an_edition_that_is_not_kept_is_said_so(link: str, edition: str) -> None:
    answers = read_link(demo(), link, edition)
    assert answers.text("rig") == "van"
    assert not answers.faults
    assert notice(Conversation(demo()), answers) == [demo().wording.page["edition-unknown"]]


@pytest.mark.parametrize("text", ["<b>", "GGGGGGGGGGGG", "12", "0" * 500])
def test_what_names_no_edition_is_a_fault_in_words(text: str) -> None:
    answers = read_pairs(demo(), [f"edition={text}"])
    assert answers.edition == ""
    assert "is not an edition" in answers.faults[0].message
