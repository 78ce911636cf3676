"""What a visitor's loads ask of any bank of one voltage, whatever unit hangs on it."""

from typing import NamedTuple

from engine.advice.plan.house import dc_loads_of, dc_start_of, house_efficiency
from engine.kept import kept
from engine.model.buses import DC, DC48, Bus
from engine.model.guide import Guide
from engine.model.needs import Load, Needs
from engine.model.products import Battery
from engine.sizing.battery import cold_capacity_factor
from engine.sizing.dc_circuit import behind_converter_w
from engine.sizing.loads import daily_energy_wh


class Draw(NamedTuple):
    """One load: its power [W] and its energy over the days [Wh], and what the bank gives for each
    unit of them: None on AC, where that hangs on the unit."""

    running_w: float
    energy_wh: float
    factor: float | None


class Stock(NamedTuple):
    """A kind of battery as a bank of this voltage finds it.

    series : batteries in a string, as many as come nearest · string_wh : what a string gives by
    the shop's figures; of lead-acid what it is rated for; 0 where nothing is known [Wh]
    peak_a : what it bears at a start
    """

    battery: Battery
    series: int
    string_wh: float
    peak_a: float


class OnBank(NamedTuple):
    """What is asked of it.

    house_w : what runs past the inverter at once, at the bank [W]
    step_w, step_s : the hardest start past the inverter: what it draws more, and how long [W, s]
    ac_wh, dc_wh : energy of each load a day, on AC, and past the inverter at the bank [Wh]
    typical_ac_w : output at which most of the AC energy is drawn; 0 without any [W]
    cold_share : what of its capacity a battery gives in this cold
    shelf : the batteries of the chemistry that is planned on
    """

    guide: Guide
    needs: Needs
    volts: float
    house_efficiency: float
    house_w: float
    step_w: float
    step_s: float
    ac_wh: tuple[float, ...]
    dc_wh: tuple[float, ...]
    typical_ac_w: float
    draws: tuple[Draw, ...]
    cold_share: float
    shelf: tuple[Stock, ...]


def on_bank_of(guide: Guide, needs: Needs, bank_v: float) -> OnBank:
    """What these loads ask of a bank of this voltage."""
    efficiency = house_efficiency(guide, needs, bank_v)
    # One motor starts at a time, on AC or on 12 V, while all else runs.
    on_dc, direct = dc_start_of(needs), dc_start_of(needs, DC48)
    each_wh = tuple(zip(needs.loads, daily_wh_of(needs.loads), strict=True))
    ac_wh = tuple(daily_wh for load, daily_wh in each_wh if load.bus.legs)
    weighted = sum(daily_wh * load.running_w for load, daily_wh in each_wh if load.bus.legs)
    on_house = behind_converter_w(1.0, efficiency)
    cold_share = cold_capacity_factor(needs.chemistry, needs.weather.bank_c)
    return OnBank(
        guide=guide,
        needs=needs,
        volts=bank_v,
        house_efficiency=efficiency,
        house_w=behind_converter_w(dc_loads_of(needs), efficiency) + dc_loads_of(needs, DC48),
        step_w=max(behind_converter_w(max(0.0, on_dc.step_w), efficiency), direct.step_w),
        step_s=max(on_dc.seconds, direct.seconds),
        ac_wh=ac_wh,
        dc_wh=tuple(
            daily_wh * of_bus(load.bus, on_house, 0.0)
            for load, daily_wh in each_wh
            if not load.bus.legs
        ),
        typical_ac_w=weighted / sum(ac_wh) if any(ac_wh) else 0.0,
        draws=tuple(
            Draw(
                load.running_w,
                daily_wh * needs.nights,
                None if load.bus.legs else of_bus(load.bus, on_house, 0.0),
            )
            for load, daily_wh in each_wh
        ),
        cold_share=cold_share,
        shelf=_shelf(guide, needs.chemistry, bank_v, cold_share),
    )


@kept("guide", 128)
def _shelf(guide: Guide, chemistry: str, bank_v: float, cold_share: float) -> tuple[Stock, ...]:
    return tuple(
        stock_of(guide, each, bank_v, cold_share)
        for each in guide.catalogue.batteries
        if each.chemistry == chemistry
    )


def stock_of(guide: Guide, battery: Battery, bank_v: float, cold_share: float) -> Stock:
    """A kind of battery as a bank of this voltage finds it in this cold."""
    series = round(bank_v / battery.nominal)
    string_wh = battery.nominal * series * battery.capacity
    if not battery.kind.family.by_peukert:
        string_wh *= battery.usable * cold_share * guide.planning.ageing
    return Stock(
        battery,
        series,
        string_wh if cold_share else 0.0,
        max(battery.peak_current, battery.continuous_current),
    )


@kept("answer", 64)
def daily_wh_of(loads: tuple[Load, ...]) -> tuple[float, ...]:
    """Energy of each load a day; the same for every candidate of an answer."""
    return tuple(
        load.count * daily_energy_wh(load.running_w, load.hours, load.duty) for load in loads
    )


def of_bus(bus: Bus, on_house: float, on_ac: float) -> float:
    """What a load takes from the bank for each unit of its own: by inverter, converter or none."""
    if bus.legs:
        return on_ac
    return on_house if bus is DC else 1.0
