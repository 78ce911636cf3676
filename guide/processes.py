"""One task for many inputs, spread over processes; the results are the same as of one."""

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import active_children
from typing import Any


def in_processes(
    task: Callable[[Any], Any],
    inputs: Sequence[Any],
    start: Callable[..., None] | None = None,
    given: tuple[Any, ...] = (),
    *,
    worth: bool = True,
) -> Iterator[Any]:
    """Results of the task in the order of its inputs.

    The processes begin at once, not only when the first result is asked for.

    start, given: what each process calls once before its first task
    worth: False for so little that one process is done sooner
    """
    processes = min(os.cpu_count() or 1, len(inputs))
    if processes <= 1 or not worth:
        if start is not None:
            start(*given)
        return map(task, inputs)
    pool = ProcessPoolExecutor(processes, initializer=start, initargs=given)
    return _closing(pool, pool.map(task, inputs))


def _closing(pool: ProcessPoolExecutor, results: Iterator[Any]) -> Iterator[Any]:
    with pool:
        yield from results


def end_all() -> None:
    """End the processes of this one whose results nobody waits for any more."""
    for process in active_children():
        process.terminate()
