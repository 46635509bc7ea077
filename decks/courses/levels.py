"""A course at a level: its decks with fewer or more questions, easier or harder."""

from __future__ import annotations

from dataclasses import replace

from decks.courses.course import Course, Level
from decks.deck import Deck
from drills.basics.errors import InputError, plain


def at_level(course: Course, name: str) -> Course:
    """The course with this level chosen, however its letters are written. Raises InputError."""
    for level in course.levels:
        if level.name.casefold() == " ".join(name.split()).casefold():
            return replace(course, level=level.name)
    there = ", ".join(level.name for level in course.levels) or "none"
    where = f"level “{plain(name, 40)}”"
    raise InputError(where, "the course has no such level", f"Its levels: {there}.")


def decks_at_level(course: Course) -> tuple[Deck, ...]:
    """The decks as they are asked at the level chosen."""
    chosen = next((one for one in course.levels if one.name == course.level), None)
    return tuple(one.deck if chosen is None else levelled(one.deck, chosen) for one in course.decks)


def levelled(deck: Deck, level: Level) -> Deck:
    """A deck at a level; bounds stay within 0 and 1, questions a day within 1 and 100."""

    def moved(bound: float) -> float:
        return round(min(1.0, max(0.0, bound + level.harder)), 4)

    def asked(items: int) -> int:
        return min(100, max(1, round(items * level.questions)))

    steps = tuple(
        replace(
            step,
            hardest=moved(step.hardest) if step.hardest < 1.0 else 1.0,
            items_a_day=None if step.items_a_day is None else asked(step.items_a_day),
        )
        for step in deck.steps
    )
    return replace(
        deck,
        easiest=moved(deck.easiest),
        hardest=moved(deck.hardest),
        items_a_day=asked(deck.items_a_day),
        pass_level=deck.pass_level if level.pass_level is None else level.pass_level,
        steps=steps,
    )
