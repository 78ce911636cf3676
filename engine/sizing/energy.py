"""A week of the house battery, hour by hour: what comes in, what goes out, when it runs out."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf

from engine.sizing import guard
from engine.sizing.charging import state_after_charge
from engine.standards.battery_chemistry import chemistry_of

HOURS_PER_DAY = 24
# The sun costs nothing and is used first; the generator is loud and comes last.
SOURCES = ("solar", "alternator", "shore", "generator")
NOTHING = (0.0, 0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class WeekInputs:
    """A battery, its loads and its sources; every power is in watts at the battery's terminals.

    `usable_floor` and `start_state` are states of charge, 0 … 1. `load_w` and `solar_w` hold the
    mean power of each hour of the day, from midnight, the same every day. The engine runs, and so
    does the generator, once a day, from their start hour. `shore_nights` lists the days (0 is the
    first) on whose evening the rig is plugged in, for `shore_hours` from `shore_start_hour`.
    `charger_limit_w` is what the charger gives, through which both shore and generator charge; they
    feed the loads past it. `shore_share` and `generator_share` say how much of what each of them
    has left over a charger can take: half where it is on one of two legs, with loads shared evenly,
    and no more than its power factor.
    """

    capacity_wh: float
    usable_floor: float
    start_state: float
    load_w: tuple[float, ...]
    solar_w: tuple[float, ...]
    alternator_w: float
    drive_hours: float
    drive_start_hour: float
    shore_w: float
    shore_nights: tuple[int, ...]
    generator_w: float
    generator_hours: float
    charge_limit_w: float
    charge_efficiency: float
    discharge_efficiency: float
    chemistry: str
    days: int = 7
    shore_start_hour: float = 18.0
    shore_hours: float = 14.0
    generator_start_hour: float = 9.0
    charger_limit_w: float = inf
    shore_share: float = 1.0
    generator_share: float = 1.0


@dataclass(frozen=True, slots=True)
class Week:
    """What happened. Energies are at the battery's terminals [Wh], summed over all the days.

    `state` is the state of charge at each hour, the start included. `offers_w` is what each source
    could give in each hour [W], in the order of SOURCES. `direct_wh` went from a source
    straight to the loads, `charged_wh` from a source into the battery, `discharged_wh` from the
    battery to the loads. `spilled_wh` is sun that nobody could take; other sources just give less.
    `stored_wh` is what the battery holds more (or less) than at the start. `throughput_wh` is all
    that went in and out of the battery. `reserve_h` is how long the mean load could have gone on at
    the lowest moment.
    """

    state: tuple[float, ...]
    offers_w: tuple[tuple[float, float, float, float], ...]
    unmet_wh: float
    spilled_wh: float
    throughput_wh: float
    charged_wh: Mapping[str, float]
    direct_wh: Mapping[str, float]
    discharged_wh: float
    lost_wh: float
    stored_wh: float
    load_wh: float
    solar_wh: float
    runs_out_hour: int | None
    reserve_h: float


def simulate_week(inputs: WeekInputs) -> Week:
    """Follow the state of charge through the days, an hour at a time.

    Each hour the sources feed the loads, what is left of them charges (within the charge limit and
    what the battery takes at its state), and the battery feeds what the sources did not:
    Δs · C = η_charge · E_in − E_out / η_discharge

    Parameters
    ----------
    inputs : battery, loads and sources

    Returns
    -------
    The states and the sums of the days.

    Raises
    ------
    ValueError : if a value is out of its range, a profile does not hold 24 hours, or a shore
        night is not one of the days.

    Source: energy balance; acceptance of the battery as in engine.sizing.charging.

    >>> week = simulate_week(WeekInputs(
    ...     capacity_wh=2400.0, usable_floor=0.1, start_state=1.0, load_w=(100.0,) * 24,
    ...     solar_w=(0.0,) * 24, alternator_w=0.0, drive_hours=0.0, drive_start_hour=9.0,
    ...     shore_w=0.0, shore_nights=(), generator_w=0.0, generator_hours=0.0,
    ...     charge_limit_w=1000.0, charge_efficiency=0.97, discharge_efficiency=1.0,
    ...     chemistry="lifepo4", days=1))
    >>> week.runs_out_hour, round(week.unmet_wh, 6), round(week.state[12], 6)
    (21, 240.0, 0.5)
    """
    _check(inputs)
    offers = _offers_w(inputs)
    load_w, capacity_wh, floor = inputs.load_w, inputs.capacity_wh, inputs.usable_floor
    charge_efficiency, discharge_efficiency = inputs.charge_efficiency, inputs.discharge_efficiency
    direct, charged = [0.0] * len(SOURCES), [0.0] * len(SOURCES)
    charger_limit_w, full_wh = inputs.charger_limit_w, discharge_efficiency * capacity_wh
    left_over = list(NOTHING)
    unmet = spilled = discharged = lost = 0.0
    runs_out_hour: int | None = None
    state = inputs.start_state
    states = [state]
    for hour, offer in enumerate(offers):
        wanted = load_w[hour % HOURS_PER_DAY]
        surplus = 0.0
        if offer is not NOTHING:
            left_over = list(offer)
            for source, available in enumerate(offer):
                fed = available if available < wanted else wanted
                direct[source] += fed
                left_over[source] -= fed
                wanted -= fed
            if left_over[2] or left_over[3]:
                left_over[2] = min(left_over[2] * inputs.shore_share, charger_limit_w)
                reaching_w = left_over[3] * inputs.generator_share
                left_over[3] = min(reaching_w, charger_limit_w - left_over[2])
            surplus = min(sum(left_over), inputs.charge_limit_w)
        if surplus > 0.0 and state < 1.0:
            rate_per_h = surplus * charge_efficiency / capacity_wh
            after = state_after_charge(state, 1.0, rate_per_h, inputs.chemistry)
            taken = (after - state) * capacity_wh / charge_efficiency
            state = after
            lost += taken * (1.0 - charge_efficiency)
            for source, available in enumerate(left_over):
                share = available if available < taken else taken
                charged[source] += share
                left_over[source] -= share
                taken -= share
        if wanted > 0.0:
            above = state - floor if state > floor else 0.0
            room = above * capacity_wh * discharge_efficiency
            given = wanted if wanted < room else room
            # What is left of a rounding is not a load gone dark.
            if given < wanted and wanted - given > 1e-9 * wanted:
                unmet += wanted - given
                runs_out_hour = hour if runs_out_hour is None else runs_out_hour
            lowest = floor if state > floor else state
            left = state - given / full_wh
            state = left if left > lowest else lowest
            discharged += given
            lost += given / discharge_efficiency - given
        if offer is not NOTHING:
            spilled += left_over[0]
        states.append(state)
    return Week(
        state=tuple(states),
        offers_w=tuple(offers),
        unmet_wh=unmet,
        spilled_wh=spilled,
        throughput_wh=sum(charged) + discharged,
        charged_wh=dict(zip(SOURCES, charged, strict=True)),
        direct_wh=dict(zip(SOURCES, direct, strict=True)),
        discharged_wh=discharged,
        lost_wh=lost,
        stored_wh=(state - inputs.start_state) * capacity_wh,
        load_wh=sum(load_w) * inputs.days,
        solar_wh=sum(inputs.solar_w) * inputs.days,
        runs_out_hour=runs_out_hour,
        reserve_h=_reserve_h(inputs, min(states)),
    )


def _reserve_h(inputs: WeekInputs, lowest_state: float) -> float:
    """How long what is left at the lowest state would last, at the mean load."""
    capacity_wh, load_wh = inputs.capacity_wh, sum(inputs.load_w) * inputs.days
    above_floor_wh = (lowest_state - inputs.usable_floor) * capacity_wh
    left_wh = max(above_floor_wh * inputs.discharge_efficiency, 0.0)
    return left_wh / (load_wh / (inputs.days * HOURS_PER_DAY)) if load_wh > 0.0 else inf


def balance_error_wh(week: Week) -> float:
    """Energy that the sums of a week leave unexplained.

    largest of |charged − discharged − lost − stored|, |direct + discharged + unmet − load| and
    |direct + charged + spilled − sun| (of the sun's own share)

    Parameters
    ----------
    week : result of `simulate_week`

    Returns
    -------
    Error [Wh]; rounding only, below a millionth of the throughput.

    Source: conservation of energy.

    >>> week = simulate_week(WeekInputs(
    ...     capacity_wh=2400.0, usable_floor=0.1, start_state=0.5, load_w=(100.0,) * 24,
    ...     solar_w=(50.0,) * 24, alternator_w=0.0, drive_hours=0.0, drive_start_hour=9.0,
    ...     shore_w=900.0, shore_nights=(0,), generator_w=0.0, generator_hours=0.0,
    ...     charge_limit_w=1000.0, charge_efficiency=0.97, discharge_efficiency=1.0,
    ...     chemistry="lifepo4", days=2))
    >>> balance_error_wh(week) < 1e-6 * week.throughput_wh
    True
    """
    in_wh = sum(week.charged_wh.values())
    battery = in_wh - week.discharged_wh - week.lost_wh - week.stored_wh
    loads = sum(week.direct_wh.values()) + week.discharged_wh + week.unmet_wh - week.load_wh
    sun = week.direct_wh["solar"] + week.charged_wh["solar"] + week.spilled_wh - week.solar_wh
    return max(abs(battery), abs(loads), abs(sun))


def _offers_w(inputs: WeekInputs) -> list[tuple[float, float, float, float]]:
    """Power that each source offers in each hour, in the order of SOURCES."""
    drive = _daily_shares(inputs.drive_start_hour, inputs.drive_hours)
    generator = _daily_shares(inputs.generator_start_hour, inputs.generator_hours)
    hours = inputs.days * HOURS_PER_DAY
    shore = [0.0] * hours
    for night in inputs.shore_nights:
        start = night * HOURS_PER_DAY + inputs.shore_start_hour
        for hour in range(int(start), min(hours, int(start + inputs.shore_hours) + 1)):
            shore[hour] = min(shore[hour] + _overlap(hour, start, inputs.shore_hours), 1.0)
    unplugged = [
        _offer(
            inputs.solar_w[hour],
            inputs.alternator_w * drive[hour],
            0.0,
            inputs.generator_w * generator[hour],
        )
        for hour in range(HOURS_PER_DAY)
    ]
    offers = unplugged * inputs.days
    for hour, share in enumerate(shore):
        if share:
            sun_w, alternator_w, _, generator_w = offers[hour]
            offers[hour] = _offer(sun_w, alternator_w, inputs.shore_w * share, generator_w)
    return offers


def _offer(*of: float) -> tuple[float, float, float, float]:
    """What the sources offer in an hour; one object where that is nothing."""
    return of if any(of) else NOTHING  # type: ignore[return-value]  # one of each source


def _daily_shares(start_hour: float, length_h: float) -> tuple[float, ...]:
    """Share of each hour of the day that a daily window covers; it may pass midnight."""
    if not length_h:
        return (0.0,) * HOURS_PER_DAY
    return tuple(
        _overlap(hour, start_hour, length_h) + _overlap(hour + HOURS_PER_DAY, start_hour, length_h)
        for hour in range(HOURS_PER_DAY)
    )


def _overlap(hour: int, start_hour: float, length_h: float) -> float:
    return max(min(hour + 1.0, start_hour + length_h) - max(float(hour), start_hour), 0.0)


def _check(inputs: WeekInputs) -> None:
    chemistry_of(inputs.chemistry)
    guard.positive(
        capacity_wh=inputs.capacity_wh,
        charge_efficiency=inputs.charge_efficiency,
        discharge_efficiency=inputs.discharge_efficiency,
        days=inputs.days,
    )
    guard.fraction(
        usable_floor=inputs.usable_floor,
        start_state=inputs.start_state,
        charge_efficiency=inputs.charge_efficiency,
        discharge_efficiency=inputs.discharge_efficiency,
        shore_share=inputs.shore_share,
        generator_share=inputs.generator_share,
    )
    guard.not_negative(
        alternator_w=inputs.alternator_w,
        shore_w=inputs.shore_w,
        generator_w=inputs.generator_w,
        charge_limit_w=inputs.charge_limit_w,
    )
    if not inputs.charger_limit_w >= 0:
        raise ValueError(f"charger_limit_w must be zero or more, got {inputs.charger_limit_w!r}")
    for name, profile in (("load_w", inputs.load_w), ("solar_w", inputs.solar_w)):
        if len(profile) != HOURS_PER_DAY:
            raise ValueError(f"{name} must hold {HOURS_PER_DAY} hours, got {len(profile)}")
        guard.not_negative(**{f"{name}_{hour}": value for hour, value in enumerate(profile)})
    for name in ("drive", "shore", "generator"):
        start_hour: float = getattr(inputs, f"{name}_start_hour")
        length_h: float = getattr(inputs, f"{name}_hours")
        if not (0 <= start_hour < HOURS_PER_DAY and 0 <= length_h <= HOURS_PER_DAY):
            raise ValueError(
                f"{name}_start_hour must be from 0 to below 24 and {name}_hours from 0 to 24, "
                f"got {start_hour!r} and {length_h!r}"
            )
    for night in inputs.shore_nights:
        if not 0 <= night < inputs.days:
            raise ValueError(
                f"shore_nights must be days from 0 to {inputs.days - 1}, got {night!r}"
            )
