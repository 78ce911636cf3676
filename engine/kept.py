"""Results that are kept so that they need not be worked out twice, and what forgets them."""

from collections.abc import Callable
from functools import lru_cache
from typing import Literal, ParamSpec, TypeVar

Until = Literal["answer", "guide", "language", "never"]
P = ParamSpec("P")
T = TypeVar("T")

_KEPT: dict[str, list[Callable[[], None]]] = {
    "answer": [],
    "guide": [],
    "language": [],
    "never": [],
}


def kept(until: Until, most: int | None) -> Callable[[Callable[P, T]], Callable[P, T]]:
    """Keep a function's results until something makes them useless.

    until: "answer", what holds for the answers of one visitor; "guide", what holds for one guide;
        "language", what is written in one language; "never", what holds for every guide
    most: how many results are kept, the latest; None for all
    """

    def declare(function: Callable[P, T]) -> Callable[P, T]:
        cached = lru_cache(maxsize=most)(function)
        _KEPT[until].append(cached.cache_clear)
        return cached  # type: ignore[return-value]  # it is called as the function is

    return declare


def forget(until: Until) -> None:
    """Let go of everything that is kept until this; a new guide also ends the answers about it."""
    for clear in _KEPT[until]:
        clear()
    if until == "guide":
        forget("answer")
