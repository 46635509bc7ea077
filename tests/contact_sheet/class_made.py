"""The answers of a made-up class, by family: enough that some of it is known and some is not."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from datetime import timedelta

from drills.kinds import all_kinds
from scores.record.attempt import Attempt
from scores.skill.skill_words import WHEEL
from tests.answers import START, answer
from tests.classes import DECK

DRILLS, NEW = ("lighter-or-darker", "hue-and-lean"), "brighter-or-duller"
"""Drills asked in the families of ``OFTEN``; one just begun, in those of ``SOME``."""
EYES = {"Wren": 0.75, "Rail": 0.5, "Teal": 0.25}
"""How far along a drill's steps, 0 (easiest) to 1, each student sees half of what is asked."""
EACH = {"Wren": 40, "Rail": 30, "Teal": 20}
"""Answers of each student in a family asked often."""
BEGUN = {"Wren": 40, "Rail": 2, "Teal": 2}
"""Their answers in each family of the drill just begun: one is known there, two are not yet."""
OFTEN, SOME = WHEEL[1::3], WHEEL[2::3]
"""Families asked often, and those of the drill just begun; the rest is not met."""
SLOPE, CHANCE = 0.12, 0.5


def by_family(student: str) -> list[Attempt]:
    """One student's answers, the same each time: they see finer in one family than in another."""
    dice = random.Random(student)
    made: list[Attempt] = []
    asked = [(drill, family, EACH[student]) for drill in DRILLS for family in OFTEN]
    few = BEGUN[student]
    for drill, family, tries in [*asked, *((NEW, family, few) for family in SOME)]:
        steps = all_kinds()[drill].steps
        sees = EYES[student] + 0.2 * math.sin(WHEEL.index(family))
        for _ in range(tries):
            # Asked near where they stand, as practice does.
            level = min(1.0, max(0.0, dice.gauss(sees, 0.15)))
            step = steps[0] * (steps[-1] / steps[0]) ** level
            p = CHANCE + (1 - CHANCE) / (1 + math.exp((level - sees) / SLOPE))
            right = dice.random() < p
            number = len(made) + 1
            one = answer(
                number,
                session=f"{student}-families",
                kind=drill,
                region=family,
                step=step,
                steps=(steps[0], steps[-1]),
                chance=CHANCE,
                right=right,
                score=float(right),
                deck=DECK.fingerprint,
            )
            made.append(replace(one, at_utc=START + timedelta(minutes=10 * number)))
    return made
