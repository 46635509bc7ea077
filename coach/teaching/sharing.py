"""A student's answers to a deck, made into the one file for a teacher."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING
from uuid import UUID, uuid4

from coach.version import app_version
from decks.record_form import before_of, courses_of, deck_named, from_kept
from drills.basics.counted import counted
from drills.basics.errors import InputError, plain
from scores.exchange.on_paper import shared
from scores.exchange.results_written import MOST_PLACES, Share, share, sound_name
from scores.record.paper_answers import paper_answers, that_count
from scores.record.queries import deck_attempts
from scores.record.record import NotSavedError
from scores.record.trials import PAPER

if TYPE_CHECKING:
    from datetime import datetime

    from scores.record.decks_added import DeckKept
    from scores.record.record import Record


def made_of(
    record: Record, kept: DeckKept, pseudonym: str, now: datetime, pencils_too: bool = False
) -> Share:
    """The results file of a deck, with what was answered before words of it were changed.

    ``pencils_too`` is whether the student puts the colours of their pencils in.

    Raises InputError where the deck kept can't be read, or the student's number not be kept.
    """
    deck = from_kept(kept.content)
    if deck is None:
        raise InputError(plain(kept.title), "the deck kept can't be read", "Add it again.")
    named = deck_named(deck, *(one.place for one in courses_of(kept.content)[:MOST_PLACES]))
    student = student_id(record)
    attempts = [
        replace(one, deck=named.fingerprint)
        for name in (named.fingerprint, *before_of(kept.content))
        for one in deck_attempts(record, name)
    ]
    attempts.sort(key=lambda one: one.at_utc)
    pencils = record.active_pencils()
    names = (named.fingerprint, *before_of(kept.content))
    typed = that_count(paper_answers(record, names))
    on_paper = shared(deck_attempts(record, PAPER), typed, named.fingerprint) if typed else []
    used = pencils.name if pencils else ""
    colours = _without_notes(pencils.csv) if pencils and pencils_too else ""
    return share(attempts, named, student, pseudonym, app_version(), now, used, colours, on_paper)


def _without_notes(csv: str) -> str:
    """A set's CSV without what its owner noted beside the pencils."""
    from drills.pencils.file import parse_pencils, to_csv

    found = parse_pencils(csv.encode(), "your pencils")
    bare = tuple(replace(one, notes="") for one in found.pencils)
    return to_csv(replace(found, pencils=bare))


def known_name(record: Record) -> str:
    """The name given to the teacher the last time; empty before the first."""
    last = record.setting("pseudonym")
    return last if isinstance(last, str) else ""


def keep_name(record: Record, given: str) -> str:
    """The name tidied, and kept for the next time. Raises InputError."""
    try:
        name = sound_name(given)
    except ValueError as error:
        raise InputError("the name", str(error), "Choose another.") from None
    if name != known_name(record):
        try:
            record.set_setting("pseudonym", name)
        except NotSavedError as error:
            raise InputError("the record", f"the name was not kept: {error}", "") from error
    return name


def student_id(record: Record) -> str:
    """The random number by which later files are known to be the same student's."""
    kept = record.setting("student")
    try:
        return str(UUID(str(kept)))
    except ValueError:
        fresh = str(uuid4())
    try:
        record.set_setting("student", fresh)
    except NotSavedError as error:
        raise InputError("the record", f"nothing can be kept: {error}", "") from error
    return fresh


def shown(made: Share) -> list[str]:
    """What is in a results file, in four plain lines, for the student to see beforehand."""
    said = made.results
    deck, student, summary = said["deck"], said["student"], said["summary"]
    assert isinstance(deck, dict)
    assert isinstance(student, dict)
    assert isinstance(summary, dict)
    days = summary["days"]
    assert isinstance(days, dict)
    oldest = f" (the {made.left_out} oldest are left out)" if made.left_out else ""
    paper = f"; and {made.on_paper:,} on paper" if made.on_paper else ""
    typed = "; on paper also the sheet, your letters, and when they were typed" if paper else ""
    pencils = f", your pencils' name ({student['pencils']})" if "pencils" in student else ""
    if "pencil_set" in student:
        pencils += " and all their colours, by which your teacher sees what you can reach"
    return [
        f"“{deck['title']}” from {deck['author']}: {counted(made.answers, 'answer')}{oldest},"
        f" {summary['right']} right, on {counted(len(days), 'day')}{paper}.",
        f"Your name for your teacher, {student['name']}{pencils}, and a random number that stays"
        " yours.",
        "Of each answer: the drill and colour, what you said, its grade, when, and how long it"
        f" took{typed}.",
        "With the coach's version and the date of the file, that is all. Nothing is sent: you hand"
        " it on.",
    ]


def file_name(pseudonym: str, title: str, ending: str = "results.json") -> str:
    """A results file's name, by whom and of what."""
    return f"{file_word(pseudonym)}-{file_word(title)}.{ending}"


def file_word(text: str) -> str:
    """A text as part of a file's name: letters, digits and hyphens."""
    word = "".join(char if char.isalnum() else "-" for char in text.lower())
    return "-".join(filter(None, word.split("-")))[:40] or "mine"
