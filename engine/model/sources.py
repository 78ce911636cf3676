"""What refills the bank and feeds the loads: shore, generator, alternator, sun, and the week."""

from dataclasses import dataclass

from engine.sizing.energy import Week


@dataclass(frozen=True, slots=True)
class ShorePlan:
    """The shore service as it is planned on, each leg for itself.

    post_a : breaker at the post, never above the rig's own cord [A]
    breaker_a : the smaller of that and the breaker ahead of the unit [A]
    legs : legs through the unit that carry currents of their own; 1 through an adapter
    input_limit_a : limit of each of those legs [A]
    setting_a : what to set on each unit, for each of its hot wires: less where several share a leg
        [A]
    light_a : what runs along on the busier leg [A]
    load_a : everything that runs at once, on the busier leg [A]
    charge_a : charge current that fits beside what runs along [A]
    charger_ac_a : what that takes of each leg that a charger sits on [A]
    left_a : what is then left for loads on that leg [A]
    missing_a : what everything at once asks above the limit, on the busier leg [A]
    hours : from empty to full; None where nothing is left for charging [h]
    """

    post_a: float
    breaker_a: float
    legs: int
    input_limit_a: float
    setting_a: float
    light_a: float
    load_a: float
    charge_a: float
    charger_ac_a: float
    left_a: float
    missing_a: float
    hours: float | None

    @property
    def overloaded(self) -> bool:
        """Whether everything at once asks more than the limit."""
        return self.missing_a > 0


@dataclass(frozen=True, slots=True)
class GeneratorPlan:
    """What a generator does where it stands.

    rated_w, derated_w : on its plate, and at this height and heat [W]
    legs : legs of the rig's cord that it feeds through the unit
    input_limit_a : limit of each of those legs while it runs [A]
    setting_a : what to set on each unit, for each of its hot wires [A]
    start_limit_va : what it gives for the start of a motor [VA]
    light_va : what runs along meanwhile [VA]
    light_a : the same on the busier leg [A]
    starter : the load that is hardest to start; "" where none surges
    motor_va, start_va : that load as it runs and as it starts [VA]
    starts_alone, starts_supported : by itself; with what the unit adds from the battery
    support_start_va : what the unit can add for that time; 0 where it cannot add [VA]
    charge_a : largest charge current with which that load still starts and runs; with no such
        load, beside what runs along [A]
    charge_free_a : charge current with that load off [A]
    battery_adds_w : what the battery adds while everything at once runs [W]
    short_w : what is missing then, where the unit cannot add it [W]
    hours : from empty to full with that load off; None where nothing is left for charging [h]
    """

    rated_w: float
    derated_w: float
    legs: int
    input_limit_a: float
    setting_a: float
    start_limit_va: float
    light_va: float
    light_a: float
    starter: str
    motor_va: float
    start_va: float
    support_start_va: float
    starts_alone: bool
    starts_supported: bool
    charge_a: float
    charge_free_a: float
    battery_adds_w: float
    short_w: float
    hours: float | None


@dataclass(frozen=True, slots=True)
class ChargingPlan:
    """What the sources give the bank, the voltages to set, and the week that follows.

    absorption_v, float_v : to set, for a battery at 25 °C [V]
    compensation_v_per_k : to set, for each degree above; 0 where the kind of battery wants none
    absorption_here_v : absorption that this makes of it in the heat or cold of the place [V]
    alternator_a : charge current to set on the DC-DC charger; 0 without one [A]
    solar_a : charge current to set on the solar controller; 0 without one [A]
    alternator_hours : driving from empty to full; None without one [h]
    solar_days : days of sun from empty to full with the loads running; None where it never fills
    away : the week with no hookup, starting full
    hooked_up : the same with a night on shore after each stretch of days between charges
    """

    shore: ShorePlan
    generator: GeneratorPlan | None
    absorption_v: float
    float_v: float
    compensation_v_per_k: float
    absorption_here_v: float
    alternator_a: float
    solar_a: float
    alternator_hours: float | None
    solar_daily_wh: float
    solar_days: float | None
    away: Week
    hooked_up: Week

    @property
    def week(self) -> Week:
        """The week away from shore, which decides how long one can stay."""
        return self.away
