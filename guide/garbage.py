"""How often Python looks for what is garbage."""

import gc

NEW, YOUNG, OLD = 50_000, 20, 50


def collect_seldom() -> None:
    """Look for garbage after so many new objects, where Python does after 700.

    An answer makes hundreds of thousands of objects, nearly all of which go by themselves once
    nobody holds them: looking for the rest takes a quarter of the time of working out many.
    """
    gc.set_threshold(NEW, YOUNG, OLD)
