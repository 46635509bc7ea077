"""Learners whose truth is known, to hold the progress screen against.

A learner's thresholds are true numbers that stay, or move by a known share; only
the answers are thrown. Answers come from a Weibull observer with the learner's own
slopes and lapses, and good and bad days shift every threshold of a day together.

``python -m tests.bench.true_learners [LEARNERS]`` has learners asked by the coach's
own estimate, day by day as in practice, and prints how many of those who did not
improve are shown an improvement anywhere, and how many of those who did are shown
it. In the tests a plain weighted staircase asks (Kaernbach 1991, Perception &
Psychophysics 49:227-229), which is a hundred times quicker.
"""

from __future__ import annotations

import math
import random
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from scores.progress.answers import Answers, History, Matches
from scores.progress.figures import Course, progress
from scores.progress.lines import ProgressLine
from scores.progress.span import RangeName
from scores.record.trials import PER_CHANCE, PER_LOG10
from scores.skill.psychometric import proportion
from scores.skill.step_choice import step_to_ask
from scores.skill.threshold import for_kind, measured_after
from scores.skill.threshold_kept import Measured
from scores.today.offers import KindFacts

KINDS: dict[str, tuple[tuple[float, float], float, str]] = {
    "lighter-or-darker": ((20.0, 0.8), 0.5, "ΔL*"),
    "value-order": ((12.0, 1.5), 1 / 120, "ΔL*"),
    "hue-and-lean": ((0.5, 0.04), 0.25, "wheel steps"),
    "nearest-start": ((2.5, 0.25), 0.2, "wheel steps"),
    "brighter-or-duller": ((25.0, 2.0), 0.5, "ΔC*"),
    "grey-lean": ((12.0, 1.5), 1 / 6, "C*ab"),
    "hold-in-mind": ((14.0, 1.5), 0.25, "ΔE00"),
}
"""Each kind's (easiest, hardest) step, chance and unit."""
FACTS = {
    name: KindFacts(name, 1, name, 10.0, unit, steps, chance, True)
    for name, (steps, chance, unit) in KINDS.items()
}
BEGAN = date(2026, 1, 5)
RANGES: tuple[RangeName, ...] = ("2 weeks", "3 months", "year", "all")


@dataclass
class Truth:
    """One learner. Levels run from a kind's easiest step (0) to its hardest (1).

    ``gain`` is the log10 by which every threshold falls from the first day to the
    last; ``wander`` the spread of good and bad days, log10.
    """

    seed: int
    days: int = 60
    a_day: int = 25
    families: int = 6
    talent: float | None = None
    gain: float = 0.0
    wander: float = 0.04

    def __post_init__(self) -> None:
        self.rng = random.Random(f"truth/{self.seed}")
        rng = self.rng
        talent = rng.uniform(0.1, 0.8) if self.talent is None else self.talent
        self.skills = [
            f"{kind}:region {number}" for kind in KINDS for number in range(self.families)
        ]
        self.level = {skill: talent + rng.gauss(0.0, 0.12) for skill in self.skills}
        self.slope = {skill: rng.uniform(1.3, 3.4) for skill in self.skills}
        self.lapse = rng.uniform(0.0, 0.08)
        self.mood = [rng.gauss(0.0, self.wander) for _ in range(self.days)]

    def log(self, skill: str, day: int) -> float:
        """The true log10 threshold on a day, moods apart."""
        easiest, hardest = KINDS[skill.partition(":")[0]][0]
        start = math.log10(easiest) - self.level[skill] * math.log10(easiest / hardest)
        return start - self.gain * day / max(self.days - 1, 1)

    def right(self, skill: str, step: float, day: int) -> bool:
        """An answer."""
        chance = KINDS[skill.partition(":")[0]][1]
        above = math.log10(step) - self.log(skill, day) - self.mood[day]
        return self.rng.random() < proportion(above, self.slope[skill], self.lapse, chance)

    def practise(self, ask: Callable[[str, int], float], told: Callable[..., None]) -> History:
        """Practise every day, ``ask`` choosing the step and ``told`` hearing the answer."""
        kept: list[tuple[int, int, int, int, int]] = []
        for day in range(self.days):
            for _ in range(self.a_day):
                place = self.rng.randrange(len(self.skills))
                skill = self.skills[place]
                # As the record keeps it: to a hundredth of a log10.
                at = round(PER_LOG10 * math.log10(ask(skill, day)))
                right = self.right(skill, 10 ** (at / PER_LOG10), day)
                told(skill, 10 ** (at / PER_LOG10), right, day)
                code = round(PER_CHANCE * KINDS[skill.partition(":")[0]][1])
                kept.append((place, (BEGAN + timedelta(days=day)).toordinal(), code, at, right))
        columns = np.array(kept, dtype=np.int64).T
        nothing = np.zeros(0, dtype=np.int64)
        return History(
            Answers(tuple(self.skills), *columns),
            Answers((), *[nothing] * 5),
            Matches(nothing, np.zeros(0)),
            (),
        )

    @property
    def last_day(self) -> date:
        return BEGAN + timedelta(days=self.days - 1)


def by_staircase(truth: Truth) -> History:
    """Practice in which a weighted staircase asks: a step down when right, four up when wrong."""
    place = dict.fromkeys(truth.skills, 0.3)

    def ask(skill: str, _: int) -> float:
        easiest, hardest = KINDS[skill.partition(":")[0]][0]
        return float(easiest * (hardest / easiest) ** place[skill])

    def told(skill: str, _: float, right: bool, __: int) -> None:
        place[skill] = min(max(place[skill] + (0.04 if right else -0.16), 0.0), 1.0)

    return truth.practise(ask, told)


def by_the_coach(truth: Truth) -> History:
    """Practice in which the coach's own estimate asks."""
    known: dict[str, Measured] = {}

    def fresh(skill: str, day: int) -> Measured:
        kind = skill.partition(":")[0]
        steps, chance, _ = KINDS[kind]
        others = [known[name] for name in sorted(known) if name.startswith(f"{kind}:")]
        made = for_kind(known.get(skill), steps, chance, BEGAN + timedelta(days=day), others)
        assert made is not None
        return made

    def ask(skill: str, day: int) -> float:
        return step_to_ask(fresh(skill, day), BEGAN + timedelta(days=day))

    def told(skill: str, step: float, right: bool, day: int) -> None:
        steps, chance, _ = KINDS[skill.partition(":")[0]]
        before = fresh(skill, day)
        after = measured_after(before, steps, chance, step, right, BEGAN + timedelta(days=day))
        assert after is not None
        known[skill] = after

    return truth.practise(ask, told)


def lines_of(course: Course) -> Iterator[ProgressLine]:
    """Everything on the screen that can be called an improvement."""
    if course.eye is not None:
        yield course.eye
    yield from course.groups
    yield from course.skills


def shown(
    history: History, today: date, ranges: tuple[RangeName, ...] = RANGES
) -> dict[str, set[str]]:
    """What is called finer, and what coarser, in any range."""
    found: dict[str, set[str]] = {"finer": set(), "coarser": set()}
    for name in ranges:
        for line in lines_of(progress(history, FACTS, today, name)):
            if line.change.beyond_noise:
                found[line.change.verdict].add(f"{name}: {line.name}")
    return found


def measure(learners: int, gain: float, practise: Callable[[Truth], History], **more: float) -> str:
    """One line of the table."""
    finer = coarser = 0
    for seed in range(learners):
        truth = Truth(seed, gain=gain, **more)  # type: ignore[arg-type]
        found = shown(practise(truth), truth.last_day)
        finer += bool(found["finer"])
        coarser += bool(found["coarser"])
    said = ", ".join(f"{name} {value}" for name, value in more.items())
    return f"gain {gain:4.2f}  {said:34} finer {finer:3} of {learners}   coarser {coarser:3}"


def weekly(learners: int, days: int = 180) -> str:
    """Of learners who do not improve, how many are shown it at any of many weekly looks."""
    ever = last = 0
    for seed in range(learners):
        truth = Truth(500 + seed, days=days, a_day=20)
        history = by_staircase(truth)
        looks = []
        for day in (BEGAN + timedelta(days=n) for n in range(13, days, 7)):
            told = history.practice.between(BEGAN, day)
            found = shown(replace(history, practice=told), day, ("3 months", "all"))
            looks.append(bool(found["finer"]))
        ever += any(looks)
        last += looks[-1]
    return f"weekly looks over {days} days: ever finer {ever} of {learners}, at the last {last}"


def main() -> None:
    """Print the tables."""
    learners = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    print(weekly(learners), flush=True)
    for gain in (0.0, 0.10, 0.24):
        for more in ({"a_day": 25}, {"a_day": 8}, {"a_day": 25, "talent": 0.75}):
            print(measure(learners, gain, by_the_coach, **more), flush=True)


if __name__ == "__main__":
    main()
