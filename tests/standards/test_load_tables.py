"""Tables of loads, services, air and batteries agree, cell by cell, with their transcriptions."""

from dataclasses import asdict
from itertools import pairwise

import psychrolib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.standards import appliances, atmosphere, locked_rotor, services
from engine.standards.battery_chemistry import CHEMISTRIES, chemistry_of
from tests.reader import published


def test_code_letters_equal_the_published_table() -> None:
    table = published("locked_rotor")["kva_per_horsepower"]
    found = {letter: list(band) for letter, band in locked_rotor.KVA_PER_HORSEPOWER.items()}
    assert found == table


def test_code_letter_bands_leave_no_gap_and_no_overlap() -> None:
    bands = list(locked_rotor.KVA_PER_HORSEPOWER.values())
    for (_, high), (low, _) in pairwise(bands):
        assert high is not None
        assert low - high == pytest.approx(0.01)
    assert bands[-1][1] is None


def test_letters_easily_misread_are_not_in_the_table() -> None:
    assert not {"I", "O", "Q"} & set(locked_rotor.KVA_PER_HORSEPOWER)


def test_rooftop_nameplates_equal_the_published_unit_data() -> None:
    table = published("locked_rotor")["rooftop_air_conditioners"]
    assert set(locked_rotor.ROOFTOP_AIR_CONDITIONERS) == set(table)
    for name, row in table.items():
        unit = asdict(locked_rotor.ROOFTOP_AIR_CONDITIONERS[name])
        assert {key: unit[key] for key in row} == row


def test_nameplate_start_is_three_to_six_times_running() -> None:
    # Source: ratio of locked-rotor to rated-load current, 3-6 (secondary).
    for unit in locked_rotor.ROOFTOP_AIR_CONDITIONERS.values():
        assert 3 <= unit.compressor_locked_a / unit.compressor_rated_a <= 6


def test_start_is_the_nameplate_s_and_not_the_19_to_32_a_of_slow_meters() -> None:
    # Source: columns that print 19-32 A contradict the nameplate (secondary).
    for unit in locked_rotor.ROOFTOP_AIR_CONDITIONERS.values():
        assert unit.compressor_locked_a > 32


def test_large_rooftop_unit_takes_16_a_on_a_hot_day() -> None:
    # Source: sum of rated-load currents, owner guides (secondary).
    unit = locked_rotor.ROOFTOP_AIR_CONDITIONERS["15000-btu"]
    assert unit.compressor_rated_a + unit.fan_rated_a == pytest.approx(16.0)


def test_shares_off_a_start_are_kept_with_their_base() -> None:
    table = published("locked_rotor")["start_reductions"]
    found = {base: [each.least, each.most] for base, each in locked_rotor.START_REDUCTIONS.items()}
    assert found == table
    # Source: 24 A of 50 to 65 A, logged by a trade column (secondary), by hand.
    low, high = table["measured-peak"]
    assert low == pytest.approx(1 - 24 / 50, abs=0.005)
    assert high == pytest.approx(1 - 24 / 65, abs=0.005)
    # The same log by the other base: 24 A of 70 A locked rotor lies within the magazine's shares.
    unit = locked_rotor.ROOFTOP_AIR_CONDITIONERS["15000-btu"]
    least, most = table["locked-rotor"]
    assert least <= 1 - 24 / unit.compressor_locked_a <= most


def test_soft_start_is_planned_below_the_weakest_one_logged() -> None:
    # Source: 24 A instead of 50 A, the weakest reading of one log (secondary).
    weakest = 1 - 24 / 50
    assert weakest > locked_rotor.SOFT_START_REDUCTION


def test_services_equal_their_ratings() -> None:
    table = published("services")["services"]
    assert set(services.SERVICES) == set(table)
    for name, row in table.items():
        service = services.SERVICES[name]
        assert (service.volts, service.amps, service.legs) == (
            row["volts"],
            row["amps"],
            row["legs"],
        )
        va = service.volts * service.amps * service.legs
        assert va == row["va"]
        assert va * services.CONTINUOUS_SHARE == pytest.approx(row["continuous_va"])


def test_park_figures_are_those_from_2017_not_those_before() -> None:
    assert published("services")["park_site_va"] == services.PARK_SITE_VA
    assert services.PARK_SITE_VA["50"] != 9600


def test_pressure_equals_the_standard_atmosphere() -> None:
    table = published("atmosphere")
    for feet, ratio in table["pressure_ratio_by_ft"].items():
        assert atmosphere.pressure_ratio(feet * 0.3048) == pytest.approx(ratio, abs=0.0005)
    for metres, pascal in table["pressure_pa_by_m"].items():
        got = atmosphere.pressure_ratio(float(metres)) * atmosphere.SEA_LEVEL_PA
        assert got == pytest.approx(pascal, rel=1e-4)


def test_density_equals_the_standard_atmosphere() -> None:
    for row in published("atmosphere")["density_by_m_and_c"]:
        got = atmosphere.air_density_kg_per_m3(row["altitude_m"], row["temperature_c"])
        assert got == pytest.approx(row["density"], abs=row["within"])


@settings(max_examples=60)
@given(st.floats(-400, 4500), st.floats(-30, 60))
def test_density_agrees_with_an_independent_library(
    altitude_m: float, temperature_c: float
) -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)
    pressure_pa = psychrolib.GetStandardAtmPressure(altitude_m)
    expected = psychrolib.GetDryAirDensity(temperature_c, pressure_pa)
    # Within 0.1 %: that library rounds the gas constant and the exponent.
    got = atmosphere.air_density_kg_per_m3(altitude_m, temperature_c)
    assert got == pytest.approx(expected, rel=1e-3)


@settings(max_examples=60)
@given(st.floats(-500, 11_000), st.floats(-500, 11_000))
def test_air_never_thickens_with_height(one_m: float, other_m: float) -> None:
    low_m, high_m = sorted((one_m, other_m))
    assert atmosphere.pressure_ratio(low_m) >= atmosphere.pressure_ratio(high_m)


@pytest.mark.parametrize("altitude_m", [-501.0, 11_001.0, float("nan"), float("inf")])
def test_altitude_outside_the_troposphere_is_refused(altitude_m: float) -> None:
    with pytest.raises(ValueError, match="altitude_m must be between -500 and 11000"):
        atmosphere.pressure_ratio(altitude_m)


@pytest.mark.parametrize("temperature_c", [-273.15, -300.0, float("nan"), float("inf")])
def test_temperature_that_air_cannot_have_is_refused(temperature_c: float) -> None:
    with pytest.raises(ValueError, match="above absolute zero and finite"):
        atmosphere.air_density_kg_per_m3(0.0, temperature_c)


def test_appliance_watts_equal_their_lists() -> None:
    table = published("appliances")
    rows = {
        name: (tuple(watts), source)
        for source in ("doe", "lists", "memory")
        for name, watts in table[source].items()
    }
    assert set(appliances.DRAWS) == set(rows)
    for name, (watts, source) in rows.items():
        draw = appliances.DRAWS[name]
        assert (draw.low_w, draw.high_w) == watts, name
        if source == "doe":
            assert draw.source == appliances.DOE, name
        assert (draw.status == "memory") == (source == "memory"), name


def test_appliance_energy_falls_in_the_published_range() -> None:
    for name, (low_wh, high_wh) in published("appliances")["daily_wh"].items():
        draw = appliances.DRAWS[name]
        assert draw.hours is not None
        least = draw.low_w * draw.hours[0] * draw.duty[0]
        most = draw.high_w * draw.hours[1] * draw.duty[1]
        # A range of watts times a range of duty is a little wider than the range of energy.
        assert least == pytest.approx(low_wh, rel=0.3), name
        assert most == pytest.approx(high_wh, rel=0.1), name


@pytest.mark.parametrize("name", list(appliances.DRAWS))
def test_appliance_rows_are_possible(name: str) -> None:
    draw = appliances.DRAWS[name]
    assert 0 < draw.low_w <= draw.high_w
    assert 0 < draw.duty[0] <= draw.duty[1] <= 1
    assert draw.hours is None or 0 < draw.hours[0] <= draw.hours[1] <= 24
    assert draw.volts in {12, 120, 240}
    assert name.endswith("-12v") <= (draw.volts == 12)


def test_microwave_efficiency_turns_cooking_class_into_the_listed_input() -> None:
    # Source: 1,000-1,700 W of input (secondary) for cooking classes of 750-1,100 W (DOE).
    cooking = appliances.DRAWS["microwave-cooking-class"]
    listed = appliances.DRAWS["microwave-input"]
    assert listed.low_w <= cooking.low_w / appliances.MICROWAVE_EFFICIENCY
    assert cooking.high_w / appliances.MICROWAVE_EFFICIENCY <= listed.high_w


def test_fridge_classes_equal_the_rule() -> None:
    table = published("appliances")["fridge_classes"]
    assert {
        name: [row.slope_kwh_per_ft3, row.fixed_kwh]
        for name, row in appliances.FRIDGE_CLASSES.items()
    } == table


def test_fridge_energy_of_a_legal_unit_by_hand() -> None:
    # (8.07 x 20 + 233.7) kWh / 365 = 1,082.5 Wh a day.
    got = appliances.fridge_daily_wh("top-mount-auto-defrost", 20.0)
    assert got == pytest.approx(1082.5, abs=0.1)


def test_unknown_fridge_class_is_refused_with_those_known() -> None:
    with pytest.raises(ValueError, match="one of top-mount-auto-defrost"):
        appliances.fridge_daily_wh("side-by-side", 20.0)


@pytest.mark.parametrize("volume", [0.0, -1.0, float("nan"), float("inf")])
def test_impossible_fridge_volume_is_refused(volume: float) -> None:
    with pytest.raises(ValueError, match="adjusted_volume_ft3"):
        appliances.fridge_daily_wh("compact-manual", volume)


def test_chemistries_equal_their_planning_figures() -> None:
    table = published("battery_chemistry")
    assert set(table) == set(CHEMISTRIES)
    for name, row in table.items():
        got = asdict(CHEMISTRIES[name])
        del got["profile"]  # of its own table, see test_charge_profiles
        got["family"] = CHEMISTRIES[name].family.name
        got["cold_points"] = [list(point) for point in got["cold_points"]]
        got["charge_c"] = list(got["charge_c"])
        got["peukert"] = list(got["peukert"])
        assert got == row, name


def test_unknown_chemistry_is_refused_with_those_known() -> None:
    with pytest.raises(ValueError, match="one of lifepo4, agm, flooded, got 'nickel'"):
        chemistry_of("nickel")
