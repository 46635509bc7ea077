"""How hard to ask next: a weighted up-down staircase aiming at four right in five.

Kaernbach (1991, Perception & Psychophysics 49, 227-229): a staircase whose step
up and step down are in the ratio p/(1−p) settles where the proportion right is
p. Here p = 0.8: hard enough to teach, right often enough to go on willingly. It
runs on a log scale between a kind's easiest and hardest step (on a plain scale
when one of them is not above zero); early moves are larger, so that a newcomer
is soon placed.
"""

from __future__ import annotations

import math

AIM = 0.8
START = 0.3
"""Where a new skill is first asked: the share of the way from easiest to hardest."""
FIRST_MOVE, LAST_MOVE, SETTLE_TRIES = 0.08, 0.025, 12
"""Share of the whole range moved after a right answer: at first, at last, and tries between."""


def level(steps: tuple[float, float], step: float) -> float:
    """Where a step lies between easiest (0) and hardest (1), on the staircase's own scale."""
    easiest, hardest = steps
    if easiest == hardest:
        return 0.0
    if min(steps) > 0:
        if step <= 0:
            return 1.0 if hardest < easiest else 0.0
        share = math.log(step / easiest) / math.log(hardest / easiest)
    else:
        share = (step - easiest) / (hardest - easiest)
    return min(1.0, max(0.0, share))


def step_at(steps: tuple[float, float], share: float) -> float:
    """The step at a level between 0 (easiest) and 1 (hardest)."""
    easiest, hardest = steps
    share = min(1.0, max(0.0, share))
    if share == 0.0 or easiest == hardest:
        return easiest
    if share == 1.0:
        return hardest
    if min(steps) > 0:
        return float(easiest * (hardest / easiest) ** share)
    return easiest + (hardest - easiest) * share


def first_step(steps: tuple[float, float]) -> float:
    """The step at which a skill never met is asked."""
    return step_at(steps, START)


def next_step(
    steps: tuple[float, float],
    current: float | None,
    right: bool,
    asked: float | None = None,
    tries: int = SETTLE_TRIES,
) -> float:
    """The step to ask next.

    ``current`` is the step that was wanted (None: a new skill) and ``asked``
    the step really asked, which may differ where the pencils or the screen's 8
    bits could not give the wanted one: a right answer to an easier question, or
    a wrong answer to a harder one, says less and moves less. ``tries`` is how
    often the skill has been asked before.
    """
    wanted = START if current is None else level(steps, current)
    given = wanted if asked is None else level(steps, asked)
    eased = min(1.0, tries / SETTLE_TRIES)
    move = FIRST_MOVE + (LAST_MOVE - FIRST_MOVE) * eased
    if right:
        moved = min(wanted, given) + move
        return step_at(steps, max(wanted, moved))
    moved = max(wanted, given) - move * AIM / (1 - AIM)
    return step_at(steps, min(wanted, moved))
