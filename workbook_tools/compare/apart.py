"""Works on many ships in processes of their own, in order; one that ends its process costs itself only.

Each piece of work is a call with one argument. Which of the pieces at hand ended a process nobody can say: each of them
is then tried alone, and the one that ends its own process again is told.
"""

from __future__ import annotations

import multiprocessing
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures import TimeoutError as TooLong
from concurrent.futures.process import BrokenProcessPool
from typing import TypeVar

from workbook_tools.fleet.signals import interrupts_held_back
from workbook_tools.fleet.worker import MEMORY_BYTES, limit_memory

Given = TypeVar("Given")
Made = TypeVar("Made")

# A piece of work that is not done in so many seconds hangs: two books and more, of which one takes a hundredth of it.
SECONDS = 120.0
_AHEAD = 4  # pieces given out for each process


class Ended(Exception):
    """A piece of work ended its process, alone as well; the text says how."""


def each(
    work: Callable[[Given], Made], given: Sequence[Given], jobs: int, here: bool = False, seconds: float = SECONDS
) -> Iterator[Made | Ended]:
    """Yield what work makes of each piece given, in their order; Ended for one that cannot be worked on.

    work: a function that can be sent to a process. jobs: processes at a time. here: in this process instead.
    """
    if here:
        yield from map(work, given)
        return
    left = deque(given)
    while left:
        with _pool(min(jobs, len(left))) as pool:
            held: deque[tuple[Given, Future[Made]]] = deque()
            try:
                while left or held:
                    while left and len(held) < jobs * _AHEAD:
                        # a pool that has broken takes nothing: what it did not take is still left
                        with interrupts_held_back():
                            held.append((left[0], pool.submit(work, left[0])))
                        left.popleft()
                    made = held[0][1].result(timeout=seconds)
                    held.popleft()
                    yield made
            except (BrokenProcessPool, TooLong):
                _kill(pool)
            except BaseException:  # nobody wants the rest: it is not waited for
                _kill(pool)
                raise
            at_hand = [piece for piece, _ in held]
        for piece in at_hand:
            yield _alone(work, piece, seconds)


def _alone(work: Callable[[Given], Made], piece: Given, seconds: float) -> Made | Ended:
    with _pool(1) as pool:
        try:
            with interrupts_held_back():
                made = pool.submit(work, piece)
            return made.result(timeout=seconds)
        except BrokenProcessPool:
            return Ended(
                "reading it ended the process that did so: open it in the spreadsheet program and save it anew"
            )
        except TooLong:
            _kill(pool)
            return Ended(
                f"it was not done within {seconds:g} seconds: open it in the spreadsheet program, save it anew"
            )


def _pool(jobs: int) -> ProcessPoolExecutor:
    context = multiprocessing.get_context("spawn")
    with interrupts_held_back():
        return ProcessPoolExecutor(jobs, mp_context=context, initializer=limit_memory, initargs=(2 * MEMORY_BYTES,))


def _kill(pool: ProcessPoolExecutor) -> None:
    """End the processes: a pool waits for what hangs in it."""
    for process in list((pool._processes or {}).values()):
        process.kill()
