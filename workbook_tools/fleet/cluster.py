"""The same work on more than one machine: batches of books go to the workers of a Dask cluster.

Each of a cluster's threads has the books of its batch read by a worker process of its own, watched as on one machine:
a book that ends it costs itself only. When a machine goes down, the cluster gives its batches to another. The files
are not sent: every machine must see them by the paths that the command was given.
"""

from __future__ import annotations

import multiprocessing
import os
import re
import threading
from collections import deque
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from multiprocessing.connection import Connection
from types import TracebackType
from typing import Any

from workbook_tools import __version__
from workbook_tools.fleet import worker
from workbook_tools.fleet.job import Job, Outcome
from workbook_tools.fleet.supervisor import Supervisor

# Books in a task: a worker process is started for each, which costs about as much as auditing twenty books.
BATCH = 200
# Tasks given out for each thread of the cluster: one that it works on, and one that waits for it.
_TASKS_A_THREAD = 2
CONNECT_SECONDS = 15
_ADDRESS = re.compile(r"(?:(?:tcp|tls)://)?[^\s/:]+:[0-9]{1,5}|(?:(?:tcp|tls)://)?\[[0-9a-fA-F:]+\]:[0-9]{1,5}")


class ClusterError(Exception):
    """The cluster cannot do the work; the text says why and what to do."""


class Cluster:
    """A Dask cluster at work on a job. Used as a context manager.

    address: of the scheduler, as tcp://office-server:8786. batch: books in a task.
    Raises ClusterError: Dask is missing, nobody answers, the workers have another davitbook or do not see the files.
    """

    def __init__(self, address: str, job: Job, batch: int = BATCH) -> None:
        self._address, self._job, self._batch = address, job, batch
        self._client: Any = None

    def __enter__(self) -> Cluster:
        if not _ADDRESS.fullmatch(self._address):
            raise ClusterError(f"{self._address!r} is no scheduler's address: write it as tcp://machine:8786")
        try:
            import distributed
        except ImportError as error:
            raise ClusterError(f'{error}: install it with pip install "davitbook[cluster]"') from error
        import logging

        logging.getLogger("distributed").setLevel(logging.CRITICAL)  # what matters is said in our own words
        try:
            connect: Any = distributed.Client
            self._client = connect(self._address, timeout=CONNECT_SECONDS, set_as_default=False)
        except (OSError, ValueError, TypeError) as error:
            raise ClusterError(
                f"no cluster answers at {self._address} within {CONNECT_SECONDS} seconds ({error}): "
                "give the scheduler's address as tcp://machine:8786"
            ) from error
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._client.close(timeout=5)

    def outcomes(self, paths: Sequence[str]) -> Iterator[tuple[int, Outcome]]:
        """Yield (number of the book, its outcome) in the order of the paths, one for each. Raises ClusterError.

        Only so many tasks are given out at a time that every thread has one and another waiting: the command holds
        their outcomes and no more, however many books there are.
        """
        waiting: deque[tuple[int, Any]] = deque()
        next_book = 0
        try:
            while next_book < len(paths) or waiting:
                while next_book < len(paths) and len(waiting) < self._room():
                    batch = list(paths[next_book : next_book + self._batch])
                    waiting.append((next_book, self._submit(batch)))
                    next_book += len(batch)
                first, future = waiting.popleft()
                for place, outcome in enumerate(self._result(future)):
                    yield first + place, outcome
        finally:
            for _, future in waiting:
                future.cancel()

    def _room(self) -> int:
        """How many tasks may be out: by the threads there are now, since machines come and go."""
        threads: int = sum(self._client.nthreads().values())
        return _TASKS_A_THREAD * max(1, threads)

    def _submit(self, batch: list[str]) -> Any:
        # pure=False: the same files asked again are read again
        return self._client.submit(check_there, __version__, os.getcwd(), batch, self._job, pure=False)

    def _result(self, future: Any) -> list[Outcome]:
        import distributed

        try:
            found, unseen = future.result()
        except distributed.KilledWorker as error:
            raise ClusterError(
                "the cluster's machines ended again and again at the same books: see their logs"
            ) from error
        except ModuleNotFoundError as error:
            raise ClusterError(
                f"a machine of the cluster has no {error.name}: install davitbook {__version__} there"
            ) from error
        except (distributed.client.FutureCancelledError, distributed.comm.core.CommClosedError, OSError) as error:
            raise ClusterError(
                f"the cluster at {self._address} is gone ({type(error).__name__}): start it again, then the same "
                "command (with --resume where --out was given)"
            ) from error
        finally:
            future.release()
        for path in unseen:
            if os.path.lexists(path):  # else the book is gone, which its outcome says
                raise ClusterError(
                    f"a machine of the cluster does not see {path}: share the folder so that every machine has it by "
                    "the same path"
                )
        return [Outcome(*plain) for plain in found]


# ---- what runs on the cluster's machines


def check_there(version: str, folder: str, paths: list[str], job: Job) -> tuple[list[tuple[Any, ...]], list[str]]:
    """Check a batch in a process of its own; the outcomes as plain values, and the paths that are not there.

    version: of the davitbook that asks. folder: from which relative paths are counted.
    """
    if version != __version__:
        raise ClusterError(
            f"a machine of the cluster has davitbook {__version__}, this one {version}: install the same"
        )
    unseen = [path for path in paths if not os.path.lexists(os.path.join(folder, path))]
    with _may_have_children():
        supervisor = Supervisor(job, jobs=1, target=partial(serve_in, folder))
        found = dict(supervisor.outcomes(paths))
    return [found[number].to_plain() for number in range(len(paths))], unseen


def serve_in(folder: str, pipe: Connection, job: Job, limited: bool) -> None:
    """What a worker process on the cluster runs: the same as elsewhere, in the folder of the command."""
    if os.path.isdir(folder):
        os.chdir(folder)
    worker.serve(pipe, job, limited)


_lock = threading.Lock()
_inside = 0


@contextmanager
def _may_have_children() -> Iterator[None]:
    """Dask starts its workers as daemons, which Python lets start no processes. Ours end when their pipe is closed,
    so that none outlives its worker: what that rule is there for.
    """
    global _inside
    config: dict[str, Any] = multiprocessing.current_process()._config  # type: ignore[attr-defined]
    with _lock:
        if _inside == 0:
            config["davitbook-daemon"] = config.get("daemon", False)
        _inside += 1
        config["daemon"] = False
    try:
        yield
    finally:
        with _lock:
            _inside -= 1
            if _inside == 0:
                config["daemon"] = config.pop("davitbook-daemon")
