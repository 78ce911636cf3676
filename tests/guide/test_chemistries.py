"""A chemistry is one record and its words: one more is planned through, an unknown one is told."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from engine.answer_text import as_json, as_text
from engine.kept import forget
from engine.links import read_pairs
from engine.model.guide import Guide
from engine.respond import Page, respond
from engine.standards.battery_chemistry import CHEMISTRIES, Chemistry, Family
from engine.standards.charge_profiles import Acceptance, ChargeProfile
from guide import sentences
from guide.fault import ContentError
from guide.load import load_guide
from tests.guide.shops import edited, other_shop

SALT = Chemistry(
    family=Family(
        "salt", by_peukert=False, short_a_per_ah=30.0, short_floor_a_per_ah=0.0, sag_a_per_ah=20.0
    ),
    valve_regulated=False,
    profile=ChargeProfile(3.0, 3.5, 3.3, 0.0, 0.3, Acceptance(8.0, 1.0, 0.05)),
    highest_cell_v=3.6,
    efficiency=0.9,
    depth=0.9,
    charge_c=(-10.0, 55.0),
    cold_points=((-30.0, 0.6), (25.0, 1.0)),
    peukert=(1.0, 1.05),
    life_years=8.0,
    continuous_per_h=2.0,
    start_factor=1.5,
)
"""An invented chemistry with invented figures."""

SALT_BATTERY = """
- id: salt-12-150
  name: Salt 12 V 150 Ah
  maker: Hobbeck (invented)
  price: 300 USD
  height: 8.5 in
  width: 13 in
  depth: 6.8 in
  mass: 18 kg
  chemistry: salt
  nominal: 12 V
  capacity: 150 Ah
  continuous_current: 300 A
  peak_current: 450 A
  peak_time: 5 s
  charge_current: 75 A
  short_circuit: 4000 A
  resistance: 3 mohm
  usable: 90 %
  peukert: 1.0
  lowest_charge_temperature: -10 degC
  most_in_series: 4
  most_in_parallel: 4
  stud: M8
  vented: false
"""
CHOICE = (
    "questions/details.yaml",
    "    - {id: flooded,",
    "    - {id: salt, label: Salt}\n    - {id: flooded,",
)
WORDS = ("words/en/numbers.yaml", "kind-agm:", "kind-salt: salt\nkind-agm:")
COOKING = "rig=rig-30 scope=whole heavy=1 biggest=cooking"


@pytest.fixture(scope="class")
def salt(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Guide]:
    """A shop that sells batteries of one chemistry more."""
    folder = tmp_path_factory.mktemp("salt")
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(CHEMISTRIES, "salt", SALT)
        patch.setattr(sentences, "KEPT", folder / "sentences.json")  # not that of the sources
        forget("never")  # the table of sentences names the kinds
        content = edited(folder / "shop", CHOICE, WORDS)
        shelf = content / "catalogue/batteries.yaml"
        shelf.write_text(shelf.read_text("utf-8") + SALT_BATTERY, "utf-8")
        yield load_guide(content)
    forget("never")


def page_of(guide: Guide, text: str) -> Page:
    answers = read_pairs(guide, text.split())
    assert not answers.faults
    return respond(guide, answers, changes=False)


class TestAnInventedChemistry:
    """Its guide is read once for all of them."""

    @pytest.mark.parametrize("bank_v", [12, 24, 48])
    def test_an_invented_chemistry_is_planned_through(self, salt: Guide, bank_v: int) -> None:
        page = page_of(
            salt, f"{COOKING} chemistry=salt bank={bank_v}V solar=400W alt=150A gen=3000W"
        )
        advice = page.answer.advice
        assert advice is not None and advice.best.design is not None
        bank, dc = advice.best.design.bank, advice.best.design.dc
        assert bank.battery.id == "salt-12-150"
        cells = bank_v / 3.0
        assert advice.charging.absorption_v == pytest.approx(3.5 * cells)
        assert advice.charging.float_v == pytest.approx(3.3 * cells)
        assert min(dc.fuse.volts, dc.disconnect.volts) >= 3.6 * cells
        assert bank.string_ah == 150.0  # no law of Peukert
        assert '"salt-12-150"' in as_json(salt, page.answer)
        assert "Salt 12 V 150 Ah" in as_text(salt, page.answer)

    def test_it_is_told_neither_of_lithium_nor_of_lead(self, salt: Guide) -> None:
        advice = page_of(salt, f"{COOKING} chemistry=salt bank=24V ambient=20F").answer.advice
        assert advice is not None
        told = {note.caution.id for note in advice.cautions}
        assert told.isdisjoint({"lithium-cold", "cold-charge", "acid"})

    def test_nothing_is_planned_where_it_may_not_be_charged(self, salt: Guide) -> None:
        page = page_of(salt, f"{COOKING} chemistry=salt bank=24V ambient=10F")  # -12 °C
        assert page.answer.status == "none-fits"
        assert page.answer.outcome is not None
        assert "charge-cold" in [check.id for check in page.answer.outcome.considered[0].failed]

    def test_batteries_of_it_that_are_there_are_judged_by_its_record(self, salt: Guide) -> None:
        page = page_of(salt, f"{COOKING} chemistry=salt bank=12V have=2x150Ah-12V-salt-9y")
        assert page.answer.advice is not None and page.answer.advice.outcome.keeping is not None
        keeping = page.answer.advice.outcome.keeping
        assert [(fault.code, fault.needs) for fault in keeping.faults if fault.code == "age"] == [
            ("age", 8.0)
        ]
        assert "2 × 150 Ah, 12 V, salt, 9 years" in page.html

    def test_batteries_of_it_that_stay_are_planned_by_its_record(self, salt: Guide) -> None:
        page = page_of(salt, f"{COOKING} bank=12V have=4x150Ah-12V-salt-1y")
        assert page.answer.advice is not None and page.answer.advice.best.design is not None
        bank = page.answer.advice.best.design.bank
        assert (bank.kept, bank.battery.chemistry) == (4, "salt")
        assert bank.short_circuit_a == 4 * 150.0 * 30.0


@pytest.mark.parametrize("kind", sorted(CHEMISTRIES))
def test_batteries_that_are_there_have_a_name_in_a_shop_that_sells_none_like_them(
    tmp_path: Path, kind: str
) -> None:
    guide = load_guide(other_shop(tmp_path / "shop"))
    assert [choice.id for choice in guide.question("chemistry").choices] == ["lifepo4"]
    path = "rig=tourer scope=whole heavy=1 biggest=stove"
    page = page_of(guide, f"{path} have=2x100Ah-12V-{kind}-1y")
    assert page.answer.advice is not None
    assert f"2 × 100 Ah, 12 V, {guide.wording.numbers[f'kind-{kind}']}, 1 year" in page.html


def faults(folder: Path) -> str:
    with pytest.raises(ContentError) as caught:
        load_guide(folder)
    return str(caught.value)


def test_a_battery_of_an_unknown_chemistry_is_told_with_its_line_and_those_known(
    tmp_path: Path,
) -> None:
    folder = edited(tmp_path, ("catalogue/batteries.yaml", "chemistry: agm", "chemistry: salt"))
    before, _, _ = (folder / "catalogue/batteries.yaml").read_text("utf-8").partition("salt")
    assert faults(folder) == (
        f"catalogue/batteries.yaml:{before.count(chr(10)) + 1}:14: "
        "“chemistry”: “salt” is not one of the choices. Use one of: lifepo4, agm, flooded."
    )


def test_a_chemistry_that_is_nearly_written_right_is_guessed(tmp_path: Path) -> None:
    told = faults(
        edited(tmp_path, ("catalogue/batteries.yaml", "chemistry: flooded", "chemistry: floded"))
    )
    assert told.endswith("“floded” is not one of the choices. Did you mean “flooded”?")


def test_a_chemistry_without_a_name_is_told(tmp_path: Path) -> None:
    told = faults(edited(tmp_path, ("words/en/numbers.yaml", "kind-agm: AGM lead-acid\n", "")))
    assert told.startswith("words/en/numbers.yaml:")
    assert told.endswith("says it, and it has no words. Add “kind-agm: …”.")


def test_a_choice_for_which_nothing_is_sold_is_told(tmp_path: Path) -> None:
    told = faults(edited(tmp_path, ("questions/details.yaml", "id: 48V,", "id: 36V,")))
    assert "“bank”, choice “36V”: nothing among the inverters that are sold is for it." in told
