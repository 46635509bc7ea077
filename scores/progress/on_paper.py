"""What came on paper: real layers of real pencils against the target they were laid for."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import median
from typing import TYPE_CHECKING, Any

from scores.record.queries import deck_attempts, latest_paper_day
from scores.record.trials import PAPER

if TYPE_CHECKING:
    from scores.record.attempt import Attempt
    from scores.record.record import Record

KIND = "on_paper"
"""The kind under which the record keeps what came on paper; no drill of the screen."""
UNIT = "ΔE00"
RIGHT_WITHIN = 4.0
"""ΔE00 within which a swatch laid by hand counts as matched; our estimate."""
WILD = 20.0
"""ΔE00 from which a swatch scores nothing; our estimate."""
EVERY = timedelta(days=7)
"""How often a colour is asked to be laid on paper."""
PERIOD = 28
"""Days whose swatches are told together."""

Lab = tuple[float, float, float]


@dataclass(frozen=True)
class OnPaper:
    """One swatch laid: its ``target``, what was ``predicted`` and what was ``got`` (D50 Lab).

    ``miss`` is the ΔE00 between target and got, and ``expected`` what the plan had said to
    count on; ``doubt`` how far off the reading of ``got`` may be (ΔE00); ``how`` is how it
    was given ("typed", "by eye", "in words", "photo"); ``mended`` how many times the ``swatch``
    was gone on with after a look; ``moves`` as [action, pencil, pressure] in the set ``pencils``.
    """

    swatch: str
    day: date
    target: Lab
    predicted: Lab
    got: Lab
    miss: float
    expected: float
    doubt: float
    how: str
    mended: int
    moves: tuple[tuple[str, int, float], ...]
    pencils: str


@dataclass(frozen=True)
class PaperPeriod:
    """The swatches of ``PERIOD`` days up to ``last``: their median miss, and how many."""

    last: date
    miss: float
    swatches: int


def graded(miss: float) -> tuple[float, bool]:
    """Score 0–1, and whether it counts as matched."""
    return max(0.0, 1.0 - miss / WILD), miss <= RIGHT_WITHIN


def results(record: Record) -> tuple[OnPaper, ...]:
    """What came on paper, oldest first; one whose facts can't be read is left out."""
    # By its mark, which has an index; of kinds there is none.
    laid = (attempt for attempt in deck_attempts(record, PAPER) if attempt.kind == KIND)
    return tuple(one for attempt in laid for one in _read(attempt))


def _read(attempt: Attempt) -> Iterator[OnPaper]:
    facts: Any = attempt.facts
    try:
        yield OnPaper(
            attempt.session,
            attempt.day,
            _lab(attempt.target),
            _lab(facts["predicted"]),
            _lab(facts["got"]),
            float(attempt.error),
            float(facts["expected"]),
            float(facts["doubt"]),
            str(facts["how"])[:20],
            int(facts["mended"]),
            tuple((str(a), int(p), float(force)) for a, p, force in facts["moves"]),
            attempt.pencils,
        )
    except (KeyError, TypeError, ValueError, OverflowError):
        return


def _lab(value: Any) -> Lab:
    L, a, b = (float(part) for part in value)
    if not all(map(math.isfinite, (L, a, b))):
        raise ValueError
    return (L, a, b)


def finished(of: Sequence[OnPaper]) -> tuple[OnPaper, ...]:
    """Each swatch as it was last looked at."""
    return tuple({one.swatch: one for one in of}.values())


def periods(of: Sequence[OnPaper], today: date) -> tuple[PaperPeriod, ...]:
    """The finished swatches by periods that end today, oldest first; empty periods left out."""
    by_place: dict[int, list[float]] = {}
    for one in finished(of):
        by_place.setdefault(max(0, (today - one.day).days) // PERIOD, []).append(one.miss)
    return tuple(
        PaperPeriod(today - timedelta(days=place * PERIOD), median(misses), len(misses))
        for place, misses in sorted(by_place.items(), reverse=True)
    )


def due(record: Record, today: date) -> bool:
    """Whether a colour should be laid on paper again: a week after the last one, or after the
    first day of practice."""
    last = latest_paper_day(record)
    if last is not None:
        return today - last >= EVERY
    days = record.days()
    return bool(days) and today - days[0].day >= EVERY


def words(of: Sequence[OnPaper], today: date, few: bool = False) -> str:
    """Where matches land on paper, now and in the period before; no change is claimed of them.
    With ``few`` now alone."""
    told = periods(of, today)
    if not told:
        return ""
    now = told[-1]
    if few:
        return f"On paper your matches land about {now.miss:.1f} from the target."
    count = f"{now.swatches} swatch{'es' * (now.swatches != 1)}"
    text = f"On paper your matches land about {now.miss:.1f} from the target ({count})"
    if len(told) > 1:
        before = told[-2]
        text += f"; up to {before.last.day} {before.last:%B} about {before.miss:.1f}"
        text += f" ({before.swatches})"
    return f"{text}."
