"""What must hold of an appliance, and of the figures that the shop plans with."""

from engine.model.buses import DC
from engine.standards import ampacity_ac, ampacity_dc, interrupt
from engine.standards.overcurrent import FUSE_PLACE_SHEATHED_M, FUSE_PLACE_VEHICLE_M
from guide.limit_rules import Limit

HOURS_A_DAY = 24
LONGEST_LINK_M = min(FUSE_PLACE_SHEATHED_M / 2, FUSE_PLACE_VEHICLE_M)
"""Two of them in a row keep the law for boats; one keeps the practice of vehicles."""
MOST_CRANKING_A = interrupt.E11_CRANKING_ROWS_A[-1][0]

APPLIANCE: tuple[Limit, ...] = (
    Limit(
        "running",
        lambda each: 0 < each.running <= 20_000,
        "no appliance in a rig draws that",
        "Look at the unit: W and kW are easily mixed up.",
    ),
    Limit(
        "hours",
        lambda each: each.hours <= HOURS_A_DAY,
        "a day has 24 hours",
        "Write hours a day, such as 3 h.",
    ),
    Limit(
        "power_factor",
        lambda each: each.power_factor > 0.2,
        "that is no power factor",
        "Write a share such as 95 %.",
    ),
    Limit(
        "hour_of_day",
        lambda each: 0 <= each.hour_of_day < HOURS_A_DAY,
        "a day has the hours 0 to 23",
        "Write the hour in which it mostly runs.",
    ),
    Limit(
        "locked_rotor",
        lambda each: each.locked_rotor == 0 or each.locked_rotor * each.volts > each.running,
        "a motor starts with more than it runs with",
        "Look at “locked_rotor”, “running” and “volts”; 0 A stands for no motor.",
    ),
    Limit(
        "soft_startable",
        lambda each: each.locked_rotor > 0 or not each.soft_startable,
        "without a motor there is nothing to start softly",
        "Write false, or its locked-rotor current.",
    ),
    Limit(
        "soft_startable",
        lambda each: each.bus is not DC or not each.soft_startable,
        "soft starters are for motors on AC",
        "Write false, or the volts of its motor.",
    ),
    Limit(
        "start_time",
        lambda each: (each.locked_rotor > 0) == (each.start_time > 0),
        "a start current and a start time go together",
        "Write both, or 0 A and 0 s.",
    ),
    Limit(
        "at_once",
        lambda each: not (each.heavy and each.at_once),
        "what is heavy is counted by the question, not taken to run along",
        "Write at_once: false, or heavy: false.",
    ),
)

PLANNING: tuple[Limit, ...] = (
    Limit(
        "load_margin",
        lambda each: 1.0 <= each.load_margin <= 2.0,
        "a margin lies between 1 and 2",
        "Write a factor such as 1.1.",
    ),
    Limit(
        "fuse_factor",
        lambda each: 1.0 <= each.fuse_factor <= 2.0,
        "a factor lies between 1 and 2",
        "Write a factor such as 1.25.",
    ),
    Limit(
        "drop_limit",
        lambda each: 0 < each.drop_limit <= 0.1,
        "a limit of voltage drop lies between 0 and 10 %",
        "Write a share such as 3 %.",
    ),
    Limit(
        "starter_drop",
        lambda each: 0 < each.starter_drop <= 0.1,
        "a limit of voltage drop lies between 0 and 10 %",
        "Write a share such as 6 %.",
    ),
    Limit(
        "cable_insulation_c",
        lambda each: each.cable_insulation_c in ampacity_dc.INSULATIONS_C,
        "the table of DC ampacities has no such column",
        f"Use one of: {', '.join(str(each) for each in ampacity_dc.INSULATIONS_C)}.",
    ),
    Limit(
        "ac_insulation_c",
        lambda each: each.ac_insulation_c in ampacity_ac.INSULATIONS_C,
        "the table of AC ampacities has no such column",
        f"Use one of: {', '.join(str(each) for each in ampacity_ac.INSULATIONS_C)}.",
    ),
    Limit(
        "ac_terminal_c",
        lambda each: each.ac_terminal_c in ampacity_ac.INSULATIONS_C,
        "the table of AC ampacities has no such column",
        f"Use one of: {', '.join(str(each) for each in ampacity_ac.INSULATIONS_C)}.",
    ),
    Limit(
        "most_cable_runs",
        lambda each: each.most_cable_runs >= 1,
        "no cable could be planned",
        "Write 1 or more.",
    ),
    Limit(
        "starter_cranking",
        lambda each: 0 < each.starter_cranking <= MOST_CRANKING_A,
        f"the table of fuses by cranking current ends at {MOST_CRANKING_A:.0f} A",
        "Write the cold cranking current of a usual starter battery, such as 800 A.",
    ),
    Limit(
        "link_m",
        lambda each: 0 < each.link_m <= LONGEST_LINK_M,
        "two short pieces may lie between busbars and fuse, 40 in together in a sheath",
        "Write a length such as 40 cm.",
    ),
    Limit(
        "ageing",
        lambda each: 0.5 <= each.ageing <= 1,
        "it is the share that is left with age",
        "Write a share such as 90 %.",
    ),
    Limit(
        "allowed_rise_k",
        lambda each: 0 < each.allowed_rise_k <= 40,
        "no air stays that cool, or it gets too hot",
        "Write degrees such as 10.",
    ),
    Limit(
        "fan_factor",
        lambda each: 1.0 <= each.fan_factor <= 3.0,
        "a factor lies between 1 and 3",
        "Write a factor such as 1.4.",
    ),
    Limit(
        "soft_start_reduction",
        lambda each: each.soft_start_reduction < 1,
        "nothing would be left of the start",
        "Write a share such as 50 %.",
    ),
)
