"""Learners made up for the schedule's proof, with a true threshold for every skill.

Every learner has every drill and region that the invented pencils give. A skill's truth is
a *level*:
where its true threshold (the step at which four answers in five are right) lies
on a log scale between the kind's easiest step (0) and its hardest (1). It is
the novice's level plus what practice has built, ``depth`` × expertise, with
expertise between 0 and 1. Answers come from a Weibull observer at that threshold.
Learners differ in talent by kind and family, in how fast they learn and forget,
in pace (seconds an answer), in how long they read a reveal (2 to 16 s for 95 of 100) and a
solved question (1.6 to 7.7 times as long; its words and a reveal's, counted over all drills,
are 90 and 35), in slope and lapses. A solved question teaches them nothing and an answer whose
first step was done for them neither: both cost their time alone, which is the hard case.

How expertise grows and fades is the learner's *model*; there are three, and only
the first was looked at while the schedule was made:

``Consolidating`` (tuned on)
    Gains shrink as expertise grows and within a day; a share of it fades along a
    power curve whose stability grows with every day of practice, more when
    practice came late (the FSRS family's shape; Ye et al. 2022).
``Traces`` (held out)
    Every answer leaves a trace that decays as a power of its age, the faster the
    more active the skill was at the time; expertise is a logistic function of the
    log of their sum (Pavlik & Anderson 2005, Cognitive Science 29:559-586).
``TwoRates`` (held out)
    A fast and a slow process, as in motor adaptation (Smith, Ghazizadeh &
    Shadmehr 2006, PLoS Biology 4:e179), and half of the slow gain reaches the
    neighbouring families of the kind.

What an answer teaches depends on how likely it was to be right: most at about
85 %, nothing at chance or at certainty (Wilson, Shenhav, Straccia & Cohen 2019,
Nature Communications 10:4646). Nothing rewards mixing kinds, and seconds are the
only cost. How making a match hangs on the rest is in ``making``; a card to remember
is right as often as its level says. All numbers are our estimates. A learner with
colour-deficient vision (Machado, Oliveira & Fernandes 2009) sees small steps of hue, chroma
and colour shrunken in some families: see ``deficiency``.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache

from drills.colour.hue import FAMILIES
from scores.skill.psychometric import PROPORTION
from scores.today.day_plan import REVEAL_S
from scores.today.examples import REVEALS
from tests.bench.schedule.making import way_of
from tests.bench.schedule.subject import MADE, beside, judged, offers


def taught(right: float) -> float:
    """What an answer teaches when it was ``right`` likely, 1 at most.

    Wilson et al. 2019, equation 4, for two choices: φ(z)·z at right = Φ(z), here
    of the likelihood above guessing, brought to the two-choice scale.
    """
    # An accurate enough inverse of Φ: Tukey's lambda (0.14).
    p = min(max(right, 0.5001), 0.9999)
    z = (p**0.135 - (1 - p) ** 0.135) / 0.1975
    return math.exp(-0.5 * z * z) * z / math.exp(-0.5)


@dataclass
class Skill:
    """The truth of one skill. ``novice`` and ``depth`` are levels."""

    novice: float
    depth: float
    slope: float
    state: dict[str, float] = field(default_factory=dict)
    traces: list[tuple[float, float, float]] = field(default_factory=list)


class Learner:
    """One made-up learner; subclasses say how expertise grows and fades.

    ``number`` fixes who the learner is, ``seed`` the luck of the answers. Days count from 0.
    """

    model = ""

    def __init__(self, number: int, seed: int) -> None:
        rng = random.Random(f"{self.model}/{number}")
        self.number = number
        self.rng = random.Random(f"{self.model}/{number}/{seed}")
        self.pace = math.exp(rng.gauss(0.0, 0.25))
        # Of their own generators, so that the luck of the answers doesn't hang on them.
        reading = random.Random(f"{self.model}/{number}/reading")
        self.reading = random.Random(f"{self.model}/{number}/{seed}/reading")
        self.reads_s = REVEAL_S * math.exp(reading.gauss(0.0, 0.5))
        self.looks = REVEALS * math.exp(reading.gauss(0.0, 0.4))
        self.lapse = rng.uniform(0.005, 0.08)
        self.rate = math.exp(rng.gauss(0.0, 0.4))
        self.fading = math.exp(rng.gauss(0.0, 0.4))
        self.skills: dict[str, Skill] = {}
        talent = rng.gauss(0.30, 0.08)
        self.way = way_of(number)
        by_family = {region: rng.gauss(0.0, 0.06) for _, region in offers().pairs}
        # One learner in ten is colour-deficient.
        shrunk = deficiency()[number % 2] if number % 10 == 9 else {}
        by_kind = {kind: rng.gauss(0.0, 0.10) for kind in offers().kinds}
        for kind, region in offers().pairs:
            easiest, hardest = offers().kinds[kind].steps
            novice = talent + by_kind[kind] + by_family[region] + rng.gauss(0.0, 0.09)
            depth = rng.uniform(0.35, 0.65)
            lost = math.log10(shrunk.get((judged(kind), region), 1.0))
            if lost and easiest > hardest:
                novice -= lost / math.log10(easiest / hardest)
            self.skills[f"{kind}:{region}"] = Skill(novice, depth, rng.uniform(1.4, 3.4))
        self.deficient = bool(shrunk)

    # -- truth -----------------------------------------------------------------------

    def expertise(self, skill: str, day: float) -> float:
        """Between 0 and 1, on a day."""
        raise NotImplementedError

    def practised(self, skill: str, day: int, teaching: float) -> None:
        """One answer, which teaches so much, changes what the learner can do."""
        raise NotImplementedError

    def level(self, skill: str, day: float) -> float:
        """The true threshold's level on a day."""
        truth = self.skills[skill]
        own = truth.novice + truth.depth * self.expertise(skill, day)
        kind, _, region = skill.partition(":")
        if kind != MADE or not self.way.share:
            return own
        named = [f"{other}:{region}" for other in self.way.of]
        seen = [self.level(name, day) for name in named if name in self.skills]
        return own + self.way.share * (self.way.by(seen) - own) if seen else own

    # -- answering ---------------------------------------------------------------------

    def chance_right(self, skill: str, step: float, day: int) -> float:
        """How likely this learner is right at a step on a day."""
        facts = offers().kinds[skill.partition(":")[0]]
        steps, chance = facts.steps, facts.chance
        if not facts.of_the_eye:
            known = min(1.0, max(0.0, self.level(skill, day)))
            return chance + (1 - chance - self.lapse) * known
        width = math.log10(steps[0] / steps[1])
        threshold = math.log10(steps[0]) - self.level(skill, day) * width
        k = math.log((1 - chance) / (1 - PROPORTION))
        power = self.skills[skill].slope * (math.log10(step) - threshold)
        seen = 1 - math.exp(-k * 10 ** min(power, 2.5))
        return (1 - self.lapse) * (chance + (1 - chance) * seen) + self.lapse * chance

    def read(self) -> float:
        """Seconds to read one reveal."""
        return self.reads_s * math.exp(self.reading.gauss(0.0, 0.4))

    def look(self) -> float:
        """Seconds to look at one solved question."""
        return self.looks * self.read()

    def answer(self, skill: str, step: float, day: int, teaches: float = 1.0) -> tuple[bool, float]:
        """Whether the learner is right, and in how many seconds; practice does its work,
        ``teaches`` times as well as it else would."""
        facts = offers().kinds[skill.partition(":")[0]]
        chance, seconds = facts.chance, facts.seconds
        right = self.chance_right(skill, step, day)
        above = (right - chance) / (1 - chance)
        self.practised(skill, day, teaches * taught(0.5 + 0.5 * above))
        took = seconds * self.pace * math.exp(self.rng.gauss(0.0, 0.3))
        return self.rng.random() < right, took


class Consolidating(Learner):
    """See the module. The schedule was tuned on this one."""

    model = "consolidating"
    GAIN, LASTING, AGAIN, STABLE = 0.10, 0.35, 0.5, 3.0

    def expertise(self, skill: str, day: float) -> float:
        s = self.skills[skill].state
        if not s:
            return 0.0
        return s["e"] * self._kept(s, day)

    def _kept(self, s: dict[str, float], day: float) -> float:
        held = (1 + 19 / 81 * max(0.0, day - s["day"]) * self.fading / s["stable"]) ** -0.5
        return self.LASTING + (1 - self.LASTING) * held

    def practised(self, skill: str, day: int, teaching: float) -> None:
        s = self.skills[skill].state
        if not s:
            s.update(e=0.0, stable=self.STABLE, day=float(day), today=0.0)
        if day > s["day"]:
            kept = self._kept(s, day)
            s["e"] *= kept
            # Late practice steadies more, and the steadier it is the less it gains.
            s["stable"] *= 1 + 4.0 * (1 - kept) + 0.15
            s["today"], s["day"] = 0.0, float(day)
        s["e"] += self.GAIN * self.rate * teaching * (1 - s["e"]) / (1 + self.AGAIN * s["today"])
        s["e"] = min(s["e"], 1.0)
        s["today"] += 1


class Traces(Learner):
    """See the module. Held out."""

    model = "traces"
    DECAY, GROWTH, HALF, WIDTH = 0.18, 0.22, -0.4, 0.75
    IN_DAY = 0.02
    """Days an answer is old at once: what was just practised is not yet wholly there."""

    def _activation(self, skill: str, day: float) -> float:
        total = 0.0
        for weight, at, decay in self.skills[skill].traces:
            total += weight * (1.0 + self.fading * max(day - at, self.IN_DAY)) ** -decay
        return math.log(total) if total > 0 else -9.0

    def expertise(self, skill: str, day: float) -> float:
        if not self.skills[skill].traces:
            return 0.0
        depth = self.HALF + 2.6 - math.log(self.rate)
        return 1 / (1 + math.exp(-(self._activation(skill, day) - depth) / self.WIDTH))

    def practised(self, skill: str, day: int, teaching: float) -> None:
        active = self._activation(skill, day)
        # The more active, the sooner the new trace decays: massed practice is wasted.
        decay = self.DECAY + self.GROWTH * math.exp(min(active, 3.0)) / 8
        self.skills[skill].traces.append((teaching, float(day), min(decay, 1.2)))


class TwoRates(Learner):
    """See the module. Held out."""

    model = "two rates"
    FAST, SLOW, FAST_DAY, SLOW_DAY, SHARED = 0.10, 0.035, 0.45, 0.992, 0.25

    def _now(self, skill: str, day: float) -> tuple[float, float]:
        s = self.skills[skill].state
        if not s:
            return 0.0, 0.0
        days = max(0.0, day - s["day"]) * self.fading
        return s["fast"] * self.FAST_DAY**days, s["slow"] * self.SLOW_DAY**days

    def expertise(self, skill: str, day: float) -> float:
        return min(1.0, sum(self._now(skill, day)))

    def practised(self, skill: str, day: int, teaching: float) -> None:
        fast, slow = self._now(skill, day)
        left = max(0.0, 1 - fast - slow) * self.rate * teaching
        self.skills[skill].state.update(
            fast=fast + self.FAST * left, slow=slow + self.SLOW * left, day=float(day)
        )
        for other in beside(skill):
            fast, slow = self._now(other, day)
            gain = self.SHARED * self.SLOW * left * max(0.0, 1 - slow)
            self.skills[other].state.update(fast=fast, slow=slow + gain, day=float(day))


MODELS: dict[str, Callable[[int, int], Learner]] = {
    "consolidating": Consolidating,
    "traces": Traces,
    "two rates": TwoRates,
}


@cache
def deficiency() -> tuple[dict[tuple[str, str], float], dict[tuple[str, str], float]]:
    """How many times coarser a step looks: for a protan and a deutan learner, severity 0.7.

    By what is judged (value, hue, chroma, colour) and family: the ΔE00 of a small
    step from the family's centre (its Lab from CIECAM16 hue, L* 55, C* 35), over
    its ΔE00 once both colours have passed through the matrices of Machado,
    Oliveira & Fernandes (2009), at least 1 and at most 6. Steps: 4 ΔL*; 0.25 of a
    wheel step of hue; 6 ΔC*; "colour" is the mean of the three.
    """
    import numpy as np
    from colour.blindness import matrix_cvd_Machado2009

    from drills.colour.difference import delta_e00
    from drills.colour.hue import wheel_position
    from drills.colour.spaces import lab_to_srgb, lch_to_lab, srgb_to_lab

    angles = np.linspace(0.0, 360.0, 1441)[:-1]
    ring = lch_to_lab(np.stack([np.full(1440, 55.0), np.full(1440, 35.0), angles], axis=-1))
    wheel = wheel_position(ring)

    def linear(lab: np.ndarray) -> np.ndarray:
        rgb = np.clip(lab_to_srgb(lab), 0.0, 1.0)
        return np.where(rgb <= 0.04045, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4)

    def screen(rgb: np.ndarray) -> np.ndarray:
        rgb = np.clip(rgb, 0.0, 1.0)
        return np.where(rgb <= 0.0031308, 12.92 * rgb, 1.055 * rgb ** (1 / 2.4) - 0.055)

    made = []
    for kind in ("Protanomaly", "Deuteranomaly"):
        matrix = np.asarray(matrix_cvd_Machado2009(kind, 0.7))

        def seen(lab: np.ndarray, by: np.ndarray = matrix) -> np.ndarray:
            return srgb_to_lab(screen(linear(lab) @ by.T))

        factors: dict[tuple[str, str], float] = {}
        for place, family in enumerate(FAMILIES):
            turn = np.abs((wheel - place + 6.0) % 12.0 - 6.0)
            here = ring[int(np.argmin(turn))]
            by_hue = ring[int(np.argmin(np.abs((wheel - place - 0.25 + 6.0) % 12.0 - 6.0)))]
            by_value = here + np.array([4.0, 0.0, 0.0])
            by_chroma = here * np.array([1.0, 41 / 35, 41 / 35])
            for what, other in (("hue", by_hue), ("value", by_value), ("chroma", by_chroma)):
                plain = float(delta_e00(here, other))
                shrunk = float(delta_e00(seen(here), seen(other)))
                factors[what, family] = min(max(plain / max(shrunk, 1e-6), 1.0), 6.0)
            parts = (factors[what, family] for what in ("hue", "value", "chroma"))
            factors["colour", family] = sum(parts) / 3
        made.append(factors)
    return made[0], made[1]
