"""Designs damaged in one respect each, and the words in which the re-check must tell it."""

import copy
from collections.abc import Callable
from typing import Any, NamedTuple

COACH = "rig=coach-50 scope=whole heavy=1 biggest=aircon-15k softstart=no v240=no bank=24V"
PAIR = "rig=van scope=whole heavy=3 biggest=cooking gen=2000W solar=300W alt=180A"
TIGHT = f"{COACH} gap=1in"
AIRCON = "rig=rig-30 scope=whole heavy=1 biggest=aircon-15k softstart=no bank=12V"
FLOODED = "rig=rig-30 scope=whole heavy=1 biggest=cooking bank=48V chemistry=flooded nights=2"
TWO = "rig=coach-50 scope=whole heavy=2 biggest=aircon-13k5 softstart=no v240=no"
AGM = "rig=van scope=whole heavy=1 biggest=cooking chemistry=agm"
VAN = "rig=van scope=whole heavy=1 biggest=cooking bank=12V"
KEPT = "rig=van scope=some heavy=0 have=2x200Ah-12V-lifepo4-1y"
JACKS = (
    "rig=rig-30 scope=whole heavy=1 biggest=cooking bank=24V house=none "
    "loads=fridge-12v,microwave,slide-motor"
)
TOW = "rig=rig-30 scope=whole heavy=1 biggest=cooking bank=12V chemistry=agm"

Data = dict[str, Any]
Change = Callable[[Data], Data]


class Damage(NamedTuple):
    """What is damaged: the answers, the change of their data, and words of the sentence wanted."""

    asked: str
    change: Change
    told: str


def put(*path: Any, value: Any) -> Change:
    """One figure changed."""

    def change(data: Data) -> Data:
        spoilt = copy.deepcopy(data)
        at = spoilt
        for key in path[:-1]:
            at = at[key]
        at[path[-1]] = value
        return spoilt

    return change


def found(*path: Any, value: Any) -> Change:
    """One figure of the recommendation changed."""
    return put("recommendation", *path, value=value)


def branch(name: str, key: str, value: Any) -> Change:
    """One figure of a branch changed."""

    def change(data: Data) -> Data:
        spoilt = copy.deepcopy(data)
        (at,) = [each for each in spoilt["recommendation"]["dc_branches"] if each["id"] == name]
        at[key] = value
        return spoilt

    return change


def piece(label: str, key: str, value: Any) -> Change:
    """One figure of a short piece on the battery side changed."""

    def change(data: Data) -> Data:
        spoilt = copy.deepcopy(data)
        pieces = spoilt["recommendation"]["dc_pieces"]
        at = next(each for each in pieces if each["label"] == label)
        at[key] = value
        return spoilt

    return change


def without(group: str) -> Change:
    """A use taken off the parts list, and its article where that has no other."""

    def change(data: Data) -> Data:
        spoilt = copy.deepcopy(data)
        for each in spoilt["parts"]:
            each["uses"] = [use for use in each["uses"] if use["group"] != group]
        spoilt["parts"] = [each for each in spoilt["parts"] if each["uses"]]
        return spoilt

    return change


def line(group: str, key: str, value: Any) -> Change:
    """The first article of a use changed: another "product" for it, its "quantity", the "price"."""

    def change(data: Data) -> Data:
        spoilt = copy.deepcopy(data)
        at, use = next(
            (each, use) for each in spoilt["parts"] for use in each["uses"] if use["group"] == group
        )
        if key == "product":
            at["uses"].remove(use)
            spoilt["parts"].append({**at, "product": value, "uses": [use]})
        else:
            entry = use if key == "quantity" else at
            entry[key] = value(entry[key]) if callable(value) else value
        return spoilt

    return change


def unsaid(text: str) -> Change:
    """What stays out of the list, without one sentence."""
    return lambda data: {
        **data,
        "not_included": [each for each in data["not_included"] if text not in each["what"]],
    }


def packs(group: str, count: int) -> Change:
    """Another number of packs bought, where the uses take as many as before."""

    def change(data: Data) -> Data:
        spoilt = copy.deepcopy(data)
        for each in spoilt["parts"]:
            if any(use["group"] == group for use in each["uses"]):
                each["quantity"] = count
        return spoilt

    return change


def swapped(product: str, other: str) -> Change:
    """Another article on the line of one."""

    def change(data: Data) -> Data:
        spoilt = copy.deepcopy(data)
        at = next(each for each in spoilt["parts"] if each["product"] == product)
        at["product"] = other
        return spoilt

    return change


def fewer(group: str) -> Change:
    """One piece fewer of a group."""
    return line(group, "quantity", lambda count: count - 1)


def undrawn(text: str, instead: str) -> Change:
    """A label of the drawing that says something else."""
    return lambda data: {
        **data,
        "drawing": [each.replace(text, instead) for each in data["drawing"]],
    }


DAMAGED: dict[str, Damage] = {
    # Cable and fuse of the units.
    "thinner cable": Damage(COACH, found("dc_cable", "awg", value="8"), "in a cable for"),
    "fuse above the cable": Damage(
        COACH, found("dc_fuse", "rating_a", value=400.0), "lets through"
    ),
    "fuse below the nameplate": Damage(
        f"{COACH} ambient=45C", found("dc_fuse", "rating_a", value=110.0), "fuse is too small"
    ),
    "fuse that cannot stop it": Damage(
        COACH, found("dc_fuse", "interrupt_a", value=1000.0), "cannot stop the bank"
    ),
    "another length": Damage(COACH, found("dc_cable", "length_m", value=9.0), "not as long"),
    "a long thin cable": Damage(
        f"{COACH} cable=15m", found("dc_cable", "awg", value="4"), "are lost on the way"
    ),
    "no fuse holder": Damage(COACH, without("fuse-holder"), "fuse and its holder"),
    "a holder for smaller fuses": Damage(
        VAN, line("fuse-holder", "product", "holder-t-200"), "holder does not suit"
    ),
    # Voltage of every part: 62 V of a flooded bank that equalizes.
    **{
        f"{group} for too low a voltage": Damage(
            FLOODED, line(group, "product", product), f"{group}: made for"
        )
        for group, product in (
            ("fuse", "fuse-strip-150"),
            ("fuse-holder", "holder-strip-400"),
            ("battery-fuse", "fuse-strip-100"),
            ("battery-fuse-holder", "holder-strip-400"),
            ("disconnect", "battery-switch-60v-160a"),
            ("step-down-fuse", "fuse-strip-40"),
            ("precharge", "precharge-24"),
            ("step-down", "stepdown-24v-28a"),
        )
    },
    "a fan for another voltage": Damage(TIGHT, line("fan", "product", "fan-12-large"), "fan: made"),
    # Switch, shunt, busbars, frame.
    "no switch": Damage(COACH, without("disconnect"), "not one battery switch"),
    "a weak switch": Damage(
        VAN, line("disconnect", "product", "battery-switch-60v-160a"), "switch is too weak"
    ),
    "a small shunt": Damage(
        VAN, line("soc-monitor", "product", "monitor-340a"), "shunt is too small"
    ),
    "weak busbars": Damage(PAIR, line("busbar", "product", "busbars-160a"), "busbars are too weak"),
    "no busbars": Damage(PAIR, without("busbar"), "pairs of busbars"),
    "no bond": Damage(COACH, without("bond-cable"), "bond of the case"),
    "no joint to the frame": Damage(COACH, without("frame-cable"), "joint to the frame"),
    # Bank.
    "one battery only": Damage(PAIR, found("battery", "parallel", value=1), "Wh for a need of"),
    "a bank below the current": Damage(
        PAIR, found("battery", "parallel", value=1), "A for hours is above"
    ),
    "a bank below the start": Damage(
        VAN, found("battery", "parallel", value=1), "at the start is above"
    ),
    "a battery that is there is bought": Damage(
        KEPT, line("battery", "price", lambda _: 300.0), "that is there is bought"
    ),
    "fewer kept than on the list": Damage(
        KEPT, found("battery", "kept", value=1), "batteries that are there on the list"
    ),
    "more kept than there are": Damage(
        KEPT, found("battery", "kept", value=3), "more batteries kept than there are"
    ),
    "a fuse that cannot stop theirs": Damage(
        KEPT, found("dc_fuse", "interrupt_a", value=6000.0), "cannot stop the bank's short circuit"
    ),
    "a battery short": Damage(COACH, fewer("battery"), "not as many batteries"),
    "an own fuse below its share": Damage(
        PAIR, line("battery-fuse", "product", "fuse-t-60"), "fuse of each battery is too small"
    ),
    "an own fuse that others burn through": Damage(
        VAN, line("battery-fuse", "product", "fuse-strip-250"), "cannot stop the others"
    ),
    # Lugs and studs.
    "a lug short": Damage(COACH, fewer("lugs"), "lugs for"),
    "lugs of another size": Damage(COACH, line("lugs", "product", "lug-4-0-m8"), "nothing is so"),
    "lugs for another stud": Damage(
        VAN, swapped("lug-3-0-m10", "lug-3-0-m8"), "for the studs of the unit"
    ),
    # Unit and layout.
    "smaller unit": Damage(COACH, found("inverter", "id", value="twin-12v-2200va"), "a unit for"),
    "a unit for one leg": Damage(
        COACH, found("inverter", "id", value="flat-24v-3200va"), "does not pass the whole service"
    ),
    "no soft starter": Damage(COACH, found("soft_starters", value=0), "no way to share the loads"),
    # AC side.
    "thinner AC wire": Damage(COACH, found("ac_out", "awg", value="10"), "on 10 AWG"),
    "thinner ground": Damage(COACH, found("ac_in", "ground_awg", value="14"), "ground of 14 AWG"),
    "one pole": Damage(COACH, found("ac_in", "poles", value=1), "not as many poles"),
    "no breaker": Damage(COACH, without("breaker-out"), "not one breaker-out"),
    "no common main breaker": Damage(PAIR, without("breaker-main"), "side by side"),
    "a main breaker above the cord": Damage(
        PAIR, line("breaker-main", "product", "breaker-30-1"), "side by side"
    ),
    "no common breaker behind": Damage(PAIR, without("breaker-joint"), "two units on one leg meet"),
    "loads beyond the breaker": Damage(
        PAIR, found("ac_out", "breaker_a", value=30.0), "loads trip the breaker"
    ),
    "a panel below its breaker": Damage(
        PAIR, line("panel", "product", "panel-1-30"), "not made for its breaker"
    ),
    "another inlet": Damage(PAIR, line("input-lead", "product", "lead-20"), "inlet of the service"),
    "a ferrule short": Damage(COACH, fewer("ferrules"), "for conductor ends"),
    "no crimper": Damage(COACH, without("ferrule-crimper"), "ferrule crimper"),
    # What comes in.
    "twice the limit on each unit": Damage(
        PAIR, put("charging", "shore", "setting_a", value=12.0), "does not make the limit"
    ),
    "a limit above the breaker": Damage(
        COACH, put("charging", "shore", "input_limit_a", value=50.0), "does not make the limit"
    ),
    "a limit above what lasts": Damage(
        COACH,
        lambda data: put("charging", "shore", "setting_a", value=50.0)(
            put("charging", "shore", "input_limit_a", value=50.0)(data)
        ),
        "for hours through",
    ),
    "charge through the limit": Damage(
        PAIR, put("charging", "shore", "charge_a", value=60.0), "through a limit of"
    ),
    "charge on the generator through the limit": Damage(
        PAIR, put("charging", "generator", "charge_a", value=60.0), "generator: the charger draws"
    ),
    "charge beyond the bank": Damage(
        PAIR, put("charging", "shore", "charge_a", value=500.0), "than charger or bank bears"
    ),
    "a generator asked for more than it gives": Damage(
        f"{COACH} gen=2000W",
        lambda data: put("charging", "generator", "setting_a", value=16.0)(
            put("charging", "generator", "input_limit_a", value=16.0)(data)
        ),
        "on a generator that gives",
    ),
    "a generator that height leaves as it was": Damage(
        f"{COACH} gen=2000W altitude=7000ft",
        put("charging", "generator", "derated_w", value=2000.0),
        "a generator of",
    ),
    "absorption of another battery": Damage(
        COACH, put("charging", "absorption_v", value=24.0), "of absorption for"
    ),
    "no correction for temperature": Damage(
        FLOODED, put("charging", "compensation_v_per_k", value=0.0), "mV a degree"
    ),
    "no temperature sensor": Damage(FLOODED, without("temperature-sensor"), "no sensor"),
    "an alternator's charger beyond half of it": Damage(
        f"{VAN} alt=100A",
        line("alternator-charger", "product", "alternator-charger-12v-45a"),
        "half of the alt",
    ),
    # Branches and the 12 V feed.
    "no fuse to the converter": Damage(COACH, without("step-down-fuse"), "step-down: not one fuse"),
    "no cable to the 12 V circuits": Damage(COACH, without("house-cable"), "house: another cable"),
    "a holder short": Damage(
        COACH, fewer("branch-fuse-holder"), "holder for each fuse of a branch"
    ),
    **{
        f"{name}: fuse below its current": Damage(
            PAIR, branch(name, "fuse_a", 1.0), f"{name}: the fuse is too small"
        )
        for name in ("solar", "alternator", "starter", "step-down")
    },
    **{
        f"{name}: cable too thin": Damage(
            asked, branch(name, "awg", "18"), f"{name}: the cable carries"
        )
        for asked, names in (
            (PAIR, ("solar", "starter", "house")),
            (f"{VAN} alt=180A drive=2h", ("alternator",)),
            (f"{COACH} loads=lights:250W*2", ("step-down",)),
        )
        for name in names
    },
    "a branch left out": Damage(COACH, found("dc_branches", value=[]), "branches []"),
    "no converter": Damage(COACH, without("step-down"), "converter to 12 V is missing"),
    "a small converter": Damage(
        f"{COACH} loads=lights:250W*2",
        line("step-down", "product", "stepdown-24v-28a"),
        "too small",
    ),
    "no buffer for a motor on 12 V": Damage(
        JACKS, without("buffer"), "converter to 12 V does not bear"
    ),
    "a start of a motor that the buffer does not give": Damage(
        JACKS,
        line("buffer", "product", "buffer-60"),
        "does not give the start",
    ),
    "a large fuse for the converter": Damage(
        COACH, branch("step-down", "fuse_a", 100.0), "step-down: a fuse of 100 A for"
    ),
    # Complete to buy and fit.
    **{
        f"no {group}": Damage(asked, without(group), f"0 of {group} on the list")
        for group, asked in (
            ("comm-cable", PAIR),
            ("remote-panel", COACH),
            ("cord-guard", COACH),
            ("labels", VAN),
            ("strain-reliefs", COACH),
            ("gfci", VAN),
            ("breaker-lock", COACH),
            ("tow-end", AIRCON),
        )
    },
    "a guard for another cord": Damage(
        COACH, line("cord-guard", "product", "ems-30"), "for another cord"
    ),
    "heat-shrink of another size": Damage(
        COACH, line("heat-shrink", "product", "shrink-1-0-4-0"), "of shrink-1-0-4-0 for"
    ),
    "no heat-shrink": Damage(COACH, without("heat-shrink"), "no heat-shrink for the lugs"),
    "strain reliefs of another size": Damage(
        COACH, line("strain-reliefs", "product", "relief-14-10"), "for another AC cable"
    ),
    "a clamp": Damage(f"{COACH} cable=15m", line("clamps", "quantity", 1), "1 clamps for"),
    "a grommet": Damage(COACH, line("grommets", "quantity", 1), "fewer grommets"),
    "no reason for what stays out": Damage(
        COACH,
        lambda data: {**data, "not_included": [{"what": "Labor", "why": ""}]},
        "left out without a reason",
    ),
    **{
        f"no word of {what}": Damage(asked, unsaid(what), f"with a reason: {what}")
        for what, asked in (
            ("temperature sensor", COACH),
            ("converter/charger", COACH),
            ("charge line", TOW),
            ("Labor", VAN),
            ("Screws", VAN),
            ("Hold-downs", VAN),
        )
    },
    "an article twice": Damage(
        COACH, lambda data: {**data, "parts": [*data["parts"], data["parts"][0]]}, "twice"
    ),
    "a pack too few": Damage(FLOODED, packs("lugs", 0), "0 bought, where its uses take"),
    # What the week takes from shore and generator.
    **{
        f"a week that charges too much from {name}": Damage(
            f"{COACH} gen=2000W", put("simulation", *where, name, value=1e6), f"{name}: 1000000 Wh"
        )
        for name, where in (
            ("shore", ("hooked_up", "charged_wh")),
            ("generator", ("charged_wh",)),
        )
    },
    # What no fuse guards.
    "a bare piece ahead of the fuses of two units": Damage(
        TWO, piece("busbar-to-switch", "sheathed", value=False), "busbar-to-switch: fed through"
    ),
    "a bare piece from the busbars to the main fuse": Damage(
        AGM, piece("bank-to-fuse", "sheathed", value=False), "bank-to-fuse: fed through"
    ),
    "a bare piece between batteries in series": Damage(
        FLOODED, piece("battery-to-battery-in-series", "sheathed", value=False), "fed through inf"
    ),
    "a bare piece to the fuse of a branch": Damage(
        PAIR, piece("to-its-fuse", "sheathed", value=False), "to-its-fuse: fed through"
    ),
    "a piece behind the main fuse that is too thin": Damage(
        AIRCON, piece("fuse-to-switch", "awg", value="10"), "fuse-to-switch: fed through"
    ),
    "a long way ahead of the fuses of two units": Damage(
        TWO, piece("switch-to-fuse-of-each-unit", "length_m", value=0.7), "m from busbar to a fuse"
    ),
    "a sleeve short": Damage(PAIR, fewer("sheaths"), "sleeves for"),
    "no small fuse": Damage(PAIR, without("small-fuses"), "small fuses for"),
    "a clamp for a small fuse": Damage(
        PAIR, line("small-fuses", "product", "cable-clamp"), "small-fuses: another article"
    ),
    "no fuse at the 12 V battery that stays": Damage(
        COACH, without("kept-fuse"), "at a 12 V battery that stays"
    ),
    "no battery on the rig's own 12 V system": Damage(
        COACH, without("house-battery"), "no battery for the rig's own"
    ),
    "a battery there that a charge line harms": Damage(
        COACH, line("house-battery", "product", "lfp-12-100"), "keeps another kind of battery"
    ),
    "no charger for that battery": Damage(
        COACH, line("step-down", "product", "stepdown-24v-28a"), "does not charge it"
    ),
    "a charger set too high": Damage(
        COACH, found("house", "charge_a", value=45.0), "its charger set to 45 A"
    ),
    "a charge line without its isolator": Damage(
        COACH, without("charge-isolator"), "isolator of the charge line is missing"
    ),
    "a fuse at that battery above its cable": Damage(
        COACH, line("kept-fuse", "product", "fuse-t-400"), "above its cable, or another"
    ),
    # Place, mass, price, drawing.
    "no fan": Damage(TIGHT, without("fan"), "a fan is missing"),
    "a fan too few": Damage(TIGHT, line("fan", "quantity", 0), "are wanted, with margin"),
    "lighter than its parts": Damage(COACH, found("mass_kg", value=1.0), "where the parts weigh"),
    "another price": Damage(
        COACH, line("inverter", "price", 1.0), "not the price of the catalogue"
    ),
    "another sum": Damage(COACH, found("parts_price", value=1.0), "prices do not add up"),
    **{
        f"drawn with another {what}": Damage(PAIR, undrawn(text, "X"), "the drawing does not say")
        for what, text in (
            ("main fuse", "Fuse 125 A. "),
            ("cable", "each pole. 4 AWG"),
            ("switch", "Battery switch"),
            ("main breaker", "at the cord. 15 A"),
            ("breaker behind both", "Common output breaker. 45 A"),
            ("breaker", "15 A, one pole"),
            ("wire", "2 × 6 AWG"),
            ("battery fuse", "at each battery"),
            ("shunt", "Battery monitor"),
            ("battery", "Lithium 51.2 V"),
            ("branch fuse", "use 70 A"),
        )
    },
}
