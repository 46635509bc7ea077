"""A student's question put together from their record."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coach.teaching.question import AskedOfTeacher, Colour
from coach.teaching.sealed import sound_note
from coach.teaching.sharing import file_name, known_name, student_id
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from scores.record.record import Record


def asked_by(
    record: Record, wanted: Colour, got: Colour | None, note: str, photo: str = ""
) -> AskedOfTeacher:
    """The question, with the pencils in use and the name the teacher knows; ``photo`` as
    ``small_photo`` gives it. Raises InputError."""
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
    )


def question_file(name: str) -> str:
    """What the file of a question by this name is called."""
    return file_name(name, "asks", "question.json")
