"""Matches on paper then and now: each a target beside what was laid for it."""

from __future__ import annotations

from coach.reports.figure_words import day_words, short_day
from coach.reports.seen.drawn import Pair, Seen
from drills.questions.apart import Apart
from scores.progress.on_paper import OnPaper, PaperPeriod
from scores.progress.paper_change import PaperChange

TITLE = "On paper: the target, and what was laid for it"


def words(change: PaperChange) -> str:
    """The change in a sentence."""
    how = "nearer than they did" if change.nearer else "farther off than they did"
    return (
        f"On paper your matches land {how}: about {change.now.miss:.1f} from the target in the"
        f" four weeks to {day_words(change.now.last)}, {change.then.miss:.1f} in those to"
        f" {day_words(change.then.last)}."
    )


def seen(change: PaperChange) -> Seen:
    """A usual swatch of each time."""
    return Seen(
        TITLE,
        _pair(change.then, change.then_swatch),
        _pair(change.now, change.now_swatch),
    )


def _pair(period: PaperPeriod, one: OnPaper) -> Pair:
    apart = Apart(one.target, one.got, one.miss)
    return Pair(f"to {short_day(period.last)}: {one.miss:.1f} off", apart)
