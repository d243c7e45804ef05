"""Keeps Ctrl-C and a closed terminal from the processes that do the work: they end when the command ends them."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def interrupts_held_back() -> Iterator[None]:
    """Ctrl-C goes to every process of a terminal: one that begins here never sees it, from its first moment on. It
    comes to this process when the block ends. On Windows, where signals cannot be held back, workers ignore it once
    they serve.
    """
    mask = getattr(signal, "pthread_sigmask", None)
    if mask is None:
        yield
        return
    from multiprocessing import resource_tracker

    before = mask(signal.SIG_BLOCK, {signal.SIGHUP})
    try:
        resource_tracker.ensure_running()  # which lets Ctrl-C through again when it begins
        mask(signal.SIG_BLOCK, {signal.SIGINT})
        yield
    finally:
        mask(signal.SIG_SETMASK, before)
