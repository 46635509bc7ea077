"""The decks shipped with the coach, to use or to copy from; every name in them is invented."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path

from decks.deck import Deck
from decks.deck_file import load_deck

FOLDER = Path(__file__).parent / "starters"


@cache
def starter_names() -> tuple[str, ...]:
    """The starter decks' names, as ``coach deck add --starter NAME`` takes them."""
    return tuple(sorted(path.stem for path in FOLDER.glob("*.toml")))


def title_and_purpose(name: str) -> tuple[str, str]:
    """A starter's title and what it is for, without working out what its drills ask."""
    content = tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))
    return str(content["title"]), str(content["purpose"])


@cache
def starter(name: str) -> Deck:
    """A starter deck by its name. Raises KeyError when there is none of that name."""
    if name not in starter_names():
        raise KeyError(name)
    return load_deck(FOLDER / f"{name}.toml").sound()
