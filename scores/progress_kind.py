"""One kind of drill over a span: its skills' courses, and what is known of their change."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from scores.history import Answers, IntArray
from scores.offers import KindFacts
from scores.progress_change import REACH, Third, kind_evidence
from scores.progress_fit import (
    LEAST,
    FloatArray,
    Grid,
    course,
    evidence,
    known,
    level,
    scaled,
    walk,
)
from scores.progress_span import Span, thirds
from scores.psychometric import scale_of


@dataclass(frozen=True)
class KindFit:
    """Shapes: S skills, P periods, G grid thresholds, D changes (``progress_change.DELTAS``).

    ``course`` (S, P, G) holds posteriors, ``tries`` (S, P) answers. ``change`` (D,)
    and ``skill_change`` (S, D) are log likelihoods of the change between the two
    thirds, ``period_change`` (P, D) of that between each period and the last third,
    in which the skills stood at ``mean`` (S,), give or take ``sd`` (S,), log10; nan
    where a skill was not met in it. ``days`` are ordinals.
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
    skill: IntArray
    day: IntArray


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
    """Each kind that has answers in the span and a threshold that can be measured."""
    mine = answers.between(span.first, span.last)
    named = [skill.partition(":")[0] for skill in answers.skills]
    fits = []
    for kind in sorted(set(named) & set(kinds)):
        facts = kinds[kind]
        own = np.array([name == kind for name in named])[mine.skill]
        measurable = facts.steps[0] > facts.steps[1] and scale_of(facts.steps, facts.chance)
        if measurable and own.any():
            fits.append(_fit(mine.pick(own), facts, span, ends))
    return fits


def _fit(answers: Answers, facts: KindFacts, span: Span, ends: Ends) -> KindFit:
    grid = Grid(float(np.log10(facts.steps[1])), float(np.log10(facts.steps[0])))
    met, skill = np.unique(answers.skill, return_inverse=True)
    count, periods = len(met), span.periods
    period = periods - 1 - (span.last.toordinal() - answers.day) // span.period_days
    cell = skill * periods + period
    by_period = scaled(evidence(answers, cell, count * periods, grid).reshape(count, periods, -1))
    inside = [within(answers.day, end) for end in ends]
    then, now = (
        scaled(evidence(answers, np.where(mask, skill, -1), count, grid)) for mask in inside
    )
    change, skill_change = kind_evidence(then, now, grid)
    about = np.tile(level(now, grid) @ grid.spread, (count, 1))
    reference = known(now, grid)
    mean = reference @ grid.logs
    sd = np.sqrt(np.maximum(reference @ grid.logs**2 - mean**2, 0.0))
    unmet = np.bincount(skill[inside[1]], minlength=count) == 0
    mean[unmet] = sd[unmet] = np.nan
    return KindFit(
        facts=facts,
        names=tuple(answers.skills[place] for place in met),
        grid=grid,
        course=course(by_period, about, walk(grid.logs, span.period_days)),
        tries=np.bincount(cell, minlength=count * periods).reshape(count, periods),
        change=change,
        skill_change=skill_change,
        period_change=_against(reference, by_period),
        mean=mean,
        sd=sd,
        skill=skill,
        day=answers.day,
    )


def within(day: IntArray, end: tuple[date, date]) -> NDArray[np.bool_]:
    """Which of these ordinals lie in an end, both days included."""
    made: NDArray[np.bool_] = (day >= end[0].toordinal()) & (day <= end[1].toordinal())
    return made


def third(day: IntArray, end: tuple[date, date]) -> Third:
    """How much was answered in an end, ``day`` being the ordinal of each answer."""
    mine = day[within(day, end)]
    return Third(*end, answers=len(mine), days=len(np.unique(mine)))


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
