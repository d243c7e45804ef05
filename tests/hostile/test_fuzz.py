"""Spoilt files, made at random for a bounded time: the reader says a line, or reads; it never does anything else.

Each part of the file is spoilt by itself and zipped anew, so that not only the checksum is at fault. The reading is
done in a process of its own: a crash of it is seen, with the seed that makes it again.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
import time
import zipfile
from pathlib import Path

from tests.workbooks import clean
from workbook_tools.reading import UnreadableBook, load, read_raw

SECONDS = 10
SEED = int(os.environ.get("FUZZ_SEED", "20261125"))


def _spoilt(data: bytes, choose: random.Random) -> bytes:
    """Bytes with a few places changed, doubled, cut out or replaced by what readers stumble over."""
    changed = bytearray(data)
    for _ in range(choose.randrange(1, 6)):
        at = choose.randrange(len(changed) + 1)
        piece = choose.choice(
            [b"", b"\0", b"<", b">", b'"', b"&#0;", b"&x;", b"99999999999", b"<c>", b"</row>", b"\xff"]
        )
        cut = choose.choice([0, 1, 1, 4, 40])
        if choose.random() < 0.2:
            piece = bytes(changed[at : at + 200])
        changed[at : at + cut] = piece
    return bytes(changed)


def _make(parts: dict[str, bytes], path: Path, choose: random.Random) -> None:
    name = choose.choice([*parts, ""])
    with zipfile.ZipFile(path, "w", zipfile.ZIP_STORED) as archive:
        for part, data in parts.items():
            archive.writestr(part, _spoilt(data, choose) if part == name else data)
    if not name:
        path.write_bytes(_spoilt(path.read_bytes(), choose))


def _must_be_a_line(reason: str) -> None:
    if not reason or "\n" in reason:
        raise AssertionError(f"no clear line: {reason!r}")


def main(folder: Path, seed: int) -> None:
    """Read spoilt books for so many seconds; print how many were read and refused."""
    with zipfile.ZipFile(clean().save(folder / "clean.xlsx")) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    counts = {"read": 0, "refused": 0}
    path = folder / "spoilt.xlsx"
    begun = time.monotonic()
    while time.monotonic() - begun < SECONDS:
        _make(parts, path, random.Random(seed))
        print("seed", seed, flush=True)
        try:
            read_raw(load(path, apart=False))
            counts["read"] += 1
        except UnreadableBook as error:
            _must_be_a_line(str(error))
            counts["refused"] += 1
        seed += 1
    print(counts)


def test_a_spoilt_file_is_read_or_refused_in_a_line(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "tests.hostile.test_fuzz", str(tmp_path), str(SEED)]
    done = subprocess.run(
        command, capture_output=True, text=True, check=False, timeout=120, cwd=Path(__file__).parents[2]
    )
    last = done.stdout.splitlines()[-1:]
    assert done.returncode == 0, f"{last}\n{done.stderr[-2000:]}"
    assert "'read'" in last[0]
    assert "'refused': 0" not in last[0]


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
