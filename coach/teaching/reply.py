"""A teacher's reply in one file: a note, a plan or a mending, and next work."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from coach.teaching.question import UUID, AskedOfTeacher, Colour, hand_of, pencils_of
from coach.teaching.sealed import (
    MAX_BYTES,
    is_sealed,
    read_sealed,
    sealed,
    sound_lab,
    tidy_line,
    tidy_note,
)
from drills.basics.errors import InputError, plain
from drills.basics.ordinary_file import read_ordinary
from scores.exchange.results_written import NAME_MOST

if TYPE_CHECKING:
    from decks.deck import Deck
    from scores.classes.person import Person

FORMAT = "coloured-pencil-coach reply"
STEPS_MOST, WORDS_MOST = 12, 400
MACHINES_MOST = 20


@dataclass(frozen=True)
class ReplyStep:
    """A move in words and what the swatch should look like after it (Lab)."""

    words: str
    lab: Colour


@dataclass(frozen=True)
class Reply:
    """``to`` are the numbers of the student's machines. ``wanted`` and ``got`` are what was asked
    about, ``steps`` what to lay and ``outlook`` what to expect of it; ``deck`` is a packed deck's
    text, ``made_with`` says whose pencils and hand the steps count with. What there is none of is
    None or empty."""

    to: tuple[str, ...]
    name: str
    author: str
    note: str
    wanted: Colour | None = None
    got: Colour | None = None
    steps: tuple[ReplyStep, ...] = ()
    outlook: str = ""
    deck: str = ""
    made_with: str = ""


def answer_to(question: AskedOfTeacher, author: str, note: str) -> Reply:
    """A reply with a plan made with the student's own pencils, or a mending of what came.

    It counts with their hand where they sent its patches and these predict better than a usual
    hand does. Loads numpy. Raises InputError.
    """
    from coach.learned import learned
    from drills.layering.palette import prepare
    from drills.planning.mending.mend import mend
    from drills.planning.planner import plan

    pencils = pencils_of(question)
    patches = hand_of(question, pencils)
    hand = learned(pencils, patches)
    palette = prepare(pencils, hand=hand)
    if question.got is None:
        planned = plan(palette, question.wanted)
        moves, outlook = planned.moves, [planned.likely.words()]
        outlook += [planned.missing.words] if planned.missing is not None else []
    else:
        mended = mend(palette, question.wanted, question.got)
        moves, outlook = mended.moves, [f"What you have is {mended.off}.", mended.words]
    steps = tuple(
        ReplyStep(plain(f"{one.words}. {one.stop}".strip(), WORDS_MOST), one.predicted_lab)
        for one in moves[:STEPS_MOST]
    )
    return Reply(
        (question.student,),
        question.name,
        author,
        note,
        question.wanted,
        question.got,
        steps,
        plain(" ".join(outlook), WORDS_MOST),
        made_with=made_with_words(len(patches), hand is not None),
    )


def made_with_words(patches: int, learned: bool) -> str:
    """Whose pencils and whose hand a plan was made with, to the student."""
    if learned:
        return f"Made with your own pencils and your own hand, as its {patches} patches tell."
    if patches:
        some = "they don't predict your colours better than a usual hand yet."
        return f"Made with your own pencils, but not with your hand: of {patches} sent, {some}"
    return "Made with your own pencils, but not with your hand: no patches of it came along."


def reply_to(person: Person, author: str, note: str) -> Reply:
    """A reply to a student of the class, on whichever machine it is read."""
    return Reply(person.ids[:MACHINES_MOST], person.name, author, note)


def with_deck(reply: Reply, deck: Deck) -> Reply:
    """The reply with next work in it. Raises InputError where the deck is too big."""
    from decks.pack import pack

    return replace(reply, deck=pack(deck))


def reply_text(reply: Reply) -> str:
    """The file's text. Raises InputError where it would not be read again."""
    text = sealed(FORMAT, reply)
    read_reply(text.encode(), "the reply")
    return text


def is_reply(data: bytes) -> bool:
    """Whether a file says that it is a reply."""
    return is_sealed(data, FORMAT)


def load_reply(path: str | os.PathLike[str]) -> Reply:
    """Read a reply's file. Raises InputError."""
    return read_reply(read_ordinary(path, MAX_BYTES, "a reply"), os.fspath(path))


def read_reply(data: bytes, source: str) -> Reply:
    """Read a reply from a file's bytes; ``source`` names it. Raises InputError."""
    return read_sealed(data, source, FORMAT, Reply, _check)


def _check(reply: Reply) -> None:
    """Raises ValueError or InputError for what a reply can't hold."""
    if not 1 <= len(reply.to) <= MACHINES_MOST or not all(map(UUID.fullmatch, reply.to)):
        raise ValueError("it doesn't say whom it is for")
    if len(reply.steps) > STEPS_MOST:
        raise ValueError(f"it has over {STEPS_MOST} steps")
    tidy_line(reply.name, "the student's name", NAME_MOST)
    tidy_line(reply.author, "the teacher's name", NAME_MOST)
    tidy_line(reply.made_with, "what it was made with", WORDS_MOST, needed=False)
    tidy_line(reply.outlook, "what to expect", WORDS_MOST, needed=False)
    for step in reply.steps:
        tidy_line(step.words, "a step", WORDS_MOST)
    tidy_note(reply.note)
    for lab in (reply.wanted, reply.got, *(step.lab for step in reply.steps)):
        sound_lab(lab, "a colour in it")
    deck_of(reply)
    if not (reply.note or reply.steps or reply.outlook or reply.deck):
        raise ValueError("there is nothing in it")


def deck_of(reply: Reply) -> Deck | None:
    """The next work in it, checked as any deck; None where there is none. Raises InputError."""
    if not reply.deck:
        return None
    from decks.deck_file import MAX_BYTES as DECK_BYTES
    from decks.deck_file import read_deck

    data = reply.deck.encode("utf-8", "surrogatepass")
    if len(data) > DECK_BYTES:
        raise InputError("the deck in it", "it is too big", "")
    return read_deck(data, "the deck in it").sound()
