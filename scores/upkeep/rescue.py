"""What can be read of a damaged record, saved into a new one, row by row."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from drills.basics.drafts import draft_of, take_name
from drills.basics.errors import InputError, plain
from scores.record.failures import CannotOpenError, UnreadableRecordError
from scores.record.mending.put_rows import put_readable
from scores.record.mending.readable_rows import found_rows, sound_answers
from scores.record.record import NotSavedError, Record
from scores.record.set_aside import clear


@dataclass(frozen=True)
class Rescued:
    """What was saved: answers, how many of them without their details, and other rows.

    ``missing`` are the numbers between the first and last answer that were not found.
    """

    answers: int
    bare: int
    missing: int
    settings: int
    pencils: int
    decks: int


def rescue(source: Path, target: Path) -> Rescued:
    """Save what can be read of ``source`` as a new record at ``target``.

    ``source`` is only read. Skills and counts are worked out anew from the answers
    found. Raises InputError.
    """
    where = plain(str(target), 200)
    if target.exists():
        raise InputError(where, "there is a file of this name", "Give another name.")
    if not source.is_file():
        raise InputError(plain(str(source), 200), "there is no such file", "")
    found = found_rows(source)
    attempts, bare = sound_answers(found["attempts"], found["attempt_facts"])
    if not any(found.values()):
        raise InputError(plain(str(source), 200), "nothing in it can be read", "")
    draft = draft_of(target)
    record = Record.open(draft, journaled=False)
    try:
        sound = [attempt for _, attempt in attempts]
        others = record.transact(lambda db: put_readable(db, sound, found))
        # What was put in must open again.
        record.close()
        Record.open_strictly(draft, False, journaled=False).close()
        take_name(draft, target)
    except FileExistsError:
        raise InputError(where, "a file of this name has just come", "Try again.") from None
    except (NotSavedError, UnreadableRecordError, CannotOpenError) as error:
        raise InputError(where, f"not saved: {error}", "") from error
    finally:
        record.close()
        clear(draft)
    seqs = [seq for seq, _ in attempts]
    missing = seqs[-1] - seqs[0] + 1 - len(seqs) if seqs else 0
    return Rescued(len(attempts), bare, missing, *others)
