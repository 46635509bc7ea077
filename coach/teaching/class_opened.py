"""The class's file, open for one piece of work."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from coach.home import class_path
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from scores.classes.store import ClassBook


@contextmanager
def class_book(create: bool = False) -> Iterator[ClassBook]:
    """The class, open; one is made with ``create``. Raises InputError, also where it is damaged."""
    from scores.classes.store import ClassBook
    from scores.record.failures import FAILURES

    book = ClassBook.open(class_path(), create=create)
    try:
        yield book
    except (InputError, OSError, UnicodeEncodeError):
        raise
    except (*FAILURES, ValueError, TypeError, KeyError, IndexError, OverflowError) as error:
        # Bytes changed by a failing disk may read as anything.
        raise InputError(
            plain(str(class_path()), 200),
            "the class is damaged",
            "Move it away, and add the files that students sent again.",
        ) from error
    finally:
        book.close()
