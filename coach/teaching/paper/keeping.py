"""What was typed of a worksheet, kept: in one's own record, or in the class as a student's.

Typed again it adds nothing. Typed otherwise, the later one counts, and the earlier one stays.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, timedelta
from typing import TYPE_CHECKING
from uuid import UUID, uuid5

from coach.session.question import attempt_of
from coach.teaching.older_decks import version_of
from decks.record_form import before_of
from drills.basics.days import from_utc_text, practice_day, utc_text
from drills.basics.errors import InputError
from scores.record.attempt import Attempt
from scores.record.decks_added import decks_kept
from scores.record.paper_answers import (
    SHEET,
    PaperAnswer,
    paper_answers,
    that_count,
    typed_of,
)
from scores.record.trials import PAPER

if TYPE_CHECKING:
    from datetime import datetime

    from coach.teaching.paper.sheet import Worksheet
    from coach.teaching.paper.typed import Typed
    from decks.deck import Deck
    from scores.classes.store import ClassBook
    from scores.record.decks_added import DeckKept
    from scores.record.record import Record

EARLIEST = date(2020, 1, 1)
_NAMES = UUID("0d6a4a86-6c0c-5f0e-8a55-6f1d6b0e7c21")


@dataclass(frozen=True)
class KeptTyped:
    """How many answers were ``new``, ``changed`` since they were typed before, or ``known``."""

    new: int
    changed: int
    known: int

    @property
    def words(self) -> str:
        parts = [
            f"{self.new} kept" if self.new or not (self.changed or self.known) else "",
            f"{self.changed} changed" if self.changed else "",
            f"{self.known} kept before" if self.known else "",
        ]
        return ", ".join(filter(None, parts))


def day_written(text: str | None, now: datetime) -> date | None:
    """The day someone says, as YYYY-MM-DD; None where they say none. Raises InputError."""
    if text is None:
        return None
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise InputError("--written", "this is no day", "Write it so: 2026-03-02") from None
    if not EARLIEST <= day <= practice_day(now):
        raise InputError("--written", "that day is to come, or long ago", "Look at the sheet.")
    return day


def kept_deck(record: Record, deck: Deck) -> DeckKept | None:
    """The deck among those of a record; also where words of it were changed. None for none.

    Raises InputError where it may be one as well as another of them.
    """
    return version_of(deck, decks_kept(record))


def attempts_typed(
    sheet: Worksheet,
    typed: Sequence[Typed],
    student: str,
    deck: str,
    written: date | None,
    before: Sequence[PaperAnswer],
    now: datetime,
) -> tuple[list[Attempt], KeptTyped]:
    """The attempts that are not among ``before``, and how many of each sort there were.

    ``student`` is a UUID as text and ``deck`` the fingerprint it is kept under. Of an answer
    typed before, the day stays unless another is said.
    """
    counting = {(one.sheet, one.number): one for one in that_count(before)}
    made, changed, known = [], 0, 0
    for one in typed:
        number = one.asked.number
        last = counting.get((sheet.name, number))
        day = written or (practice_day(now) if last is None else last.written)
        if last is not None and (last.letters, last.written) == (one.letters, day):
            known += 1
            continue
        changed += last is not None
        at = now.astimezone(UTC)
        if last is not None:
            # The latest typed counts: a clock put back must not make this the earlier one.
            at = max(at, from_utc_text(last.typed) + timedelta(milliseconds=1))
        turn = sum((each.sheet, each.number) == (sheet.name, number) for each in before)
        # The deck too, for another may ask the same on sheets of the same names.
        named = f"{student}/{deck}/{sheet.name}/{turn}/{one.letters}/{day}"
        session = str(uuid5(_NAMES, named))
        said = {
            "deck": deck,
            "name": sheet.name,
            "number": number,
            "letters": one.letters,
            "written": day.isoformat(),
            "typed": utc_text(at),
        }
        made.append(_attempt(one, session, number, sheet.palette.set.fingerprint, said, now))
    return made, KeptTyped(len(made) - changed, changed, known)


def keep_own(
    record: Record,
    kept: DeckKept,
    sheet: Worksheet,
    typed: Sequence[Typed],
    written: date | None,
    now: datetime,
) -> KeptTyped:
    """Keep what one's own sheet says. Raises InputError or NotSavedError."""
    from coach.teaching.sharing import student_id

    names = (kept.fingerprint, *before_of(kept.content))
    before = paper_answers(record, names)
    made, counts = attempts_typed(
        sheet, typed, student_id(record), kept.fingerprint, written, before, now
    )
    for attempt in made:
        record.save(attempt)
    return counts


def keep_for_student(
    book: ClassBook,
    deck: Deck,
    named: str,
    sheet: Worksheet,
    typed: Sequence[Typed],
    written: date | None,
    now: datetime,
) -> tuple[str, KeptTyped]:
    """Keep a student's sheet in the class: who it was taken for, and the counts.

    A name that nobody has yet is a new student's. Raises InputError.
    """
    from coach.version import app_version
    from decks.record_form import deck_named
    from scores.classes.paper.kept import id_of_name, of_student
    from scores.classes.people import find, only_one
    from scores.exchange.on_paper import on_paper_of, paper_statement, shared
    from scores.exchange.results_read import ResultsFile
    from scores.exchange.results_written import sound_name

    try:
        name = sound_name(named)
    except ValueError as error:
        raise InputError("the student's name", str(error), "Write another.") from None
    student = id_of_name(name)
    if find(book, name):
        person = only_one(book, name)
        student, name = person.id, person.name
    deck_is = deck_named(deck)
    before = of_student(book.db, student, deck_is)
    made, counts = attempts_typed(sheet, typed, student, deck_is.fingerprint, written, before, now)
    pairs = shared(made, [one for one in map(typed_of, made) if one], deck_is.fingerprint)
    on_paper = tuple(on_paper_of(paper_statement(*pair, student, name)) for pair in pairs)
    file = ResultsFile(student, name, deck_is, app_version(), (), 0, on_paper=on_paper)
    book.add(file, f"the sheet of {name}", typed=True)
    return name, counts


def _attempt(
    one: Typed, session: str, number: int, pencils: str, said: dict[str, object], now: datetime
) -> Attempt:
    question, kind = one.asked.question, one.asked.kind
    return attempt_of(
        *(session, number, question, kind, one.answers, one.grade),
        facts={**question.facts, SHEET: said},  # type: ignore[dict-item]
        helped=False,
        pencils=pencils,
        response_s=0.0,
        now=now,
        deck=PAPER,
    )
