"""Colours a learner can't get: kept on a list, and taken for the day's match."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from drills.basics.json_values import JSON, as_json, from_json

if TYPE_CHECKING:
    from scores.record.record import Record

SETTING = "wishes"
MOST = 40
Lab = tuple[float, float, float]


class Wish(NamedTuple):
    """A colour wished for: D50 Lab, how it was written, and the region it reads as."""

    lab: Lab
    words: str
    region: str


def wishes_in(settings: Mapping[str, JSON]) -> tuple[Wish, ...]:
    """The list, oldest first; empty where it can't be read."""
    try:
        return from_json(tuple[Wish, ...], settings.get(SETTING, []))[:MOST]
    except (TypeError, ValueError):
        return ()


def as_setting(wishes: Sequence[Wish]) -> JSON:
    """The list as the record keeps it."""
    kept: JSON = as_json(list(wishes))
    return kept


def added(wishes: Sequence[Wish], wish: Wish) -> tuple[Wish, ...]:
    """The list with one more. Raises ValueError, saying why it can't be added."""
    if any(wish.lab == other.lab for other in wishes):
        raise ValueError("it is on the list already")
    if len(wishes) >= MOST:
        raise ValueError(f"the list holds {MOST} at most")
    return (*wishes, wish)


def keep_one_more(record: Record, wish: Wish) -> None:
    """Put one on the record's list. Raises ValueError as ``added`` does, and NotSavedError."""
    record.set_setting(SETTING, as_setting(added(wishes_in(record.settings()), wish)))


def wish_of(wishes: Sequence[Wish], region: str, turn: int) -> Wish | None:
    """The wish of a region whose turn it is; None where there is none."""
    here = [wish for wish in wishes if wish.region == region]
    return here[turn % len(here)] if here else None
