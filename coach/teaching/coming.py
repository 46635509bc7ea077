"""A file from a teacher, whichever kind it is: what it brings, and taking it in."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from coach.teaching.adding import Adding, add, looked_at
from coach.teaching.adding_course import CourseAdding, add_course, course_looked_at
from coach.teaching.replies_kept import look_at, reply_words, take_in
from coach.teaching.reply import Reply, is_reply, read_reply
from coach.teaching.sealed import MAX_BYTES
from decks.courses.course import Course
from decks.courses.course_file import read_work
from drills.basics.ordinary_file import read_ordinary

if TYPE_CHECKING:
    from datetime import datetime

    from decks.deck import Deck
    from scores.record.record import Record


class Coming(NamedTuple):
    """What a file brings: a reply, a deck or a course, or a reply with a deck; ``new`` where it
    isn't here."""

    reply: Reply | None
    adding: Adding | CourseAdding | None
    words: list[str]
    new: bool

    def take_in(self, record: Record, now: datetime) -> str:
        """Keep it; a sentence on what was kept. Raises InputError."""
        if self.reply is not None:
            take_in(record, self.reply, now)
            return "The reply is kept."
        assert self.adding is not None
        add_work(record, self.adding, now)
        return f"“{self.adding.title}” is added."


def work_looked_at(
    record: Record, work: Deck | Course, now: datetime, anew: bool = False
) -> Adding | CourseAdding:
    """What adding a deck or a course would come to; with ``anew`` nothing older counts."""
    if isinstance(work, Course):
        return course_looked_at(record, work, now, anew)
    return looked_at(record, work, anew)


def add_work(record: Record, adding: Adding | CourseAdding, now: datetime) -> None:
    """Take a deck or a course in. Raises InputError."""
    if isinstance(adding, CourseAdding):
        add_course(record, adding, now)
    else:
        add(record, adding, now)


def looked_in(record: Record, path: str, now: datetime) -> Coming:
    """What is in a file from a teacher. Raises InputError."""
    from coach.home import expanded

    data = read_ordinary(expanded(path), MAX_BYTES, "a deck, a course or a reply")
    if not is_reply(data):
        adding = work_looked_at(record, read_work(data, path).sound(), now)
        if adding.there:
            return Coming(None, None, [f"{adding.title} is among your decks already."], False)
        return Coming(None, adding, adding.words, True)
    reply = read_reply(data, path)
    found = look_at(record, reply)
    brings = [] if found is None else ["", "There is work in it:", *found.words]
    return Coming(reply, found, [*reply_words(reply), *brings], True)
