"""A threshold as what it is: two swatches just so far apart, then and now."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date

import colour
import numpy as np
import pytest

from coach.reports.seen.then_now import heading, lines, seen, svg
from drills.colour.spaces import screen_rgb, shown_lab
from drills.kinds import all_kinds
from drills.questions.apart import NEAR, UNITS, pair_apart
from drills.questions.protocol import Lab
from scores.progress.claim import Claim, Direction
from scores.progress.then_now import ThenNow, then_and_now
from scores.skill.model.figures import KindFigure, LearnerFigures, Pooled
from scores.today.offers import KindFacts

SINCE = date(2026, 3, 9)


def _chroma(lab: Lab) -> float:
    return math.hypot(*lab[1:])


REFERENCE: dict[str, Callable[[Lab, Lab], float]] = {
    # CIEDE2000 as colour-science has it (Sharma, Wu & Dalal 2005).
    "ΔE00": lambda a, b: float(colour.delta_E(np.array(a), np.array(b), method="CIE 2000")),
    "ΔL*": lambda a, b: abs(a[0] - b[0]),
    "ΔC*": lambda a, b: abs(_chroma(a) - _chroma(b)),
    "C*ab": lambda a, b: abs(_chroma(a) - _chroma(b)),
}


@pytest.mark.parametrize("unit", sorted(REFERENCE))
@pytest.mark.parametrize("difference", [1.5, 2.3, 4.0, 6.5])
def test_a_pair_is_as_far_apart_as_it_says(unit: str, difference: float) -> None:
    pair = pair_apart(difference, unit)
    assert pair is not None
    assert REFERENCE[unit](pair.first, pair.second) == pytest.approx(pair.difference, abs=1e-3)
    assert pair.difference == pytest.approx(difference, rel=NEAR)


@pytest.mark.parametrize("unit", sorted(UNITS))
def test_a_pair_is_what_eight_bits_show(unit: str) -> None:
    pair = pair_apart(0.3 if unit == "wheel steps" else 3.0, unit)
    assert pair is not None
    for lab in (pair.first, pair.second):
        assert shown_lab(np.array(lab)) == pytest.approx(np.array(lab), abs=1e-6)
    assert tuple(screen_rgb(pair.first)) != tuple(screen_rgb(pair.second))


def test_a_value_alone_differs_in_nothing_else() -> None:
    pair = pair_apart(4.0, "ΔL*")
    assert pair is not None
    assert max(_chroma(pair.first), _chroma(pair.second)) < 2.0


@pytest.mark.parametrize(("difference", "unit"), [(0.1, "ΔL*"), (0.05, "ΔE00"), (500.0, "ΔE00")])
def test_what_the_screen_can_t_show_is_not_drawn(difference: float, unit: str) -> None:
    assert pair_apart(difference, unit) is None
    (one,) = seen([ThenNow("a", "A drill", unit, SINCE, 4.0, difference)])
    assert one.then.apart is not None
    assert one.now.apart is None
    assert "too fine" in svg([ThenNow("a", "A drill", unit, SINCE, 4.0, difference)])


def test_what_is_no_colour_difference_has_no_pair() -> None:
    assert pair_apart(2.0, "places") is None
    assert seen([ThenNow("a", "A drill", "of the cast", SINCE, 0.5, 0.4)]) == ()
    assert lines([]) == []
    assert svg([]) == ""


def test_most_kinds_of_the_eye_can_be_shown() -> None:
    kinds = [kind for kind in all_kinds().values() if kind.of_the_eye]
    assert sum(kind.unit in UNITS for kind in kinds) >= len(kinds) - 1


def told(direction: Direction | None, change: float = math.log10(0.7)) -> tuple[ThenNow, ...]:
    """What is told of two kinds, one with answers enough."""
    day = SINCE.toordinal() + 60
    found = Claim(SINCE.toordinal(), day, 40, 900, change, change - 0.1, change + 0.1, 4, direction)
    kinds = {
        name: KindFigure((20.0, 1.0), 0.5, Pooled(0.5, 0.1, answers), (), ())
        for name, answers in (("value", 90), ("new", 3))
    }
    eye = Pooled(0.5, 0.1, 93)
    figures = LearnerFigures(day, {}, kinds, {}, eye, (0.0, 0.0), (0.0, 0.0), 0.0, ())
    facts = {
        name: KindFacts(name, 1, name.title(), 8.0, "ΔL*", (20.0, 1.0), 0.5, True) for name in kinds
    }
    return then_and_now(found, figures, facts)


def test_nothing_is_drawn_unless_a_change_is_known() -> None:
    assert told(None) == ()
    (one,) = told("finer")
    assert one.kind == "value"


def test_then_and_now_differ_by_the_change_that_is_known() -> None:
    (one,) = told("finer")
    assert one.now == pytest.approx(10**0.5)
    assert one.now / one.then == pytest.approx(0.7)
    assert one.since == SINCE


def test_words_say_the_same_in_eighty_columns() -> None:
    said = lines(told("finer"))
    assert said[0] == heading(told("finer"))
    assert "9 March 2026" in said[0]
    assert "on 9 Mar: 4.5 ΔL*; today: 3.2 ΔL*" in said[1]
    assert max(map(len, said)) <= 80
