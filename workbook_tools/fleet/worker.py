"""A worker process: takes batches of books, tells which book it is at, sends an outcome for each.

It may take so much memory and no more. What goes wrong in it is told by its end; the supervisor knows at which book.
"""

from __future__ import annotations

import gc
import signal
import sys
from multiprocessing.connection import Connection

from workbook_tools.fleet.job import Job
from workbook_tools.fleet.work import check_batch

# What a worker may take beyond what it has when it begins.
MEMORY_BYTES = 1_000_000_000

READY, AT, OUTCOME, DONE = "ready", "at", "outcome", "done"
OUT_OF_MEMORY = 77  # how a worker ends that has no memory left to go on with


def serve(pipe: Connection, job: Job, memory: int | None) -> None:
    """Work on the batches that come through a pipe until it is closed.

    memory: bytes that this process may take beyond what it has when it begins; None: somebody else watches that.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the supervisor, which ends its workers
    import workbook_tools.fleet.preloaded  # noqa: F401  # before the memory is limited and the clock of a book runs

    if memory is not None:
        limit_memory(memory)
    gc.collect()
    gc.freeze()
    gc.disable()  # what a batch leaves behind is let go at its end, all at once
    try:
        pipe.send((READY,))
        while True:
            _work(pipe, pipe.recv(), job)
            gc.collect()
    except (EOFError, BrokenPipeError, ConnectionResetError):
        return  # the supervisor is gone, or needs this worker no more
    except MemoryError:
        sys.exit(OUT_OF_MEMORY)


def _work(pipe: Connection, paths: list[str], job: Job) -> None:
    def tell(number: int) -> None:
        pipe.send((AT, number))

    for number, outcome in enumerate(check_batch(paths, job, tell, apart=False)):
        pipe.send((OUTCOME, number, outcome.to_plain()))
    pipe.send((DONE,))


def limit_memory(more_bytes: int) -> None:
    """Let this process take so many bytes of addresses more than it has, where the system can (Linux, macOS)."""
    try:
        import resource

        with open("/proc/self/statm", encoding="ascii") as file:
            have = int(file.read().split()[0]) * resource.getpagesize()
        _, most = resource.getrlimit(resource.RLIMIT_AS)
        limit = have + more_bytes if most == resource.RLIM_INFINITY else min(have + more_bytes, most)
        resource.setrlimit(resource.RLIMIT_AS, (limit, most))
    except (ImportError, ValueError, OSError):
        return


def system_limits_memory() -> bool:
    """Whether the system can limit a process's memory by itself; elsewhere the supervisor watches."""
    return sys.platform == "linux"
