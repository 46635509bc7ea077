"""What a results file says of its deck: hostile until every part of it is checked."""

from __future__ import annotations

import re
from typing import Any

from drills.basics.days import day_of
from drills.basics.errors import plain
from drills.basics.json_values import from_json
from scores.classes.passing import Growth
from scores.exchange.results_written import MOST_PLACES, CoursePlace, DeckNamed

TITLE_MOST = 80
MAX_GROWTH, MAX_COURSE = 30, 30
"""Changes of a deck's answers a day, and decks in a course."""

_HEX = re.compile(r"[0-9a-f]{64}")


def line_of(value: object, what: str, longest: int) -> str:
    """A line of words. Raises ValueError, in plain words."""
    if not isinstance(value, str) or not value.strip() or len(value) > longest:
        raise ValueError(f"{what} is missing or over {longest} characters long")
    if plain(value, longest) != value:
        raise ValueError(f"{what} holds a control or invisible character")
    return value.strip()


def deck_of(said: Any) -> DeckNamed:
    """The deck. Raises ValueError in plain words, KeyError or TypeError where a part is missing."""
    fingerprint = said["fingerprint"]
    if not (isinstance(fingerprint, str) and _HEX.fullmatch(fingerprint)):
        raise ValueError("the deck's fingerprint is none")
    questions = said.get("questions", "")
    if not (isinstance(questions, str) and (not questions or _HEX.fullmatch(questions))):
        raise ValueError("the fingerprint of the deck's questions is none")
    items, days, level = said["items_a_day"], said["days"], said["pass_level"]
    if not (type(items) is int and 1 <= items <= 100 and type(days) is int and 1 <= days <= 366):
        raise ValueError("the deck's days are out of range")
    if type(level) not in (int, float) or not 0 <= level <= 1:
        raise ValueError("the deck's pass level is out of range")
    due = said["due"]
    if due is not None:
        if not isinstance(due, str) or len(due) != 10:
            raise ValueError("the deck's due date is none")
        due = day_of(due)
    return DeckNamed(
        fingerprint,
        line_of(said["title"], "the deck's title", TITLE_MOST),
        line_of(said["author"], "the deck's author", TITLE_MOST),
        items,
        days,
        due,
        float(level),
        questions,
        _growth(said.get("growth", [])),
        *_places(said),
    )


def _places(said: Any) -> tuple[CoursePlace | None, tuple[CoursePlace, ...]]:
    """The deck's place in a course, and those in others; older files have one at most."""
    first, also = _course(said.get("course")), said.get("also", [])
    if not isinstance(also, list) or len(also) >= MOST_PLACES or (also and first is None):
        raise ValueError("the deck's places in courses are none, or too many")
    others = tuple(one for one in map(_course, also) if one is not None)
    names = [one.course for one in (first, *others) if one is not None]
    if len(others) != len(also) or len(set(names)) != len(names):
        raise ValueError("the deck's places in courses are none, or twice in one")
    return first, others


def _growth(said: Any) -> Growth:
    """From which days on a deck wants how many answers; none in older files."""
    try:
        growth = tuple((day, items) for day, items in said[:MAX_GROWTH])
    except (TypeError, ValueError):
        raise ValueError("the deck's growth is none") from None
    sound = all(type(day) is type(items) is int for day, items in growth)
    if not sound or not all(1 <= day <= 366 and 1 <= items <= 100 for day, items in growth):
        raise ValueError("the deck's growth is out of range")
    if list(growth) != sorted(growth, key=lambda one: one[0]):
        raise ValueError("the deck's growth is out of order")
    return growth


def _course(said: Any) -> CoursePlace | None:
    """The deck's place in a course, where it is in one."""
    if said is None:
        return None
    try:
        found = from_json(CoursePlace, said)
    except ValueError:
        raise ValueError("the deck's place in a course is none") from None
    for text, most in ((found.title, 80), (found.author, 80), (found.part, 20), (found.name, 40)):
        line_of(text, "the deck's course", most)
    if found.level:
        line_of(found.level, "the deck's level", 40)
    if not (1 <= found.number <= found.decks <= MAX_COURSE and _HEX.fullmatch(found.asks)):
        raise ValueError("the deck's place in a course is out of range")
    return found
