"""What stands around a question: the line under its title, and which keys work while asking,
telling and paused."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coach.widgets.adjusting_swatch import hints
from coach.widgets.choices import keys_for
from coach.widgets.hints import Hint
from drills.questions.protocol import Answers, Ask

if TYPE_CHECKING:
    from coach.session.session import Session

PAUSE = Hint("p", "pause", "pause")
STOP = Hint("Esc", "stop", "stop")
HELP = Hint("?", "help", "app.help")
PAUSED_HINTS = (Hint("p", "go on", "pause"), STOP, HELP)


def asking_hints(asked: Ask, lesson: bool = False, more: tuple[Hint, ...] = ()) -> tuple[Hint, ...]:
    """The keys for one form of asking, and ``more``; ``lesson`` where it comes under one to be
    read again."""
    tail = (*more, *((Hint("n", "lesson", "lesson"),) if lesson else ()), PAUSE, STOP, HELP)
    if asked.form == "set":
        return (*hints("that is it"), *tail)
    count = len(asked.choices)
    marks = keys_for(asked.choices)[:count]
    keys = marks[0] if count == 1 else f"{marks[0]}–{marks[-1]}" if count <= 9 else "1–9 a–z"
    if asked.form == "arrange":
        return (
            Hint(keys, "place next"),
            Hint("Backspace", "back", "take_back"),
            Hint("Enter", "answer", "answer"),
            *tail,
        )
    if asked.form == "build":
        back = Hint("Backspace", "undo", "take_back")
        done = (Hint("d", "done", "done"),) if asked.may_end else ()
        return (Hint(keys, "lay"), back, *done, *tail)
    return (Hint(keys, "choose"), Hint("↑ ↓ Enter", "choose the marked one"), *tail)


def telling_hints(unsaved: bool, more: bool) -> tuple[Hint, ...]:
    """The keys at a reveal; ``more`` where answers are hidden till asked for."""
    again = (Hint("r", "save again", "save_again"),) if unsaved else ()
    every = (Hint("l", "every answer", "every"),) if more else ()
    read = Hint("↑ ↓", "read on")
    return (Hint("Enter", "next", "onward"), *again, *every, read, PAUSE, STOP, HELP)


def about(session: Session, replies: Answers) -> str:
    """Help where it is given, else what the question trains."""
    helped = session.help(replies)
    if helped or session.item is None:
        return f"Help: {helped}" if helped else ""
    trains = session.kinds[session.item.kind].trains
    return trains[:1].upper() + trains[1:]
