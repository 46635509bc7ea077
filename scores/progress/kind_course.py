"""One kind of drill over a span: its skills' courses, and what is known of their change."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from scores.progress.answers import Answers, IntArray
from scores.progress.change import REACH, Third, kind_evidence
from scores.progress.fit import (
    LEAST,
    MIDDLE,
    SHAPES,
    FloatArray,
    Grid,
    course,
    evidence,
    grid_of,
    known,
    level,
    scaled,
    spread,
    walk,
)
from scores.progress.span import Span, thirds
from scores.skill.psychometric import scale_of
from scores.today.offers import KindFacts


@dataclass(frozen=True)
class KindFit:
    """Shapes: S skills, P periods, G grid thresholds, D changes (``progress_change.DELTAS``).

    ``course`` (S, P, G) holds posteriors, ``tries`` (S, P) answers. ``change`` (D,)
    and ``skill_change`` (S, D) are log likelihoods of the change between the two
    thirds, ``period_change`` (P, D) of that between each period and the last third,
    in which the skills stood at ``mean`` (S,), give or take ``sd`` (S,), log10; nan
    where a skill was not met in it. ``ends`` say what was answered in the two thirds.
    """

    facts: KindFacts
    names: tuple[str, ...]
    grid: Grid
    course: FloatArray
    tries: IntArray
    change: FloatArray
    skill_change: FloatArray
    period_change: FloatArray
    mean: FloatArray
    sd: FloatArray
    ends: tuple[End, End]


@dataclass(frozen=True)
class End:
    """A third, and by skill the answers (S,) in it and the days (S, days of the third) with any."""

    first: date
    last: date
    tries: IntArray
    met: NDArray[np.bool_]

    def of_skill(self, place: int) -> Third:
        """The third as one skill saw it."""
        tries, days = int(self.tries[place]), int(self.met[place].sum())
        return Third(self.first, self.last, tries, days)


def together(ends: Sequence[End]) -> Third:
    """The same third as several kinds saw it."""
    days = int(np.any([end.met.any(axis=0) for end in ends], axis=0).sum())
    return Third(ends[0].first, ends[0].last, sum(int(end.tries.sum()) for end in ends), days)


Ends = tuple[tuple[date, date], tuple[date, date]]


def ends_of(answers: Answers) -> Ends | None:
    """The first and last third of the time in which anything was answered."""
    if not len(answers):
        return None
    return thirds(
        date.fromordinal(int(answers.day.min())), date.fromordinal(int(answers.day.max()))
    )


def fit_kinds(
    answers: Answers, kinds: Mapping[str, KindFacts], span: Span, ends: Ends
) -> list[KindFit]:
    """Each kind that has a threshold that can be measured; all ``answers`` lie in the span."""
    named = sorted({skill.partition(":")[0] for skill in answers.skills})
    place = {kind: i for i, kind in enumerate(named)}
    kind_of = np.array([place[skill.partition(":")[0]] for skill in answers.skills], dtype=np.int64)
    kind = kind_of[answers.skill]
    order = np.argsort(kind, kind="stable")
    mine = answers.pick(order)
    cuts = np.searchsorted(kind[order], np.arange(len(named) + 1))
    fits = []
    for name, first, last in zip(named, cuts[:-1].tolist(), cuts[1:].tolist(), strict=True):
        facts = kinds.get(name)
        if facts is None or first == last or facts.steps[0] <= facts.steps[1]:
            continue
        if scale_of(facts.steps, facts.chance) is not None:
            fits.append(_fit(mine.pick(slice(first, last)), facts, span, ends))
    return fits


def _fit(answers: Answers, facts: KindFacts, span: Span, ends: Ends) -> KindFit:
    grid = grid_of(math.log10(facts.steps[1]), math.log10(facts.steps[0]))
    met = np.flatnonzero(np.bincount(answers.skill, minlength=len(answers.skills)))
    skill = np.searchsorted(met, answers.skill)
    count, periods = len(met), span.periods
    period = periods - 1 - (span.last.toordinal() - answers.day) // span.period_days
    cell = skill * periods + period
    by_period = scaled(evidence(answers, cell, count * periods, grid)[0])
    by_period = by_period.reshape(count, periods, -1)
    day = answers.day
    inside = [(day >= e[0].toordinal()) & (day <= e[1].toordinal()) for e in ends]
    found = [_end(skill, day, mask, end, count) for mask, end in zip(inside, ends, strict=True)]
    then, now = (
        evidence(answers, np.where(mask, skill, -1), count, grid, (*SHAPES, *MIDDLE))
        for mask in inside
    )
    change, skill_change = kind_evidence(then[:-1], now[:-1], grid)
    late = scaled(now[-1])
    about = spread(late, grid)
    newest = np.tile(level(late, about) @ about, (count, 1))
    reference = known(late, about)
    mean = reference @ grid.logs
    sd = np.sqrt(np.maximum(reference @ grid.logs**2 - mean**2, 0.0))
    unmet = found[1].tries == 0
    mean[unmet] = sd[unmet] = np.nan
    return KindFit(
        facts=facts,
        names=tuple(answers.skills[place] for place in met),
        grid=grid,
        course=course(by_period, newest, walk(grid.logs, span.period_days)),
        tries=np.bincount(cell, minlength=count * periods).reshape(count, periods),
        change=change,
        skill_change=skill_change,
        period_change=_against(reference, by_period),
        mean=mean,
        sd=sd,
        ends=(found[0], found[1]),
    )


def _end(
    skill: IntArray, day: IntArray, inside: NDArray[np.bool_], end: tuple[date, date], count: int
) -> End:
    first, last = end
    long = max((last - first).days + 1, 0)
    mine = skill[inside]
    met = np.zeros((count, long), dtype=np.bool_)
    met[mine, day[inside] - first.toordinal()] = True
    return End(first, last, np.bincount(mine, minlength=count), met)


def _against(reference: FloatArray, by_period: FloatArray) -> FloatArray:
    """The log likelihood (P, D) of δ = reference − period, one for all skills.

    ``reference`` (S, G) holds posteriors, ``by_period`` (S, P, G) likelihoods, which
    stay beyond the grid what they are at its ends.
    """
    size = reference.shape[1]
    place = np.arange(size)[:, None] + np.arange(-REACH, REACH + 1)[None, :]
    inner = (place >= 0) & (place < size)
    moved = np.where(inner, reference[:, np.clip(place, 0, size - 1)], 0.0)
    below = np.cumsum(reference, axis=1)
    # The two ends of the grid take what lies beyond them as well.
    first, last = place[0], place[-1]
    moved[:, 0, :] = np.where(first >= 0, below[:, np.clip(first, 0, size - 1)], 0.0)
    above = 1.0 - np.where(last > 0, below[:, np.clip(last - 1, 0, size - 1)], 0.0)
    moved[:, -1, :] = np.where(last < size, above, 0.0)
    log: FloatArray = np.log(by_period @ moved + LEAST).sum(axis=0)
    return log
