"""Where the students of a class stand in a course, whatever level they were given it at."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from coach.reports.classes.words import course_lines
from coach.screens.words_page import PageScreen
from coach.teaching.sharing import made_of
from decks.courses.levels import at_level
from scores.classes.courses import courses
from scores.classes.store import ClassBook
from scores.exchange.results_read import read_results
from scores.record.decks_added import decks_kept
from tests.courses.made import at, course, practise, stands, taken
from tests.pilots import shown, table


def class_folder(path: Path) -> Path:
    """Wren has passed the first deck; Rail, at the lighter level, is on its first day."""
    book = ClassBook.open(path / "class.db")
    for name, level in (("Wren", ""), ("Rail", "lighter")):
        made = at_level(course(), level) if level else course()
        record = taken(path / f"{name}.db", made)
        practise(record, "one", 0, 4, who=name)
        if not level:
            practise(record, "one", 1, 6, who=name)
        now = at(3) + timedelta(hours=1)
        first = stands(record, 3)["one"].fingerprint
        (kept,) = [one for one in decks_kept(record) if one.fingerprint == first]
        shared = made_of(record, kept, name, now)
        book.add(read_results(shared.text.encode(), "file.json", now), "file.json")
        record.close()
    book.close()
    return path


def test_a_class_says_where_each_stands_the_least_far_first(tmp_path: Path):
    book = ClassBook.open(class_folder(tmp_path) / "class.db")
    (told,) = courses(book)
    names = dict(book.db.execute("SELECT id, name FROM students"))
    assert told.title == "Three weeks"
    assert course_lines(told, {**names, "x": "Teal"}) == [
        "Teal  nothing of it yet",
        "Rail  Week 1 of 3: Value, 1 of 2 days (lighter)",
        "Wren  Week 1 of 3: Value, passed",
    ]
    book.close()


async def test_the_class_screen_tells_it_at_c(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("COACH_HOME", str(class_folder(tmp_path)))
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("k")
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert "Week 1 of 3: Value" in shown(app)
        await pilot.press("c")
        await pilot.pause()
        assert isinstance(app.screen, PageScreen)
        assert "Where each stands in “Three weeks”" in shown(app)
        assert "Rail Week 1 of 3: Value, 1 of 2 days (lighter)" in shown(app)
