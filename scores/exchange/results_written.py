"""The results file that a student sends: the answers to one deck, and nothing else.

``{"digest": …, "results": {…}}`` as canonical JSON: keys sorted, no spaces, UTF-8.
The digest is the sha256 of the canonical text of ``results``. It finds damage
on the way; it is no proof of who answered.
"""

from __future__ import annotations

import hashlib
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING

from drills.basics.errors import plain
from drills.basics.json_values import JSON, as_json, json_text
from scores.classes.passing import Growth
from scores.exchange.on_paper import MOST_ON_PAPER, ON_PAPER, paper_statement
from scores.exchange.xapi import statement

if TYPE_CHECKING:
    from scores.record.attempt import Attempt
    from scores.record.paper_answers import PaperAnswer

FORMAT = "coloured-pencil-coach results"
SCHEMA = 1
"""The version of the results file that this program writes and reads."""
MAX_ANSWERS = 30_000
"""Answers in one file; of more, the latest are shared."""
NAME_MOST = 40
"""Characters in a pseudonym."""
MOST_PLACES = 20
"""Courses in which one deck stands."""
PENCILS_MOST = 40
"""Characters of a pencil set's name; a longer one is cut."""
PENCIL_SET_MOST = 300_000
"""Characters of a pencil set's CSV; a longer one is not sent."""


@dataclass(frozen=True)
class CoursePlace:
    """The place of a deck in a course: ``number`` of ``decks``, from 1.

    ``author`` and ``title`` are the course's, ``part`` is what it calls its decks ("week"),
    ``name`` the deck's name in it. ``asks`` is the sha256 of what the deck asks as it stands
    in the course, whatever the ``level`` chosen made of it; that is empty for none.
    """

    title: str
    author: str
    part: str
    name: str
    number: int
    decks: int
    asks: str
    level: str = ""

    @property
    def words(self) -> str:
        """ "Week 2 of 4"."""
        return f"{self.part[:1].upper()}{self.part[1:]} {self.number} of {self.decks}"

    @property
    def course(self) -> tuple[str, str]:
        """Which course it is, however the words are spaced or their letters written."""
        return (" ".join(self.author.split()).casefold(), " ".join(self.title.split()).casefold())


@dataclass(frozen=True)
class DeckNamed:
    """What a results file says of its deck; ``due`` is a day or None.

    ``questions`` is the sha256 of what it asks, which stays when its words are changed;
    empty in files of older coaches. ``growth`` says where days want more or fewer answers.
    ``also`` are its places in other courses than ``course``.
    """

    fingerprint: str
    title: str
    author: str
    items_a_day: int
    days: int
    due: date | None
    pass_level: float
    questions: str = ""
    growth: Growth = ()
    course: CoursePlace | None = None
    also: tuple[CoursePlace, ...] = ()

    @property
    def places(self) -> tuple[CoursePlace, ...]:
        """Its places in courses, in each one at most."""
        return () if self.course is None else (self.course, *self.also)


@dataclass(frozen=True)
class Share:
    """A results file about to be written: its text, and what is in it for the student to see."""

    text: str
    results: dict[str, JSON]
    answers: int
    left_out: int
    on_paper: int = 0


def digest_of(text: str) -> str:
    """The sha256 of a canonical text, in hexadecimal."""
    return hashlib.sha256(text.encode()).hexdigest()


def sound_name(name: str) -> str:
    """A pseudonym, tidied. Raises ValueError with the reason in plain words."""
    text = " ".join(name.split())
    if not text:
        raise ValueError("a name is needed: any that your teacher will know you by")
    if len(text) > NAME_MOST:
        raise ValueError(f"a name may have {NAME_MOST} characters")
    if plain(text, NAME_MOST) != text:
        raise ValueError("the name holds a control or invisible character")
    return text


def share(
    attempts: Iterable[Attempt],
    deck: DeckNamed,
    student: str,
    pseudonym: str,
    app: str,
    now: datetime,
    pencils: str = "",
    pencil_set: str = "",
    on_paper: Iterable[tuple[Attempt, PaperAnswer]] = (),
) -> Share:
    """The results file of these attempts, which must all be of this deck; ``on_paper`` are those
    written on its worksheets, as ``scores.exchange.on_paper.shared`` gives them.

    ``student`` is a random UUID that stays the same from file to file, ``app``
    this program's version, ``pencils`` the name of the set in use, by which a class tells
    students of one name apart. ``pencil_set`` is that set's canonical CSV where the student
    puts it in, else empty. Raises ValueError for an attempt of another deck.
    """
    mine = list(attempts)
    if any(attempt.deck != deck.fingerprint for attempt in mine):
        raise ValueError("an attempt is not of this deck")
    left_out = max(0, len(mine) - MAX_ANSWERS)
    mine = mine[left_out:]
    statements: list[JSON] = [statement(attempt, student, pseudonym) for attempt in mine]
    results: dict[str, JSON] = {
        "format": FORMAT,
        "schema": SCHEMA,
        "app": app,
        "made": now.astimezone(UTC).isoformat(timespec="seconds"),
        "deck": as_json(deck),
        "student": {"id": student, "name": pseudonym, **_pencils(pencils, pencil_set)},
        "summary": summary(mine),
        "statements": statements,
    }
    paper = list(on_paper)[-MOST_ON_PAPER:]
    if paper:
        results[ON_PAPER] = [
            paper_statement(attempt, typed, student, pseudonym) for attempt, typed in paper
        ]
    inner = json_text(results, in_order=True)
    # Keys in order: this is the canonical text of the whole, too.
    text = f'{{"digest":"{digest_of(inner)}","results":{inner}}}\n'
    return Share(text, results, len(mine), left_out, len(paper))


def _pencils(name: str, pencil_set: str) -> dict[str, JSON]:
    tidy = plain(" ".join(name.split()), PENCILS_MOST).strip()
    said: dict[str, JSON] = {"pencils": tidy} if tidy else {}
    if pencil_set and len(pencil_set) <= PENCIL_SET_MOST:
        said["pencil_set"] = pencil_set
    return said


def summary(attempts: Iterable[Attempt]) -> dict[str, JSON]:
    """Totals, days and skills, for a reader of the file; a class works out its own."""
    scores: dict[tuple[str, str], list[tuple[float, bool]]] = defaultdict(list)
    days: dict[str, int] = defaultdict(int)
    seconds = 0.0
    for attempt in attempts:
        scores[attempt.kind, attempt.region].append((attempt.score, attempt.right))
        days[attempt.day.isoformat()] += 1
        seconds += attempt.response_s
    every = [one for group in scores.values() for one in group]
    skills: list[JSON] = []
    for (kind, region), group in sorted(scores.items()):
        skills.append(
            {
                "kind": kind,
                "region": region,
                "answers": len(group),
                "right": sum(right for _, right in group),
                "mean_score": round(sum(score for score, _ in group) / len(group), 4),
            }
        )
    listed: dict[str, JSON] = {day: days[day] for day in sorted(days)}
    return {
        "answers": len(every),
        "right": sum(right for _, right in every),
        "mean_score": round(sum(score for score, _ in every) / len(every), 4) if every else None,
        "seconds": round(seconds, 1),
        "days": listed,
        "skills": skills,
    }
