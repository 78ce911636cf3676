"""How long a full bank lasts with the heaviest user always on."""

import pytest

from engine.advice.judge.lasting import heavy_hours
from engine.answer_text import as_data, as_text
from engine.links import read_link
from engine.model.guide import Guide
from engine.respond import conversation_of, respond_to

PATH = "rig=rig-30/scope=whole/heavy=1/biggest=aircon-13k5/softstart=yes/"


def test_what_is_always_on_empties_a_full_bank_in_the_hours_that_are_said(guide: Guide) -> None:
    """Energy in is energy out: the bank's is that of the load and all others for those hours."""
    outcome = conversation_of(guide).usual_outcome(read_link(guide, PATH))
    assert outcome.best is not None
    design = outcome.best.design
    assert design is not None
    found = heavy_hours(outcome.needs, design)
    assert found is not None
    assert found.load.id == "aircon-13k5"
    # As the day's use has it, 5 h of 24 h, it lasts lasting_days: the same shares, two ways.
    a_day_h = 24 * design.bank.lasting_days(outcome.needs.nights)
    rate_w, mean_w = design.bank.usable_wh / found.hours, design.bank.usable_wh / a_day_h
    on_w = (rate_w - mean_w) / (1 - 5 / 24)  # what it draws from the bank while it is on
    assert on_w > 1480 * 0.6
    assert on_w == pytest.approx(1480 * 0.6, rel=0.25)


@pytest.mark.parametrize("nights", [1, 3])
def test_the_hours_by_hand(guide: Guide, nights: int) -> None:
    """1,480 W for 0.6 of each hour, at the bank with what conversion takes, beside the mean of a
    day of all else: what is in the bank over what leaves it in an hour."""
    path = f"{PATH}nights={nights}/"
    outcome = conversation_of(guide).usual_outcome(read_link(guide, path))
    assert outcome.best is not None and outcome.best.design is not None
    assert outcome.needs.nights == nights
    bank = outcome.best.design.bank
    at_bank = 1.0 + bank.energy.conversion_wh / bank.energy.ac_wh
    on_w = 1480.0 * 0.6 * at_bank
    rest_w = (bank.need_wh / outcome.needs.nights - 5.0 * on_w) / 24.0
    found = heavy_hours(outcome.needs, outcome.best.design)
    assert found is not None
    assert found.hours == pytest.approx(bank.usable_wh / (on_w + rest_w))


def test_hours_and_days_stand_on_the_page_in_data_and_at_the_terminal(guide: Guide) -> None:
    page = respond_to(guide, PATH)
    lasts = as_data(guide, page.answer)["lasts"]
    said = f"{lasts['heavy']['hours']:.1f}".removesuffix(".0")
    sentence = f"{said} hours with the air conditioner always on"
    assert sentence in page.html
    assert sentence in as_text(guide, page.answer)


def test_without_a_heavy_load_only_days_are_said(guide: Guide) -> None:
    page = respond_to(guide, "rig=van/scope=some/heavy=0/")
    assert as_data(guide, page.answer)["lasts"]["heavy"] is None
    assert "always on" not in page.html
