"""A class list held against the names students chose: who has begun, and who perhaps has.

Names that differ in case, accents, stops or the order of their words are one name. A short
form ("Alex", "R. Lund") or a slip of the pen is a doubt for the teacher to settle: it is
told, never taken for an answer.
"""

from __future__ import annotations

import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Mapping
from difflib import SequenceMatcher
from typing import NamedTuple

# Letters that Unicode takes for letters of their own, not for one with a mark (from memory).
_PLAIN = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "ı": "i", "æ": "ae", "œ": "oe"})
NEARLY = 0.85
"""How alike two whole names are that may be one with a slip: our estimate."""


class Roll(NamedTuple):
    """``missing`` have sent nothing; ``doubts`` are names and who they perhaps are here."""

    missing: tuple[str, ...]
    doubts: tuple[tuple[str, tuple[str, ...]], ...]


def folded(name: str) -> str:
    """A name without case, accents and stops, its words apart."""
    bare = (
        char
        for char in unicodedata.normalize("NFKD", name.casefold().translate(_PLAIN))
        if not unicodedata.combining(char)
    )
    return " ".join("".join(char if char.isalnum() else " " for char in bare).split())


def same_name(one: str, other: str) -> bool:
    """Whether two names are one, kindly read: "KELLER, Zoë" and "Zoe Keller"."""
    return _key(one) == _key(other)


def perhaps(one: str, other: str) -> bool:
    """Whether two names may be one: a short form, initials, or a slip of the pen."""
    words = sorted((folded(one).split(), folded(other).split()), key=len)
    short, rest = words[0], list(words[1])
    if not short:
        return False
    longest = 0
    for word in sorted(short, key=len, reverse=True):
        fits = [each for each in rest if each.startswith(word) or word.startswith(each)]
        if not fits:
            return SequenceMatcher(None, folded(one), folded(other)).ratio() >= NEARLY
        rest.remove(fits[0])
        longest = max(longest, min(len(word), len(fits[0])))
    return longest >= 2 or len(short) >= 2


def read_roll(expected: Iterable[str], begun: Mapping[str, Iterable[str]]) -> Roll:
    """Hold the names expected against ``begun``: by the name told, all that one goes by.

    Of names expected that are one, the last is told.
    """
    listed = {_key(name): name for name in expected}
    if not listed:
        return Roll((), ())
    known = {_key(name) for names in begun.values() for name in names}
    waiting = [name for key, name in listed.items() if key not in known]
    free: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for told, names in begun.items():
        every = list(names)
        if not any(_key(one) in listed for one in every):
            for one in every:
                for letter in {word[0] for word in _words(one)}:
                    free[letter].append((told, one))
    missing, doubts = [], []
    for name in sorted(waiting):
        near = {
            told
            for letter in {word[0] for word in _words(name)}
            for told, other in free[letter]
            if perhaps(name, other)
        }
        if near:
            doubts.append((name, tuple(sorted(near))))
        else:
            missing.append(name)
    return Roll(tuple(missing), tuple(doubts))


def _words(name: str) -> list[str]:
    return folded(name).split()


def _key(name: str) -> tuple[str, ...]:
    # A name of signs alone is still its own.
    return tuple(sorted(_words(name))) or (name.casefold(),)
