"""Equations with words or angles in them: worked out like the others, each held to its formula.

The words become signs here, and nothing else of the line changes.
"""

import inspect
import math

import pytest

from engine.sizing.ampacity import ac_ampacity_a, dc_ampacity_a
from engine.sizing.charge_settings import charge_voltages
from engine.sizing.charging import hours_to_charge
from engine.sizing.fit import Box, Clearances, fits
from engine.sizing.inverter import low_battery_v, nameplate_w
from engine.sizing.protection import branch_breaker_a
from engine.sizing.short_circuit import required_interrupt_a
from engine.sizing.solar import cell_temperature_c, hourly_yield_w, loss_factor
from engine.sizing.sun import equation_of_time_min, extraterrestrial_w_per_m2
from guide.formulas import EQUATION
from tests.equations import evaluate
from tests.mutation.faults import other_equation
from tests.reader import published
from tests.sizing.test_docstrings import kernels
from tests.sizing.test_equations import IN_WORDS

PANELS = published("cell_temperature")
KERNELS = {each.__name__: each for each in kernels() if each.__name__ in IN_WORDS}


def value_of(name: str, words: dict[str, str], up_to: str = "", **values: float) -> float:
    """The equation of a formula with signs in place of words, and what follows `up_to` cut off."""
    found = EQUATION.search(inspect.getdoc(KERNELS[name]) or "")
    assert found is not None
    equation = found[0]
    assert up_to in equation
    equation = equation.split(up_to)[0] if up_to else equation
    for word, sign in words.items():
        assert word in equation, word
        equation = equation.replace(word, sign)
    return evaluate(equation, values)


def test_conductors_carry_less_where_it_is_hot_and_where_many_lie_together() -> None:
    """2/0 of 105 °C at 50 °C, four in a bundle: 330 A, √(55/75), 0.6; 33 CFR 183.425 table 5.

    6 AWG of 90 °C on terminals of 75 °C at 40 °C, six in a pipe: 75 A, 0.91, 0.8; NEC 310.16.
    """
    words = {"I30": "I", "[": "(", "]": ")", "bundle factor": "b", "Tc − 30": "Tc − T_table"}
    stated_a = value_of("dc_ampacity_a", words, I=330.0, b=0.6, Tc=105.0, Ta=50.0, T_table=30.0)
    assert dc_ampacity_a("2/0", 105, 50.0, bundled=4) == pytest.approx(stated_a)
    words = {"I[insulation]": "I", "ambient factor": "f", "adjustment": "k", "I[terminal]": "I_end"}
    for limit_a in (65.0, 10.0):
        stated_a = value_of("ac_ampacity_a", words, I=75.0, f=0.91, k=0.8, I_end=limit_a)
        assert stated_a == pytest.approx(min(54.6, limit_a))
    assert ac_ampacity_a("6", 90, 75, 40.0, current_carrying=6) == pytest.approx(54.6)


@pytest.mark.parametrize("battery_c", [0.0, 25.0, 45.0])
@pytest.mark.parametrize(
    ("chemistry", "cell_v", "float_v", "shift_v"),
    [("agm", 2.42, 2.27, -0.004), ("flooded", 2.45, 2.22, -0.005), ("lifepo4", 3.6, 3.375, 0.0)],
)
def test_charge_voltages(
    chemistry: str, cell_v: float, float_v: float, shift_v: float, battery_c: float
) -> None:
    found = charge_voltages(6, chemistry, battery_c)
    for own_v, value in ((cell_v, found.absorption_v), (float_v, found.float_v)):
        stated_v = value_of(
            "charge_voltages", {" °C": ""}, ", with", n=6, U_cell=own_v, c=shift_v, T=battery_c
        )
        assert value == pytest.approx(stated_v)


def test_charge_time_at_the_rate_that_is_stated() -> None:
    """50 A less 20 A into 100 Ah of lithium, below the fall of its current."""
    by_rate = {"∫ ds": "s", "r(s)": "r"}
    at_once = {"t = ∫ ds / r(s), r(s) =": "r =", "rate the battery takes": "r_most"}
    amperes = {"I": 50.0, "I_load": 20.0, "C": 100.0}
    for most, rate in ((9.0, 0.3), (0.1, 0.1)):
        found = value_of("hours_to_charge", at_once, ", solved", **amperes, r_most=most)
        assert found == pytest.approx(rate)
    stated_h = value_of("hours_to_charge", by_rate, ", r(s)", s=0.3, r=0.3)
    assert hours_to_charge(0.2, 0.5, 100.0, 50.0, 20.0, "lifepo4") == pytest.approx(stated_h)


def test_space_that_is_left() -> None:
    """A unit of 30 cm with 5 cm on either side in a bay of 45 cm."""
    unit, bay = Box(0.2, 0.3, 0.1), Box(2.0, 0.45, 2.0)
    found = fits(unit, bay, Clearances(side_m=0.05), "upright")
    stated_m = value_of(
        "fits", {"bay": "a", "unit": "b", "clearances": "c"}, ", side by side", a=0.45, b=0.3, c=0.1
    )
    assert found.tight_side == "width"
    assert found.margin_m == pytest.approx(stated_m)


def test_nameplate_and_lowest_voltage() -> None:
    stated_w = value_of("nameplate_w", {"max P(T)": "max(P, Q)"}, P=3000.0, Q=2400.0)
    assert nameplate_w(((25.0, 3000.0), (40.0, 2400.0))) == stated_w
    stated_v = value_of("low_battery_v", {"11.0 V": "11.0"}, ", with", n=4)
    assert low_battery_v(51.2) == stated_v == 44.0


def test_a_breaker_for_what_lasts_and_a_fuse_at_a_bank() -> None:
    """NEC 210.20(A): 16 A that last ask for 20 A. 6 kA of a bank ask for 7.5 kA."""
    stated_a = value_of("branch_breaker_a", {}, " for a continuous", I=16.0)
    assert branch_breaker_a(16.0, continuous=True) == stated_a == 20.0
    stated_a = value_of("required_interrupt_a", {}, " up to", Ik=6000.0)
    assert required_interrupt_a(6000.0) == stated_a == 7500.0


def test_light_on_a_tilted_panel_is_beam_sky_and_ground() -> None:
    """800 W/m² of beam at 30°, 100 W/m² of sky, 900 W/m² level on ground that throws back 20 %;
    a panel that stands upright sees half the sky and half the ground."""
    words = {"cos θ": "cosθ", "cos β": "cosβ"}
    for tilt_deg, sky, ground in ((0.0, 1.0, 0.0), (90.0, 0.5, 0.5)):
        stated = value_of(
            "hourly_plane_w_per_m2",
            words,
            beam=800.0,
            diffuse=100.0,
            level=900.0,
            ρ=0.2,
            cosθ=math.cos(math.radians(30.0)),
            cosβ=math.cos(math.radians(tilt_deg)),
        )
        by_hand = 800.0 * math.cos(math.radians(30.0)) + 100.0 * sky + 900.0 * 0.2 * ground
        assert stated == pytest.approx(by_hand)


@pytest.mark.parametrize("wind", [0.0, 3.0])
@pytest.mark.parametrize("mounting", PANELS)
def test_cells_are_as_warm_as_is_stated(mounting: str, wind: float) -> None:
    """King, Boyson & Kratochvil (2004)."""
    a, b, over_k = PANELS[mounting]
    stated_c = value_of(
        "cell_temperature_c",
        {"exp(a + b · v)": "x"},
        **{"G": 800.0, "x": math.exp(a + b * wind), "T_air": 20.0, "ΔT": over_k},
    )
    assert cell_temperature_c(800.0, 20.0, wind, mounting) == pytest.approx(stated_c)


def test_what_is_left_of_a_panels_power() -> None:
    """3 % and 2 % lost leave 0.97 · 0.98; half of the light of a lasting noon gives half."""
    left = [value_of("loss_factor", {"Π ": "", "L_i": "L"}, L=lost) for lost in (3.0, 2.0)]
    assert loss_factor({"dirt": 3.0, "wiring": 2.0}) == pytest.approx(math.prod(left))
    place = (400.0, 40.0, 6, 0.0, 0.55, 25.0)
    bare_w = hourly_yield_w(*place, losses_percent={}, controller_efficiency=1.0)[12]
    found_w = hourly_yield_w(*place, losses_percent={"dirt": 3.0}, controller_efficiency=0.9)[12]
    words = {"P_dc(G, T_c(G))": "P", "η_controller": "η"}
    assert found_w == pytest.approx(value_of("hourly_yield_w", words, P=bare_w, f=0.97, η=0.9))


def test_the_sun_is_nearest_in_january_and_furthest_ahead_in_november() -> None:
    """Astronomical Almanac, low precision: 0.98329 AU on January 3; on November 3 the sundial is
    16.4 min ahead, 4.11° of the sky."""
    words = {"r²": "(r · r)"}
    stated = value_of("extraterrestrial_w_per_m2", words, ", r = ", r=0.98329)
    assert extraterrestrial_w_per_m2(3) == pytest.approx(stated, rel=1e-4)
    stated_min = value_of("equation_of_time_min", {"4 min/°": "4"}, ", tan", L=4.11, α=0.0)
    assert equation_of_time_min(307) == pytest.approx(stated_min, abs=0.1)


def test_every_equation_that_could_be_wrong_is_held_here() -> None:
    """Others have no sign in them: a thicker size of two, a sum of 24 hours."""
    could = {name for name, each in KERNELS.items() if other_equation(each.__doc__ or "")}
    assert could == {
        *("dc_ampacity_a", "ac_ampacity_a", "charge_voltages", "hours_to_charge", "fits"),
        *("nameplate_w", "low_battery_v", "branch_breaker_a", "required_interrupt_a"),
        *("hourly_plane_w_per_m2", "cell_temperature_c", "loss_factor", "hourly_yield_w"),
        *("equation_of_time_min", "extraterrestrial_w_per_m2"),
    }
