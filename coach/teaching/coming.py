"""A file from a teacher, whichever kind it is: what it brings, and taking it in."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from coach.teaching.adding import Adding, add, looked_at
from coach.teaching.replies_kept import look_at, reply_words, take_in
from coach.teaching.reply import Reply, is_reply, read_reply
from coach.teaching.sealed import MAX_BYTES
from decks.deck_file import read_deck
from drills.basics.ordinary_file import read_ordinary

if TYPE_CHECKING:
    from datetime import datetime

    from scores.record.record import Record


class Coming(NamedTuple):
    """What a file brings: a reply, a deck, or a reply with a deck; ``new`` where it isn't here."""

    reply: Reply | None
    adding: Adding | None
    words: list[str]
    new: bool

    def take_in(self, record: Record, now: datetime) -> str:
        """Keep it; a sentence on what was kept. Raises InputError."""
        if self.reply is not None:
            take_in(record, self.reply, now)
            return "The reply is kept."
        assert self.adding is not None
        add(record, self.adding, now)
        return f"“{self.adding.deck.title}” is added."


def looked_in(record: Record, path: str) -> Coming:
    """What is in a file from a teacher. Raises InputError."""
    from coach.home import expanded

    data = read_ordinary(expanded(path), MAX_BYTES, "a deck or a reply")
    if not is_reply(data):
        adding = looked_at(record, read_deck(data, path).sound())
        if adding.there:
            return Coming(None, None, [f"{adding.deck.title} is among your decks already."], False)
        return Coming(None, adding, adding.words, True)
    reply = read_reply(data, path)
    found = look_at(record, reply)
    work = [] if found is None else ["", "There is work in it:", *found.words]
    return Coming(reply, found, [*reply_words(reply), *work], True)
