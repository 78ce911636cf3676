"""Workings of the bank: energy of the days away, what a string holds, how many strings."""

from engine.advice.plan.bank import LEAD_ACID_RATE_H, draws_of
from engine.advice.working_step import ENERGY, FITTED, PRACTICE, Number, step, sum_of
from engine.model.buses import DC
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design, Working
from engine.sizing.battery import cold_capacity_factor
from engine.sizing.loads import daily_energy_wh
from engine.sizing.weight import share_of_payload

MAKER = "maker's limit for one battery"


def bank_steps(guide: Guide, needs: Needs, design: Design) -> list[Working]:
    """Every step from the loads of a day to the bank."""
    return [
        *_energy(needs, design),
        *_string(guide, needs, design),
        *_current(guide, design),
        *_strings(design),
        *_weight(needs, design),
    ]


def _energy(needs: Needs, design: Design) -> list[Working]:
    need = design.bank.energy
    on_ac = [load for load in needs.loads if load.bus is not DC]
    on_dc = [load for load in needs.loads if load.bus is DC]
    steps = []
    for title, loads, total_wh in (
        ("Loads on AC, over the days between charges", on_ac, need.ac_wh),
        ("Loads on 12 V, over the days between charges", on_dc, need.dc_wh),
    ):
        daily = [
            load.count * daily_energy_wh(load.running_w, load.hours, load.duty) for load in loads
        ]
        pattern, numbers = sum_of(daily, "Wh")
        numbers["days"] = (needs.nights, "")
        efficiency = design.bank.house_efficiency if loads is on_dc else 1.0
        if efficiency < 1:
            pattern, numbers["e"] = f"({pattern}) / {{e}}", (efficiency, "")
        steps.append(
            step(
                "battery",
                title,
                "E = n · Σ(count · P · hours · duty)",
                "{days} * (" + pattern + ")",
                numbers,
                (total_wh, "Wh"),
                ENERGY,
            )
        )
    steps.append(
        step(
            "battery",
            "Energy at the battery",
            "E = E_ac + conversion loss + idle + E_dc",
            "{a} + {c} + {i} + {d}",
            {
                "a": (need.ac_wh, "Wh"),
                "c": (need.conversion_wh, "Wh"),
                "i": (need.idle_wh, "Wh"),
                "d": (need.dc_wh, "Wh"),
            },
            (need.total_wh, "Wh"),
            f"{ENERGY}; {FITTED}",
        )
    )
    return steps


def _string(guide: Guide, needs: Needs, design: Design) -> list[Working]:
    bank, battery = design.bank, design.bank.battery
    steps = []
    if battery.kind.family.by_peukert:
        draws = draws_of(needs, bank.energy, bank.house_efficiency)
        numbers: dict[str, Number] = {}
        for index, (watts, energy_wh) in enumerate(draws):
            numbers |= {f"p{index}": (watts, "W"), f"e{index}": (energy_wh, "Wh")}
        pattern = " + ".join(f"{{p{index}}} * {{e{index}}}" for index in range(len(draws)))
        numbers["e"] = (sum(energy_wh for _, energy_wh in draws), "Wh")
        numbers["u"] = (design.candidate.inverter.dc_nominal, "V")
        steps = [
            step(
                "battery",
                "Current at which the bank is mostly emptied, weighted by energy",
                "I = Σ(P_i · E_i) / (ΣE_i · U)",
                f"({pattern}) / ({{e}} * {{u}})",
                numbers,
                (bank.mean_a, "A"),
                PRACTICE,
            ),
            step(
                "battery",
                f"Capacity at each string's share of it (rated for {LEAD_ACID_RATE_H:.0f} hours)",
                "C = min(C_20, I · H · (C_20 / (I · H))^k)",
                "min({c}, {i} * {h} * ({c} / ({i} * {h}))**{k})",
                {
                    "c": (battery.capacity, "Ah"),
                    "i": (bank.mean_a / bank.for_energy, "A"),
                    "h": (LEAD_ACID_RATE_H, "h"),
                    "k": (battery.peukert, ""),
                },
                (bank.string_ah, "Ah"),
                "Peukert (from memory), on the 20-hour basis; maker's exponent",
            ),
        ]
    cold = cold_capacity_factor(battery.chemistry, needs.ambient_c)
    return [
        *steps,
        step(
            "battery",
            "What one string gives",
            "E_1 = U · C · depth · cold · ageing",
            "{v} * {c} * {u} * {t} * {k}",
            {
                "v": (bank.nominal_v, "V"),
                "c": (bank.string_ah, "Ah"),
                "u": (battery.usable, ""),
                "t": (cold, ""),
                "k": (guide.planning.ageing, ""),
            },
            (bank.usable_each_wh, "Wh"),
            f"maker's usable share; cold: sellers' claims (secondary); ageing: {PRACTICE}",
        ),
    ]


def _current(guide: Guide, design: Design) -> list[Working]:
    bank, curve, units = design.bank, design.supply.curve, design.candidate.units
    running_w = design.supply.total_w * guide.planning.load_margin / units
    dc_w = bank.house_w
    start_w = design.supply.total_worst_va / units
    pattern = "({n} * ({p} + {i} + {a} * {p} + {b} * {p}**2) + {d}) / {u}"
    shared = {
        "n": (float(units), ""),
        "i": (curve.idle_w, "W"),
        "a": (curve.proportional, ""),
        "b": (curve.quadratic_per_w, "1/W"),
        "d": (dc_w, "W"),
        "u": (design.dc.low_v, "V"),
    }
    return [
        step(
            "battery",
            "Battery current for what runs at once, with margin",
            "I = (units · (P + idle + a · P + b · P²) + P_dc) / U_low",
            pattern,
            {**shared, "p": (running_w, "W")},
            (bank.continuous_a, "A"),
            FITTED,
        ),
        step(
            "battery",
            "Battery current at the hardest start",
            "the same at the volt-amperes of the start, taken as watts",
            pattern,
            {**shared, "p": (start_w, "W")},
            (bank.surge_a, "A"),
            f"{FITTED}; {PRACTICE} for volt-amperes as watts, which errs high",
        ),
    ]


def _strings(design: Design) -> list[Working]:
    bank, battery = design.bank, design.bank.battery
    held = bank.surge_s <= battery.peak_time
    bears_a = max(battery.peak_current if held else 0.0, battery.continuous_current)

    def count(name: str, need: tuple[float, str], each: float, found: int, source: str) -> Working:
        return step(
            "battery",
            name,
            "n = ⌈need / what one gives⌉, at least 1",
            "max(1, -(-({e} / {o} - 1e-9) // 1))",
            {"e": need, "o": (each, need[1])},
            (float(found), ""),
            source,
        )

    for_energy = count(
        "Strings for the energy", (bank.need_wh, "Wh"), bank.usable_each_wh, bank.for_energy, ENERGY
    )
    if battery.kind.family.by_peukert:
        # Each string gives more the smaller its share, so the count is found by trying.
        for_energy = step(
            "battery",
            "What the fewest strings give that hold the energy",
            "E = n · E_1(n) ≥ E_need",
            "{n} * {e}",
            {"n": (bank.for_energy, ""), "e": (bank.usable_each_wh, "Wh")},
            (bank.for_energy * bank.usable_each_wh, "Wh"),
            ENERGY,
        )
    return [
        for_energy,
        count(
            "Strings for the current",
            (bank.continuous_a, "A"),
            battery.continuous_current,
            bank.for_current,
            MAKER,
        ),
        count("Strings for the start", (bank.surge_a, "A"), bears_a, bank.for_surge, MAKER),
        Working(
            "battery",
            "Strings in parallel",
            "the most of: for energy, for current, for starts, for the voltage under load",
            f"most of {bank.for_energy}, {bank.for_current}, {bank.for_surge}, {bank.for_voltage}",
            f"max({bank.for_energy}, {bank.for_current}, {bank.for_surge}, {bank.for_voltage})",
            float(bank.parallel),
            "",
            "each limit by itself",
        ),
    ]


def _weight(needs: Needs, design: Design) -> list[Working]:
    if needs.payload_kg is None or needs.payload_kg <= 0:
        return []
    return [
        step(
            "battery",
            "Share of what the rig may still take on",
            "x = m / m_payload",
            "{m} / {p} * 100",
            {"m": (design.mass_kg, "kg"), "p": (needs.payload_kg, "kg")},
            (share_of_payload(design.mass_kg, needs.payload_kg) * 100, "%"),
            "the articles' data; your figure",
        )
    ]
