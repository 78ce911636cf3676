"""Which leg of a 120/240 V service carries which load."""

from dataclasses import dataclass

from engine.sizing.guard import not_negative

# Loads are summed in steps of this, which is finer than any load is known. It bounds the work:
# sums that agree to a step count as one.
STEP_VA = 0.1


@dataclass(frozen=True, slots=True)
class LegAssignment:
    """The leg of each load (1 or 2, in the order given) and what each leg carries [VA]."""

    legs: tuple[int, ...]
    leg1_va: float
    leg2_va: float


def assign_legs(loads_va: tuple[float, ...], two_leg_va: tuple[float, ...] = ()) -> LegAssignment:
    """Share loads between two legs so that the heavier leg is as light as it can be.

    min max(S_1, S_2), exact to 0.1 VA for any number of loads

    All sums that the loads from each one on can make are kept, so the best split is known before
    the first load is placed. Of equal splits the one is taken that puts earlier loads on leg 1.

    Parameters
    ----------
    loads_va : loads from one leg to neutral [VA]
    two_leg_va : loads across both legs, 240 V; half of each is on either leg [VA]

    Returns
    -------
    Leg of each load, and the apparent power of each leg [VA].

    Raises
    ------
    ValueError : if a load is negative or not finite.

    Source: the two-way partition problem, by dynamic programming over sums.

    >>> assign_legs((1800.0, 1500.0, 1200.0, 600.0), (4800.0,))
    LegAssignment(legs=(1, 2, 2, 1), leg1_va=4800.0, leg2_va=5100.0)
    """
    for load_va in loads_va:
        not_negative(load_va=load_va)
    for load_va in two_leg_va:
        not_negative(two_leg_va=load_va)
    steps = [round(load_va / STEP_VA) for load_va in loads_va]

    reachable = [{0}]
    for step in reversed(steps):
        sums = reachable[-1]
        reachable.append(sums | {each + step for each in sums})
    reachable.reverse()

    total = sum(steps)
    heavier = min(max(each, total - each) for each in reachable[0])
    # Leg 1 may be the heavier or the lighter one; either sum is followed while it can be met.
    wanted = {heavier, total - heavier}
    legs = []
    for step, ahead in zip(steps, reachable[1:], strict=True):
        with_it = {each - step for each in wanted} & ahead
        legs.append(1 if with_it else 2)
        wanted = with_it or wanted & ahead

    both = sum(two_leg_va) / 2
    leg1_va = sum((va for va, leg in zip(loads_va, legs, strict=True) if leg == 1), both)
    leg2_va = sum((va for va, leg in zip(loads_va, legs, strict=True) if leg == 2), both)
    return LegAssignment(tuple(legs), leg1_va, leg2_va)
