"""Handling: pressure, tooth, blending, order of work, papers, lightfastness, cautions.

Questions come from a bank in ``handling_bank.toml``, each choice of it with a
score and a reason, each question with its why and, where there is one, its
source. Nothing is judged by colour, so they are asked on any terminal. There is
no finer step to ask at: easiest and hardest are one, and no threshold is measured.
"""

from __future__ import annotations

import random
import tomllib
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

from drills.layering.palette import Palette
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import Ask, CannotAskError, Grade, Question, Result, Reveal
from drills.questions.results import choices, mark_of

BANK = Path(__file__).with_name("handling_bank.toml")
TOPICS = ("pressure", "tooth", "blending", "order of work", "papers", "lightfastness", "cautions")
COMMON_PRACTICE = "common practice, no source"
NEARLY = 0.5
"""Score from which a choice that isn't the best is told to be nearly so."""


@dataclass(frozen=True)
class Way:
    """One choice: its ``letter`` in the bank's order, what it earns (0–1), and why."""

    letter: str
    text: str
    score: float
    reason: str


@dataclass(frozen=True)
class BankQuestion:
    """One question of the bank; ``source`` is empty where there is none.

    ``ways`` are in the order offered.
    """

    id: str
    topic: str
    ask: str
    why: str
    source: str
    ways: tuple[Way, ...]

    @property
    def best(self) -> Way:
        return max(self.ways, key=lambda way: way.score)


@lru_cache(maxsize=1)
def bank() -> tuple[BankQuestion, ...]:
    """Every question, in the file's order. Raises ValueError where the file is not as agreed."""
    with BANK.open("rb") as file:
        return tuple(_entry(item) for item in tomllib.load(file)["question"])


def _entry(item: dict[str, object]) -> BankQuestion:
    choices = item["choices"]
    assert isinstance(choices, list)
    ways = tuple(
        Way(letter, str(one["text"]), float(one["score"]), str(one["reason"]))
        for letter, one in zip("abcdef", choices, strict=False)
    )
    entry = BankQuestion(
        id=str(item["id"]),
        topic=str(item["topic"]),
        ask=str(item["ask"]),
        why=str(item["why"]),
        source=str(item.get("source", "")),
        ways=ways,
    )
    scores = [way.score for way in ways]
    if entry.topic not in TOPICS or scores.count(1.0) != 1 or not all(0 <= s <= 1 for s in scores):
        raise ValueError(f"{BANK.name}: question {entry.id}: a topic we know and one best choice")
    return entry


class Handling(Exercise[BankQuestion]):
    name = "handling"
    version = 2
    title = "Handling"
    trains = "to know what the hand, the paper and the label ask for"
    at_the_table = "Lay the first layers lightly: the tooth you keep lets the later ones in."
    look_for = ("Go through what each would do on the paper, and where it would go wrong.",)
    needs_colour = False
    seconds, unit, steps, chance = 18.0, "", (1.0, 1.0), 0.25
    of_the_eye = False

    def regions(self, palette: Palette) -> tuple[str, ...]:
        return TOPICS

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        entries = [entry for entry in bank() if entry.topic == region]
        if not entries:
            raise CannotAskError(f"there is nothing to ask about {region}")
        entry = rng.choice(entries)
        ways = tuple(rng.sample(entry.ways, len(entry.ways)))
        return self.question(
            replace(entry, ways=ways),
            region,
            1.0,
            id=entry.id,
            key=entry.best.letter,
            choices=[way.letter for way in ways],
            scores=[way.score for way in ways],
        )

    def first_ask(self, entry: BankQuestion) -> Ask:
        return Ask(entry.ask, choices({way.letter: way.text for way in entry.ways}))

    def graded(self, entry: BankQuestion, keys: Keys) -> Grade:
        way = _chosen(entry, keys)
        right = way is entry.best
        said = "Yes" if right else "Nearly" if way.score >= NEARLY else "No"
        return Grade(way.score, right, 1.0 - way.score, "none", f"{said}: {way.reason}.")

    def revealed(self, entry: BankQuestion, keys: Keys) -> Reveal:
        mine = _chosen(entry, keys)
        return Reveal(
            because=(entry.why, f"Source: {entry.source or COMMON_PRACTICE}."),
            results=tuple(
                Result(way.text, way.reason, mark=mark_of(way is mine, way is entry.best))
                for way in sorted(entry.ways, key=lambda way: -way.score)
            ),
            limits=(
                "Pencils, papers and places differ: what a label or a local rule says goes before "
                "what is said here."
            ),
        )


def _chosen(entry: BankQuestion, keys: Keys) -> Way:
    (letter,) = keys
    return next(way for way in entry.ways if way.letter == letter)


KIND = Handling()
