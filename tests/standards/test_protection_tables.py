"""Ratings, places, grounds and interrupt ratings as published."""

import pytest

from engine.standards import grounding, interrupt, overcurrent
from tests.reader import published

CODE = published("protection_nec")
DC = published("protection_dc")


def test_standard_ratings_are_those_of_240_6() -> None:
    listed = CODE["standard_ratings_a"] + CODE["standard_ratings_from_memory_a"]
    assert list(overcurrent.STANDARD_RATINGS_A) == listed
    assert list(overcurrent.FUSE_ONLY_RATINGS_A) == CODE["fuse_only_ratings_a"]


def test_small_conductor_limits_are_those_of_240_4() -> None:
    expected = CODE["small_conductor_limit_from_memory_a"] | CODE["small_conductor_limit_a"]
    assert expected == overcurrent.SMALL_CONDUCTOR_LIMIT_A


def test_grounding_conductors_are_those_of_table_250_122() -> None:
    assert [list(row) for row in grounding.EGC_AWG] == CODE["equipment_ground"]
    assert CODE["chassis_bond_smallest"] == grounding.CHASSIS_BOND_SMALLEST
    assert CODE["battery_to_frame_smallest"] == grounding.BATTERY_TO_FRAME_SMALLEST


def test_fuse_places_are_those_of_the_law() -> None:
    place = DC["place_in"]
    assert pytest.approx(place["open"] * 0.0254) == overcurrent.FUSE_PLACE_M
    assert pytest.approx(place["sheathed"] * 0.0254) == overcurrent.FUSE_PLACE_SHEATHED_M
    assert pytest.approx(place["from_battery"] * 0.0254) == overcurrent.FUSE_PLACE_BATTERY_M
    assert pytest.approx(place["vehicle_practice"] * 0.0254) == overcurrent.FUSE_PLACE_VEHICLE_M
    assert DC["alternator_fuse_limit"] == overcurrent.ALTERNATOR_FUSE_LIMIT
    assert DC["fuse_over_table_limit"] == overcurrent.FUSE_OVER_TABLE_LIMIT


def test_interrupt_ratings_by_cranking_current_are_those_of_e_11() -> None:
    assert [list(row) for row in interrupt.E11_CRANKING_ROWS_A] == DC["cranking"]
    assert DC["shore_breaker_interrupt_a"] == interrupt.SHORE_BREAKER_INTERRUPT_A


def test_large_bank_rule_is_that_of_e_11() -> None:
    rule = DC["large_bank"]
    assert rule["above_ah"] == interrupt.E11_LARGE_BANK_AH
    assert rule["own_figure_up_to_a"] == interrupt.E11_OWN_FIGURE_UP_TO_A
    assert rule["else_a"] == interrupt.E11_LARGE_INTERRUPT_A
    assert rule["at_v"] == interrupt.E11_LARGE_INTERRUPT_V


def test_fuse_families_are_as_transcribed_and_say_where_they_come_from() -> None:
    listed = [[row.name, row.interrupt_a, row.volts] for row in interrupt.FUSE_FAMILIES]
    assert listed == [row[:3] for row in DC["families"]]
    for row, (*_, status) in zip(interrupt.FUSE_FAMILIES, DC["families"], strict=True):
        assert status in row.source


def test_lead_acid_short_circuit_range_is_that_of_the_trade() -> None:
    per_100_ah = [100 * share for share in interrupt.LEAD_ACID_SHORT_A_PER_AH]
    assert per_100_ah == DC["lead_acid_100_ah_a"]
