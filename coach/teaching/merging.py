"""Results that came back, merged into the class: file by file, whatever one of them is."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from coach.home import expanded
from coach.teaching.sharing import count
from drills.basics.errors import InputError, plain
from scores.exchange.results_read import load_results

if TYPE_CHECKING:
    from datetime import datetime

    from scores.classes.store import ClassBook


class Merged(NamedTuple):
    """What came of one file: a line on it, new answers, and whether it could be used."""

    words: str
    new: int
    used: bool


def results_in(name: str) -> list[str]:
    """The results files of a folder, by name; the name itself where it is no folder.

    Raises InputError for a folder without any.
    """
    folder = expanded(name)
    try:
        if not folder.is_dir():
            return [name]
        found = sorted(
            str(file) for file in Path(folder).glob("*.json") if not file.name.startswith(".")
        )
    except (OSError, ValueError):
        return [name]
    if not found:
        raise InputError(plain(name, 200), "the folder holds no results files (.json)", "")
    return found


def merge(book: ClassBook, files: Iterable[str], now: datetime) -> Iterable[Merged]:
    """Merge each file; one that can't be used is told, and the others are still merged."""
    for file in files:
        try:
            added = book.add(load_results(file, now), file)
        except InputError as error:
            yield Merged(str(error), 0, False)
            continue
        late = ""
        if added.not_counted:
            late = f"; {added.not_counted} not counted, dated in the future or long past"
        yield Merged(
            f"{plain(file, 200)}: {added.student}, {added.deck}:"
            f" {added.new} new of {added.given} answers{late}",
            added.new,
            True,
        )


def in_sum(merged: list[Merged]) -> str:
    """All that was merged, in a line."""
    new, used = sum(one.new for one in merged), sum(one.used for one in merged)
    return f"{count(new, 'answer')} added from {used} of {count(len(merged), 'file')}."
