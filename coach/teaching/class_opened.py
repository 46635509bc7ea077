"""The class's file, open for one piece of work; read by its model, it is let go of first."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import closing, contextmanager
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING

from coach.home import class_path
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from scores.classes.class_lines import KindScale
    from scores.classes.standing_lines import ClassStanding
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


class ClassReading:
    """The class read by its model, in a thread of its own: the file is open there only while the
    counts are read, and never after ``leave``."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._left = False

    def standing(
        self, path: Path, deck: str, scales: Callable[[], Mapping[str, KindScale]]
    ) -> ClassStanding | None:
        """Who stands where over one deck, or over all; None once left. Raises InputError."""
        from scores.classes.standings import class_counts, standing_from
        from scores.classes.store import ClassBook

        with self._lock:
            if self._left:
                return None
            with closing(ClassBook.open(path, create=False)) as book:
                counts = class_counts(book, deck)
        return standing_from(counts, scales())

    def leave(self) -> None:
        """Wait until the file is let go of, and open it no more."""
        with self._lock:
            self._left = True
