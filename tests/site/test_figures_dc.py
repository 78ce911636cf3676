"""Figures of the pages on loads, battery, cable, fuse and charging, each computed afresh."""

import pytest

from engine.model.guide import Guide
from engine.sizing import alternator, ampacity, battery, generator, inverter, loads, short_circuit
from engine.sizing import shore as shore_limits
from engine.units import show, significant
from engine.wording.tongue import plain
from guide.check_pages import DOCS
from guide.setup import ROOT
from site_src.build.explained import Filler
from site_src.build.provenance import ORIGINS, SEEN_WORDS
from site_src.build.source_tables import origins, source_tables
from tests.guide.shops import demo
from tests.site.conftest import words_of


@pytest.fixture(scope="module")
def guide() -> Guide:
    return demo()


@pytest.fixture(scope="module")
def filler(guide: Guide) -> Filler:
    return Filler(guide)


def filled(filler: Filler, page: str) -> str:
    file = f"explained/{page}.md"
    return words_of(filler.fill((DOCS / file).read_text(encoding="utf-8"), file))


def test_the_page_on_air_conditioners_shows_run_start_and_soft_start(
    filler: Filler, guide: Guide
) -> None:
    text, found = filled(filler, "air-conditioner"), guide.appliance("aircon-13k5")
    start_va = loads.locked_rotor_va(found.locked_rotor, found.volts)
    soft_va = loads.start_va(start_va, guide.planning.soft_start_reduction)
    running_va = loads.apparent_power_va(found.running, found.power_factor)
    for value_va in (running_va, start_va, soft_va):
        assert f"{significant(value_va)} VA" in text


def test_the_page_on_units_turns_btu_and_amps(filler: Filler) -> None:
    text = filled(filler, "watts-va-btu")
    assert f"BTU/h equal {show(loads.btu_per_h_to_w(13500.0), 'W')}" in text
    assert f"draws {plain(loads.running_current_a(1500.0, 120.0), 1)} A" in text


def test_the_page_on_battery_size_shows_what_is_planned_on(filler: Filler, guide: Guide) -> None:
    text = filled(filler, "battery-size")
    each = next(found for found in guide.catalogue.batteries if found.id == "lfp-12-100")
    usable_wh = battery.usable_wh(
        each.nominal, each.capacity, each.usable, 1.0, guide.planning.ageing
    )
    assert f"{significant(usable_wh)} Wh" in text


@pytest.mark.parametrize(
    ("volts", "model", "low_v"),
    [
        ("12", "tall-12v-3200va", 11.0),
        ("24", "tall-24v-3200va", 22.0),
        ("48", "tall-48v-3200va", 44.0),
    ],
)
def test_the_page_on_voltages_shows_the_current_of_each(
    filler: Filler, guide: Guide, volts: str, model: str, low_v: float
) -> None:
    unit = next(found for found in guide.catalogue.inverters if found.id == model)
    drawn_w = inverter.input_w(inverter.fit_losses(unit.efficiency, unit.idle), 2400.0)
    row = f"| {volts} V | {plain(inverter.dc_current_a(drawn_w, low_v))} A |"
    assert row in filled(filler, "battery-voltage")


def test_the_page_on_cable_shows_what_each_size_carries(filler: Filler, guide: Guide) -> None:
    text = filled(filler, "cable")
    for size in ("4", "2", "1/0", "2/0", "4/0"):
        carries_a = ampacity.dc_ampacity_a(size, guide.planning.cable_insulation_c, 35.0)
        assert f"| {size} AWG | {plain(carries_a)} A |" in text


def test_the_page_on_fuses_shows_short_circuit_and_ratings(filler: Filler, guide: Guide) -> None:
    text = filled(filler, "fuses")
    each = next(found for found in guide.catalogue.batteries if found.id == "lfp-12-200")
    # 62 A/Ah: a published pack worked out from its cells (seen); its stated figure is lower.
    bank_a = short_circuit.bank_short_circuit_a(62.0 * each.capacity, 3)
    assert bank_a / 3 > each.short_circuit
    assert f"deliver about {plain(bank_a / 1000, 1)} kA" in text
    stops_a = short_circuit.family_interrupt_a("Class T", 58.0)
    assert f"{plain(stops_a / 1000, 1)} kA |" in text


def test_the_page_on_shore_and_generators_shows_limits_and_derating(filler: Filler) -> None:
    text = filled(filler, "shore-and-generator")
    for breaker_a in (15.0, 20.0, 30.0, 50.0):
        limit_a = shore_limits.input_limit_a(breaker_a)
        assert f"| {plain(breaker_a)} A | {plain(limit_a)} A |" in text
    given_w = generator.derated_w(2200.0, 7000.0 * 0.3048, 35.0)
    assert f"can deliver {show(round(given_w), 'W')}" in text


def test_the_page_on_the_alternator_shows_what_it_gives_for_hours(filler: Filler) -> None:
    text = filled(filler, "alternator")
    for rated_a in (120.0, 180.0, 240.0):
        hours_a = alternator.continuous_a(rated_a)
        assert f"| {plain(rated_a)} A | {plain(hours_a)} A |" in text


def test_a_caution_on_a_page_leaves_out_what_only_an_answer_knows(filler: Filler) -> None:
    drawn = filler.caution("generator")
    assert "carbon monoxide" in drawn
    assert "{" not in drawn


def test_every_table_of_sources_names_its_source() -> None:
    for table in source_tables():
        named = f"{table.source} {' '.join(table.head)}"
        assert "ource" in named or "from memory" in named, table.title
        assert table.rows, table.title
        assert {len(row) for row in table.rows} == {len(table.head)}, table.title


def test_every_file_of_tables_says_whether_its_sources_were_seen() -> None:
    files = {file.stem for file in (ROOT / "engine" / "standards").glob("*.py")} - {"__init__"}
    assert files == set(ORIGINS)
    for table, document, edition, seen in origins():
        assert table, document
        assert edition, document
        assert seen in SEEN_WORDS.values(), document


def test_the_page_of_sources_lists_every_document(filler: Filler) -> None:
    text = filled(filler, "sources")
    for row in origins():
        assert " | ".join(row) in text
