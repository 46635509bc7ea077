"""Hands shown for the choices of a question: counted, typed in, and told. None is kept."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

from drills.basics.errors import InputError, plain
from scores.classes.confusions import HandsRead, hands_read

if TYPE_CHECKING:
    from drills.questions.protocol import Ask, Choice

MOST_HANDS = 999
HOW = "Write a number for each choice, in their order, such as: 12 3"


def counted(asked: Ask) -> bool:
    """Whether hands can be counted for what is asked: one of several choices is taken."""
    return asked.form == "choose" and len(asked.choices) > 1


def read_hands(text: str, choices: int) -> tuple[int, ...]:
    """The counts typed, one for each of ``choices``. Raises InputError."""
    parts = re.split(r"[\s,;]+", text.strip())
    where = f"“{plain(text.strip(), 30)}”"
    if not all(re.fullmatch(r"[0-9]{1,6}", part) for part in parts):
        raise InputError(where, "these are no counts", HOW)
    if len(parts) != choices:
        raise InputError(where, f"there are {choices} choices", HOW)
    counts = tuple(int(part) for part in parts)
    if max(counts) > MOST_HANDS:
        raise InputError(where, f"at most {MOST_HANDS} hands are counted", HOW)
    return counts


def said_words(choices: Sequence[Choice], counts: Sequence[int]) -> str:
    """How many said what: "12 said lighter, 3 said darker."; of what nobody said nothing."""
    pairs = zip(choices, counts, strict=True)
    said = [f"{count} said {plain(choice.text, 60)}" for choice, count in pairs if count]
    return f"{', '.join(said)}." if said else ""


def told(choices: Sequence[Choice], counts: Sequence[int], key: str) -> str:
    """What the hands come to, once the answer, ``key``, is shown; empty where none were shown."""
    if not sum(counts):
        return ""
    keys = [choice.key for choice in choices]
    found = hands_read(counts, keys.index(key), keys)
    return f"{said_words(choices, counts)} {_words(choices, counts, keys.index(key), found)}"


def _words(choices: Sequence[Choice], counts: Sequence[int], right: int, found: HandsRead) -> str:
    guessed = (
        "More were right than guessing gives."
        if found.right_told
        else "Guessing alone may give as many right."
    )
    if found.pulled:
        names = " and ".join(f"“{plain(choices[at].text, 60)}”" for at in found.pulled)
        return f"{guessed} Chosen more than chance gives: {names}."
    if sum(counts) > counts[right]:
        return f"{guessed} No wrong answer has more hands than chance gives."
    return guessed
