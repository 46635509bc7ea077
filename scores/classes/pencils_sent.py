"""The pencils that students sent: each the latest, by student, whichever file came first.

They come in results files where the student put them in, and in questions to the teacher.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from scores.classes.person import people_of
from scores.classes.store_rows import put_pencils

if TYPE_CHECKING:
    from scores.classes.store import ClassBook


@dataclass(frozen=True)
class PencilsSent:
    """A student's set: ``name`` as the class tells the student, ``csv`` the canonical pencils."""

    student: str
    name: str
    csv: str


def keep_pencils(book: ClassBook, student: str, csv: str) -> None:
    """Keep the set of a question to the teacher. Raises InputError."""
    with book.writing() as db:
        put_pencils(db, student, "", csv)


def pencils_known(book: ClassBook) -> list[PencilsSent]:
    """Each student's pencils, by name; of several machines of one student, the latest."""
    sent = {
        identity: (made, csv)
        for identity, made, csv in book.db.execute("SELECT id, made, csv FROM pencil_sets")
    }
    found = []
    for person in people_of(book.db):
        mine = [sent[one] for one in person.ids if one in sent]
        if mine:
            found.append(PencilsSent(person.id, person.name, max(mine)[1]))
    return sorted(found, key=lambda one: (one.name.casefold(), one.student))
