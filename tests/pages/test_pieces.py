"""Live pieces: what they work out is the engine's, and bad input is told at its field."""

import json
import re
from dataclasses import replace

import pytest

from engine.browser import reply
from engine.model.guide import Guide
from engine.model.products import Battery, InverterCharger
from engine.pages.pieces.pieces import PIECES, piece_html
from engine.sizing import ampacity, conductors
from engine.sizing import battery as sizing
from engine.sizing.inverter import fit_losses, input_w
from engine.units import show
from engine.wording.sentences import Sentences
from engine.wording.tongue import plain
from guide.load import load_guide
from tests.guide.shops import other_shop

ROW = re.compile(r'<tr><th scope="row">(.*?)</th>(.*?)</tr>')
CELL = re.compile(r"<td>(.*?)</td>")
FAULT = re.compile(r'<p id="rig-piece-(\w+)-fault" class="rig-piece-fault">(.*?)</p>')
SAYS = re.compile(r'<div class="rig-piece-says".*?</div>', re.DOTALL)


def rows(html: str) -> dict[str, list[str]]:
    """The table of a piece by the heads of its rows."""
    return {head: CELL.findall(cells) for head, cells in ROW.findall(html)}


def faults(html: str) -> dict[str, str]:
    """The messages of a piece by their fields."""
    return dict(FAULT.findall(html))


def says(html: str) -> str:
    """What a piece says."""
    found = SAYS.search(html)
    assert found
    return " ".join(re.sub(r"<[^>]+>", "", found[0]).replace("&#39;", "'").split())


def unit(guide: Guide, name: str) -> InverterCharger:
    return next(each for each in guide.catalogue.inverters if each.id == name)


def battery(guide: Guide, name: str) -> Battery:
    return next(each for each in guide.catalogue.batteries if each.id == name)


# Ohm's law, worked here from the resistance of the size at the temperature that it takes.
@pytest.mark.parametrize("length", ["15 ft", "4.572 m", "180 in", "15", "15'", "14 ft 12 in"])
def test_a_cable_loses_what_ohms_law_says_however_the_length_is_written(
    guide: Guide, length: str
) -> None:
    html = piece_html(guide, "drop", {"current": "100 A", "length": length, "bank": "24V"})
    carries_a = ampacity.dc_ampacity_a("2", guide.planning.cable_insulation_c, 35.0)
    warm_c = conductors.conductor_temperature_c(
        100.0, carries_a, guide.planning.cable_insulation_c, 35.0
    )
    lost_v = 2 * 100.0 * 4.572 * conductors.resistance_ohm_per_m("2", warm_c)
    lost, carried, _ = rows(html)["2 AWG"]
    assert lost == f"{plain(lost_v, 2)} V ({show(lost_v / 24.0, 'share')})"
    assert carried == f"{plain(carries_a)} A"


def test_a_cable_that_loses_too_much_is_told_with_one_that_does(guide: Guide) -> None:
    said = says(piece_html(guide, "drop", {"size": "4", "bank": "12V", "length": "15 ft"}))
    assert said.startswith("Does not work.")
    assert "1/0 AWG is the thinnest single cable here that does both" in said


def test_a_cable_that_would_get_too_hot_is_told_though_it_loses_little(guide: Guide) -> None:
    said = says(piece_html(guide, "drop", {"size": "8", "bank": "48V", "length": "1 ft"}))
    assert "It would get too hot" in said


def test_where_no_cable_does_the_way_out_is_told(guide: Guide) -> None:
    said = says(piece_html(guide, "drop", {"current": "600 A", "length": "100 ft"}))
    assert "run two cables in parallel, or go to a higher voltage" in said


@pytest.mark.parametrize(("soft", "factor"), [("no", 1.0), ("yes", 0.5)])
def test_a_start_is_the_locked_rotor_and_the_fan_times_volts(
    guide: Guide, soft: str, factor: float
) -> None:
    typed = {"load": "aircon-13k5", "plate": "68 A", "soft": soft, "unit": "tall-24v-3200va"}
    html = piece_html(guide, "start", typed)
    assert rows(html)["At start-up"] == [show((68.0 + 2.8) * 120.0 * factor, "VA")]
    assert says(html).startswith("Works." if factor < 1 else "Does not work.")


def test_a_start_that_is_just_missed_is_told_with_the_figure(guide: Guide) -> None:
    """By hand: 50 A and 2.8 A of fan at 120 V are 6,336 VA, where 6,080 VA are given."""
    typed = {"load": "aircon-13k5", "plate": "50 A", "soft": "no", "unit": "tall-24v-3200va"}
    assert "Just short, by 256 VA, 4.2 % of what it can deliver" in says(
        piece_html(guide, "start", typed)
    )
    far = says(piece_html(guide, "start", {**typed, "plate": "68 A"}))
    assert "Just not" not in far
    assert "does not start" in far


def test_an_empty_plate_takes_the_guides_own_figure(guide: Guide) -> None:
    own_va = guide.appliance("aircon-15k").locked_rotor * 120.0
    html = piece_html(guide, "start", {"load": "aircon-15k", "plate": ""})
    assert rows(html)["At start-up"] == [show(own_va, "VA")]


def test_hours_are_planned_energy_over_what_load_and_unit_draw(guide: Guide) -> None:
    typed = {"battery": "lfp-24-200", "count": "2", "power": "1.5 kW", "share": "50 %"}
    html = piece_html(guide, "hours", {**typed, "unit": "tall-24v-3200va"})
    own, each = unit(guide, "tall-24v-3200va"), battery(guide, "lfp-24-200")
    curve = fit_losses(own.efficiency, own.idle)
    draw_w = 0.5 * input_w(curve, 1500.0) + 0.5 * own.idle
    usable_wh = 2 * each.nominal * each.capacity * each.usable * guide.planning.ageing
    assert rows(html)["2 ×"][0] == f"{plain(usable_wh / draw_w, 1)} hours"


def test_lead_acid_gives_less_the_faster_it_is_emptied(guide: Guide) -> None:
    typed = {"battery": "agm-12-100", "count": "4", "power": "1500 W", "unit": "tall-12v-2200va"}
    own, each = unit(guide, "tall-12v-2200va"), battery(guide, "agm-12-100")
    draw_w = input_w(fit_losses(own.efficiency, own.idle), 1500.0)
    left_ah = sizing.peukert_capacity_ah(100.0, 20.0, draw_w / 12.0 / 4, each.peukert)
    assert left_ah < 90.0
    usable_wh = 4 * 12.0 * left_ah * each.usable * guide.planning.ageing
    assert rows(piece_html(guide, "hours", typed))["4 ×"][0] == (
        f"{plain(usable_wh / draw_w, 1)} hours"
    )


def test_a_battery_that_must_give_too_much_is_told(guide: Guide) -> None:
    said = says(piece_html(guide, "hours", {"battery": "lfp-12-100", "unit": "tall-12v-2200va"}))
    assert said.startswith("Does not work.")
    assert "can deliver 100 A continuously" in said


@pytest.mark.parametrize(
    ("piece", "typed", "field", "told"),
    [
        ("drop", {"length": "apple"}, "length", "has no number in front; write 15 ft"),
        ("drop", {"length": "3 kg"}, "length", "Expected a length, got a weight"),
        ("drop", {"length": "0 ft"}, "length", "is less than 6 in"),
        ("drop", {"current": "9000 A"}, "current", "is more than 600 A"),
        ("drop", {"current": "5 ft"}, "current", "Expected a current, got a length"),
        ("drop", {"size": "9"}, "size", "is not one of the choices"),
        ("start", {"plate": "13 A"}, "plate", "looks like RLA"),
        ("start", {"plate": "68 W"}, "plate", "Expected a current, got a power"),
        ("start", {"load": "fridge-residential", "soft": "yes"}, "soft", "Choose “No”"),
        ("hours", {"power": "13,500 BTU/h"}, "power", "not what it draws"),
        ("hours", {"count": "2.5"}, "count", "Write a whole number"),
        ("hours", {"count": "a few"}, "count", "is not a number"),
        ("hours", {"count": "41"}, "count", "is more than 40"),
        ("hours", {"share": "150 %"}, "share", "is more than 100 %"),
        ("hours", {"battery": "lfp-24-100", "unit": "tall-12v-2200va"}, "battery", "12 V"),
        (
            "hours",
            {"battery": "lfp-12-100", "unit": "tall-24v-3200va", "count": "3"},
            "count",
            "wire 2 in series",
        ),
        ("hours", {"battery": "lfp-12-100", "count": "40"}, "count", "in parallel"),
    ],
)
def test_bad_input_is_told_at_its_field_and_stays_there(
    guide: Guide, piece: str, typed: dict[str, str], field: str, told: str
) -> None:
    html = piece_html(guide, piece, typed, live=True)
    assert list(faults(html)) == [field]
    assert told in faults(html)[field]
    at = re.search(rf'<(?:input|select) id="rig-piece-{field}"[^>]*>', html)
    assert at
    assert 'aria-invalid="true"' in at[0]
    assert f"rig-piece-{field}-fault" in at[0]
    assert f'<a href="#rig-piece-{field}">' in html  # the summary leads to it
    if f'<input id="rig-piece-{field}"' in html:
        assert f'value="{typed[field]}"' in at[0]
    assert "<svg" not in html


def test_every_fault_is_told_at_once(guide: Guide) -> None:
    assert set(faults(piece_html(guide, "drop", {"current": "x", "length": "y"}))) == {
        "current",
        "length",
    }


@pytest.mark.parametrize("piece", PIECES)
def test_a_piece_has_a_picture_a_table_and_a_sentence_before_any_script(
    guide: Guide, piece: str
) -> None:
    html = piece_html(guide, piece)
    assert "<form" in html
    assert re.search(r'<form id="rig-piece" hidden', html)
    assert re.search(r"<svg[^>]* role=\"img\"", html)
    assert len(rows(html)) >= 2
    assert says(html)
    assert faults(html) == {}


@pytest.mark.parametrize("piece", PIECES)
def test_the_workers_reply_is_what_the_build_draws(guide: Guide, piece: str) -> None:
    asked = {"id": 3, "kind": "piece", "piece": piece, "fields": {}}
    answered = json.loads(reply(json.dumps(asked), guide))
    assert answered == {"id": 3, "html": piece_html(guide, piece, live=True)}


def test_what_is_typed_never_becomes_an_element(guide: Guide) -> None:
    html = piece_html(guide, "drop", {"length": '"><img src=x>', "current": "<b>1"})
    assert "<img" not in html
    assert "<b>" not in html


def test_an_unknown_piece_is_refused(guide: Guide) -> None:
    with pytest.raises(ValueError, match="drop, start, hours"):
        piece_html(guide, "weather")


def test_every_word_of_the_pieces_is_used(guide: Guide) -> None:
    used = set()

    class Watched(Sentences):
        def __getitem__(self, key: str) -> str:
            used.add(key)
            return super().__getitem__(key)

    watched = replace(
        guide,
        wording=replace(
            guide.wording, pieces=Watched(guide.wording.pieces, guide.wording.pieces.forms)
        ),
    )
    tries: tuple[tuple[str, dict[str, str]], ...] = (
        ("drop", {"size": "4/0"}),
        ("drop", {"size": "8", "current": "400 A", "length": "100 ft"}),
        ("drop", {"size": "4", "length": "x"}),
        ("drop", {"size": "4"}),
        ("start", {"unit": "tall-24v-3200va", "soft": "yes"}),
        ("start", {}),
        ("start", {"plate": "13 A"}),
        ("start", {"unit": "small-12v-1300va"}),
        ("start", {"plate": "50 A", "unit": "tall-24v-3200va"}),
        ("start", {"load": "fridge-residential", "soft": "yes"}),
        ("hours", {}),
        ("hours", {"power": "9000 W", "count": "4"}),
        ("hours", {"power": "5000 BTU/h"}),
        ("hours", {"count": "1.5"}),
        ("hours", {"battery": "lfp-24-100", "unit": "tall-12v-2200va"}),
        ("hours", {"unit": "tall-24v-3200va"}),
        ("hours", {"count": "40"}),
    )
    for piece, typed in tries:
        piece_html(watched, piece, typed)
    assert used == set(guide.wording.pieces)


def test_the_first_piece_works_for_any_shop(tmp_path_factory: pytest.TempPathFactory) -> None:

    other = load_guide(other_shop(tmp_path_factory.mktemp("other")))
    assert faults(piece_html(other, "drop")) == {}
