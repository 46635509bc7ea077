"""Results that came back, merged into the class: file by file, whatever one of them is."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from coach.home import expanded
from coach.teaching.question import FORMAT as QUESTION
from coach.teaching.question import AskedOfTeacher, pencils_of, read_question
from coach.teaching.sealed import is_sealed
from drills.basics.counted import counted
from drills.basics.errors import InputError, plain
from drills.basics.ordinary_file import read_ordinary
from scores.classes.pencils_sent import keep_pencils
from scores.exchange.results_read import MAX_BYTES, read_results

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
    """Merge each file; one that can't be used is told, and the others are still merged.

    Of a question to the teacher the student's pencils are kept.
    """
    for file in files:
        try:
            data = read_ordinary(file, MAX_BYTES, "a results file")
            if is_sealed(data, QUESTION):
                yield _question(book, read_question(data, file), file)
                continue
            added = book.add(read_results(data, file, now), file)
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


def _question(book: ClassBook, asked: AskedOfTeacher, file: str) -> Merged:
    from drills.pencils.file import to_csv

    keep_pencils(book, asked.student, to_csv(pencils_of(asked)))
    where = plain(file, 200)
    words = f"a question from {asked.name}; their pencils are known"
    return Merged(f"{where}: {words}. Answer it with: coach class reply FILE", 0, True)


def in_sum(merged: list[Merged]) -> str:
    """All that was merged, in a line."""
    new, used = sum(one.new for one in merged), sum(one.used for one in merged)
    return f"{counted(new, 'answer')} added from {used} of {counted(len(merged), 'file')}."
