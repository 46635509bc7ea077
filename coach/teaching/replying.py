"""A reply put together by a teacher: to a question that came, or to a student of the class."""

from __future__ import annotations

from coach.home import expanded
from coach.teaching.class_opened import class_book
from coach.teaching.question import load_question
from coach.teaching.reply import Reply, answer_to, reply_to, with_deck
from coach.teaching.sealed import sound_note
from decks.deck_file import load_deck
from drills.basics.errors import InputError
from scores.classes.people import only_one
from scores.exchange.results_written import sound_name


def reply_for(to: str, author: str, note: str, deck: str | None = None) -> Reply:
    """``to`` is a question's file or a student of the class; ``deck`` a deck's file.

    Loads numpy for a question. Raises InputError.
    """
    try:
        author, note = sound_name(author), sound_note(note)
    except ValueError as error:
        raise InputError("the reply", str(error), "Change it.") from None
    try:
        is_file = expanded(to).is_file()
    except (OSError, ValueError):
        is_file = False
    work = load_deck(expanded(deck)).sound() if deck else None
    if is_file:
        made = answer_to(load_question(expanded(to)), author, note)
    else:
        with class_book() as book:
            made = reply_to(only_one(book, to), author, note)
    made = made if work is None else with_deck(made, work)
    if not (made.note or made.steps or made.outlook or made.deck):
        raise InputError("the reply", "there is nothing in it", "Give a note, or a deck.")
    return made
