# ruff: noqa: E501 - a slip is read in one line
"""Forty slips of the pen, one at a time: each is caught by `check` or by `coverage`."""

from pathlib import Path
from typing import NamedTuple

import pytest

from guide.coverage import cover
from guide.coverage_file import CoverageFile
from guide.fault import ContentError
from guide.load import load_guide
from tests.guide.shops import demo, edited, lean


class Slip(NamedTuple):
    """What is in a file, and what somebody made of it."""

    what: str
    file: str
    was: str
    became: str


INVERTERS, BATTERIES = "catalogue/inverters.yaml", "catalogue/batteries.yaml"
PATH, DETAILS = "questions/short-path.yaml", "questions/details.yaml"

CHECKED = (
    Slip("a wrong unit", INVERTERS, "pass_through: 35 A", "pass_through: 35 V"),
    Slip("watts for volt-amperes", INVERTERS, "apparent: 2200 VA", "apparent: 2200 W"),
    Slip("no unit", INVERTERS, "idle: 16 W", "idle: 16"),
    Slip("swapped limits", INVERTERS, "search: 4 W", "search: 40 W"),
    Slip("a digit too many", INVERTERS, "apparent: 3200 VA", "apparent: 32000 VA"),
    Slip("a digit too few", INVERTERS, "apparent: 3200 VA", "apparent: 320 VA"),
    Slip("inches for feet", INVERTERS, "height: 15 in", "height: 15 ft"),
    Slip("pounds for grams", INVERTERS, "mass: 14 kg", "mass: 14 g"),
    Slip("the hot end first", INVERTERS, "1850 W at 30 degC, 1630 W at 45 degC", "1630 W at 30 degC, 1850 W at 45 degC"),
    Slip("a point out of order", INVERTERS, "3080 VA at 30 s", "3080 VA at 0.5 s"),
    Slip("a key misspelt", INVERTERS, "charge_current: 76 A", "charge_curent: 76 A"),
    Slip("a key lost", INVERTERS, "  bond_relay: true\n", ""),
    Slip("an id twice", INVERTERS, "id: tall-24v-2200va", "id: tall-12v-2200va"),
    Slip("a mount misspelt", INVERTERS, "[upright, sideways]", "[upright, sidways]"),
    Slip("the cut-off of another bank", INVERTERS, "low_voltage_cutoff: 11 V", "low_voltage_cutoff: 22 V"),
    Slip("more than all of it", BATTERIES, "usable: 90 %", "usable: 190 %"),
    Slip("peak and continuous swapped", BATTERIES, "continuous_current: 100 A\n  peak_current: 200 A", "continuous_current: 200 A\n  peak_current: 100 A"),
    Slip("ohms for milliohms", BATTERIES, "resistance: 5 mohm", "resistance: 5 ohm"),
    Slip("a chemistry misspelt", BATTERIES, "chemistry: agm", "chemistry: amg"),
    Slip("a kind that is no longer sold", BATTERIES, "chemistry: flooded", "chemistry: agm"),
    Slip("a fuse that stops nothing", "catalogue/fuses.yaml", "interrupt: 20000 A", "interrupt: 200 mA"),
    Slip("a gauge that is none", "catalogue/cables.yaml", 'awg: "8"', 'awg: "7"'),
    Slip("a price that is none", "catalogue/fans.yaml", "price: 16 USD", "price: 0 USD"),
    Slip("an old price", "shop.yaml", '"2026-01-15"', '"2025-01-15"'),
    Slip("a removed choice", PATH, '    - id: "3"\n', "    - id: three\n"),
    Slip("a plug that leads to no rig", PATH, "means: {rig: coach-50}", "means: {rig: coach}"),
    Slip("a condition that is never met", PATH, "only_with: {rig: [coach-50]}", "only_with: {rig: [coach]}"),
    Slip("a default that cannot be read", DETAILS, "default: 5 ft", "default: five fet"),
    Slip("a question lost", DETAILS, "- id: payload\n", "- id: paylod\n"),
    Slip("a load that is not there", "rigs.yaml", "[aircon-15k, microwave, kettle]", "[aircon-15k, microwave, ketle]"),
    Slip("a load left out", "rigs.yaml", "[aircon-15k, microwave, kettle]", "[aircon-15k, microwave]"),
    Slip("kilowatts for watts", "loads.yaml", "running: 1480 W", "running: 1480 kW"),
    Slip("a start below its run", "loads.yaml", "locked_rotor: 70.8 A", "locked_rotor: 0.8 A"),
    Slip("a margin below one", "planning.yaml", "load_margin: 1.1", "load_margin: 0.11"),
    Slip("a limit ten times as wide", "planning.yaml", "drop_limit: 3 %", "drop_limit: 30 %"),
    Slip("a figure without a source", "planning.yaml", "  ageing: Halfway between new and the 80 % at which a handbook of storage battery maintenance replaces a battery (copy seen)\n", ""),
    Slip("a priority upside down", "priorities.yaml", "counts: 400", "counts: -400"),
    Slip("a placeholder misspelt", "cautions/service.yaml", "{neutral_a}", "{neutrl_a}"),
    Slip("a figure in the words", "words/en/checks.yaml", "your rig has only {limit} of cargo capacity left.", "the rig may take on only 300 kg."),
)  # fmt: skip

COVERED = (
    Slip("a soft starter for all", "loads.yaml", "soft_startable: true", "soft_startable: false"),
    Slip("a hob that draws nothing much", "loads.yaml", "running: 1800 W", "running: 18 W"),
    Slip("a unit too dear to be chosen", INVERTERS, "price: 540 USD", "price: 54000 USD"),
    Slip("a unit that is never listed", BATTERIES, "price: 740 USD", "price: 74000 USD"),
    Slip("a bank a hundredth as large", BATTERIES, "capacity: 200 Ah", "capacity: 2 Ah"),
    Slip("a rule of another caution", "cautions/service.yaml", "rule: converter-loop", "rule: adapter"),
)  # fmt: skip


@pytest.fixture(scope="module")
def known() -> frozenset[str]:
    """What coverage finds in the small guide before anything slipped."""
    return findings()


def findings(folder: Path | None = None) -> frozenset[str]:
    guide = lean(load_guide(folder) if folder else demo())
    return frozenset(each.name for each in cover(guide, CoverageFile()).faults)


def test_there_are_forty_and_more() -> None:
    assert len(CHECKED) + len(COVERED) >= 40


@pytest.mark.parametrize("slip", CHECKED, ids=lambda slip: slip.what)
def test_check_catches(slip: Slip, tmp_path: Path) -> None:
    folder = edited(tmp_path, (slip.file, slip.was, slip.became))
    with pytest.raises(ContentError) as caught:
        load_guide(folder)
    for fault in caught.value.faults:
        assert fault.why
        assert fault.mend.endswith((".", "?"))


@pytest.mark.parametrize("slip", COVERED, ids=lambda slip: slip.what)
def test_coverage_catches(slip: Slip, known: frozenset[str], tmp_path: Path) -> None:
    folder = edited(tmp_path, (slip.file, slip.was, slip.became))
    assert findings(folder) - known
