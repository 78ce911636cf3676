"""What people type finds its page: the theme's own search, run on the built site's own index."""

import json
import subprocess
from pathlib import Path

import pytest

from guide import setup_node
from guide.check_pages import DOCS
from guide.glossary import read_glossary
from guide.yaml_text import values_of
from site_src.build.explained import SEARCHES, searches
from tests.guide.shops import demo

SCRIPT = Path(__file__).with_name("search.mjs")
FIRST = 3

OWNERS_AND_TRADE = (
    # customers' words
    ("will it run my AC", "air-conditioner"),
    ("can I run the air conditioner off the battery", "air-conditioner"),
    ("which plug do I have", "plug-and-service"),
    ("how long will my battery last", "battery-size"),
    ("how big a battery do I need", "battery-size"),
    ("how thick a wire", "cable"),
    ("charge while driving", "alternator"),
    ("how many solar panels", "solar"),
    ("do I need two inverters", "one-or-two-units"),
    ("where to put the inverter", "mounting"),
    ("tripping the breaker at the campground", "shore-and-generator"),
    ("what can I run on 30 amps", "services"),
    ("is it dangerous", "never"),
    ("30-amp", "plug-and-service"),
    ("shore power", "plug-and-service"),
    ("AC", "air-conditioner"),
    ("mini-split", "air-conditioner"),
    ("inverter won't start", "heavy-loads"),
    ("inverter keeps shutting off", "heavy-loads"),
    ("breaker trips", "shore-and-generator"),
    ("shock from the RV", "post-check"),
    ("battery drains overnight", "battery-size"),
    ("microwave and coffee maker at once", "heavy-loads"),
    # the trade's
    ("ferrule", "terminals"),
    ("neutral ground bond", "bond"),
    ("voltage drop", "cable"),
    ("interrupt rating", "fuses"),
    ("soft starter", "air-conditioner"),
    ("split phase", "one-or-two-units"),
    ("sub-panel", "sub-panel"),
    ("BTU", "watts-va-btu"),
    ("lifepo4", "lithium-or-lead"),
    ("48 V bank", "battery-voltage"),
    ("shared neutral", "shared-neutral"),
    ("start surge", "heavy-loads"),
    ("checks before the first switching on", "commissioning"),
)

TRADE = (
    ("ampacity", "cable"),
    ("amp-hour", "battery-size"),
    ("AWG", "cable"),
    ("AGM", "lithium-or-lead"),
    ("battery bank", "battery-size"),
    ("battery disconnect", "live-dc"),
    ("battery management system", "heavy-loads"),
    ("neutral-to-ground bond", "bond"),
    ("bonding relay", "bond"),
    ("circuit breaker", "shore-and-generator"),
    ("BTU/h", "watts-va-btu"),
    ("busbar", "live-dc"),
    ("cargo-capacity label", "measuring"),
    ("chassis bonding", "bond"),
    ("class T", "fuses"),
    ("clearance", "mounting"),
    ("common trip", "shared-neutral"),
    ("continuous output", "mounting"),
    ("DC-DC charger", "alternator"),
    ("DC-DC converter", "battery-voltage"),
    ("dog-bone adapter", "plug-and-service"),
    ("energy management system", "post-check"),
    ("factory converter/charger", "whole-or-some"),
    ("ferrule", "terminals"),
    ("flooded lead-acid", "lithium-or-lead"),
    ("GFCI", "bond"),
    ("hot skin", "post-check"),
    ("idle draw", "battery-size"),
    ("in phase", "one-or-two-units"),
    ("inlet", "plug-and-service"),
    ("input limit", "shore-and-generator"),
    ("inrush", "heavy-loads"),
    ("AIC", "fuses"),
    ("interrupting rating", "fuses"),
    ("inverter/charger", "one-or-two-units"),
    ("LiFePO4", "lithium-or-lead"),
    ("locked-rotor amps", "heavy-loads"),
    ("LRA", "heavy-loads"),
    ("lug", "terminals"),
    ("main distribution panel", "sub-panel"),
    ("mini-split", "air-conditioner"),
    ("MPPT", "solar"),
    ("multiwire branch circuit", "shared-neutral"),
    ("MWBC", "shared-neutral"),
    ("nameplate", "watts-va-btu"),
    ("open ground", "post-check"),
    ("open neutral", "post-check"),
    ("out of phase", "one-or-two-units"),
    ("pass-through", "plug-and-service"),
    ("pedestal", "post-check"),
    ("power factor", "watts-va-btu"),
    ("pre-charge", "commissioning"),
    ("push-in terminal", "terminals"),
    ("RLA", "heavy-loads"),
    ("shore power", "plug-and-service"),
    ("shunt", "live-dc"),
    ("soft starter", "air-conditioner"),
    ("split phase", "one-or-two-units"),
    ("state of charge", "battery-size"),
    ("subpanel", "sub-panel"),
    ("surge protector", "post-check"),
    ("surge rating", "heavy-loads"),
    ("torque", "terminals"),
    ("transfer switch", "whole-or-some"),
    ("TT-30", "plug-and-service"),
    ("14-50", "plug-and-service"),
    ("voltage drop", "cable"),
)


@pytest.fixture(scope="module")
def found(site: Path) -> dict[str, list[str]]:
    """The pages that the search names for each of the words, best first."""
    words = sorted({typed for typed, _ in (*OWNERS_AND_TRADE, *TRADE)} | {"zzyzx"})
    done = subprocess.run(
        [setup_node.node(), SCRIPT, site],
        input=json.dumps(words), capture_output=True, text=True, check=True,
    )  # fmt: skip
    pages = [
        [Path(sections[0].partition("#")[0]).stem for sections in each]
        for each in json.loads(done.stdout)
    ]
    return dict(zip(words, pages, strict=True))


@pytest.mark.parametrize(("typed", "page"), OWNERS_AND_TRADE)
def test_words_of_owners_and_of_the_trade_find_their_page(
    found: dict[str, list[str]], typed: str, page: str
) -> None:
    assert page in found[typed][:FIRST]


@pytest.mark.parametrize(("term", "page"), TRADE)
def test_a_trade_word_finds_its_page_and_the_glossary_defines_it_once(
    found: dict[str, list[str]], term: str, page: str
) -> None:
    assert page in found[term][:FIRST]
    assert "glossary" in found[term]
    names = [[name.lower() for name in each.names] for each in read_glossary()]
    assert sum(term.lower() in each for each in names) == 1


def test_there_are_sixty_trade_words() -> None:
    assert len(dict(TRADE)) >= 60


def test_what_is_nowhere_is_found_nowhere(found: dict[str, list[str]]) -> None:
    assert found["zzyzx"] == []


def test_what_people_type_is_known_for_pages_that_are_there() -> None:
    assert searches()
    for page, typed in searches().items():
        assert (DOCS / "explained" / f"{page}.md").is_file()
        assert typed
        assert all(isinstance(each, str) for each in typed)


def test_every_load_and_question_that_is_named_there_is_one_of_the_demo() -> None:
    named = [
        each
        for listed in values_of(SEARCHES).values()
        for each in listed
        if not isinstance(each, str)
    ]
    loads = {each["load"] for each in named if "load" in each}
    questions = {each["choice"] for each in named if "choice" in each}
    assert loads
    assert questions
    assert loads <= {each.id for each in demo().appliances}
    assert questions <= {each.id for each in demo().questions}


def test_the_words_of_callers_for_a_choice_find_its_page() -> None:
    choices = demo().question("rig").choices
    words = {word for choice in choices for word in choice.also}
    assert words
    assert words <= set(searches()["services"])
