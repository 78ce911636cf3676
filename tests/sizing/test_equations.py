"""Each equation of a docstring gives what its formula gives, in the docstring's own examples."""

import ast
import doctest
import inspect
import re
from collections.abc import Callable, Iterator
from importlib import import_module
from typing import Any

import pytest

from engine.sizing.cooling import AIR_HEAT_J_PER_KG_K
from engine.sizing.sun import equation_of_time_min
from engine.standards import awg, copper, metric_cable
from engine.standards.atmosphere import air_density_kg_per_m3
from engine.standards.battery_chemistry import chemistry_of
from engine.standards.locked_rotor import KVA_PER_HORSEPOWER
from guide.formulas import EQUATION, formula_of
from tests.equations import Value, evaluate
from tests.sizing.test_docstrings import kernels

TAIL = re.compile(r", (?=(?:at|not|with|whole|to|zero|r|I) )|; | of the ")
"""Where the words after an equation begin: what limits it, where it holds."""
SUBSCRIPT = re.compile(r"(?<=[A-Za-zα])\d+")
"""The 75 of r75, resistance at 75 °C."""
KNOWN = {
    "air": air_density_kg_per_m3,
    "copper": copper,
    "kind": chemistry_of,
    "noon_min": equation_of_time_min,
    "stranded": awg.STRANDED_OHM_PER_M_75C,
    "area": awg.area_m2,
    "plain": metric_cable.PLAIN_OHM_PER_KM_20C,
    "code": KVA_PER_HORSEPOWER,
    "AIR_HEAT": AIR_HEAT_J_PER_KG_K,
}
# What the symbols stand for where the docstring does not say it in rows of its own, by parameters.
SYMBOLS = {
    "continuous_a": "I_rated=rated_a",
    "dc_temperature_factor": "Tc=insulation_c Ta=ambient_c",
    "charge_limit_a": "I_each=limit_each_a n=parallel",
    "continuous_wanted_a": "I=full_a",
    "precharge_s": "R=resistor_ohm C=capacitance_f",
    "bank_energy_wh": "E=need_wh depth=depth k_T=temperature_factor k_age=ageing_factor",
    "batteries_in_series": "U_system=system_v U_battery=battery_v",
    "peukert_hours": "H=rate_hours C=capacity_ah I=current_a k=exponent",
    "cells_in_series": "U=nominal_v U_cell=kind(chemistry).profile.nominal_cell_v",
    "compensation_v_per_k": "n=cells c=kind(chemistry).profile.compensation_v_per_k",
    "highest_charge_v": "n=cells U_most=kind(chemistry).highest_cell_v T=coldest_c "
    "U_absorption=kind(chemistry).profile.absorption_cell_v "
    "c=kind(chemistry).profile.compensation_v_per_k",
    "usual_charge_a": "r=kind(chemistry).profile.usual_rate_per_h C=capacity_ah",
    "usable_source_a": "P=source_w P_load=load_w η=efficiency U=battery_v I_charger=charger_max_a "
    "I_battery=battery_limit_a",
    "charge_current_a": "I_max=max_a C=capacity_ah s=state "
    "k=kind(chemistry).profile.acceptance.factor_per_h "
    "p=kind(chemistry).profile.acceptance.exponent "
    "r_last=kind(chemistry).profile.acceptance.last_per_h",
    "absorption_state": "r=rate_per_h k=kind(chemistry).profile.acceptance.factor_per_h "
    "p=kind(chemistry).profile.acceptance.exponent",
    "resistance_ohm_per_m": "r=stranded[size] T=temperature_c "
    "α=copper.TEMPERATURE_COEFFICIENT_20C_PER_K",
    "metric_resistance_ohm_per_m": "r=plain[area_mm2]/1000 T=temperature_c "
    "α=copper.TEMPERATURE_COEFFICIENT_20C_PER_K",
    "insulated_mass_kg_per_m": "A=area(size) ρ=copper.DENSITY_KG_PER_M3",
    "temperature_rise_k": "P=heat_w Q=airflow_m3_per_h ρ=air(altitude_m,ambient_c) c_p=AIR_HEAT",
    "strings_for_voltage": "R_string=string_ohm U=source_v U_min=lowest_v I=current_a "
    "R_cable=cable_ohm",
    "behind_converter_w": "P_load=load_w η=efficiency",
    "wall_area_m2": "h=unit.height_m w=unit.width_m",
    "generator.input_limit_a": "P=continuous_w n=sharing U=volts",
    "support_w": "P_load=load_w P_limit=limit_w",
    "largest_charge_with_start_a": "I_max=maximum_a I_limit=limit_a I_loads=loads_a "
    "I_start=start_a U=volts η=efficiency PF=power_factor U_bat=battery_v",
    "efficiency": "P=output_w P_loss=curve.idle_w+curve.proportional*output_w"
    "+curve.quadratic_per_w*output_w**2",
    "apparent_power_va": "P=real_w PF=power_factor",
    "locked_rotor_a_from_code": "k=code[code_letter][1] hp=horsepower U=volts",
    "microwave_input_w": "P_cook=cooking_w η=efficiency",
    "btu_per_h_to_w": "q=btu_per_h",
    "daily_energy_wh": "P=running_w h=hours d=duty",
    "cold_open_circuit_v": "n=series U_oc=open_circuit_v",
    "panel_switch_a": "n=strings P=rated_w U_oc=open_circuit_v",
    "pass_through_va": "I=amps U=volts n=legs",
    "planning_current_a": "I_n=amps",
    "neutral_current_in_phase_a": "I_1=leg1_a I_2=leg2_a",
    "short_circuit_from_resistance_a": "U=open_circuit_v R=resistance_ohm",
    "planned_short_circuit_a": "C=capacity_ah k={'lifepo4':62.0,'agm':40.0}[chemistry]",
    "stated_short_circuit_a": "I_stated=stated_a C=capacity_ah "
    "k={'lifepo4':62.0,'agm':0.0}[chemistry]",
    "interrupt_accepted": "Ik=short_circuit_a",
    "dc_power_w": "G=irradiance P_rated=rated_w γ=temp_coefficient T_c=cell_c",
    "solar_noon_clock_h": "zone=zone_h longitude=longitude_deg EoT=noon_min(day_of_year)",
    "total_kg": "n=tuple(zip(*items))[1] m_each=tuple(zip(*items))[0]",
}
# Words, laws in several steps, and sums over the hours of a day: tests of their own hold these.
IN_WORDS = {
    *("dc_ampacity_a", "ac_ampacity_a", "ac_conductor", "charge_voltages", "hours_to_charge"),
    *("fits", "chassis_bond", "negative_to_frame", "nameplate_w", "low_battery_v"),
    *("branch_breaker_a", "required_interrupt_a", "hourly_plane_w_per_m2"),
    *("daily_clear_sky_wh_per_m2", "cell_temperature_c", "loss_factor", "hourly_yield_w"),
    *("daily_yield_wh", "equation_of_time_min", "extraterrestrial_w_per_m2", "strip_length_m"),
}
Kernel = Callable[..., Any]


def name_of(kernel: Kernel) -> str:
    """Its name, with its module where two have one name."""
    longer = f"{kernel.__module__.rsplit('.', 1)[-1]}.{kernel.__name__}"
    return longer if longer in SYMBOLS else kernel.__name__


def in_signs() -> list[Kernel]:
    """Kernels with an equation that can be worked out."""
    return [
        each
        for each in kernels()
        if EQUATION.search(inspect.getdoc(each) or "") and each.__name__ not in IN_WORDS
    ]


def equation_of(kernel: Kernel) -> str:
    """The equation without the words behind it, and without units and subscripts of figures."""
    found = EQUATION.search(inspect.getdoc(kernel) or "")
    assert found is not None
    if name_of(kernel) not in SYMBOLS:
        return found[0]
    bare = (
        TAIL.split(found[0])[0]
        .replace(" °C", "")
        .replace(" kA", "000")
        .replace("[", "(")
        .replace("]", ")")
    )
    return SUBSCRIPT.sub("", bare)


def examples(kernel: Kernel) -> Iterator[tuple[dict[str, Any], Any]]:
    """Arguments and result of each call in a kernel's examples."""
    known = dict(vars(import_module(kernel.__module__)))
    for example in doctest.DocTestParser().get_examples(inspect.getdoc(kernel) or ""):
        made: list[tuple[dict[str, Any], Any]] = []

        def noted(*given: Any, made: list[tuple[dict[str, Any], Any]] = made, **named: Any) -> Any:
            bound = inspect.signature(kernel).bind(*given, **named)
            bound.apply_defaults()
            made.append((dict(bound.arguments), kernel(*given, **named)))
            return made[-1][1]

        exec(
            compile(ast.parse(example.source), "example", "exec"), known | {kernel.__name__: noted}
        )
        exec(compile(ast.parse(example.source), "example", "exec"), known)
        yield from made


def values_of(kernel: Kernel, given: dict[str, Any]) -> dict[str, Value]:
    """What each symbol of the equation is in this call."""
    said = SYMBOLS.get(name_of(kernel))
    if said is not None:
        pairs = (each.split("=", 1) for each in said.split(" "))
        return {sign: eval(text, {**KNOWN, **given}) for sign, text in pairs}
    places = {each.sign: each.place for each in formula_of(kernel).symbols}
    return {sign: eval(place.removesuffix("_i"), dict(given)) for sign, place in places.items()}


@pytest.mark.parametrize("kernel", in_signs(), ids=name_of)
def test_an_equation_gives_what_the_formula_gives(kernel: Kernel) -> None:
    """Of a whole number the equation gives what is rounded; of a yes, what the first may not be
    below."""
    tried = 0
    for given, result in examples(kernel):
        if result is None:  # more than there is
            continue
        value = evaluate(equation_of(kernel), values_of(kernel, given))
        if isinstance(result, bool):
            assert (next(iter(given.values())) >= value) is result
        else:
            assert (round(value) if isinstance(result, int) else value) == pytest.approx(result)
        tried += 1
    assert tried


def test_what_is_said_in_words_is_known() -> None:
    names = {each.__name__ for each in kernels()}
    assert names >= IN_WORDS
    assert len(in_signs()) > 90
