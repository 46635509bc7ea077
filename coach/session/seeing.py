"""Errors of hue that run along one axis, as those of eyes with other cones do: noted once.

It is no test of colour vision and diagnoses nobody: it points to a setting, and to those
who can tell.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, wheel_position
from drills.colour.turn import turned_on_screen
from drills.colour.vision import Vision, as_seen
from scores.record.trials import PAPER
from scores.skill.outcome import WITH_HELP

if TYPE_CHECKING:
    from drills.questions.protocol import Lab
    from scores.record.attempt import Attempt
    from scores.record.record import Record

KINDS = ("hue-and-lean", "through-the-cast")
"""The drills that ask a shown colour's family."""
LATEST = 600
"""Answers of each looked at."""
LEAST, BEYOND = 40, 5.5
"""Errors, and standard errors by which they lie more along an axis than the other wrong choices
did, from which it is noted. Simulated eyes of usual vision stay under 4, whatever their care;
those that lack a cone reach 5 to 10 (our choice; see the tests)."""
SETTING = "seeing_noted"


class HueError(NamedTuple):
    """A colour shown, by how many families round the wheel it was misnamed, and by how many
    it could have been among the choices."""

    lab: Lab
    steps: int
    offered: tuple[int, ...]


def hue_errors(attempts: Iterable[Attempt]) -> Iterator[HueError]:
    """The colours whose family was misnamed."""
    for attempt in attempts:
        facts = attempt.facts if isinstance(attempt.facts, dict) else {}
        family, said = facts.get("family"), attempt.answers[0][0] if attempt.answers else ""
        offered = facts.get("choices")
        shown = attempt.target
        if family not in FAMILIES or not isinstance(offered, list) or not isinstance(shown, list):
            continue
        apart = {name: _apart(str(family), name) for name in map(str, offered) if name in FAMILIES}
        wrong = tuple(steps for steps in apart.values() if steps)
        if apart.get(said) in wrong:
            L, a, b = np.array(shown, dtype=np.float64).tolist()
            yield HueError((L, a, b), apart[said], wrong)


def _apart(family: str, said: str) -> int:
    return (FAMILIES.index(said) - FAMILIES.index(family) + 6) % 12 - 6


def axis_of(errors: Iterable[HueError]) -> Vision | None:
    """The way of seeing along whose axis errors run, far beyond chance; else None.

    A wrong choice counts by the share of its difference (ΔE00) that such an eye is without,
    against the mean of all wrong choices offered with it.
    """
    visions: tuple[Vision, ...] = ("red-weak", "green-weak", "blue-weak")
    beyond, variance, count = np.zeros(3), np.zeros(3), 0
    for error in errors:
        shown = np.array(error.lab)
        place = float(wheel_position(shown))
        named = turned_on_screen(shown, [place + steps for steps in error.offered])
        apart = np.maximum(delta_e00(shown, named), 1.0)
        count += 1
        for row, vision in enumerate(visions):
            left = delta_e00(as_seen(shown, vision), as_seen(named, vision))
            lost = 1.0 - np.minimum(left / apart, 1.0)
            beyond[row] += lost[error.offered.index(error.steps)] - lost.mean()
            variance[row] += lost.var()
    score = beyond / np.sqrt(variance + 0.05)
    best = int(np.argmax(score))
    return visions[best] if count >= LEAST and score[best] >= BEYOND else None


def note(record: Record) -> str:
    """What to say, once, of errors along one axis; nothing where there is nothing to say.

    Raises NotSavedError where it can't be kept that it was said.
    """
    if record.setting(SETTING) is True or record.setting("vision", "usual") != "usual":
        return ""
    latest = (
        attempt
        for kind in KINDS
        for attempt in record.attempts(kind=kind, limit=LATEST, newest_first=True)
        # A printer's hues are not the screen's, and what was answered with help measures nothing.
        if attempt.deck != PAPER and attempt.chance < WITH_HELP
    )
    vision = axis_of(hue_errors(latest))
    if vision is None:
        return ""
    record.set_setting(SETTING, True)
    pair = "blues and greens" if vision == "blue-weak" else "reds and greens"
    return (
        f"The hues you misname are mostly {pair} taken for one another. Many people see these as"
        " more alike. If you may be one of them, the setting “Colour vision” (s) leaves out what"
        " can't be judged so. This is no test: an eye specialist can tell you more."
    )
