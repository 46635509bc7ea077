"""Rows read straight from the bytes of a damaged database, page by page.

Where the tree that leads to a page is broken, SQLite can't reach its rows, though
they are whole. Here every table leaf is read by itself, by the published file
format (sqlite.org/fileformat2.html, §1.6 and §2.1), and so are the pages in a
write-ahead log (§4.1). Nothing is trusted: a cell that does not parse is passed over.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator, Sequence
from pathlib import Path

Value = None | int | float | str | bytes
Row = tuple[int, list[Value]]
"""A rowid and its columns."""

LEAF = 0x0D
LARGEST_ROW = 4_000_000
"""Bytes; no answer's facts are so long."""
_WAL_MAGIC = (0x377F0682, 0x377F0683)
_FIXED = {1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8}


class _BrokenError(Exception):
    pass


def rows(path: Path, most_pages: int = 4_000_000) -> Iterator[Row]:
    """Every row of every table that can be made out, the log's last (they are the newest)."""
    with path.open("rb") as file:
        head = file.read(100)
        size = _page_size(head)
        count = min(path.stat().st_size // size, most_pages)

        def page(number: int) -> bytes:
            file.seek((number - 1) * size)
            return file.read(size)

        reserved = head[20] if len(head) > 20 and head[20] < 64 else 0
        for number in range(1, count + 1):
            yield from _leaf(page(number), 100 if number == 1 else 0, size - reserved, page)
    yield from _log_rows(path.with_name(path.name + "-wal"), path, size - reserved, size)


def _page_size(head: bytes) -> int:
    """As the header says, where that makes sense; else ours, 4096."""
    said = int.from_bytes(head[16:18], "big") if len(head) >= 18 else 0
    said = 65536 if said == 1 else said
    return said if said >= 512 and said & (said - 1) == 0 else 4096


def _log_rows(log: Path, path: Path, usable: int, size: int) -> Iterator[Row]:
    """The rows of the pages in a write-ahead log, its newest pages over the file's own."""
    try:
        data = log.read_bytes()
    except OSError:
        return
    if len(data) < 32 or struct.unpack(">I", data[:4])[0] not in _WAL_MAGIC:
        return
    pages: dict[int, bytes] = {}
    for at in range(32, len(data) - 24 - size + 1, 24 + size):
        number = int.from_bytes(data[at : at + 4], "big")
        pages[number] = data[at + 24 : at + 24 + size]
    with path.open("rb") as file:

        def page(number: int) -> bytes:
            if number in pages:
                return pages[number]
            file.seek((number - 1) * size)
            return file.read(size)

        for number, content in pages.items():
            yield from _leaf(content, 100 if number == 1 else 0, usable, page)


def _leaf(data: bytes, start: int, usable: int, page) -> Iterator[Row]:  # type: ignore[no-untyped-def]
    if len(data) < start + 8 or data[start] != LEAF:
        return
    cells = int.from_bytes(data[start + 3 : start + 5], "big")
    for place in range(min(cells, (len(data) - start - 8) // 2)):
        at = int.from_bytes(data[start + 8 + 2 * place : start + 10 + 2 * place], "big")
        try:
            yield _cell(data, at, usable, page)
        except (_BrokenError, IndexError, struct.error, UnicodeDecodeError, OverflowError, OSError):
            continue


def _cell(data: bytes, at: int, usable: int, page) -> Row:  # type: ignore[no-untyped-def]
    length, at = _varint(data, at)
    rowid, at = _varint(data, at)
    if not 0 < length <= LARGEST_ROW or rowid >= 1 << 63:
        raise _BrokenError
    here = length
    if length > usable - 35:
        least = (usable - 12) * 32 // 255 - 23
        here = least + (length - least) % (usable - 4)
        here = here if here <= usable - 35 else least
    payload = data[at : at + here]
    if len(payload) < here:
        raise _BrokenError
    if here < length:
        follow = int.from_bytes(data[at + here : at + here + 4], "big")
        parts, got = [payload], here
        while got < length:
            more = page(follow) if follow else b""
            if len(more) < usable:
                raise _BrokenError
            parts.append(more[4 : min(usable, 4 + length - got)])
            got += len(parts[-1])
            follow = int.from_bytes(more[:4], "big")
        payload = b"".join(parts)
    return rowid, _columns(payload)


def _columns(payload: bytes) -> list[Value]:
    end, at = _varint(payload, 0)
    if end > len(payload):
        raise _BrokenError
    kinds: list[int] = []
    while at < end:
        kind, at = _varint(payload, at)
        kinds.append(kind)
    if at != end:
        raise _BrokenError
    values: list[Value] = []
    for kind in kinds:
        value, at = _value(payload, at, kind)
        values.append(value)
    if at != len(payload):
        raise _BrokenError
    return values


def _value(payload: bytes, at: int, kind: int) -> tuple[Value, int]:
    if kind == 0:
        return None, at
    if kind in (8, 9):
        return kind - 8, at
    if kind in (10, 11):
        raise _BrokenError
    size = 8 if kind == 7 else _FIXED[kind] if kind < 7 else (kind - 12) // 2
    raw = payload[at : at + size]
    if len(raw) < size:
        raise _BrokenError
    if kind == 7:
        return struct.unpack(">d", raw)[0], at + size
    if kind < 7:
        return int.from_bytes(raw, "big", signed=True), at + size
    return (raw if kind % 2 == 0 else raw.decode("utf-8")), at + size


def _varint(data: Sequence[int], at: int) -> tuple[int, int]:
    value = 0
    for place in range(8):
        byte = data[at + place]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + place + 1
    return value << 8 | data[at + 8], at + 9
