"""A workbook's zip file, opened once and read from memory.

The standard library reads every part through several layers; a part of the ordinary kind is unpacked here in one step.
Whatever is not ordinary about a part goes the library's way, which says what is wrong with it.
"""

import io
import zipfile
import zlib
from pathlib import Path

# Larger files are read from the disk, part by part.
_MOST_IN_MEMORY = 8_000_000

# Of a part of the ordinary kind: signature of its header, and flags that change nothing (level, late sizes, UTF-8).
_SIGNATURE = b"PK\x03\x04"
_HEADER_BYTES, _NAME_AT, _EXTRA_AT = 30, 26, 28
_HARMLESS_FLAGS = 0x080E
_UTF8 = 0x0800
_MOST_KEPT = 1_000_000


class BookZip(zipfile.ZipFile):
    """A zip file for reading. Raises what zipfile.ZipFile raises."""

    def __init__(self, path: Path) -> None:
        self._bytes = path.read_bytes() if path.stat().st_size <= _MOST_IN_MEMORY else b""
        self._kept: dict[str, bytes] = {}
        super().__init__(io.BytesIO(self._bytes) if self._bytes else path)

    def read(self, name: str | zipfile.ZipInfo, pwd: bytes | None = None) -> bytes:
        """A part's bytes."""
        part = name if isinstance(name, zipfile.ZipInfo) else self.getinfo(name)
        kept = self._kept.get(part.filename)
        if kept is None:
            kept = self._unpacked(part)
            if kept is None:
                return super().read(name, pwd)
            if len(kept) <= _MOST_KEPT and part.filename.startswith("xl/workbook"):
                self._kept[part.filename] = kept  # asked for more than once
        return kept

    def _unpacked(self, part: zipfile.ZipInfo) -> bytes | None:
        """The bytes of an ordinary part, whose size and checksum are as the directory says; None for any other."""
        start = self._begin(part) if self._bytes else 0
        if not start or part.compress_type != zipfile.ZIP_DEFLATED:
            return None
        unpacker = zlib.decompressobj(-zlib.MAX_WBITS)
        try:
            data = unpacker.decompress(self._bytes[start : start + part.compress_size], part.file_size + 1)
        except zlib.error:
            return None
        right = unpacker.eof and not unpacker.unused_data and len(data) == part.file_size
        return data if right and zlib.crc32(data) == part.CRC else None

    def _begin(self, part: zipfile.ZipInfo) -> int:
        """Where the packed bytes of an ordinary part begin; 0 for any other."""
        at = part.header_offset
        header = self._bytes[at : at + _HEADER_BYTES]
        if len(header) < _HEADER_BYTES or not header.startswith(_SIGNATURE) or part.flag_bits & ~_HARMLESS_FLAGS:
            return 0
        name_bytes = int.from_bytes(header[_NAME_AT:_EXTRA_AT], "little")
        name = self._bytes[at + _HEADER_BYTES : at + _HEADER_BYTES + name_bytes]
        if name != part.orig_filename.encode("utf-8" if part.flag_bits & _UTF8 else "cp437"):
            return 0
        start = at + _HEADER_BYTES + name_bytes + int.from_bytes(header[_EXTRA_AT:], "little")
        end = getattr(part, "_end_offset", None)  # later libraries refuse parts that overlap
        return 0 if start + part.compress_size > (end or len(self._bytes)) else start
