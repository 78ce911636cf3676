"""Where nothing fits: the one constraint that binds."""

from collections.abc import Sequence

from engine.model.result import Check, Considered

BINDING: dict[str, tuple[str, ...]] = {
    "budget": ("budget",),
    "weight": ("payload",),
    "cable": (
        "terminal-voltage",
        "cable",
        "fuse",
        "interrupt",
        "disconnect",
        "terminals",
        "ac-conductor",
    ),
    "house": ("dc-voltage", "step-down", "house-battery", "house-feed"),
    "cold": ("charge-cold",),
    "bank": (
        *("battery-parallel", "battery-current", "battery-surge"),
        *("kept-parallel", "kept-energy", "kept-share"),
    ),
    "series": ("battery-series",),
    "space": ("mount", "fit"),
    "voltage": ("bank-voltage",),
    "breaker": ("output-breaker", "pass-through"),
    "power": ("continuous-w", "apparent-va", "surge-va"),
    "heat": ("temperature",),
    "wiring": ("supply-240", "panel-legs", "legs-passed", "covers-scope"),
}
"""Each constraint with its checks; one that a setup comes to only after it passed the later ones
stands before them, and what the owner chose before what the rig is."""
CONSTRAINTS = tuple(BINDING)
FOLLOWS = {"heat": BINDING["power"]}
"""What fails besides where a constraint does: too hot a unit has no power."""


def binding_of(considered: Sequence[Considered]) -> tuple[str, Considered, Check]:
    """What binds: the constraint, the nearest setup that fails by it alone, and its worst check.

    Of several such constraints the first of BINDING. Where every setup fails by more than one, the
    last one there of the nearest: what the rig needs before what the owner chose.

    considered : what was considered, the nearest miss first; at least one, none of which passes
    """
    for name, checks in BINDING.items():
        for each in considered:
            missed, besides = _missed(each, checks), _missed(each, FOLLOWS.get(name, ()))
            if missed and len(missed) + len(besides) == len(each.failed):
                return name, each, _worst(missed)
    nearest = considered[0]
    name = [name for name, checks in BINDING.items() if _missed(nearest, checks)][-1]
    return name, nearest, _worst(_missed(nearest, BINDING[name]))


def _missed(considered: Considered, checks: tuple[str, ...]) -> tuple[Check, ...]:
    return tuple(check for check in considered.failed if check.id in checks)


def _worst(checks: tuple[Check, ...]) -> Check:
    return min(checks, key=lambda check: check.margin)
