"""Every question of a deck with its answer, as its teacher looks it over before sending it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from coach.session.assigned.deck_questions import NAMED, preview, ready_deck
from drills.colour.reading import read_colour
from drills.questions.adjusting import lab_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from decks.deck import Deck
    from drills.layering.palette import Palette
    from drills.questions.protocol import Answers, Ask, Kind, Question, Reply, Reveal

MOST_STAGES = 12


@dataclass(frozen=True)
class Previewed:
    """One question: what is asked stage by stage, the answer in words, and its reveal.

    ``answers`` is the key, reply by reply; it and ``reveal`` are None where many answers are good
    and none is the one.
    """

    kind: str
    title: str
    about: str
    asks: tuple[Ask, ...]
    answer: str
    answers: Answers | None
    reveal: Reveal | None


def previewed(
    deck: Deck, palette: Palette, kinds: Mapping[str, Kind], seed: int = 1
) -> Iterator[Previewed]:
    """One question for each thing the deck practises with these pencils; others by each seed.

    Raises InputError for pencils inside the deck that can't be used.
    """
    for question in preview(ready_deck(deck, palette, kinds), kinds, seed):
        kind = kinds[question.kind]
        asks, answers = answered_rightly(kind, question)
        named = question.facts.get(NAMED)
        yield Previewed(
            question.kind,
            kind.title,
            f"{question.region}, {named}" if isinstance(named, str) else question.region,
            asks,
            _in_words(question, asks, answers),
            answers,
            None if answers is None else _nobody_s(kind.reveal(question, answers)),
        )


def answered_rightly(kind: Kind, question: Question) -> tuple[tuple[Ask, ...], Answers | None]:
    """What is asked while the key is answered; no answers where the key is none to give."""
    key = question.facts["key"]
    keys = [str(one) for one in key] if isinstance(key, list) else [str(key)]
    asks: list[Ask] = []
    answers: Answers = ()
    while (asked := kind.ask(question, answers)) is not None:
        asks.append(asked)
        reply = _reply(asked, keys)
        if reply is None or len(asks) > MOST_STAGES:
            return tuple(asks), None
        if asked.form == "choose" and len(asked.choices) > 1:
            keys = keys[1:]
        answers = (*answers, reply)
    return tuple(asks), answers


def _reply(asked: Ask, keys: list[str]) -> Reply | None:
    offered = [choice.key for choice in asked.choices]
    if asked.form == "arrange":
        return tuple(keys) if sorted(keys) == sorted(offered) else None
    if asked.form == "set":
        return (keys[0],) if keys else None
    if asked.form == "choose" and len(offered) == 1:
        return (offered[0],)
    return (keys[0],) if asked.form == "choose" and keys and keys[0] in offered else None


def _in_words(question: Question, asks: tuple[Ask, ...], answers: Answers | None) -> str:
    """The answer, by what its choices say."""
    if answers is None:
        key = question.facts["key"]
        return "; ".join(map(str, key)) if isinstance(key, list) else str(key)
    told = []
    for asked, reply in zip(asks, answers, strict=True):
        if asked.form == "set":
            told.append(read_colour(lab_of(reply[0])).sentence())
        texts = {choice.key: choice.text for choice in asked.choices}
        if len(texts) > 1:
            told.append(", then ".join(texts[key] for key in reply))
    return "; ".join(told)


def _nobody_s(reveal: Reveal) -> Reveal:
    """A reveal without the marks of who answered: nobody did."""
    rows = tuple(replace(row, mark="best" if "best" in row.mark else "") for row in reveal.results)
    return replace(reveal, results=rows)
