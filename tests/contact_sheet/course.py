"""A course as its student sees it, and as its teacher does."""

from __future__ import annotations

from collections.abc import AsyncIterator
from datetime import timedelta
from functools import partial
from pathlib import Path

from textual.pilot import Pilot

from tests.contact_sheet.pressing import Seen, pressed, settled
from tests.courses.made import TEXT, at, course, practise, taken
from tests.courses.test_course_class import class_folder

WHEN = at(3) + timedelta(hours=1)


def furnish_course(home: Path) -> Path:
    """A home with a course half done, its file, and a class that has it; its record's path."""
    home.mkdir()
    class_folder(home)
    record = taken(home / "record.db", course())
    practise(record, "one", 0, 4)
    practise(record, "one", 1, 6)
    record.close()
    (home / "weeks.toml").write_text(TEXT, encoding="utf-8")
    return home / "record.db"


async def course_walk(pilot: Pilot[None], home: Path) -> AsyncIterator[Seen]:
    """From today and back; ``home`` holds the course's file."""
    press, see = partial(pressed, pilot), partial(Seen, pilot=pilot)
    await settled(pilot, "skills met")
    # What a course's pencils allow is worked out beside the screen, and then told on it.
    await pilot.app.workers.wait_for_complete()
    await settled(pilot, "skills met")
    yield see("course-today")
    await press("u")
    yield see("course-of-student")
    await press("escape", "k")
    await settled(pilot, "students", gone="Reading the answers")
    yield see("course-class")
    await press("enter")
    yield see("course-class-student")
    await press("escape", "c")
    yield see("course-class-places")
    await press("escape", "w", "o", *str(home / "weeks.toml"))
    yield see("course-typed")
    await press("enter")
    yield see("course-decks")
    await press("enter", "s")
    yield see("deck-on-paper")
    await press("escape", "escape", "escape")
