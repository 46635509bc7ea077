"""What a course is, once it has been read and found sound."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace
from typing import Annotated

from decks.deck import FORMAT, Deck, canonical
from decks.fields import Several, Share, Text, Word
from drills.basics.json_values import as_json, json_text
from scores.exchange.results_written import CoursePlace

MOST_DECKS, MOST_LEVELS = 30, 10


@dataclass(frozen=True)
class Level:
    """What is made of a course's decks for a group or a student.

    ``questions`` multiplies the questions a day, ``harder`` moves both bounds of difficulty
    (levels between a kind's easiest step, 0, and its hardest, 1).
    """

    name: Annotated[str, Text(40), "The level's name, as it is chosen by."]
    about: Annotated[str, Text(200, empty=True), "Whom it is for."] = ""
    questions: Annotated[
        float, Share(0.1, 3.0), "Questions a day for each that the decks ask for."
    ] = 1.0
    harder: Annotated[
        float, Share(-1.0, 1.0), "Added to easiest and hardest; below 0 it is easier."
    ] = 0.0
    pass_level: Annotated[
        float | None, Share(0.1, 1.0), "Mean grade to reach, in place of the decks' own."
    ] = None


@dataclass(frozen=True)
class CourseDeck:
    """A deck in its place in a course; ``needs`` are names of decks to be passed before it."""

    name: Annotated[str, Word(), "The deck's name in the course, given once."]
    needs: Annotated[
        tuple[str, ...],
        Several(Word(), "decks", MOST_DECKS, unique=True),
        "Decks to be passed before it opens, all of them above it."
        " Left out: the one above; [] for none.",
    ]
    deck: Deck


@dataclass(frozen=True)
class Course:
    """A course; each field with what a file may say of it, and what it is for.

    ``level`` is the name of the level chosen, empty for none; ``decks`` are as they were
    written, whatever level is chosen (``decks.courses.levels``).
    """

    title: Annotated[str, Text(80), "The course's name."]
    author: Annotated[str, Text(80), "Who the student sees it, and all its decks, are from."]
    decks: tuple[CourseDeck, ...]
    purpose: Annotated[str, Text(300, empty=True), "What it is for, in one line."] = ""
    note: Annotated[
        str, Text(2_000, lines=True, empty=True), "A word to the student; may have line breaks."
    ] = ""
    part: Annotated[str, Text(20), "What one of its decks is called: week, lesson."] = "week"
    level: Annotated[
        str, Text(40, empty=True), "The level chosen, written by: coach course pack --level"
    ] = ""
    levels: tuple[Level, ...] = ()

    @property
    def fingerprint(self) -> str:
        """The course's name among all: sha256 of its content, in hexadecimal."""
        content = {
            **as_json(replace(self, decks=())),
            "format": FORMAT,
            "decks": [[one.name, list(one.needs), canonical(one.deck)] for one in self.decks],
        }
        return hashlib.sha256(json_text(content, in_order=True).encode()).hexdigest()

    def place(self, number: int) -> CoursePlace:
        """The place of a deck by its number, from 1."""
        one = self.decks[number - 1]
        return CoursePlace(
            self.title,
            self.author,
            self.part,
            one.name,
            number,
            len(self.decks),
            one.deck.questions,
            self.level,
        )
