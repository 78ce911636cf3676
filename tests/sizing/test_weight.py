"""What a set-up weighs."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.sizing.weight import payload_percent, total_kg

ITEMS = st.lists(st.tuples(st.floats(0.0, 200.0), st.integers(0, 8)), max_size=8)


def test_lithium_saves_more_than_half_of_lead_for_the_same_label() -> None:
    # trade press: 100 Ah at 12 V weighs about 13 kg in lithium, 30 kg in lead
    lithium, lead = total_kg([(13.0, 4)]), total_kg([(30.0, 4)])
    assert (lithium, lead) == (52.0, 120.0)
    assert payload_percent(lithium, 400.0) == pytest.approx(13.0)


@given(items=ITEMS, added=st.floats(0.0, 100.0))
def test_one_item_more_never_makes_it_lighter(items: list[tuple[float, int]], added: float) -> None:
    assert total_kg([*items, (added, 1)]) >= total_kg(items)


def test_nothing_weighs_nothing() -> None:
    assert total_kg([]) == 0.0


def test_numbers_off_the_scale_are_refused_in_words() -> None:
    with pytest.raises(ValueError, match="each_kg must be zero or more"):
        total_kg([(-1.0, 1)])
    with pytest.raises(ValueError, match="count must be zero or more"):
        total_kg([(1.0, -1)])
    with pytest.raises(ValueError, match="payload_kg must be more than zero"):
        payload_percent(50.0, 0.0)
