"""Forty command lines at random: the short form of ``python -m tests.bench fuzz``."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.fuzz.lines import Line, lines
from tests.fuzz.runs import Ran, judged
from tests.fuzz.scene import SEED
from tests.fuzz.sheets import LIE, photos
from tests.pseudo_terminal import COACH, ROOT, surroundings

WAIT_S = 60


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes with names are POSIX's")
def test_no_command_line_ends_in_a_traceback_hangs_or_writes_over_anything() -> None:
    """In a process of its own, for it listens to all that its process writes."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.bench.bench_fuzz", "40", "1"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        errors="replace",
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "40 command lines" in done.stdout
    assert "faults: 0" in done.stdout


def test_photos_are_given_to_what_reads_them_and_a_lie_believed_is_told_of(tmp_path: Path) -> None:
    (tmp_path / "given").mkdir()
    made = photos(SEED)
    for name in made:
        (tmp_path / "given" / name).write_bytes(b"")
    assert sum(name.startswith(LIE) for name in made) >= 6
    some = [one for one in lines(tmp_path, 1500, 3) if one.command == "pencils photo"]
    names = [os.path.basename(word) for one in some for word in one.words]
    assert sum(name.startswith(LIE) for name in names) >= 5
    lie = Line("pencils photo", ("pencils", "photo", f"x/{LIE}a.png", "x/good.png"), b"", "whole")
    read = b"Sheet ABC234 (pencils; ...)\n"
    assert list(judged(lie, Ran(0, read, b""))) == ["believed a sheet whose codes lie"]
    assert not list(judged(lie, Ran(0, read + b"Not read: a.png: it lies\n", b"")))


def test_the_same_seed_draws_the_same_photos() -> None:
    assert photos.__wrapped__(7, 2, 2, 3) == photos.__wrapped__(7, 2, 2, 3)
    assert photos.__wrapped__(7, 2, 2, 3) != photos.__wrapped__(8, 2, 2, 3)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes with names are POSIX's")
@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("record.db", ["skills"]),
        ("record.db", ["scores", "backup", "copy.db"]),
        ("record.journal", ["skills"]),
        ("class.db", ["class", "show"]),
    ],
)
def test_a_pipe_in_the_place_of_a_file_is_one_line(
    name: str, words: list[str], tmp_path: Path
) -> None:
    """Opening one would wait for a writer that never comes."""
    os.mkfifo(tmp_path / name)
    done = subprocess.run(
        [*COACH, *words],
        env=surroundings(tmp_path),
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=WAIT_S,
    )
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "ordinary file" in done.stderr


def test_the_doctor_says_that_a_record_is_a_pipe(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "record.db")
    done = subprocess.run(
        [*COACH, "doctor"],
        env=surroundings(tmp_path),
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=WAIT_S,
    )
    assert done.returncode == 1
    assert "not an ordinary file" in done.stdout


@pytest.mark.parametrize(("typed", "status"), [(b"n\n", 1), (b"", 1), (b"\xff\n", 1)])
def test_a_question_answered_no_or_with_no_text_or_not_at_all_changes_nothing(
    typed: bytes, status: int, tmp_path: Path
) -> None:
    environ = surroundings(tmp_path)
    subprocess.run([*COACH, "pencils", "use", "--pocket"], env=environ, cwd=ROOT, check=True)
    done = subprocess.run(
        [*COACH, "scores", "forget"], env=environ, cwd=ROOT, input=typed, capture_output=True
    )
    assert done.returncode == status
    assert b"Traceback" not in done.stderr
    assert (tmp_path / "record.db").exists()
