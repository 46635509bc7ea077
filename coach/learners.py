"""Several learners on one account: each has a folder, and so a record, of their own.

The one without a name has the coach's own folder, as everybody had before there were names.
"""

from __future__ import annotations

import os
import unicodedata
from pathlib import Path

from drills.basics.errors import InputError, plain

FOLDER = "learners"
VARIABLE = "COACH_LEARNER"
"""The learner chosen, for this process and those it starts."""
LONGEST = 40
_NEVER = frozenset('/\\:*?"<>|')


def sound_learner(text: str) -> str:
    """A learner's name as a folder may be called. Raises InputError."""
    name = unicodedata.normalize("NFC", " ".join(text.split()))
    where = f"learner “{plain(text, 40)}”"
    if not name:
        raise InputError("learner", "the name is empty", "Write a name, such as Ana.")
    if len(name) > LONGEST:
        raise InputError(where, f"the name is over {LONGEST} characters long", "Shorten it.")
    if plain(name, LONGEST) != name or _NEVER & set(name) or name[0] == "." or name[-1] == ".":
        raise InputError(where, "a folder can't have this name", "Use letters and figures.")
    return name


def _is_sound(name: str) -> bool:
    try:
        return sound_learner(name) == name
    except InputError:
        return False


def chosen() -> str:
    """The learner chosen, empty where none is. Raises InputError for a name that is none."""
    named = os.environ.get(VARIABLE, "")
    return sound_learner(named) if named else ""


def choose(name: str) -> None:
    """Practise as this learner from here on; with "" as the one without a name."""
    if name:
        os.environ[VARIABLE] = sound_learner(name)
    else:
        os.environ.pop(VARIABLE, None)


def learner_dir(home: Path, name: str) -> Path:
    """The folder of a learner's record; it need not be there yet."""
    return home / FOLDER / name if name else home


def known_learners(home: Path) -> tuple[str, ...]:
    """Learners who have a record here, in alphabetical order; "" for the one without a name."""
    found = []
    try:
        with os.scandir(home / FOLDER) as entries:
            for entry in entries:
                inside = os.path.lexists(os.path.join(entry.path, "record.db"))
                journal = os.path.lexists(os.path.join(entry.path, "record.journal"))
                sound = _is_sound(entry.name)
                if sound and entry.is_dir(follow_symlinks=False) and (inside or journal):
                    found.append(entry.name)
    except OSError:
        return ()
    nameless = [""] if os.path.lexists(home / "record.db") else []
    return tuple(nameless + sorted(found, key=str.casefold))
