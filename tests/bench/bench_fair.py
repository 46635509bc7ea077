"""Whether each kind measures what it says: no strategy wins that doesn't look, steps are kept.

``python -m tests.bench fair`` asks every kind found, those of other packages too, 500 questions
at steps drawn over its range (even in log) and 300 more at three thresholds. Bars:

- blind: no strategy of ``drills.laws.blind`` but the task itself is right over 0.05 above the
  kind's chance at the harder half of the steps;
- step: asked and given step, Spearman (1904) at least 0.9;
- right: a learner of threshold t, a Weibull observer (0.8 right at t, slope 3.5, no lapses) on
  the question's true step, is right in 0.75 to 0.85 when asked at t.

``COACH_FAIR`` names kinds to be asked alone, ``COACH_FAIR_PENCILS`` another set ("120").
Cards to remember have no steps and no threshold: of them the blind strategies alone are held.
"""

from __future__ import annotations

import os
import random
from dataclasses import dataclass
from functools import partial

from scipy.stats import spearmanr

from drills.kinds import all_kinds, draw
from drills.laws.blind import STRATEGIES, blindly, tasks_of
from drills.layering.palette import Palette
from drills.questions.protocol import CannotAskError, Kind, Question
from scores.skill.psychometric import proportion, scale_of
from tests.palettes import palette_of

QUESTIONS, AT_A_THRESHOLD = 500, 100
OVER, SAME_ORDER, RIGHT = 0.05, 0.9, (0.75, 0.85)
LEVELS = (0.2, 0.5, 0.8)
"""Where in a kind's range the learners' thresholds lie: 0 is the easiest step."""
SLOPE = 3.5


@dataclass(frozen=True)
class Fairness:
    """One kind: the best blind strategy's share right over chance, and what steps are worth."""

    kind: Kind
    asked: int
    best: str
    share: float
    runners: tuple[tuple[str, float], ...]
    order: float | None
    right: tuple[float, ...]

    @property
    def faults(self) -> tuple[str, ...]:
        found = ["blind"] if self.share > self.kind.chance + OVER else []
        if self.order is not None and self.order < SAME_ORDER:
            found.append("step")
        if any(not RIGHT[0] <= share <= RIGHT[1] for share in self.right):
            found.append("right")
        return tuple(found)


def _step(kind: Kind, level: float) -> float:
    easiest, hardest = kind.steps
    return float(easiest * (hardest / easiest) ** level)


def _asked(kind: Kind, palette: Palette, levels: list[float]) -> list[tuple[float, Question]]:
    """(level asked at, question) in the regions in turn; refused ones are left out."""
    regions = kind.regions(palette)
    found = []
    for seed, level in enumerate(levels):
        try:
            region = regions[seed % len(regions)]
            found.append((level, draw(kind, palette, region, _step(kind, level), 7000 + seed)))
        except CannotAskError:
            continue
    return found


def measure(kind: Kind, palette: Palette, questions: int = QUESTIONS) -> Fairness:
    """How fair a kind is with these pencils."""
    rng = random.Random(f"fair/{kind.name}")
    # Half at random and half at the harder end, where blind strategies are held.
    drawn = [rng.random() if i % 2 else 0.5 + rng.random() / 2 for i in range(2 * questions)]
    plain = _asked(kind, palette, [rng.random() for _ in range(questions)])
    hard = _asked(kind, palette, [one for one in drawn if one >= 0.5][:questions])
    shares = {}
    for name, strategy in STRATEGIES.items():
        if name in tasks_of(kind):
            continue
        grades = [
            kind.grade(question, answers).right
            for _, question in hard
            if (answers := blindly(partial(kind.ask, question), strategy)) is not None
        ]
        if len(grades) >= 0.5 * len(hard):
            shares[name] = sum(grades) / len(grades)
    runners = sorted(shares.items(), key=lambda one: -one[1])
    order, right = None, []
    if kind.of_the_eye:
        steps = [(-level, question.step) for level, question in plain]
        order = float(spearmanr(*zip(*steps, strict=True)).statistic)
        scale = scale_of(kind.steps, kind.chance)
        assert scale is not None
        for level in LEVELS:
            threshold = scale.intensity(_step(kind, level))
            chances = [
                proportion(scale.intensity(question.step) - threshold, SLOPE, 0.0, kind.chance)
                for _, question in _asked(kind, palette, [level] * AT_A_THRESHOLD)
            ]
            right.append(sum(chances) / len(chances))
    return Fairness(kind, len(hard), *runners[0], tuple(runners[:4]), order, tuple(right))


def main() -> None:
    """Print the table; exit status 1 where a bar is missed."""
    palette = palette_of(os.environ.get("COACH_FAIR_PENCILS", "demo"))
    only = os.environ.get("COACH_FAIR", "").split()
    print(f"{'kind':22}{'asked':>6}{'chance':>8}{'blind':>7}{'steps':>7}{'right at t':>18}")
    missed = False
    for name, kind in all_kinds().items():
        if only and name not in only:
            continue
        found = measure(kind, palette)
        missed |= bool(found.faults)
        order = "" if found.order is None else f"{found.order:.2f}"
        right = " ".join(f"{share:.2f}" for share in found.right)
        print(
            f"{name:22}{found.asked:>6}{kind.chance:>8.2f}{found.share:>7.2f}{order:>7}{right:>18}"
            f"  {found.best}{'  MISSED: ' + ', '.join(found.faults) if found.faults else ''}",
            flush=True,
        )
        if os.environ.get("COACH_FAIR"):
            print("   ", "; ".join(f"{name} {share:.2f}" for name, share in found.runners))
    if missed:
        raise SystemExit(1)


if __name__ == "__main__":
    main()
