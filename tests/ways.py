"""The way to every screen in a pseudo-terminal: what to press, and what then stands there."""

from __future__ import annotations

from pathlib import Path

from coach.session.today_plan import keep_offers
from drills.pencils.file import to_csv
from drills.pencils.sets import pocket_set
from scores.record.record import Record
from tests.classes import STUDENTS, attempts, class_of, results_file
from tests.pilots import MORNING, ready_once
from tests.pseudo_terminal import Terminal

NEW = {
    "welcome": (),
    "pencil file": (("3", "names the columns"),),
    "screen check": (("2", "A look at your screen"),),
}
"""The screens of someone who has never been here."""
KNOWN = {
    "today": (),
    "question": (("\r", "· question 1 "),),
    "closing": (("\r", "· question 1 "), ("\x1b", "How it went")),
    "help": (("?", "choose; in an ordering"),),
    "commands": (("\x10", "Search for"),),
    "plan": (("c", "A plan for a colour"),),
    "pencils": (("w", "12 pencils"),),
    "progress": (("g", "Progress from"),),
    "settings": (("s", "Quickness"),),
    "guide": (("h", "The guide"),),
    "class": (("k", "Enter student"),),
    "class page": (("k", "Enter student"), ("m", "mixes up")),
}
SCREENS = (*NEW, *KNOWN)


def furnish(home: Path) -> None:
    """A home where the pocket set is in use, and a class."""
    pencils = pocket_set()
    record = Record.open(home / "record.db")
    record.put_pencils(pencils.fingerprint, pencils.name, to_csv(pencils), MORNING)
    # As after an earlier start: working these out takes seconds.
    keep_offers(record, pencils.fingerprint, ready_once(pencils).offers)
    record.close()
    class_of(
        home / "class.db", results_file("Wren", attempts(STUDENTS["Wren"], range(1, 9)))
    ).close()


def home_for(screen: str, home: Path) -> Path:
    """A home from which this screen can be reached."""
    home.mkdir(exist_ok=True)
    if screen in KNOWN:
        furnish(home)
    return home


def go(terminal: Terminal, screen: str) -> None:
    """From the start to a screen."""
    terminal.until_text("Whose pencils" if screen in NEW else "skills met")
    for keys, words in (NEW | KNOWN)[screen]:
        terminal.press_until(keys, words)
