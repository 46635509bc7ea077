"""Whether two decks are one piece of work whose words were changed.

Questions make a deck what it is; its title, purpose, note, dates and names are text,
and text may be corrected. So that the same questions can be assigned again under a new
name, a title that differs in a number, or in more than a few letters, is another deck's.
"""

from __future__ import annotations

import re
from typing import Protocol

ALIKE = 0.75
"""How alike two titles are, from 0 to 1, when one is the other corrected (our estimate)."""


class Work(Protocol):
    """What of a deck says which work it is; ``questions`` is empty where it is not known."""

    @property
    def title(self) -> str: ...
    @property
    def author(self) -> str: ...
    @property
    def questions(self) -> str: ...


def same_work(one: Work, other: Work) -> bool:
    """Whether one deck is the other with words changed. Either order gives the same."""
    if not one.questions or one.questions != other.questions:
        return False
    return tidy(one.author) == tidy(other.author) and titles_alike(one.title, other.title)


def titles_alike(one: str, other: str) -> bool:
    """Whether one title is the other, or it corrected. Either order gives the same."""
    first, second = sorted((tidy(one), tidy(other)))
    if first == second:
        return True
    if re.findall(r"\d+", first) != re.findall(r"\d+", second):
        return False
    from difflib import SequenceMatcher

    return SequenceMatcher(None, first, second, autojunk=False).ratio() >= ALIKE


def tidy(text: str) -> str:
    """The text however its words are spaced and its letters written."""
    return " ".join(text.split()).casefold()
