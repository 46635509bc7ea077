"""Handling: pressure, tooth, blending, order of work, papers, lightfastness, cautions.

Questions come from a bank in ``handling_bank.toml``, each choice of it with a
score and a reason, each question with its why and, where there is one, its
source. Nothing is judged by colour, so they are asked on any terminal. There is
no finer step to ask at: easiest and hardest are one, and no threshold is measured.
"""

from __future__ import annotations

import random
import tomllib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from drills.layering.palette import Palette
from drills.questions.draw import mark_of
from drills.questions.protocol import (
    Answers,
    Ask,
    CannotAskError,
    Choice,
    Grade,
    Question,
    Result,
    Reveal,
)

BANK = Path(__file__).with_name("handling_bank.toml")
TOPICS = (
    "pressure",
    "tooth",
    "blending",
    "order of work",
    "papers",
    "lightfastness",
    "cautions",
)
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
    """One question of the bank; ``source`` is empty where there is none."""

    id: str
    topic: str
    ask: str
    why: str
    source: str
    ways: tuple[Way, ...]

    @property
    def best(self) -> Way:
        return max(self.ways, key=lambda way: way.score)


@dataclass(frozen=True)
class Data:
    """The entry, and its ways in the order offered."""

    entry: BankQuestion
    offered: tuple[Way, ...]


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


@dataclass(frozen=True)
class Handling:
    """See the module."""

    name: str = "handling"
    version: int = 1
    title: str = "Handling"
    trains: str = "to know what the hand, the paper and the label ask for"
    needs_colour: bool = False
    seconds: float = 18.0
    unit: str = ""
    steps: tuple[float, float] = (1.0, 1.0)
    chance: float = 0.25

    def regions(self, palette: Palette) -> tuple[str, ...]:
        return TOPICS

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        entries = [entry for entry in bank() if entry.topic == region]
        if not entries:
            raise CannotAskError(f"there is nothing to ask about {region}")
        entry = rng.choice(entries)
        offered = tuple(rng.sample(entry.ways, len(entry.ways)))
        return Question(
            kind=self.name,
            version=self.version,
            region=region,
            seed=0,
            step=1.0,
            target=None,
            facts={
                "id": entry.id,
                "key": entry.best.letter,
                "choices": [way.letter for way in offered],
                "scores": [way.score for way in offered],
            },
            data=Data(entry, offered),
        )

    def ask(self, question: Question, answers: Answers) -> Ask | None:
        if answers:
            return None
        data = _data(question)
        return Ask(data.entry.ask, tuple(Choice(way.letter, way.text) for way in data.offered))

    def grade(self, question: Question, answers: Answers) -> Grade:
        entry = _data(question).entry
        way = _chosen(entry, answers)
        right = way is entry.best
        said = "Yes" if right else "Nearly" if way.score >= NEARLY else "No"
        return Grade(way.score, right, 1.0 - way.score, "none", f"{said}: {way.reason}.")

    def reveal(self, question: Question, answers: Answers) -> Reveal:
        data = _data(question)
        entry = data.entry
        mine = _chosen(entry, answers)
        return Reveal(
            because=(entry.why, f"Source: {entry.source or COMMON_PRACTICE}."),
            results=tuple(
                Result(way.text, way.reason, mark=mark_of(way is mine, way is entry.best))
                for way in sorted(data.offered, key=lambda way: -way.score)
            ),
            limits=(
                "Pencils, papers and places differ: what a label or a local rule says goes before "
                "what is said here."
            ),
        )


def _data(question: Question) -> Data:
    assert isinstance(question.data, Data)
    return question.data


def _chosen(entry: BankQuestion, answers: Answers) -> Way:
    ((letter,),) = answers
    return next(way for way in entry.ways if way.letter == letter)


KIND = Handling()
