"""What each pencil may do for a target, to the border: begin, mute, cover, or only touch."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np

from drills.colour.hue import wheel_position
from drills.colour.words import strength
from drills.planning.search.craft import Roles, roles

BLENDER = None


class Swatch(NamedTuple):
    """A pencil: wheel steps from the target's place, strength (about Munsell chroma), L*."""

    steps: float
    strong: float = 8.0
    L: float = 50.0


class Pencils:
    """Just what ``roles`` looks at of a palette: the place on the wheel apart from the Lab."""

    def __init__(self, target: Sequence[float], swatches: Sequence[Swatch | None]) -> None:
        here = float(wheel_position(np.array(target)))
        self.wheel = np.array([(here + (s.steps if s else 0.0)) % 12 for s in swatches])
        self.family = np.array([-1 if s is None else 0 for s in swatches])
        per_step = 50.0 / float(strength(np.array([50.0, 50.0, 0.0])))
        self.lab = np.array(
            [[s.L, s.strong * per_step, 0.0] if s else [90.0, 0.0, 0.0] for s in swatches]
        )

    def __len__(self) -> int:
        return len(self.wheel)


def a_target(strong: float, L: float = 60.0) -> tuple[float, float, float]:
    per_step = 50.0 / float(strength(np.array([L, 50.0, 0.0])))
    return (L, strong * per_step, 0.0)


CLEAR, GREYED, GREY = a_target(8.0), a_target(3.0), a_target(1.0)


def found(target: tuple[float, float, float], *swatches: Swatch | None) -> Roles:
    pencils: Any = Pencils(target, swatches)
    return roles(pencils, target)


def may_begin(target: tuple[float, float, float], *swatches: Swatch | None) -> list[bool]:
    return found(target, *swatches).start.tolist()  # type: ignore[no-any-return]


def test_a_clear_target_begins_within_a_step_and_a_half_or_little_beyond_the_nearest() -> None:
    assert may_begin(CLEAR, Swatch(0.1), Swatch(1.45), Swatch(1.55), Swatch(-1.45)) == [
        True,
        True,
        False,
        True,
    ]
    assert may_begin(CLEAR, Swatch(1.0), Swatch(1.7), Swatch(1.8)) == [True, True, False]
    assert may_begin(CLEAR, Swatch(3.0), Swatch(3.7), Swatch(3.8)) == [True, True, False]


def test_a_grey_begins_what_is_greyed_but_nothing_clear() -> None:
    grey = Swatch(0.0, 1.0)
    assert may_begin(CLEAR, Swatch(0.0), grey) == [True, False]
    assert may_begin(a_target(3.51), Swatch(0.0), grey) == [True, False]
    assert may_begin(a_target(3.49), Swatch(0.0), grey) == [True, True]
    # A pencil counts as grey under a strength of 1.5.
    assert may_begin(GREYED, Swatch(5.0, 1.45), Swatch(5.0, 1.55), Swatch(0.0)) == [
        True,
        False,
        True,
    ]


def test_a_grey_target_begins_with_a_grey_or_a_dull_colour() -> None:
    assert may_begin(GREY, Swatch(0.0, 1.0), Swatch(6.0, 5.9), Swatch(6.0, 6.1)) == [
        True,
        True,
        False,
    ]


def test_nothing_begins_with_white_nor_with_black_but_for_a_dark_grey() -> None:
    white, off_white = Swatch(0.0, 1.0, 90.1), Swatch(0.0, 1.0, 89.9)
    black, dark = Swatch(0.0, 1.0, 25.9), Swatch(0.0, 1.0, 26.1)
    assert may_begin(GREY, white, off_white, black, dark) == [False, True, False, True]
    assert may_begin(a_target(1.0, 37.9), white, black, dark) == [False, True, True]
    assert may_begin(a_target(3.0, 30.0), Swatch(0.0), black, dark) == [True, False, True]
    # Where no other is fit, colours begin; where there are none, whatever there is but a blender.
    assert may_begin(GREY, white, Swatch(0.0, 9.0), BLENDER) == [False, True, False]
    assert may_begin(CLEAR, white, black, BLENDER) == [True, True, False]
    assert may_begin(CLEAR, white, dark) == [False, True]


def test_a_colour_mutes_from_four_steps_and_covers_within_two() -> None:
    parts = found(CLEAR, Swatch(0.0), Swatch(1.9), Swatch(2.1), Swatch(3.9), Swatch(4.1))
    assert parts.mutes[0].tolist() == [False, False, False, False, True]
    assert parts.covers[0].tolist() == [True, True, False, False, False]
    assert parts.mutes[4].tolist() == [True, False, False, False, False]
    assert parts.covers[4].tolist() == [False, False, True, True, True]


def test_a_grey_neither_mutes_nor_covers_but_itself() -> None:
    grey, far = Swatch(0.0, 1.0), Swatch(5.0)
    parts = found(CLEAR, Swatch(0.0), grey, far)
    assert parts.mutes[:, 1].tolist() == [False, False, False]
    assert parts.covers[:, 1].tolist() == [False, True, False]
    # As the main colour of a clear target it stands where the target does.
    assert parts.mutes[1].tolist() == [False, False, True]
    assert parts.covers[1].tolist() == [True, True, False]
    # Of a grey target it has no place on the wheel.
    parts = found(GREY, Swatch(0.0), grey, far)
    assert parts.mutes[1].tolist() == [False, False, False]
    assert parts.covers[1].tolist() == [False, True, False]
    assert parts.mutes[0].tolist() == [False, False, True]


def test_strays_from_a_clear_target_are_only_a_touch() -> None:
    def touch(target: tuple[float, float, float], *swatches: Swatch) -> list[bool]:
        return found(target, *swatches).touch.tolist()  # type: ignore[no-any-return]

    near = Swatch(0.5)
    assert touch(CLEAR, near, Swatch(1.9), Swatch(2.1), Swatch(-2.1)) == [False, False, True, True]
    assert touch(CLEAR, Swatch(2.0), Swatch(2.9), Swatch(3.1)) == [False, False, True]
    assert touch(CLEAR, near, Swatch(5.0, 1.0)) == [False, False]
    assert touch(a_target(3.51), near, Swatch(2.1)) == [False, True]
    assert touch(a_target(3.49), near, Swatch(2.1)) == [False, False]
    # So is black, but for a dark target.
    black = Swatch(0.0, 1.0, 20.0)
    assert touch(CLEAR, near, black) == touch(a_target(1.0, 38.1), near, black) == [False, True]
    assert touch(a_target(8.0, 37.9), near, black) == [False, False]


def test_white_black_and_pale_go_by_their_value() -> None:
    parts = found(
        CLEAR,
        Swatch(0.0, 1.0, 25.9),
        Swatch(0.0, 1.0, 26.1),
        Swatch(0.0, 8.0, 20.0),
        Swatch(0.0, 8.0, 74.9),
        Swatch(0.0, 8.0, 75.1),
        Swatch(0.0, 1.0, 89.9),
        Swatch(0.0, 1.0, 90.1),
        BLENDER,
    )
    assert np.flatnonzero(parts.black).tolist() == [0]
    assert np.flatnonzero(parts.pale).tolist() == [4, 5, 6]
    assert np.flatnonzero(parts.white).tolist() == [6]


def test_of_some_pencils_only_those_at_hand_count() -> None:
    pencils: Any = Pencils(CLEAR, [Swatch(0.0), Swatch(3.0), Swatch(3.7), BLENDER])
    some = roles(pencils, CLEAR, np.array([1, 2]))
    assert some.start.tolist() == [True, True]
    assert roles(pencils, CLEAR).start.tolist() == [True, False, False, False]
