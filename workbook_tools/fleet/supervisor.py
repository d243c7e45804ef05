"""Keeps workers at work on many books, and goes on when one of them dies, hangs or takes too much memory.

concurrent.futures gives up all its work when one process dies, and does not say at which book; here each worker has a
pipe of its own through which it tells where it is. The book at which a worker ended is tried once more, alone; if that
ends so too, the book is named with why. The other books of its batch go to the next worker.
"""

from __future__ import annotations

import multiprocessing
import os
import time
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from multiprocessing.connection import Connection, wait
from typing import Any

from workbook_tools.fleet import worker
from workbook_tools.fleet.job import Job, Outcome, unreadable
from workbook_tools.fleet.signals import interrupts_held_back
from workbook_tools.fleet.work import TOGETHER

# Books validated in one frame: enough to spread pandera's cost, few enough that their rows take little room.
BATCH = 100

_LEAST_BATCH = 20  # towards the end of a run, where batches become small so that all workers end together

# How far work may be ahead of the first book that is not done: the outcomes between are held back.
AHEAD = 1_000

# A book that is not done in so many seconds hangs. The slowest ship's book takes a hundredth of it.
SECONDS = 60.0

_START_SECONDS = 120.0  # for a worker to load its libraries, on a slow disk
_MOST_FAILED_STARTS = 3
_LOOK_SECONDS = 0.1  # how often clock and memory are looked at


class WorkersFailed(Exception):
    """Workers end before they begin: this system cannot run them; the text says how."""


@dataclass(slots=True, eq=False)
class _Worker:
    """A worker process and what it is at."""

    process: Any
    pipe: Connection
    deadline: float
    ready: bool = False
    began_with: int = 0  # bytes in use, where they are watched
    batch: list[int] = field(default_factory=list)
    done: set[int] = field(default_factory=set)  # places in the batch
    at: int = TOGETHER

    def left(self) -> list[int]:
        """The books of the batch that have no outcome."""
        return [book for place, book in enumerate(self.batch) if place not in self.done]


class Supervisor:
    """Runs a job over books in worker processes.

    jobs: workers at a time. seconds: the most that a book may take. memory: bytes that a worker may take for its books.
    watched: look at the workers' memory from here, rather than have the system limit it. target: what a worker runs,
    worker.serve but in tests.
    """

    def __init__(
        self,
        job: Job,
        jobs: int,
        seconds: float = SECONDS,
        memory: int = worker.MEMORY_BYTES,
        watched: bool | None = None,
        target: Callable[[Connection, Job, int | None], None] = worker.serve,
    ) -> None:
        self._job, self._jobs, self._seconds, self._memory, self._target = job, jobs, seconds, memory, target
        self._watched = not worker.system_limits_memory() if watched is None else watched
        self._workers: list[_Worker] = []
        self._failed_starts = 0
        methods = multiprocessing.get_all_start_methods()
        self._context: Any = multiprocessing.get_context("forkserver" if "forkserver" in methods else "spawn")
        self._paths: Sequence[str] = ()
        self._next = 0  # the first book that was given to nobody
        self._first_open = 0  # the first book without an outcome
        self._finished: set[int] = set()  # beyond the first open one
        self._again: deque[list[int]] = deque()  # batches cut short, and books to be tried alone
        self._tried: set[int] = set()  # books at which a worker ended once

    def outcomes(self, paths: Sequence[str]) -> Iterator[tuple[int, Outcome]]:
        """Yield (number of the book, its outcome) as they come, one for each path. Raises WorkersFailed."""
        self._paths = paths
        try:
            self._start(min(self._jobs, max(1, len(paths))))
            while self._first_open < len(paths):
                self._give_out()
                yield from self._listen()
        finally:
            self.end()

    def end(self) -> None:
        """End every worker."""
        for worker_ in self._workers:
            worker_.process.kill()
            worker_.pipe.close()
        for worker_ in self._workers:
            worker_.process.join()
        self._workers.clear()

    def _start(self, count: int) -> None:
        if self._context.get_start_method() == "forkserver":
            self._context.set_forkserver_preload(["workbook_tools.fleet.preloaded"])
        with _one_thread_each():
            for _ in range(count):
                ours, theirs = self._context.Pipe()
                memory = None if self._watched else self._memory
                process = self._context.Process(target=self._target, args=(theirs, self._job, memory), daemon=True)
                with interrupts_held_back():
                    process.start()
                theirs.close()
                self._workers.append(_Worker(process, ours, time.monotonic() + _START_SECONDS))

    def _give_out(self) -> None:
        for worker_ in self._workers:
            if worker_.ready and not worker_.batch and (batch := self._next_batch()):
                worker_.batch, worker_.done, worker_.at = batch, set(), TOGETHER
                worker_.deadline = time.monotonic() + self._seconds
                try:
                    worker_.pipe.send([self._paths[book] for book in batch])
                except OSError:
                    worker_.at = TOGETHER  # it has ended: seen when its pipe is read

    def _next_batch(self) -> list[int]:
        if self._again:
            return self._again.popleft()
        left = len(self._paths) - self._next
        least = min(_LEAST_BATCH, -(-left // self._jobs))
        count = min(BATCH, max(least, -(-left // (2 * self._jobs))))
        end = min(self._next + count, len(self._paths), self._first_open + AHEAD)
        batch = list(range(self._next, end))
        self._next = max(self._next, end)
        return batch

    def _listen(self) -> Iterator[tuple[int, Outcome]]:
        ready = wait([worker_.pipe for worker_ in self._workers], timeout=_LOOK_SECONDS)
        for worker_ in [worker_ for worker_ in self._workers if worker_.pipe in ready]:
            yield from self._hear(worker_)
        now = time.monotonic()
        for worker_ in [worker_ for worker_ in self._workers if worker_.batch or not worker_.ready]:
            if now > worker_.deadline:
                yield from self._lose(worker_, f"it was not done within {self._seconds:g} seconds")
            elif self._watched and worker_.ready and _resident(worker_.process.pid) > worker_.began_with + self._memory:
                yield from self._lose(worker_, "it takes more memory than a book may")

    def _hear(self, worker_: _Worker) -> Iterator[tuple[int, Outcome]]:
        """Take what a worker has sent, up to the end of what is there."""
        try:
            while worker_.pipe.poll():
                message = worker_.pipe.recv()
                worker_.deadline = time.monotonic() + self._seconds
                if message[0] == worker.READY:
                    worker_.ready, self._failed_starts = True, 0
                    worker_.began_with = _resident(worker_.process.pid) if self._watched else 0
                elif message[0] == worker.AT:
                    worker_.at = message[1]
                elif message[0] == worker.DONE:
                    worker_.batch = []
                elif message[0] == worker.OUTCOME:
                    worker_.done.add(message[1])
                    yield self._finish(worker_.batch[message[1]], Outcome(*message[2]))
        except (EOFError, OSError):
            worker_.process.join(5)
            yield from self._lose(worker_, _words_of_end(worker_.process.exitcode))

    def _finish(self, book: int, outcome: Outcome) -> tuple[int, Outcome]:
        self._finished.add(book)
        while self._first_open in self._finished:
            self._finished.discard(self._first_open)
            self._first_open += 1
        return book, outcome

    def _lose(self, worker_: _Worker, why: str) -> Iterator[tuple[int, Outcome]]:
        """A worker has ended or must: find out at which book, see to its other books, and start another."""
        worker_.process.kill()
        worker_.process.join()
        worker_.pipe.close()
        self._workers.remove(worker_)
        if not worker_.ready:
            self._failed_starts += 1
            if self._failed_starts >= _MOST_FAILED_STARTS:
                raise WorkersFailed(f"worker processes end before they begin ({why})")
        left = worker_.left()
        culprit = worker_.batch[worker_.at] if worker_.at != TOGETHER and worker_.batch else None
        if culprit in left and culprit is not None:
            left.remove(culprit)
            if culprit in self._tried:
                reason = f"reading it ended the process that did so, twice: {why}; {_REMEDY}"
                yield self._finish(culprit, unreadable(self._paths[culprit], reason, self._job))
            else:
                self._tried.add(culprit)
                self._again.append([culprit])
            if left:
                self._again.appendleft(left)
        else:  # which of them it was is not known: each is tried alone
            self._again.extend([book] for book in left)
            if len(left) == 1:
                yield from self._single(left[0], why)
        if self._first_open < len(self._paths):
            self._start(1)

    def _single(self, book: int, why: str) -> Iterator[tuple[int, Outcome]]:
        """A book that was alone in its batch when the worker ended at all of them together."""
        if book in self._tried:
            self._again.pop()
            reason = f"reading it ended the process that did so, twice: {why}; {_REMEDY}"
            yield self._finish(book, unreadable(self._paths[book], reason, self._job))
        self._tried.add(book)


_REMEDY = "open it in the spreadsheet program, save it anew as .xlsx, and check that"


def _words_of_end(code: int | None) -> str:
    if code == worker.OUT_OF_MEMORY:
        return "it takes more memory than a book may"
    if code is not None and code < 0:
        return f"it was ended by signal {-code}"
    return f"it ended with status {code}"


def _resident(pid: int) -> int:
    """Bytes of memory that a process has in use; 0 when it is gone."""
    import psutil

    try:
        return int(psutil.Process(pid).memory_info().rss)
    except psutil.Error:
        return 0


_THREADS = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")


@contextmanager
def _one_thread_each() -> Iterator[None]:
    """Workers share the cores already: their libraries start no threads of their own, which would take memory too."""
    before = {name: os.environ.get(name) for name in _THREADS}
    os.environ.update(dict.fromkeys(_THREADS, "1"))
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value
