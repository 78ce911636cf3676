"""What stands under each key of an answer's JSON.

A key says its kind and its meaning, "kind: meaning", with a "?" behind the kind where it may be
null. A mapping holds keys, a list one form for all of its entries; a `Form` says what a whole is.
"""

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Form:
    """A form with what it means; nullable: null may stand in its place."""

    means: str
    of: Any
    nullable: bool = False


CHECK = {
    "id": "string: the check",
    "passed": "boolean: whether the value keeps the limit",
    "value": "number: what was found",
    "limit": "number: what it is held against",
    "unit": 'string: of both; "yes" where it is a matter of yes or no',
    "margin": "number: room left as a share of the limit, below zero where it fails",
    "accepted": "boolean: whether it is left as it is although it fails, and said",
}
SETUP = {
    "layout": "string: how the units are wired",
    "inverter": {"id": "string: article", "count": "integer: how many"},
    "soft_starters": "integer: soft starters to add",
    "battery": {
        "id": "string: article",
        "series": "integer: batteries in series",
        "parallel": "integer: strings in parallel",
    },
    "parts_price": "number: sum of the parts list, in the shop's currency",
    "mass_kg": "number: all that stays in the rig",
}
SIDE = {
    "breaker_a": "number: breaker of each unit on this side",
    "poles": "integer: hot wires",
    "breakers": "integer: how many breakers",
    "breaker_poles": "integer: poles of each",
    "awg": "string: wire size",
    "ground_awg": "string: size of the ground wire",
}
RECOMMENDATION = {
    **SETUP,
    "inverter": {
        **SETUP["inverter"],  # type: ignore[dict-item]  # a mapping, as above
        "terminals": "string: screw or push-in",
    },
    "battery": {
        **SETUP["battery"],  # type: ignore[dict-item]  # a mapping, as above
        "kept": "integer: how many of them are in the rig already",
    },
    "house": Form(
        "the rig's own 12 V system",
        {
            "hangs": ["string: what hangs on it"],
            "battery": "string?: the battery that stays beside the bank",
            "batteries": "integer: how many of it",
            "charger": "string?: what charges it from the bank",
            "charge_a": "number: with how much",
            "motor_a": "number: the largest motor on it",
            "isolator": "boolean: whether the tow vehicle's charge line stays apart",
            "there": "boolean: whether that battery is in the rig already",
        },
        nullable=True,
    ),
    "dc_cable": {
        "awg": "string: size of the cable to each unit",
        "runs": "integer: cables in parallel",
        "length_m": "number: one way",
    },
    "dc_fuse": {
        "rating_a": "number: fuse of each unit",
        "class": "string: its class",
        "interrupt_a": "number: its interrupting rating",
    },
    "dc_branches": [
        {
            "id": "string: what hangs on the bank beside the units",
            "current_a": "number: most that it carries for long",
            "length_m": "number: one way",
            "awg": "string?: its cable",
            "runs": "integer?: cables in parallel",
            "fuse_a": "number?: its fuse",
            "class": "string?: class of the fuse",
            "interrupt_a": "number?: its interrupting rating",
            "kept_fuse_a": "number?: fuse at the battery that stays",
        }
    ],
    "dc_pieces": [
        {
            "group": "string: line of the parts list",
            "label": "string: where it runs",
            "count": "integer: how many alike",
            "awg": "string: size",
            "length_m": "number: of each",
            "sheathed": "boolean: whether it lies in a sheath up to the next fuse",
        }
    ],
    "ac_in": {**SIDE, "main_breaker_a": "number: breaker ahead of all units; 0 without"},
    "ac_out": {
        **SIDE,
        "legs": "integer: legs that run on battery",
        "joint_breaker_a": "number: breaker where two units meet; 0 without",
    },
    "score": "number: what it counts by the shop's priorities, or by the aim; the least wins",
}
WEEK = {
    "state_of_charge": ["number: share, hour by hour"],
    "unmet_wh": "number: what was asked for and not there",
    "runs_out_hour": "integer?: the hour in which the bank is empty",
    "reserve_h": "number?: hours that a full bank lasts; null where it never ends",
    "charged_wh": Form("what each source put into the bank", {"*": "number: energy"}),
    "direct_wh": Form("what each source gave to the loads", {"*": "number: energy"}),
    "spilled_wh": "number: sun that found the bank full",
}
SHORE = {
    "post_a": "number: breaker of the pedestal",
    "breaker_a": "number: what counts of it through the rig's cord",
    "legs": "integer: legs that come in",
    "input_limit_a": "number: limit to set, all units together",
    "setting_a": "number: the same as each unit is set",
    "load_a": "number: what runs at once",
    "light_a": "number: what runs all the time",
    "charger_ac_a": "number: what the charger draws",
    "charge_a": "number: charge current",
    "left_a": "number: what is left for loads",
    "missing_a": "number: what is missing",
    "hours": "number?: to fill the bank",
}
GENERATOR = {
    "rated_w": "number: running watts on its label",
    "derated_w": "number: what is left of them up there and in that heat",
    "legs": "integer: legs that come in",
    "input_limit_a": "number: limit to set, all units together",
    "setting_a": "number: the same as each unit is set",
    "charge_a": "number: charge current beside what runs all the time",
    "charge_free_a": "number: charge current with nothing running",
    "hours": "number?: to fill the bank",
    "light_a": "number: what runs all the time",
    "light_va": "number: the same as apparent power",
    "starter": "string: the motor that is hardest to start",
    "motor_va": "number: what that needs to start",
    "start_va": "number: the same with all that runs besides",
    "start_limit_va": "number: what the generator bears for a moment",
    "support_start_va": "number: what it bears with help from the battery",
    "starts_alone": "boolean: whether it starts the motor by itself",
    "starts_supported": "boolean: whether it does so with that help",
    "battery_adds_w": "number: what the battery adds while all runs",
    "short_w": "number: what is missing even then",
}
REUSE_FAULT = {
    "code": "string: the reason",
    "has": "string|number: what they have",
    "needs": "string|number: what is needed",
}
ANSWER = {
    "edition": "string: edition of the content that answers",
    "link": "string: path and fragment of this answer below the guide's folder",
    "status": "string: ask, recommended or none-fits",
    "notice": ["string: what became of the answer since the edition that the link names"],
    "next_question": Form(
        "the question to ask next",
        {"id": "string: question", "ask": "string: its words", "choices": ["string: choice"]},
        nullable=True,
    ),
    "recommendation": Form("what is recommended", RECOMMENDATION, nullable=True),
    "runner_up": Form("the next best of another kind", RECOMMENDATION, nullable=True),
    "checks": [CHECK],
    "stopped_by": Form(
        "where nothing fits: what binds",
        {"constraint": "string: its name", "check": Form("its worst check", CHECK)},
        nullable=True,
    ),
    "considered": [
        {
            "layout": "string: how the units are wired",
            "inverter": "string: article",
            "count": "integer: how many",
            "soft_starters": "integer: soft starters to add",
            "passes": "boolean: whether it passes every check",
            "score": "number?: as that of the recommendation",
            "failed": [CHECK],
        }
    ],
    "taken": [
        {
            "question": "string: what is not sure",
            "choice": "string: its usual case, which was taken",
            "look": "string: how to find out",
        }
    ],
    "holds_for": Form(
        "in how many of the open cases units and batteries are these",
        {"same": "integer: so many", "cases": "integer: of so many"},
        nullable=True,
    ),
    "what_changes_it": [
        {
            "question": "string: the question",
            "choice": "string: another answer to it",
            "link": "string: that answer",
            "recommendation": Form("what it leads to", RECOMMENDATION, nullable=True),
            "price_difference": "number?: how much more that costs",
        }
    ],
    "alternatives": [
        {
            "aim": "string?: what it is aimed at; null for the shop's own choice",
            "also": ["string: another aim that leads to the same"],
            "chosen": "boolean: whether this answer recommends it",
            "link": "string: the answer that recommends it",
            **SETUP,
            "hours_on_battery": "number: how long a full bank lasts",
            "gives_up": "string: what one gives up beside the recommended one",
        }
    ],
    "give_up": Form(
        "the one thing whose absence saves most",
        {
            "question": "string: the question that is answered in another way",
            "load": "string?: the load that is left out",
            "link": "string: the answer without it",
            "saves": "number: how much less the parts cost",
            "says": "string: the same as a sentence",
            **SETUP,
        },
        nullable=True,
    ),
    "verdict": "string: what kind of answer it is, in words",
    "faults": [
        {
            "question": "string: whose answer could not be read",
            "name": "string: the name under which it was given",
            "typed": "string: what was typed",
            "message": "string: why, and the mend",
            "assumed": "string?: what was taken in its place",
            "says": "string: all of it in a line",
        }
    ],
    "rests_on_assumption": [
        {"label": "string: a figure that rests on what was taken", "text": "string: the figure"}
    ],
    "assumed": [
        {"question": "string: a detail that was not given", "assumed": "string: what was taken"}
    ],
    "runs": Form(
        "what runs on battery, by name",
        {
            "at_once": ["string: of what runs together as asked"],
            "one_at_a_time": ["string: of what runs alone"],
            "pairs": [["string: of two that run together"]],
            "never": ["string: of what does not run"],
            "dead": ["string: of what has no 240 V"],
            "notes": ["string: where the list of loads says something else"],
        },
        nullable=True,
    ),
    "loads": [
        {
            "id": "string?: the appliance; null for one that the guide does not know",
            "name": "string: its name",
            "count": "integer: how many",
            "bus": "string: what it hangs on",
            "watts": "number: while it runs",
            "hours": "number: a day",
            "heavy": "boolean: whether it counts as a big appliance",
            "at_once": "integer: how many of them run with all else",
        }
    ],
    "lasts": Form(
        "how long a full bank lasts",
        {
            "days": "number: with everything as planned",
            "heavy": Form(
                "with the heaviest user always on",
                {"name": "string: that user", "hours": "number: so long"},
                nullable=True,
            ),
        },
        nullable=True,
    ),
    "works_when": Form(
        "which appliance runs on which source",
        {
            "sources": [
                {
                    "id": "string: source",
                    "amps": "number?: of its breaker",
                    "adapter": "boolean: whether an adapter is needed",
                }
            ],
            "appliances": [
                {
                    "id": "string?: appliance",
                    "name": "string: its name",
                    "listed": "boolean: whether it is in the list of loads",
                    "works": Form("yes, one or no by source", {"*": "string: how it works"}),
                }
            ],
        },
        nullable=True,
    ),
    "parts": [
        {
            "product": "string?: article; null where the shop has none",
            "name": "string: its name, or what is wanted",
            "quantity": "number: how much",
            "unit": "string: what the quantity counts",
            "pack": "integer: pieces that are sold together",
            "price": "number: of all of it",
            "have": "boolean: whether it is there already",
            "uses": [{"group": "string: what it is for", "quantity": "number: how much for that"}],
            "stock": "string?: whether it is in stock",
            "delivery": "string?: when it comes",
            "open_box": [
                {
                    "condition": "string: of an opened one",
                    "price": "number: its price",
                    "count": "integer: how many there are",
                }
            ],
        }
    ],
    "not_included": [{"what": "string: left out of the list", "why": "string: the reason"}],
    "cautions": [{"id": "string: caution", "text": "string: why", "do": "string: what to do"}],
    "workings": [
        {
            "id": "string: role and formula",
            "subject": "string: part of the answer",
            "name": "string: what it works out",
            "formula": "string: the equation",
            "numbers": "string: the same with its numbers",
            "value": "number: what comes out",
            "unit": "string: of that",
            "source": "string: who says so",
        }
    ],
    "existing_bank": Form(
        "what becomes of the batteries that are there",
        {
            "given": "string: as they were typed",
            "assumed": ["string: what was not said of them"],
            "way": "string: alone, joined, house or replaced",
            "kept": "integer: how many stay in the bank",
            "added": "integer: how many new ones join them",
            "faults": [REUSE_FAULT],
            "joining_faults": [REUSE_FAULT],
            "other_parts_price": "number?: what the other way would cost",
        },
        nullable=True,
    ),
    "charging": Form(
        "limits to set, and what each source does",
        {
            "shore": SHORE,
            "generator": Form("the generator", GENERATOR, nullable=True),
            "absorption_v": "number: absorption voltage",
            "float_v": "number?: float voltage",
            "compensation_v_per_k": "number: how it falls with warmth",
            "absorption_here_v": "number: absorption voltage in this air",
            "alternator_a": "number: charge current while driving",
            "alternator_hours": "number?: of driving to fill the bank",
            "solar_daily_wh": "number: what the sun gives a day",
            "solar_days": "number?: of sun to fill the bank",
        },
        nullable=True,
    ),
    "simulation": Form(
        "a week away hour by hour, and the same hooked up",
        {**WEEK, "hooked_up": Form("the week on shore power", WEEK)},
        nullable=True,
    ),
}
