"""Whether the fuses at a bank can interrupt what it delivers into a short circuit."""

from engine.advice.plan.branches import on_bank
from engine.model.result import Check, DcPlan
from engine.sizing.short_circuit import interrupt_accepted


def weakest_fuse_a(dc: DcPlan) -> float:
    """Least interrupting rating among the fuses that hang on the bank [A]."""
    own = (dc.battery_fuse, *(each.fuse for each in dc.branches if on_bank(each)))
    return min(fuse.interrupt for fuse in (dc.fuse, *own) if fuse)


def interrupt_check(dc: DcPlan, short_circuit_a: float) -> Check:
    """The bank's short circuit, a high estimate, against the weakest of its fuses.

    Above what any fuse on the list can interrupt, practice accepts those of the largest class.
    """
    rated_a = weakest_fuse_a(dc)
    accepted = short_circuit_a > rated_a and interrupt_accepted(rated_a, short_circuit_a)
    return Check("interrupt", short_circuit_a, rated_a, "A", True, accepted)
