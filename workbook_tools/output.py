"""Writes a result whole or not at all."""

import os
import tempfile
from pathlib import Path


def write_whole(target: Path, data: bytes) -> None:
    """Write a file so that it appears complete: a temporary file beside it, then a rename.

    A target that is there and is no regular file (/dev/stdout, a pipe) is written straight to. Raises OSError.
    """
    if target.exists() and not target.is_file():
        with target.open("wb") as file:
            file.write(data)
        return
    handle, name = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".part", dir=target.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        mask = os.umask(0)
        os.umask(mask)
        os.chmod(name, 0o666 & ~mask)
        os.replace(name, target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
