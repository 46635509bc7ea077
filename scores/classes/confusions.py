"""What a class takes for what beyond accident.

Wrong names of a family fall mostly on its neighbours round the wheel: that alone is no
confusion. A pair is told when it was confused more often than families just as far apart
are, both of the answers to that family and of its wrong answers, at a risk of ``RISK``
for a whole class, however many pairs are looked at (Bonferroni's correction), and by
``STUDENTS`` students at least, for one student's habit is not the class's.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from scores.classes.standing_lines import Confusion
from scores.exchange.xapi import FAMILIES

RISK = 0.05
STUDENTS = 3
USUAL = (0.0, 0.70, 0.18, 0.06, 0.03, 0.02, 0.01)
"""Share of wrong answers by steps round the wheel, before any are seen (our estimate)."""
USUAL_WEIGHT = 12.0
"""Wrong answers that this is worth."""

Row = tuple[int, int, int, int]
"""Places in FAMILIES of the truth and of what was said; answers; students."""


def confusions(rows: Iterable[Row]) -> tuple[Confusion, ...]:
    """The pairs confused beyond accident, the surest first."""
    told = [row for row in rows if row[2] > 0]
    asked: Counter[int] = Counter()
    wrong: Counter[int] = Counter()
    by_step: Counter[tuple[int, int]] = Counter()
    for truth, said, tries, _ in told:
        asked[truth] += tries
        if truth != said:
            wrong[truth] += tries
            by_step[truth, _steps(truth, said)] += tries
    pairs = 11 * len(asked)
    found = []
    for truth, said, tries, students in told:
        if truth == said or students < STUDENTS:
            continue
        step = _steps(truth, said)
        sides = 1 if step == 6 else 2
        # What it is held against comes from the other families alone.
        elsewhere = sum(by_step[one, step] for one in asked if one != truth)
        wrong_elsewhere = sum(wrong.values()) - wrong[truth]
        share = elsewhere + USUAL_WEIGHT * USUAL[step]
        share /= (wrong_elsewhere + USUAL_WEIGHT) * sides
        asked_elsewhere = sum(asked.values()) - asked[truth]
        rate = (wrong_elsewhere + 0.2 * USUAL_WEIGHT) / (asked_elsewhere + USUAL_WEIGHT)
        # The tail of a great count is long to add up: not where the other already says enough.
        chance = pairs * at_least(tries, wrong[truth], share, RISK / pairs)
        if chance <= RISK:
            chance = max(chance, pairs * at_least(tries, asked[truth], share * rate, RISK / pairs))
        if chance <= RISK:
            expected = asked[truth] * share * rate
            names = FAMILIES[truth], FAMILIES[said]
            found.append(Confusion(*names, tries, asked[truth], expected, students, chance))
    return tuple(sorted(found, key=lambda one: (one.chance, one.truth, one.said)))


def _steps(one: int, other: int) -> int:
    apart = abs(one - other) % len(FAMILIES)
    return min(apart, len(FAMILIES) - apart)


def at_least(count: int, tries: int, share: float, enough: float = 1.0) -> float:
    """The chance of ``count`` or more of ``tries`` at a rate of ``share``: a binomial's tail.

    Once it is over ``enough``, how far over is not worked out.
    """
    if count <= 0 or share >= 1.0:
        return 1.0
    if count > tries or share <= 0.0:
        return 0.0
    log_share, log_rest = math.log(share), math.log1p(-share)
    whole = math.lgamma(tries + 1)
    total = 0.0
    for hits in range(count, tries + 1):
        ways = whole - math.lgamma(hits + 1) - math.lgamma(tries - hits + 1)
        term = math.exp(ways + hits * log_share + (tries - hits) * log_rest)
        total += term
        if total > enough or (hits > tries * share and term < 1e-12 * total):
            break
    return min(1.0, total)


@dataclass(frozen=True)
class HandsRead:
    """What hands shown for the choices of one question come to.

    ``right_told`` is whether more were right than guessing gives; ``pulled`` the places of wrong
    choices that hands went to beyond accident, the most first.
    """

    right_told: bool
    pulled: tuple[int, ...]


def hands_read(counts: Sequence[int], right: int, names: Sequence[str] = ()) -> HandsRead:
    """Hands counted for each choice of one question, ``right`` the place of its answer.

    Guessing spreads hands evenly over the choices. Of two, the wrong one pulls where it has more
    than half of all hands beyond accident; of more, where it has more of the wrong hands than
    wrong hands spread by themselves: evenly, or where all ``names`` are families, the more
    to neighbours (``USUAL``). Each at a risk of ``RISK`` for the whole question (Bonferroni's
    correction), and by ``STUDENTS`` hands at least.
    """
    every, wrong = sum(counts), sum(counts) - counts[right]
    others = [at for at in range(len(counts)) if at != right]
    shares = {at: 1 / len(counts) for at in others}
    if len(others) > 1:
        weights = dict.fromkeys(others, 1.0)
        if names and set(names) <= set(FAMILIES):
            truth = FAMILIES.index(names[right])
            steps = {at: _steps(truth, FAMILIES.index(names[at])) for at in others}
            weights = {at: USUAL[step] / (1 if step == 6 else 2) for at, step in steps.items()}
        shares = {at: weights[at] / sum(weights.values()) for at in others}
    of = every if len(others) == 1 else wrong
    pulled = [
        at
        for at in others
        if counts[at] >= STUDENTS and len(others) * at_least(counts[at], of, shares[at]) <= RISK
    ]
    return HandsRead(
        at_least(counts[right], every, 1 / len(counts)) <= RISK,
        tuple(sorted(pulled, key=lambda at: (-counts[at], at))),
    )
