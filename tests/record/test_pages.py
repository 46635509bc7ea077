"""Rows read from the bytes are the rows that SQLite wrote, of every form and length."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from scores.record.mending.damaged_pages import rows

VALUES = [
    (None, 0, 1, -1),
    (127, 128, -128, -129),
    (32767, 32768, -32768, 8388607),
    (8388608, -8388609, 2**31 - 1, -(2**31)),
    (2**31, 2**47 - 1, -(2**47), 2**47),
    (2**63 - 1, -(2**63), 0.5, -1e300),
    ("", "text", "ünï", b""),
    (b"bytes", "x" * 100, "y" * 200, None),
]


@pytest.fixture(params=[512, 1024, 4096, 65536])
def path(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    made = tmp_path / "pages.db"
    with closing(sqlite3.connect(made, isolation_level=None)) as db:
        db.execute(f"PRAGMA page_size = {request.param}")
        db.execute("CREATE TABLE t (a, b, c, d)")
    return made


def put(path: Path, values: list[tuple[object, ...]], first: int = 1) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.execute("PRAGMA synchronous = OFF")
        db.execute("BEGIN")
        for number, row in enumerate(values, start=first):
            db.execute("INSERT INTO t (rowid, a, b, c, d) VALUES (?, ?, ?, ?, ?)", (number, *row))
        db.execute("COMMIT")


def found(path: Path) -> dict[int, list[object]]:
    """Rows of the table; the schema's own row has five columns."""
    return {rowid: list(row) for rowid, row in rows(path) if len(row) == 4}


def test_values_of_every_form(path: Path) -> None:
    put(path, VALUES)  # type: ignore[arg-type]
    assert found(path) == {n: list(row) for n, row in enumerate(VALUES, start=1)}


def test_rows_longer_than_a_page(path: Path) -> None:
    size = int.from_bytes(path.read_bytes()[16:18], "big")
    size = 65536 if size == 1 else size
    # About every border at which a row begins to go on in other pages.
    lengths = [size - 50 + n for n in range(40)] + [2 * size + n for n in (0, 7)] + [9 * size]
    put(path, [(n, "z" * length, None, b"q") for n, length in enumerate(lengths)])
    made = found(path)
    assert [len(made[n + 1][1]) for n in range(len(lengths))] == lengths  # type: ignore[arg-type]
    assert all(row[3] == b"q" and row[0] == n - 1 for n, row in made.items())


def test_rows_at_every_length_of_their_number(path: Path) -> None:
    numbers = [1, 127, 128, 16383, 16384, 2**21, 2**35, 2**42, 2**49, 2**56, 2**62]
    for number in numbers:
        put(path, [(number, 0, 0, 0)], number)
    assert found(path) == {number: [number, 0, 0, 0] for number in numbers}


def test_the_newest_pages_are_in_the_log(path: Path) -> None:
    put(path, [(1, 2, 3, "kept")])
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.execute("PRAGMA journal_mode = WAL")
        db.execute("PRAGMA wal_autocheckpoint = 0")
        db.execute("UPDATE t SET d = 'newer'")
        db.execute("INSERT INTO t VALUES (4, 5, 6, ?)", ("w" * 70_000,))
        log = path.with_name(path.name + "-wal").read_bytes()
        made = [row for _, row in rows(path) if len(row) == 4]
        file = path.read_bytes()
    assert [1, 2, 3, "newer"] in made
    assert [4, 5, 6, "w" * 70_000] in made
    # The log's last word comes last.
    assert made.index([1, 2, 3, "kept"]) < made.index([1, 2, 3, "newer"])
    # A log that is none is passed over.
    copy = path.with_name("copy.db")
    copy.write_bytes(file)
    for spoilt in (b"", b"no log" * 9, b"\0" + log[1:]):
        copy.with_name("copy.db-wal").write_bytes(spoilt)
        assert [row for _, row in rows(copy) if len(row) == 4] == [[1, 2, 3, "kept"]]


def test_a_cell_that_does_not_parse_costs_no_other(path: Path) -> None:
    put(path, [(n, f"mark{n:02d}", n, n) for n in range(10)])
    data = path.read_bytes()
    at = data.index(b"mark04")
    path.write_bytes(data[:at] + 6 * b"\xff" + data[at + 6 :])
    assert sorted(found(path)) == [1, 2, 3, 4, 6, 7, 8, 9, 10]
    # The length of the row's head, just before its columns' kinds, says more than there is.
    head = at - 7
    path.write_bytes(data[:head] + b"\x7f" + data[head + 1 :])
    assert len(found(path)) >= 9
    path.write_bytes(data[:7])
    assert found(path) == {}
    path.write_bytes(b"")
    assert found(path) == {}
