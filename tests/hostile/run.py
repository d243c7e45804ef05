"""Checks a folder under limits of its own: python -m tests.hostile.run FOLDER BYTES SECONDS.

Prints a JSON line for each book: its name, whether it is read, why not, how many findings it has, seconds until its
outcome, and what a reading in this very process says of it and takes of the processor, where a few small books would
be read so.
"""

from __future__ import annotations

import ctypes
import json
import os
import resource
import sys
import time
from pathlib import Path

from tests.workbooks import ON
from workbook_tools.checks import Options
from workbook_tools.fleet import find_books
from workbook_tools.fleet.job import Job
from workbook_tools.fleet.run import check_paths, is_ordinary
from workbook_tools.fleet.supervisor import Supervisor
from workbook_tools.fleet.worker import limit_memory

# What lets root open files that are closed to it (linux/capability.h), and the calls that give it up.
_CAPABILITIES = (1, 2)  # CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH
_PR_CAPBSET_DROP, _CAPABILITY_VERSION_3 = 24, 0x20080522


def as_anybody() -> None:
    """Give up what lets root read every file, for this process and those it starts."""
    if os.geteuid() != 0 or sys.platform != "linux":
        return
    libc = ctypes.CDLL(None, use_errno=True)
    for capability in _CAPABILITIES:
        libc.prctl(_PR_CAPBSET_DROP, capability, 0, 0, 0)
    header = (ctypes.c_uint32 * 2)(_CAPABILITY_VERSION_3, 0)
    data = (ctypes.c_uint32 * 6)()
    libc.capget(header, data)
    for index in (0, 1):  # effective, permitted
        data[index] &= ~sum(1 << capability for capability in _CAPABILITIES)
    libc.capset(header, data)


def main(folder: str, most_bytes: int, most_seconds: float) -> None:
    """Check every book of the folder in workers, then those that are ordinary in this process.

    The workers limit themselves; this process limits itself to so many bytes, what it has in use among them.
    """
    as_anybody()
    paths = [str(path) for path in find_books([folder])]
    begun = time.monotonic()
    found = {}
    for number, outcome in Supervisor(Job(Options(ON)), 2, most_seconds).outcomes(paths):
        result = outcome.result()
        found[number] = {
            "book": result.book,
            "read": result.readable,
            "reason": result.reason,
            "findings": len(result.findings),
            "after": round(time.monotonic() - begun, 2),
        }
    list(check_paths([Path(path) for path in paths if "/clean/" in path][:1], Options(ON)))  # loads the libraries
    limit_memory(most_bytes - resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024)
    for number, path in enumerate(paths):
        if is_ordinary(path):
            begun = time.process_time()
            (result,) = check_paths([Path(path)], Options(ON))
            found[number] |= {"here": result.reason, "seconds here": round(time.process_time() - begun, 2)}
        print(json.dumps(found[number]))


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), float(sys.argv[3]))
