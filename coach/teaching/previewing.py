"""Every question of a deck with its answer, as its teacher looks it over before sending it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from coach.session.assigned.deck_questions import NAMED, preview, ready_deck
from drills.questions.answered import answer_words, answered_rightly
from drills.questions.worked import unmarked

if TYPE_CHECKING:
    from collections.abc import Mapping

    from decks.deck import Deck
    from drills.layering.palette import Palette
    from drills.questions.protocol import Answers, Ask, Kind, Reveal


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
            answer_words(question, asks, answers),
            answers,
            None if answers is None else unmarked(kind.reveal(question, answers)),
        )
