"""Faults that change nothing that anybody could see, each with the reason."""

from tests.mutation.faults import Fault

KEPT = "how many are kept changes none of them"
EITHER = "where both are the same it does not matter which is taken"
FULL = "in a full battery charging adds nothing"
STOPS = "what a fuse at a battery must stop is none, 0 A, or hundreds of amperes"
NEVER_JUST = "no float near 1 differs from 1 by just the float of that share"
WIRES = "the limits of all hot wires let no more through than the generator gives"
BLOCK = "a block of the 12 V class has four cells or six"

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
    ("engine/advice/plan/branches.py", "kept=asked.kept_a > 0,", "0 -> 1"): STOPS,
    ("engine/advice/plan/branches.py", "fused=asked.interrupt_a > 0,", "0 -> 1"): STOPS,
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
    (
        "engine/advice/plan/kept.py",
        "bank = sizing.ExistingBank(have.chemistry, have.age_years, system_v, True, 0.0, "
        "max(1, strings))",
        "1 -> 2",
    ): "however many they are, they are enough where no current is asked for",
    (
        "engine/advice/plan/kept.py",
        "if round(blocks) < 1 or abs(blocks / round(blocks) - 1) > CLASS_TOLERANCE:",
        "Gt -> GtE",
    ): NEVER_JUST,
    (
        "engine/advice/plan/kept.py",
        "and abs(each.nominal / theirs.nominal - 1) <= EQUAL_CAPACITY",
        "LtE -> Lt",
    ): NEVER_JUST,
    (
        "engine/advice/plan/kept.py",
        "and abs(each.capacity / theirs.capacity - 1) <= EQUAL_CAPACITY",
        "LtE -> Lt",
    ): NEVER_JUST,
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
    ("engine/sizing/energy.py", "state = left if left > lowest else lowest", "Gt -> GtE"): EITHER,
    ("engine/sizing/energy.py", "given = wanted if wanted < room else room", "Lt -> LtE"): EITHER,
    (
        "engine/sizing/sun.py",
        "return degrees(asin(_clip(level.cosine(radians(15.0 * (solar_hour - 12.0))))))",
        "Sub -> Add",
    ): "a day later the sun stands where it stood",
    (
        "engine/advice/plan/charging.py",
        'week_of = kept("answer", 64)(energy.simulate_week)',
        "64 -> 65",
    ): KEPT,
    ("engine/advice/plan/begun.py", '_begins_of = kept("answer", 8)(_Begins)', "8 -> 9"): KEPT,
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
    (
        "engine/advice/plan/dc_shelf.py",
        'choose_dc_cable = kept("never", 1024)(conductors.choose_dc_cable)',
        "1024 -> 1025",
    ): KEPT,
    (
        "engine/advice/plan/supply.py",
        'low_battery_v = kept("never", 64)(sizing.low_battery_v)',
        "64 -> 65",
    ): KEPT,
    (
        "engine/advice/plan/supply.py",
        'nameplate_w = kept("never", 256)(sizing.nameplate_w)',
        "256 -> 257",
    ): KEPT,
    (
        "engine/advice/judge/consider.py",
        "(each.layout, each.inverter.id): unit_checks(needs, each) "
        "for each in candidates(guide, 0)",
        "0 -> 1",
    ): "with a soft starter a unit has the same checks of its own, under the same key",
    ("engine/sizing/energy.py", "fed = available if available < wanted else wanted", "Lt -> LtE"): (
        EITHER
    ),
    (
        "engine/sizing/energy.py",
        "share = available if available < taken else taken",
        "Lt -> LtE",
    ): EITHER,
    ("engine/sizing/energy.py", "lowest = floor if state > floor else state", "Gt -> GtE"): EITHER,
    (
        "engine/sizing/energy.py",
        "above = state - floor if state > floor else 0.0",
        "Gt -> GtE",
    ): "at the floor itself nothing is above it, either way",
    ("engine/sizing/energy.py", "if surplus > 0.0 and state < 1.0:", "Lt -> LtE"): FULL,
    ("engine/sizing/energy.py", "if surplus > 0.0 and state < 1.0:", "1.0 -> 1.1"): FULL,
    (
        "engine/sizing/energy.py",
        "if given < wanted and wanted - given > 1e-9 * wanted:",
        "Lt -> LtE",
    ): "where all that was wanted is given nothing is left over",
    ("engine/sizing/energy.py", "if wanted > 0.0:", "Gt -> GtE"): (
        "where nothing is wanted nothing is taken"
    ),
    ("engine/sizing/inverter.py", "if determinant > 1e-12 * p2 * p4:", "Gt -> GtE"): (
        "no sums of measured points fall on just the allowance for rounding"
    ),
    ("engine/sizing/charging.py", "if end > start:", "Gt -> GtE"): (
        "a stretch without length takes no time"
    ),
    (
        "engine/advice/judge/best.py",
        "if self._best is None or order < self._best[0]:",
        "Lt -> LtE",
    ): "no two candidates have the same order: unit, layout and soft starters are in it",
    (
        "engine/advice/plan/begun.py",
        'return replace(needs, aim="", reserve=1.0, budget=None, payload_kg=None, assumed=())',
        "1.0 -> 1.1",
    ): "whatever stands for the reserve there, it is the same for all, and nothing reads it",
    ("engine/sizing/charge_settings.py", "if cells < 1:", "Lt -> LtE"): BLOCK,
    ("engine/sizing/charge_settings.py", "if cells < 1:", "1 -> 2"): BLOCK,
    ("engine/sizing/charging.py", "if state < falls:", "Lt -> LtE"): (
        "at the corner itself nothing is left of the straight part"
    ),
    (
        "engine/advice/plan/parts.py",
        "if cold or compensation_v_per_k(1, bank.battery.chemistry):",
        "1 -> 2",
    ): "it is asked only whether a cell has any correction, and two have it where one has",
    (
        "engine/advice/judge/consider.py",
        "worst = -min([check.margin for check in misses], default=0.0)",
        "0.0 -> 1.0",
    ): "what misses nothing has it all alike, and stands before what misses something",
    (
        "engine/needs.py",
        "ratio = item.watts.value / load.running_w if load.running_w else 1.0",
        "1.0 -> 1.1",
    ): "no appliance runs on nothing, and what is none has no motor",
    (
        "engine/advice/plan/supply.py",
        "if load_a > STANDARD_RATINGS_A[-1]:  # far beyond any unit; the checks say so",
        "Gt -> GtE",
    ): "the breaker for just the largest rating is that rating",
    ("engine/advice/plan/supply.py", "default=0.0,", "0.0 -> 1.0"): (
        "no soft starter is made for less than 1 A"
    ),
    (
        "engine/advice/plan/parts.py",
        "if dc.battery_fuse and dc.battery_holder:",
        "And -> Or",
    ): "a fuse at each battery comes with its holder, or there is none of either",
    ("engine/advice/plan/charging.py", "return 0.0, 0.0", "0.0 -> 1.0"): (
        "power for no hours, or no power for an hour, is no energy"
    ),
    (
        "engine/advice/plan/charging.py",
        "_charger_share(design, charger, generator.legs if generator else 1),",
        "1 -> 2",
    ): "without a generator it is a share of nothing",
    (
        "engine/advice/plan/charging.py",
        "return 1.0 + need.conversion_wh / need.ac_wh if need.ac_wh else 1.0",
        "1.0 -> 1.1",
    ): "where no energy is used on AC, it is a share of nothing",
    (
        "engine/advice/plan/bank.py",
        "if best is None or cost < best[0]:",
        "Lt -> LtE",
    ): "no two batteries cost the same: their place is in it",
    (
        "engine/advice/plan/bank.py",
        "typical_ac_w=on.typical_ac_w / units if any(on.ac_wh) else 1.0,",
        "1.0 -> 1.1",
    ): "where no energy is used on AC, it is a share of nothing",
    (
        "engine/advice/plan/shore.py",
        "by_power = (gives.derated_w / volts, running_va / volts, 1)",
        "Div -> Mult",
    ): WIRES,
    (
        "engine/advice/plan/shore.py",
        "by_power = (gives.derated_w / volts, running_va / volts, 1)",
        "1 -> 2",
    ): WIRES,
    ("engine/conversation.py", "MOST_OUTCOMES_KEPT = 4000", "4000 -> 4001"): KEPT,
    ("engine/conversation.py", "if len(self._outcomes) >= self.keep:", "GtE -> Gt"): KEPT,
    ("engine/conversation.py", "if len(self._bests) >= self.keep:", "GtE -> Gt"): KEPT,
    (
        "engine/conversation.py",
        "if self._needed is not None and self._needed[0] is answers:",
        "0 -> 1",
    ): "what is not found there is worked out once more",
    (
        "engine/conversation.py",
        "if any(question.id in concrete.values for question in self._beside_path):",
        "any -> all",
    ): "both ways are of all these answers; they differ in what is kept",
    (
        "engine/advice/judge/works_when.py",
        "if needs.service.amps > ADAPTER_A:",
        "Gt -> GtE",
    ): "a pedestal of the rig's own service is among them already",
    (
        "engine/advice/judge/best.py",
        "elif way.run is None and way.banked[0] is not None and not self._cheaper:",
        "0 -> 1",
    ): "without a bank a way goes on only where a cheaper bank may be looked for",
    (
        "engine/conversation.py",
        "if best is None or best.design is None:",
        "Is -> IsNot",
    ): "weighing every candidate tells the same of what is recommended, which has a design",
    (
        "engine/advice/judge/cautions.py",
        "return _when(0 < bank.kept == bank.count)",
        "Lt -> LtE",
    ): "no bank is without batteries",
}
"""By the file, the line as it stands there, and the change in it."""


def why_same(fault: Fault) -> str:
    """Why a fault changes nothing; "" where it is not known to."""
    return SAME.get((fault.file, fault.text, fault.change), "")
