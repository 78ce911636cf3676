"""Faults that change nothing that anybody could see, each with the reason."""

from tests.mutation.faults import Fault

SAME: dict[tuple[str, str, str], str] = {
    ("engine/sizing/charging.py", "if hours <= needed:", "LtE -> Lt"): (
        "at the corner itself the straight part and the falling one give the same state"
    ),
    ("engine/sizing/charging.py", "if rate_per_h <= taken.last_per_h:", "LtE -> Lt"): (
        "at just the last rate nothing falls, and the straight parts have that rate"
    ),
    ("engine/sizing/charging.py", "if rate_per_h >= taken.factor_per_h:", "GtE -> Gt"): (
        "at just that rate the formula below gives the same corner, 0"
    ),
    ("engine/sizing/energy.py", "if surplus > 0.0 and state < 1.0:", "And -> Or"): (
        "without a surplus, or in a full battery, charging adds nothing"
    ),
    ("engine/advice/plan/branches.py", "kept=asked.kept_a > 0,", "0 -> 1"): (
        "what a fuse at a battery must stop is none, 0 A, or hundreds of amperes"
    ),
    (
        "engine/advice/plan/dc_shelf.py",
        "bearing = _able(guide, run.highest_v, 0.0).values()",
        "0.0 -> 1.0",
    ): "no fuse stops less than 1 A",
    (
        "engine/advice/plan/kept.py",
        "bank = sizing.ExistingBank(have.chemistry, have.age_years, system_v, True, 0.0, "
        "max(1, strings))",
        "0.0 -> 1.0",
    ): "whatever they carry is enough where no current is asked for",
    ("engine/advice/plan/bank.py", "if on.step_w > 0:", "0 -> 1"): (
        "no motor starts with less than a watt beyond what it runs on"
    ),
    (
        "engine/advice/plan/house.py",
        "return needs.house_v > 0 or any(load.bus is DC for load in needs.loads)",
        "0 -> 1",
    ): "a rig's own system has 12 V, or there is none",
    (
        "engine/advice/plan/bank.py",
        "for_energy = self.hold_wh / stock.string_wh if stock.string_wh else 0.0",
        "0.0 -> 1.0",
    ): "one string is the least in any case",
    (
        "engine/sizing/ampacity.py",
        "if ambient_c <= ampacity_dc.AMBIENT_C:",
        "LtE -> Lt",
    ): "at just the temperature of the table the formula below gives 1, too",
    ("engine/sizing/energy.py", "state = left if left > lowest else lowest", "Gt -> GtE"): (
        "where both are the same it does not matter which is taken"
    ),
    ("engine/sizing/energy.py", "given = wanted if wanted < room else room", "Lt -> LtE"): (
        "where both are the same it does not matter which is taken"
    ),
    (
        "engine/sizing/sun.py",
        "return degrees(asin(_clip(level.cosine(radians(15.0 * (solar_hour - 12.0))))))",
        "Sub -> Add",
    ): "a day later the sun stands where it stood",
    (
        "engine/advice/plan/charging.py",
        'week_of = kept("answer", 64)(energy.simulate_week)',
        "64 -> 65",
    ): "how many weeks are kept changes none of them",
    ("engine/advice/plan/begun.py", '_begins_of = kept("answer", 8)(_Begins)', "8 -> 9"): (
        "how many are kept changes none of them"
    ),
    (
        "engine/advice/plan/bank.py",
        "strings, string_ah, usable_wh = 1, 0.0, 0.0",
        "0.0 -> 1.0",
    ): "the loop below it runs at least once, and sets both",
    (
        "engine/advice/plan/parts_on_ac.py",
        "depth = plain(depth_m * 1000)",
        "1000 -> 1001",
    ): "a thousandth is lost where whole millimeters are told",
    (
        "engine/advice/plan/shore.py",
        "light_va = sum(as_running(load, 0.0).apparent_va for load in along)",
        "0.0 -> 1.0",
    ): "a soft starter changes nothing of what a load draws while it runs",
}
"""By the file, the line as it stands there, and the change in it."""


def why_same(fault: Fault) -> str:
    """Why a fault changes nothing; "" where it is not known to."""
    return SAME.get((fault.file, fault.text, fault.change), "")
