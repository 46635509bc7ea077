""" "I can't get this": a student's colour, what came instead, a note, their pencils, a photo."""

from __future__ import annotations

import base64
import binascii
import json
import os
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from coach.teaching.sealed import (
    MAX_BYTES,
    read_sealed,
    sealed,
    sound_lab,
    tidy_line,
    tidy_note,
)
from drills.basics.errors import InputError
from drills.basics.ordinary_file import read_ordinary
from scores.exchange.results_written import NAME_MOST

if TYPE_CHECKING:
    from drills.hand.patch import Patch
    from drills.pencils.pencil import PencilSet
    from drills.pictures.picture import Picture

FORMAT = "coloured-pencil-coach question"
PHOTO_SIDE, PHOTO_BYTES = 640, 200_000
"""Pixels of a photo's longer side, and bytes of its JPEG."""
PHOTO_PIXELS = 1_000_000
"""Of more, nothing is opened: a few bytes may hold very many."""
UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
HAND_MOST = 100_000
"""Characters of the patches: two hundred have some 25,000."""
Colour = tuple[float, float, float]


@dataclass(frozen=True)
class AskedOfTeacher:
    """``wanted`` and ``got`` (None: not said) are Lab under D50; ``pencils`` is the CSV of the
    student's set, ``photo`` a small JPEG in base64, ``hand`` the patches of their hand as the
    record keeps them (``drills.hand.keeping``), as JSON: both empty where none were put in."""

    student: str
    name: str
    wanted: Colour
    got: Colour | None
    note: str
    pencils_name: str
    pencils: str
    photo: str = ""
    hand: str = ""


def question_text(question: AskedOfTeacher) -> str:
    """The file's text. Raises InputError where it would not be read again."""
    text = sealed(FORMAT, question)
    read_question(text.encode(), "the question")
    return text


def load_question(path: str | os.PathLike[str]) -> AskedOfTeacher:
    """Read a question's file. Raises InputError."""
    return read_question(read_ordinary(path, MAX_BYTES, "a question"), os.fspath(path))


def read_question(data: bytes, source: str) -> AskedOfTeacher:
    """Read a question from a file's bytes; ``source`` names it. Raises InputError."""
    return read_sealed(data, source, FORMAT, AskedOfTeacher, _check)


def _check(found: AskedOfTeacher) -> None:
    """Raises ValueError or InputError for what a question can't hold."""
    if not UUID.fullmatch(found.student):
        raise ValueError("the student's number is none")
    tidy_line(found.name, "the student's name", NAME_MOST)
    tidy_line(found.pencils_name, "the name of the pencils", 80)
    tidy_note(found.note)
    sound_lab(found.wanted, "the colour wanted")
    sound_lab(found.got, "the colour that came")
    hand_of(found, pencils_of(found))
    photo_of(found)


def pencils_of(question: AskedOfTeacher) -> PencilSet:
    """The student's pencils. Raises InputError."""
    from dataclasses import replace

    from drills.pencils.file import parse_pencils

    found = parse_pencils(question.pencils.encode(), "the pencils in it")
    return replace(found, name=question.pencils_name)


def hand_of(question: AskedOfTeacher, pencils: PencilSet) -> tuple[Patch, ...]:
    """The patches of the student's hand with these pencils of theirs. Raises InputError."""
    if not question.hand:
        return ()
    from drills.hand.keeping import from_json

    try:
        if len(question.hand) > HAND_MOST:
            raise ValueError
        return from_json(json.loads(question.hand), pencils)
    except (InputError, ValueError, RecursionError):
        problem = "they are none that these pencils can make"
        raise InputError("the patches in it", problem, "") from None


def small_photo(path: str) -> str:
    """A picture's file as the question carries it: small, without what cameras add.

    Raises InputError.
    """
    from drills.pictures.opening import open_picture

    return base64.b64encode(_sent(open_picture(path))).decode()


def _sent(picture: Picture) -> bytes:
    from drills.pictures.small import small_jpeg

    return small_jpeg(picture, (PHOTO_SIDE,), (85, 70, 50, 30), PHOTO_BYTES)


def photo_of(question: AskedOfTeacher) -> Picture | None:
    """The photo's pixels, or None where there is none. Raises InputError."""
    data = photo_bytes(question)
    if not data:
        return None
    from drills.pictures.opening import picture_of

    picture = picture_of(data, "the photo in it", PHOTO_PIXELS, ("JPEG",))
    if max(picture.width, picture.height) > PHOTO_SIDE:
        raise InputError("the photo in it", "it is too big", f"{PHOTO_SIDE} pixels at most.")
    return picture


def photo_bytes(question: AskedOfTeacher) -> bytes:
    """The bytes of the photo's JPEG. Raises InputError for what is no such thing."""
    if len(question.photo) > PHOTO_BYTES * 4 // 3 + 4:
        raise InputError("the photo in it", "it is too big", f"{PHOTO_BYTES:,} bytes at most.")
    try:
        data = base64.b64decode(question.photo.encode(), validate=True)
    except (binascii.Error, ValueError):
        raise InputError("the photo in it", "it can't be read", "") from None
    if data and not data.startswith(b"\xff\xd8"):
        raise InputError("the photo in it", "it is no JPEG", "")
    return data


def photo_again(question: AskedOfTeacher) -> bytes | None:
    """The photo's pixels as a JPEG of our own making. Raises InputError."""
    picture = photo_of(question)
    return None if picture is None else _sent(picture)


def question_lines(question: AskedOfTeacher) -> list[tuple[Colour | None, list[str]]]:
    """A question in plain lines, each with the colour that it is about."""
    from drills.colour.reading import read_colour

    lines: list[tuple[Colour | None, list[str]]] = [
        (None, [f"{question.name} asks, with {question.pencils_name}:"]),
        (question.wanted, ["Wanted:", read_colour(question.wanted).sentence()]),
    ]
    if question.got is not None:
        lines.append((question.got, ["Came:", read_colour(question.got).sentence()]))
    if question.hand:
        lines.append((None, ["The patches of their hand are in it: a plan counts with it."]))
    if question.note:
        lines.append((None, question.note.splitlines()))
    return lines
