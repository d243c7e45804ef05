"""Writes a result whole or not at all."""

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO


@contextmanager
def writing_whole(target: Path) -> Iterator[IO[bytes]]:
    """A file to write into, which appears under its name complete or not at all: a file beside it, then a rename.

    It appears when the block ends; if the block is left by an exception, nothing does. A target that is there and is no
    regular file (/dev/stdout, a pipe) is written straight to. Raises OSError.
    """
    if target.exists() and not target.is_file():
        with target.open("wb") as file:
            yield file
        return
    handle, name = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".part", dir=target.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            yield file
        mask = os.umask(0)
        os.umask(mask)
        os.chmod(name, 0o666 & ~mask)
        os.replace(name, target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def write_whole(target: Path, data: bytes) -> None:
    """Write a file so that it appears complete or not at all, as writing_whole does. Raises OSError."""
    with writing_whole(target) as file:
        file.write(data)
