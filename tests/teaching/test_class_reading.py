"""A class read in a thread of its own: its file is let go of before the screen is gone."""

from __future__ import annotations

from pathlib import Path

import pytest

from coach.teaching.class_opened import ClassReading
from scores.classes.standing_lines import ClassStanding
from scores.classes.store import ClassBook


@pytest.fixture
def path(tmp_path: Path) -> Path:
    ClassBook.open(tmp_path / "class.db").close()
    return tmp_path / "class.db"


def test_it_is_let_go_of_while_the_model_is_worked_out(path: Path) -> None:
    reading, left = ClassReading(), []

    def scales() -> dict[str, object]:
        # The model comes after the file: leaving waits for nothing here, and no log is there.
        reading.leave()
        left.append(sorted(one.name for one in path.parent.iterdir()))
        return {}

    assert isinstance(reading.standing(path, "", scales), ClassStanding)  # type: ignore[arg-type]
    assert left == [["class.db"]]


def test_leaving_waits_while_the_file_is_open(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    reading, real = ClassReading(), ClassBook.open
    held: list[bool] = []

    def opened(*given: object, **more: object) -> ClassBook:
        held.append(reading._lock.locked())
        return real(*given, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(ClassBook, "open", opened)
    reading.standing(path, "", dict)
    assert held == [True]
    assert not reading._lock.locked()


def test_once_left_it_is_opened_no_more(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    reading = ClassReading()
    reading.leave()
    monkeypatch.setattr(ClassBook, "open", None)
    assert reading.standing(path, "", dict) is None
