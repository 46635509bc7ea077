"""Where fuzzed commands run: hostile files, bystanders, and a home in one of many states."""

from __future__ import annotations

import os
import random
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path

from coach.sheets.printed import Printed, keep_printed
from decks.courses.course_pack import pack_course
from decks.pack import pack as packed
from decks.starters import starter, starter_course
from drills.pencils.file import to_csv
from drills.pencils.sets import pocket_set
from scores.record.record import Record
from scores.upkeep.backups import back_up
from tests.answers import START, answer
from tests.fuzz.sheets import photos
from tests.pseudo_terminal import COACH, ROOT, surroundings
from tests.sheets.test_lying_codes import ID

ANSWERS = 12
SEED = 5
Snapshot = dict[str, tuple[int, int, int, int]]


class Scene:
    """A scratch folder: ``given`` to commands, ``here`` they run, ``outside`` is others'."""

    def __init__(self, root: Path) -> None:
        self.root = root.resolve()
        self.home = self.root / "home"
        self.here = self.root / "here"
        self._kept = self.root / "kept"
        self._made = self._kept / "home"
        self._make_home()
        self.lay_out()

    def lay_out(self) -> None:
        """Put everything but the home as it is at the beginning."""
        for name in ("given", "outside", "here", "person", "tmp"):
            shutil.rmtree(self.root / name, ignore_errors=True)
            (self.root / name).mkdir()
        (self.root / "outside" / "dear.txt").write_text("dear", encoding="utf-8")
        for name in ("mine.svg", "page.html", "notes.txt"):
            (self.here / name).write_text("dear", encoding="utf-8")
        _give(self.root / "given", self._made, self.root / "outside")
        self._before = self.bystanders()

    def bystanders(self) -> Snapshot:
        """All but the home and what is put aside for it."""
        return {
            name: found
            for part in ("given", "outside", "here", "person", "tmp")
            for name, found in snapshot(self.root / part).items()
        }

    def changed(self) -> list[str]:
        """Bystanders that were there at the beginning and are not as they were."""
        now = self.bystanders()
        found = [name for name, was in self._before.items() if now.get(name) != was]
        if found:
            self.lay_out()
        else:
            for name in now.keys() - self._before.keys():
                _remove(Path(name))
        return found

    def set_home(self, state: str, rng: random.Random) -> None:
        """A fresh home in this state."""
        if self.home.exists() or self.home.is_symlink():
            _remove(self.home)
        HOMES[state](self.home, self._made, rng)
        if self.home.is_dir() and not self.home.is_symlink():
            (self.home / "garden.txt").write_text("theirs", encoding="utf-8")

    def _make_home(self) -> None:
        """A record with answers, a deck, a backup; a class with a result in it."""
        made = self._made
        path = made / "record.db"
        record = Record.open(path)
        record.set_setting("pseudonym", "Wren")
        pencils = pocket_set()
        record.put_pencils(pencils.fingerprint, pencils.name, to_csv(pencils), START)
        keep_printed(record, ID, Printed(pencils))
        deck = starter("greys")
        for number in range(ANSWERS):
            changes = {
                "kind": "hue-and-lean",
                "deck": deck.fingerprint if number % 2 else "",
                "facts": {"truth": 3, "said": 4},
            }
            record.save(answer(number, days=number, **changes))
        record.close()
        (made / "greys.deck.toml").write_text(packed(deck), encoding="utf-8")
        back_up(path, START.date())
        results = made / "wren.results.json"
        for words in (
            ["deck", "add", str(made / "greys.deck.toml"), "--yes"],
            ["scores", "share", deck.title, "-o", str(results), "--yes"],
            ["class", "add", str(results)],
        ):
            done = subprocess.run(
                [*COACH, *words], env=surroundings(made), cwd=ROOT, capture_output=True, text=True
            )
            assert done.returncode == 0, done.stderr


def snapshot(folder: Path) -> Snapshot:
    """Size, time of the last change, mode and inode of each thing under a folder."""
    found: Snapshot = {}
    for path in (folder, *folder.rglob("*")):
        about = path.lstat()
        # A folder's own size and time change when something is added, as it may be.
        plain = not path.is_dir()
        size, time = (about.st_size, about.st_mtime_ns) if plain else (0, 0)
        found[str(path)] = (size, time, about.st_mode, about.st_ino)
    return found


def answers_in(home: Path) -> set[str]:
    """The ids of all answers in any record in a folder."""
    found: set[str] = set()
    if home.is_dir():
        for path in home.glob("record*.db"):
            if path.is_file():
                with (
                    suppress(sqlite3.Error, UnicodeDecodeError),
                    closing(sqlite3.connect(path)) as db,
                ):
                    found |= {row[0] for row in db.execute("SELECT id FROM attempts")}
    return found


def _remove(path: Path) -> None:
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path)
    else:
        path.unlink(missing_ok=True)


def _give(given: Path, made: Path, outside: Path) -> None:
    """Hostile files, and some good ones."""
    rng = random.Random(SEED)
    csv = to_csv(pocket_set()).encode()
    deck = (made / "greys.deck.toml").read_bytes()
    course = pack_course(starter_course("first-month")).encode()
    table = b'[[decks]]\nname = "d%d"\ntitle = "D%d"\nkinds = ["grey-lean"]\n'
    results = (made / "wren.results.json").read_bytes()
    record = (made / "record.db").read_bytes()
    flipped = bytearray(record)
    for _ in range(200):
        flipped[rng.randrange(100, len(flipped))] = rng.randrange(256)
    for name, data in {
        "good.csv": csv,
        "good.deck.toml": deck,
        "good.results.json": results,
        "good.db": (made / "backups" / f"record-{START.date()}.db").read_bytes(),
        "empty": b"",
        "cut.csv": csv[:97],
        "cut.toml": deck[: len(deck) // 2],
        "cut.json": results[: len(results) // 2],
        "cut.db": record[: len(record) // 2],
        "flipped.db": bytes(flipped),
        "noise": rng.randbytes(20_000),
        "latin.csv": csv.replace(b"name", "näme".encode("latin-1")),
        "latin.toml": deck.replace(b"title", "tïtle".encode("latin-1")),
        "wide.csv": csv.decode().encode("utf-16"),
        "wide.toml": deck.decode().encode("utf-16"),
        "huge.csv": b"name,hex,opacity\r\nRed," + b"9" * 100_000 + b",semi\r\n",
        "huge.toml": b"items_a_day = " + b"9" * 6_000 + b"\n" + deck,
        "huge.json": b'{"form": ' + b"9" * 6_000 + b"}",
        "deep.json": b"[" * 100_000,
        "deep.toml": b"a = " + b"[" * 20_000,
        "control.csv": csv.replace(b"name,", b"na\x1b[31mme,") + b"\x00\x07\x9b,#102030\r\n",
        "control.toml": deck.replace(b"author", b"au\x1b[2Jthor"),
        "many.csv": b"name,hex\r\n" + b"".join(b"P%d,#10%04x\r\n" % (n, n) for n in range(3_000)),
        "good.course.toml": course,
        "cut.course.toml": course[: len(course) // 2],
        "changed.course.toml": course.replace(b"Four weeks", b"Five weeks"),
        "circle.course.toml": course.replace(b'"first-week"', b'"first-week"\nneeds = ["greys"]'),
        "many.course.toml": course + b"".join(table % (n, n) for n in range(3_000)),
        "levels.course.toml": course + b"[[levels]]\n" * 3_000,
        "control.course.toml": course.replace(b"format", b'"\x1b[2J" = 1\nformat'),
        "escaped.course.toml": course.replace(b"A first month", b"\\u001b]0;x\\u0007"),
        "other.course.toml": course.replace(b"format = 1", b"format = 99"),
        "names.txt": b"Wren\n\n  Ada  \nWren\n\x1b[31mX\n",
    }.items():
        (given / name).write_bytes(data)
    for name, data in photos(SEED).items():
        (given / name).write_bytes(data)
    (given / "folder").mkdir()
    os.mkfifo(given / "pipe")
    (given / "dangling").symlink_to(given / "nothing-there")
    (given / "loop").symlink_to(given / "loop")
    (given / "linked").symlink_to(outside / "dear.txt")
    (given / "unreadable").write_bytes(b"x")
    (given / "unreadable").chmod(0)


def _whole(home: Path, made: Path, rng: random.Random) -> None:
    shutil.copytree(made, home)


def _flipped(home: Path, made: Path, rng: random.Random) -> None:
    _whole(home, made, rng)
    for name in ("record.db", "class.db"):
        data = bytearray((home / name).read_bytes())
        for _ in range(rng.randrange(1, 400)):
            data[rng.randrange(len(data))] = rng.randrange(256)
        (home / name).write_bytes(data)


def _cut(home: Path, made: Path, rng: random.Random) -> None:
    _whole(home, made, rng)
    for name in ("record.db", "class.db"):
        os.truncate(home / name, rng.randrange((home / name).stat().st_size))


def _nonsense(home: Path, made: Path, rng: random.Random) -> None:
    """A record that SQLite finds sound, with values nobody wrote."""
    _whole(home, made, rng)
    with closing(sqlite3.connect(home / "record.db", isolation_level=None)) as db:
        for table, column in rng.sample(
            [
                *(("settings", "value"), ("skills", "due_day"), ("skills", "stability")),
                *(("days", "day"), ("kind_times", "recent_s"), ("attempt_facts", "facts")),
                *(("pencil_sets", "csv"), ("decks", "content"), ("attempts", "step")),
            ],
            2,
        ):
            junk = rng.choice(["", "x", "1e999", "[", b"\xff", -1, 1e300, "9999-99-99", None])
            with suppress(sqlite3.Error):
                db.execute(f"UPDATE {table} SET {column} = ?", (junk,))


def _folders(home: Path, made: Path, rng: random.Random) -> None:
    (home / "record.db").mkdir(parents=True)
    (home / "class.db").mkdir()


def _linked(home: Path, made: Path, rng: random.Random) -> None:
    home.mkdir()
    for name in ("record.db", "class.db", "backups"):
        (home / name).symlink_to(home.parent / "outside" / rng.choice(["dear.txt", "none"]))


def _pipes(home: Path, made: Path, rng: random.Random) -> None:
    home.mkdir()
    os.mkfifo(home / rng.choice(["record.db", "record.journal"]))
    os.mkfifo(home / "class.db")


def _a_file(home: Path, made: Path, rng: random.Random) -> None:
    home.write_text("theirs", encoding="utf-8")


def _empty(home: Path, made: Path, rng: random.Random) -> None:
    home.mkdir()


def _none(home: Path, made: Path, rng: random.Random) -> None:
    return


HOMES: dict[str, Callable[[Path, Path, random.Random], None]] = {
    "whole": _whole,
    "whole again": _whole,
    "flipped": _flipped,
    "cut": _cut,
    "nonsense": _nonsense,
    "folders": _folders,
    "linked": _linked,
    "pipes": _pipes,
    "a file": _a_file,
    "empty": _empty,
    "none": _none,
}
PYTHON = sys.executable
