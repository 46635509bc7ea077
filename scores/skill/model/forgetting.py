"""How long a step held stays held: the day a skill of the eye is due.

What a rest takes from a threshold grows as a logarithm of the rest,

    loss(g) = f · faded(g),    faded(g) = ln(1 + g / FADE_DAYS),

f being the person's forgetting (log10 per unit), g the rest in days: a power law of the
threshold itself, as forgetting goes (Wixted & Ebbesen 1991, Psychological Science
2:409-415). Each answer wins back a share 1 − KEPT of what was lost. The model learns f
from answers after rests of unlike length (``scores.skill.model.learner``).

A step once held (right at 0.8) is lost when the threshold has risen by LOST: a learner
is then right about 0.7 there. A skill is due when that is likelier than RISK. Pure
Python: the first screen reads due days.
"""

from __future__ import annotations

import math
from statistics import NormalDist

FADE_DAYS = 2.0
KEPT = 0.7
"""Share of a rest's loss that is left after one answer (our estimate)."""
LOST = 0.10
"""Rise of a threshold, log10, at which a step held is lost (our estimate)."""
RISK = 0.30
"""Probability of being lost at which a skill is due (our estimate)."""
LONGEST = 365
FIRST_REST, LONGER = 5.0, 3.0
"""The first rest (days), and times the longest rest seen held that the next may be: a
forecast is trusted only so far past what was seen (our estimate)."""
SPREAD = (1.0, 0.6, 1.45, 0.8)
"""Rests of unlike length, in turn: without them forgetting can't be told from learning."""
REACHED = 1.5
"""Times the longest rest planned that one held may count for, were the learner away longer."""
_RISK_Z = NormalDist().inv_cdf(1.0 - RISK)


def faded(rest: float) -> float:
    """How much of what fades has faded after a rest in days; no unit."""
    return math.log1p(max(rest, 0.0) / FADE_DAYS)


def rest_for(faded_by: float) -> float:
    """The rest in days after which ``faded`` comes to this."""
    return FADE_DAYS * math.expm1(min(max(faded_by, 0.0), 12.0))


def loss(rest: float, forgets: float, sd: float = 0.0) -> tuple[float, float]:
    """What a rest is thought to take from a threshold, log10: mean and standard deviation."""
    by = faded(rest)
    return forgets * by, sd * by


def likely_lost_after(forgets: float, sd: float, walk: float = 0.0) -> float:
    """Days of rest after which a step held is lost with probability RISK; LONGEST at most.

    ``forgets`` and ``sd`` are what is known of the person's forgetting, log10 per unit;
    ``walk`` is what a threshold wanders in a day beside, log10.
    """
    low, high = 0.0, float(LONGEST)
    if _lost(high, forgets, sd, walk) < LOST:
        return high
    for _ in range(40):
        middle = 0.5 * (low + high)
        if _lost(middle, forgets, sd, walk) < LOST:
            low = middle
        else:
            high = middle
    return high


def _lost(rest: float, forgets: float, sd: float, walk: float) -> float:
    """The loss that is passed with probability RISK."""
    mean, doubt = loss(rest, forgets, sd)
    return mean + _RISK_Z * math.sqrt(doubt**2 + walk**2 * rest)


def longest_rest(longest_held: float) -> float:
    """The longest rest (days) that may be planned after the longest one held."""
    return max(FIRST_REST, LONGER * longest_held)


def next_rest(
    forgets: float, sd: float, longest_held: float, visits: int, walk: float = 0.0
) -> int:
    """Days until a held skill is due, at least 1.

    ``longest_held`` is the longest rest (days) after which the step was still held, and
    ``visits`` how many days the skill was practised on: they are spread in turn.
    """
    days = min(likely_lost_after(forgets, sd, walk), longest_rest(longest_held))
    days *= SPREAD[visits % len(SPREAD)]
    return min(max(round(days), 1), LONGEST)
