"""Classes made up with a known truth, of another make than the model that reads them.

Right answers follow a Weibull function (the model's is logistic) whose slope is the
kind's own; every student lapses at a rate of their own and has better and worse
days; each kind and family lies elsewhere for each student and for the class. Levels
follow the answers by a weighted up-and-down rule (Kaernbach 1991, Perception &
Psychophysics 49:227-229) at four in five. All sizes are our estimates.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from scores.classes.class_lines import KindScale, Skill
from scores.classes.standing.cells import Cells
from scores.skill.psychometric import proportion
from tests.class_cells import cells_of

KINDS = {
    "hue-and-lean": KindScale(0.25, 1.1),
    "lighter-or-darker": KindScale(1 / 3, 0.9),
    "brighter-or-duller": KindScale(0.25, 0.9),
    "nearest-start": KindScale(0.25, 1.08),
    "make-the-match": KindScale(0.02, 0.82),
    "value-order": KindScale(1 / 120, 0.9),
}
FAMILIES = ("yellow", "orange", "red", "violet", "blue", "green")
BINS = 40
UP, DOWN = 0.04, 0.16


@dataclass(frozen=True)
class MadeClass:
    """``true`` is each student's mean ability over the deck's skills, log10."""

    cells: Cells
    true: tuple[float, ...]
    skills: tuple[Skill, ...]


def made_class(
    seed: int, students: int = 24, weeks: int = 1, a_day: int = 8, equal: bool = False
) -> MadeClass:
    """A class that answered so many questions a day. ``equal``: all students alike."""
    rng = random.Random(f"class {seed}")
    kinds = rng.sample(sorted(KINDS), rng.randint(2, 4))
    regions = rng.sample(FAMILIES, rng.randint(3, 6))
    slope = {kind: rng.uniform(1.4, 4.0) for kind in kinds}
    easy = {(k, r): 0.0 for k in kinds for r in regions}
    for kind in kinds:
        base = KINDS[kind].span * rng.uniform(0.2, 0.5)
        easy |= {(kind, r): base + rng.gauss(0.0, 0.06) for r in regions}
    between = rng.uniform(0.07, 0.22)
    counts: dict[tuple[int, Skill, int], list[float]] = {}
    true = []
    for student in range(students):
        own = 0.0 if equal else rng.gauss(0.0, between)
        by_kind = {kind: 0.0 if equal else rng.gauss(0.0, 0.09) for kind in kinds}
        by_region = {region: 0.0 if equal else rng.gauss(0.0, 0.05) for region in regions}
        lapse = rng.choice((0.01, 0.02, 0.04, 0.08))
        ability = {
            (k, r): easy[k, r] + own + by_kind[k] + by_region[r] for k in kinds for r in regions
        }
        true.append(sum(ability.values()) / len(ability))
        level = dict.fromkeys(kinds, 0.3)
        skills = list(ability)
        for turn in range(weeks * 7 * a_day):
            if turn % a_day == 0:
                mood = rng.gauss(0.0, 0.05)
            if turn % len(skills) == 0:
                rng.shuffle(skills)
            skill = skills[turn % len(skills)]
            scale = KINDS[skill[0]]
            asked = min(1.0, max(0.0, level[skill[0]] + rng.uniform(-0.06, 0.06)))
            above = ability[skill] + mood - asked * scale.span
            right = rng.random() < proportion(above, slope[skill[0]], lapse, scale.chance)
            level[skill[0]] = min(1.0, max(0.0, level[skill[0]] + (UP if right else -DOWN)))
            cell = counts.setdefault((student, skill, min(BINS - 1, int(asked * BINS))), [0, 0, 0])
            cell[0] += 1
            cell[1] += right
            cell[2] += asked
    rows = [
        (student, skill, total / tries, int(tries), int(right))
        for (student, skill, _), (tries, right, total) in counts.items()
    ]
    return MadeClass(cells_of(students, rows, KINDS), tuple(true), tuple(sorted(easy)))
