"""What the drills share in which a colour is set: how it is graded, and what is shown of it.

An answer is a full measurement: how far off the colour set is (ΔE00), and how much of that is
value, dullness and hue. For the learner's model it counts as right where it comes within the
step asked, so the threshold of such a drill is the ΔE00 within which four settings in five
land; the measurement itself stays in the record as the answer's error.
"""

from __future__ import annotations

import random
from abc import abstractmethod
from typing import Protocol, TypeVar

from drills.colour.change import SEEN_FROM, describe_difference, parts_of_difference
from drills.colour.difference import delta_e00
from drills.questions.adjusting import Setting, key_of, lab_of, start_near
from drills.questions.draw import VISIBLE_STEP, as_shown
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import (
    JSON,
    Ask,
    CannotAskError,
    Grade,
    Lab,
    Question,
    Reveal,
    Swatch,
)
from drills.questions.results import listed, near_miss, result

FALLS_BY = 6.0
"""ΔE00 over which a score falls to 0.37."""
BEYOND = 1.4
"""Times the step that a setting starts off, at least: left as it is found it is not right."""
LEAST_OFF = 6.0
STARTS = 60
CHANCE = 0.02
"""The share of settings made at random that would count as right (our estimate)."""
PARTS = ("value", "dullness", "hue")
SHARE = 0.35
"""Of the part most off, what another must come to for a verdict to name it."""


class ToSet(Protocol):
    """What every payload of these drills has: the colour wanted, where the setting starts, and
    the ΔE00 within which it counts as right."""

    @property
    def target(self) -> Lab: ...
    @property
    def start(self) -> Lab: ...
    @property
    def near_enough(self) -> float: ...


T = TypeVar("T", bound=ToSet)


class SettingExercise(Exercise[T]):
    """A drill whose last reply is a colour set."""

    unit = "ΔE00"
    chance = CHANCE
    screen_only = True

    def to_set(self, data: T, region: str, **rest: JSON) -> Question:
        """The question; ``rest`` is what its facts hold beside target, start and key."""
        return self.question(
            data,
            region,
            data.near_enough,
            data.target,
            key=key_of(data.target),
            start=key_of(data.start),
            near_enough=round(data.near_enough, 3),
            **rest,
        )

    def graded(self, data: T, keys: Keys) -> Grade:
        lab = lab_of(keys[-1])
        off = off_by(lab, data.target)
        right = off <= max(data.near_enough, VISIBLE_STEP)
        verdict = f"{'Near enough' if right else 'Not there yet'}: {most_off(lab, data.target)}."
        if off < SEEN_FROM:
            verdict = "Yes: the same to the eye."
        figures = off_words(lab, data.target)
        return Grade(near_miss(off - VISIBLE_STEP, FALLS_BY), right, off, "ΔE00", verdict, figures)

    @abstractmethod
    def because(self, data: T) -> tuple[str, ...]:
        """What there is to learn, in words."""

    limits = ""

    def revealed(self, data: T, keys: Keys) -> Reveal:
        lab, right = lab_of(keys[-1]), self.graded(data, keys).right
        off = off_by(lab, data.target)
        need = "the same to the eye"
        if off >= SEEN_FROM:
            need = f"has to become {describe_difference(lab, data.target)}"
        rows = [result("as set", need, lab, mine=True, best=right)]
        if not right:
            rows.append(result("what was wanted", self.wanted_words(data), data.target, best=True))
        return Reveal(self.because(data), tuple(rows), Swatch(data.target), self.limits)

    def wanted_words(self, data: T) -> str:
        """What the colour wanted is."""
        return "the target itself"


def off_by(lab: Lab, target: Lab) -> float:
    """ΔE00."""
    return float(delta_e00(lab, target))


def off_words(lab: Lab, target: Lab) -> str:
    """How far off, and by which part: "ΔE00 4.2 off: value 3.1, dullness 0.8, hue 2.0"."""
    parts = zip(PARTS, parts_of_difference(lab, target), strict=True)
    each = ", ".join(f"{name} {part:.1f}" for name, part in parts)
    return f"ΔE00 {off_by(lab, target):.1f} off: {each}"


def most_off(lab: Lab, target: Lab) -> str:
    """Which parts are off, the most first, and which are right: "hue is off most, then value"."""
    parts = dict(zip(PARTS, parts_of_difference(lab, target), strict=True))
    largest = max(parts.values())
    off = sorted(
        (p for p in PARTS if parts[p] >= max(1.0, SHARE * largest)), key=lambda p: -parts[p]
    )
    off = off or [max(PARTS, key=lambda part: parts[part])]
    right = [part for part in PARTS if parts[part] < 1.0 and part not in off]
    lead = f"{listed(right)} {'is' if len(right) == 1 else 'are'} right; " if right else ""
    return lead + ", then ".join([f"{off[0]} is off most", *off[1:]])


def start_for(target: Lab, step: float, rng: random.Random) -> Lab:
    """Where a setting starts: off in every part, and farther than what counts as right.

    Raises CannotAskError where no such start is found.
    """
    least = max(LEAST_OFF, BEYOND * step)
    for _ in range(STARTS):
        near = start_near(target, rng)
        # Further out along the same way, until it is far enough.
        for _ in range(4):
            lab = as_shown(near.lab)
            if off_by(lab, target) >= least:
                return lab
            near = _further(near, Setting.of(target))
    raise CannotAskError("no colour on a screen is far enough from it to start at")


def _further(near: Setting, target: Setting) -> Setting:
    turn = (near.hue - target.hue + 180.0) % 360.0 - 180.0
    return Setting(
        min(97.0, max(6.0, near.lightness + 0.4 * (near.lightness - target.lightness))),
        max(0.0, near.chroma + 0.4 * (near.chroma - target.chroma)),
        (near.hue + 0.4 * turn) % 360.0,
    )


def set_ask(prompt: str, data: ToSet, scene: tuple[Swatch, ...] = ()) -> Ask:
    """A colour to set, from where ``data`` starts."""
    return Ask(prompt, (), scene, "set", start=data.start)
