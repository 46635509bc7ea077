"""A course of three small decks, made up, as a file and as a student has it."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

from coach.session.assigned.deck_progress import DeckStanding, standing
from coach.teaching.adding_course import add_course, course_looked_at
from decks.courses.course import Course
from decks.courses.course_file import read_course
from scores.record.record import Record
from tests.answers import START, answer

TEXT = """\
format = 1
title = "Three weeks"
author = "A. Teacher"
purpose = "To see"

[[levels]]
name = "lighter"
questions = 0.5
harder = -0.2
pass_level = 0.5

[[decks]]
name = "one"
title = "Value"
kinds = ["lighter-or-darker"]
items_a_day = 4
days = 2
pass_level = 0.7

[[decks.steps]]
title = "Look"
on_paper = "Fill five boxes."
hardest = 0.4

[[decks.steps]]
title = "Look again"
day = 2
items_a_day = 6

[[decks]]
name = "two"
title = "Hue"
kinds = ["hue-and-lean"]
items_a_day = 4
days = 2

[[decks]]
name = "three"
title = "Greys"
kinds = ["grey-lean"]
needs = ["one", "two"]
items_a_day = 4
days = 1
"""


def course(text: str = TEXT) -> Course:
    return read_course(text.encode(), "course.toml").sound()


def taken(path: Path, made: Course, anew: bool = False) -> Record:
    """A student's record at ``path`` with the course added."""
    record = Record.open(path)
    add_course(record, course_looked_at(record, made, START, anew), START)
    return record


def stands(record: Record, days: int = 0) -> dict[str, DeckStanding]:
    """Where each deck stands so many days after the start, by its name in the course."""
    rows = standing(record, "", "", at(days))
    return {one.course.place.name if one.course else one.deck.title: one for one in rows}


def at(days: int) -> datetime:
    return START + timedelta(days=days)


def practise(
    record: Record, name: str, day: int, count: int, score: float = 0.9, who: str = ""
) -> None:
    """So many answers to a deck on a day; ``who`` tells two students' answers apart."""
    one = stands(record, day)[name]
    for number in range(count):
        made = answer(number, session=f"{who}{name}/{day}", days=day, deck=one.fingerprint)
        made = replace(made, kind=one.deck.kinds[0], region="red")
        record.save(replace(made, score=score, right=score >= 0.5))
