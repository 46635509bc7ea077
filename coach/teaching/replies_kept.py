"""The replies a student has taken in: kept among the settings, the latest first."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

from coach.teaching import REPLIES
from coach.teaching.reply import Reply, deck_of
from coach.teaching.sealed import with_usual
from coach.teaching.sharing import student_id
from drills.basics.days import from_utc_text, utc_text
from drills.basics.errors import InputError, plain
from drills.basics.json_values import as_json, from_json
from scores.record.record import NotSavedError

if TYPE_CHECKING:
    from coach.teaching.adding import Adding
    from scores.record.record import Record

MOST = 12
"""Replies kept: the latest."""


@dataclass(frozen=True)
class ReplyKept:
    """A reply (its deck left out), when it was taken in (UTC text), and whether it was read."""

    reply: Reply
    came: str
    read: bool

    @property
    def at(self) -> datetime:
        return from_utc_text(self.came)


def replies_in(record: Record) -> tuple[ReplyKept, ...]:
    """Those kept, the latest first; what can't be read is left out."""
    held = record.setting(REPLIES)
    found = []
    for one in held if isinstance(held, list) else []:
        try:
            # One that an older coach took in may lack a field.
            reply = with_usual(Reply, one["reply"])  # type: ignore[arg-type, call-overload, index]
            kept = from_json(ReplyKept, {**one, "reply": reply})  # type: ignore[dict-item]
            kept.at  # noqa: B018  # a time that is none is found out here
        except (KeyError, TypeError, ValueError):
            continue
        found.append(kept)
    return tuple(found)


def unread(record: Record) -> ReplyKept | None:
    """The latest reply not read yet."""
    return next((one for one in replies_in(record) if not one.read), None)


def look_at(record: Record, reply: Reply) -> Adding | None:
    """What a reply's deck would change, None where it has none.

    Raises InputError for a reply to another student, or one that was taken in already.
    """
    from coach.teaching.adding import looked_at

    if student_id(record) not in reply.to:
        raise InputError(
            f"the reply to {plain(reply.name)}",
            "it is for another student, or another of your records",
            "Take it in where you shared your results or asked.",
        )
    if any(kept.reply == replace(reply, deck="") for kept in replies_in(record)):
        raise InputError(f"the reply from {plain(reply.author)}", "it was taken in before", "")
    deck = deck_of(reply)
    return None if deck is None else looked_at(record, deck)


def take_in(record: Record, reply: Reply, now: datetime) -> None:
    """Keep a reply, and add its deck. Raises InputError."""
    from coach.teaching.adding import add

    adding = look_at(record, reply)
    if adding is not None and not adding.there:
        add(record, adding, now)
    kept = ReplyKept(replace(reply, deck=""), utc_text(now), False)
    _keep(record, (kept, *replies_in(record))[:MOST])


def mark_read(record: Record) -> None:
    """All replies have been read. Raises InputError."""
    kept = replies_in(record)
    if not all(one.read for one in kept):
        _keep(record, tuple(replace(one, read=True) for one in kept))


def _keep(record: Record, kept: tuple[ReplyKept, ...]) -> None:
    try:
        record.set_setting(REPLIES, as_json(kept))
    except NotSavedError as error:
        raise InputError("the record", f"the reply was not kept: {error}", "Try again.") from error


def reply_words(reply: Reply) -> list[str]:
    """A reply in plain lines: the note, the steps, what to expect, next work."""
    lines = [f"From {reply.author}:", *(f"  {line}" for line in reply.note.splitlines())]
    if reply.steps:
        lines += ["", "What to lay from what you have:" if reply.got else "What to lay:"]
        lines += [f"  {i}. {step.words}" for i, step in enumerate(reply.steps, 1)]
    if told := [one for one in (reply.outlook, reply.made_with) if one]:
        lines += ["", *told]
    return lines
