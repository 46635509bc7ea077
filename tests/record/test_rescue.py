"""Of a damaged record, what can be read is saved: through SQLite, and else byte by byte."""

from __future__ import annotations

import random
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from click.testing import CliRunner

from coach.cli import cli
from drills.basics.errors import InputError
from scores.record.mending import damaged_pages as rawpages
from scores.record.mending.readable_rows import _reachable
from scores.record.record import Record
from scores.record.rows import ATTEMPT_COLUMNS
from scores.upkeep.rescue import rescue
from tests.answers import START, answer

PAGE = 4096
COUNT = 400


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("made") / "record.db"
    record = Record.open(path)
    for number in range(COUNT):
        long = "ü" * (9000 if number % 50 == 7 else 200)
        record.save(
            answer(
                number,
                region=f"region {number % 9}",
                days=number / 20,
                facts={"choices": ["lighter", "darker"], "computed": long},
            )
        )
    record.put_pencils("a" * 64, "Tin", "name,hex\r\nRed,#c03030\r\n", START)
    record.set_setting("minutes", 12)
    record.close()
    return path


@pytest.fixture
def sound(made: Path, tmp_path: Path) -> Path:
    """A closed record of 400 answers, some with details longer than a page."""
    return Path(shutil.copy(made, tmp_path / "record.db"))


def kept(path: Path) -> dict[str, object]:
    record = Record.open(path)
    try:
        assert record.check() == ()
        assert record.replay() == record.skills()
        return {attempt.id: attempt for attempt in record.attempts()}
    finally:
        record.close()


def pages_of(path: Path, table: str) -> list[int]:
    """The pages of a table, from its rows' places (its root first)."""
    with closing(sqlite3.connect(path)) as db:
        (root,) = db.execute(
            "SELECT rootpage FROM sqlite_master WHERE name = ? AND type = 'table'", (table,)
        ).fetchone()
    return [root, *_below(path.read_bytes(), root)]


def _below(data: bytes, number: int) -> list[int]:
    """The pages under an interior page of a table (file format, §1.6)."""
    page = data[(number - 1) * PAGE : number * PAGE]
    if page[0] != 5:
        return []
    cells = int.from_bytes(page[3:5], "big")
    starts = [int.from_bytes(page[12 + 2 * i : 14 + 2 * i], "big") for i in range(cells)]
    children = [int.from_bytes(page[at : at + 4], "big") for at in starts]
    children.append(int.from_bytes(page[8:12], "big"))
    return [page for child in children for page in (child, *_below(data, child))]


def scribble(path: Path, pages: list[int], seed: int = 1) -> None:
    rng = random.Random(seed)
    data = bytearray(path.read_bytes())
    for number in pages:
        data[(number - 1) * PAGE : number * PAGE] = rng.randbytes(PAGE)
    path.write_bytes(data)


def test_a_sound_record_is_saved_whole(sound: Path, tmp_path: Path) -> None:
    saved = rescue(sound, tmp_path / "new.db")
    assert (saved.answers, saved.bare, saved.missing) == (COUNT, 0, 0)
    assert kept(tmp_path / "new.db") == kept(sound)
    record = Record.open(tmp_path / "new.db")
    assert record.setting("minutes") == 12
    assert record.active_pencils() == Record.open(sound).active_pencils()


def test_a_scribbled_page_of_answers_loses_those_and_no_others(sound: Path, tmp_path: Path) -> None:
    before = kept(sound)
    leaf = pages_of(sound, "attempts")[3]
    on_it = [
        values[1]
        for _, values in rawpages._leaf(
            sound.read_bytes()[(leaf - 1) * PAGE : leaf * PAGE], 0, PAGE, lambda _: b""
        )
    ]
    assert on_it
    scribble(sound, [leaf])
    saved = rescue(sound, tmp_path / "new.db")
    after = kept(tmp_path / "new.db")
    assert saved.answers == COUNT - len(on_it)
    assert saved.missing == len(on_it)
    assert after == {key: value for key, value in before.items() if key not in on_it}


@pytest.mark.parametrize("table", ["attempts", "attempt_facts"])
def test_a_broken_root_loses_no_answer(table: str, sound: Path, tmp_path: Path) -> None:
    """The tree that leads to the rows is gone, the rows are not."""
    before = kept(sound)
    scribble(sound, pages_of(sound, table)[:1])
    with closing(sqlite3.connect(sound)) as db, pytest.raises(sqlite3.DatabaseError):
        db.execute(f"SELECT * FROM {table}").fetchall()
    saved = rescue(sound, tmp_path / "new.db")
    assert (saved.answers, saved.bare) == (COUNT, 0)
    assert kept(tmp_path / "new.db") == before


def test_a_scribbled_first_page_loses_no_answer(sound: Path, tmp_path: Path) -> None:
    """Neither the file's header nor its schema can be read."""
    before = kept(sound)
    scribble(sound, [1])
    saved = rescue(sound, tmp_path / "new.db")
    assert (saved.answers, saved.bare, saved.pencils) == (COUNT, 0, 1)
    assert kept(tmp_path / "new.db") == before


def test_answers_whose_details_are_lost_still_count(sound: Path, tmp_path: Path) -> None:
    before = kept(sound)
    scribble(sound, pages_of(sound, "attempt_facts")[4:9])
    saved = rescue(sound, tmp_path / "new.db")
    assert saved.answers == COUNT
    assert saved.bare > 0
    after = kept(tmp_path / "new.db")
    assert after.keys() == before.keys()
    assert sum(after[key] == before[key] for key in before) == COUNT - saved.bare


def test_a_file_cut_short_keeps_its_beginning(sound: Path, tmp_path: Path) -> None:
    before = kept(sound)
    data = sound.read_bytes()
    sound.write_bytes(data[: len(data) * 6 // 10])
    saved = rescue(sound, tmp_path / "new.db")
    after = kept(tmp_path / "new.db")
    assert 0 < saved.answers < COUNT
    assert after.keys() <= before.keys()


def test_answers_still_in_the_log_are_saved(sound: Path, tmp_path: Path) -> None:
    """The machine stopped before the log was brought home, and then the file was damaged."""
    record = Record.open(sound)
    for number in range(COUNT, COUNT + 30):
        record.save(answer(number, days=40))
    torn = tmp_path / "torn" / "record.db"
    torn.parent.mkdir()
    for end in ("", "-wal"):
        torn.with_name(torn.name + end).write_bytes(sound.with_name(sound.name + end).read_bytes())
    before = {attempt.id for attempt in record.attempts()}
    record.close()
    scribble(torn, [1])
    saved = rescue(torn, tmp_path / "new.db")
    assert saved.answers == COUNT + 30
    assert kept(tmp_path / "new.db").keys() == before


@pytest.mark.parametrize("seed", range(15))
def test_bytes_changed_anywhere_never_crash_the_rescue(
    seed: int, sound: Path, tmp_path: Path
) -> None:
    rng = random.Random(seed)
    before = kept(sound)
    data = bytearray(sound.read_bytes())
    for _ in range(rng.randrange(1, 400)):
        data[rng.randrange(len(data))] = rng.randrange(256)
    sound.write_bytes(data)
    saved = rescue(sound, tmp_path / "new.db")
    after = kept(tmp_path / "new.db")
    assert saved.answers == len(after)
    # A changed byte inside a row may leave it readable but wrong; ids tell of most.
    assert len(after.keys() & before.keys()) >= 0.5 * COUNT


def test_a_file_that_is_no_record_gives_nothing(tmp_path: Path) -> None:
    for number, content in enumerate((b"", b"Dear diary " * 999, random.Random(1).randbytes(9000))):
        source = tmp_path / f"{number}.db"
        source.write_bytes(content)
        with pytest.raises(InputError, match="nothing in it can be read"):
            rescue(source, tmp_path / "new.db")
        assert not (tmp_path / "new.db").exists()


def test_a_rescue_overwrites_nothing(sound: Path, tmp_path: Path) -> None:
    (tmp_path / "new.db").write_bytes(b"dear")
    with pytest.raises(InputError, match="there is a file of this name"):
        rescue(sound, tmp_path / "new.db")
    assert (tmp_path / "new.db").read_bytes() == b"dear"


def test_the_command_says_what_was_saved_and_what_not(sound: Path, tmp_path: Path) -> None:
    scribble(sound, [pages_of(sound, "attempts")[3], *pages_of(sound, "attempt_facts")[4:6]])
    result = CliRunner().invoke(cli, ["scores", "rescue", str(sound), "-o", str(tmp_path / "n.db")])
    assert result.exit_code == 0
    assert "answers saved" in result.output
    assert "without what was shown" in result.output
    assert "were not found" in result.output


def test_the_raw_reader_agrees_with_sqlite(tmp_path: Path) -> None:
    """Every type and size of value, as SQLite writes it."""
    path = tmp_path / "t.db"
    values = [
        *(0, 1, -1, 127, 128, -32768, 1 << 23, -(1 << 31), 1 << 40, (1 << 63) - 1, -(1 << 63)),
        *(0.0, -1.5, 3.25e300, 1e-300),
        *("", "a", "grün", "x" * 4061, "y" * 4062, "z" * 50_000, b"", b"\x00\xff" * 3000, None),
    ]
    with closing(sqlite3.connect(path)) as db:
        db.execute("CREATE TABLE t (a, b, c)")
        for number, value in enumerate(values):
            db.execute("INSERT INTO t VALUES (?, ?, ?)", (value, number, f"row {number}"))
        db.commit()
        wanted = db.execute("SELECT rowid, a, b, c FROM t").fetchall()
    found = {row: tuple(cells) for row, cells in rawpages.rows(path) if len(cells) == 3}
    assert {row: tuple(cells) for row, *cells in wanted} == found


def test_the_width_of_a_row_tells_what_it_is() -> None:
    """What the raw reader goes by: no other table is as wide."""
    from scores.record.rows import COLUMNS

    widths = sorted(len(columns.split(",")) for columns in COLUMNS.values())
    assert widths.count(1 + len(ATTEMPT_COLUMNS.split(","))) == 1


def test_a_table_whose_pages_lead_nowhere_is_given_up() -> None:
    """Single rows seem to be there at any number, and reading on fails each time: it ends."""

    class Broken:
        def execute(self, sql: str, values: tuple[int, ...]) -> object:
            if "LIMIT 1" in sql:
                return self
            raise sqlite3.DatabaseError("database disk image is malformed")

        def fetchone(self) -> tuple[int]:
            return (1,)

    assert list(_reachable(Broken(), "attempts")) == []  # type: ignore[arg-type]
