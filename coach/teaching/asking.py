"""A student's question put together from their record."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coach.learned import patches_of
from coach.teaching.question import AskedOfTeacher, Colour
from coach.teaching.sealed import sound_note
from coach.teaching.sharing import file_name, known_name, student_id
from drills.basics.errors import InputError, plain
from drills.basics.json_values import json_text
from drills.hand.keeping import to_json
from drills.pencils.file import parse_pencils

if TYPE_CHECKING:
    from drills.hand.patch import Patch
    from scores.record.record import Record


def asked_by(
    record: Record,
    wanted: Colour,
    got: Colour | None,
    note: str,
    photo: str = "",
    hand: bool = False,
) -> AskedOfTeacher:
    """The question, with the pencils in use and the name the teacher knows; ``photo`` as
    ``small_photo`` gives it, ``hand`` whether the patches of the hand go along.

    Raises InputError.
    """
    pencils = record.active_pencils()
    if pencils is None:
        raise InputError("pencils", "none are in use yet", "Choose them with: coach pencils use")
    try:
        sound = sound_note(note)
    except ValueError as error:
        raise InputError("the note", str(error), "Shorten it.") from None
    return AskedOfTeacher(
        student_id(record),
        known_name(record),
        wanted,
        got,
        sound,
        " ".join(plain(pencils.name).split()) or "pencils",
        pencils.csv,
        photo,
        json_text(to_json(_patches_sent(record))) if hand else "",
    )


def patches_at_hand(record: Record) -> tuple[Patch, ...]:
    """The patches of the hand with the pencils in use. Raises InputError for unsound ones."""
    kept = record.active_pencils()
    return () if kept is None else patches_of(record, parse_pencils(kept.csv.encode(), kept.name))


def _patches_sent(record: Record) -> tuple[Patch, ...]:
    """As ``patches_at_hand``, which must be some. Raises InputError."""
    found = patches_at_hand(record)
    if not found:
        problem = "there are none with these pencils"
        raise InputError("patches of your hand", problem, "Leave them out, or see: coach hand")
    return found


def question_file(name: str) -> str:
    """What the file of a question by this name is called."""
    return file_name(name, "asks", "question.json")
