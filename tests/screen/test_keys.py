"""What faults of screens do to the keys of drills of hue; ``tests.bench screen`` has more."""

from __future__ import annotations

import random
from contextlib import suppress
from dataclasses import replace

import colour
import numpy as np
import pytest

from drills.colour.hue import family_at, wheel_position
from drills.colour.spaces import screen_rgb
from drills.kinds.grey_lean import KIND as GREY
from drills.kinds.through_the_cast import KIND as CAST
from drills.kinds.through_the_cast import InTheCast
from drills.layering.palette import prepare
from drills.pencils.sets import demo_set
from drills.questions.protocol import CannotAskError, Lab
from drills.screen.model import Screen
from drills.screen.unmeasured import plausible
from tests.screen.simulated import SCREENS, asked, matched_by_eye, turned

D50 = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D50"]

PALETTE = prepare(demo_set())
UNEVEN, WIDE = SCREENS["channels of 2.1, 2.2, 2.3"], SCREENS["wide, nothing corrects it"]
EACH = 12


def test_uncorrected_screens_turn_a_third_of_greys_and_a_fifth_of_hues() -> None:
    """The fault itself: without it, what follows would prove nothing."""
    greys, _ = asked(PALETTE, "grey-lean", EACH)
    hues, _ = asked(PALETTE, "hue-and-lean", EACH)
    assert turned("grey-lean", greys, UNEVEN) > 0.2
    assert turned("hue-and-lean", hues, UNEVEN) > 0.12
    assert turned("hue-and-lean", hues, WIDE) > 0.06


@pytest.mark.parametrize("name", SCREENS)
@pytest.mark.parametrize("kind", ["grey-lean", "hue-and-lean"])
def test_corrected_at_most_three_in_a_hundred_are_turned(kind: str, name: str) -> None:
    labs, _ = asked(PALETTE, kind, EACH)
    assert turned(kind, labs, SCREENS[name], SCREENS[name]) <= 0.03


@pytest.mark.parametrize("kind", ["grey-lean", "hue-and-lean"])
def test_on_an_unmeasured_screen_nothing_is_asked_that_a_common_fault_turns(kind: str) -> None:
    labs, _ = asked(PALETTE, kind, EACH, known=False)
    assert len(labs) >= 2 * EACH / 3
    assert max(turned(kind, labs, screen) for screen in plausible()) == 0.0


def test_a_band_of_greys_that_all_lean_warm_or_all_cool_is_not_asked() -> None:
    """The answer would be half known without looking."""
    assert "middle greys" in GREY.regions(PALETTE)
    assert GREY.regions(replace(PALETTE, screen_known=False)) == ("light greys",)


@pytest.mark.parametrize("name", SCREENS)
@pytest.mark.parametrize("kind", ["grey-lean", "hue-and-lean"])
def test_matched_by_eye_at_most_three_in_a_hundred_are_turned(kind: str, name: str) -> None:
    """Without the floor under what is asked then, up to one in eight are."""
    labs, _ = asked(PALETTE, kind, EACH, known="by eye")
    rng = random.Random(1)
    eyes = [matched_by_eye(SCREENS[name], rng, 1.0) for _ in range(40)]
    assert np.mean([turned(kind, labs, SCREENS[name], eye) for eye in eyes]) <= 0.03


def seen_through(lab: Lab, paper: Lab, screen: Screen) -> int:
    """The family of a colour beside white paper to an eye adapted to the paper, as the screen
    shows both; the adaptation is colour-science's."""
    levels = screen_rgb(np.array([lab, paper]))
    shown, white = (colour.Lab_to_XYZ(one, D50) for one in screen.lab(levels))
    day = colour.chromatic_adaptation(
        shown, white, colour.xy_to_XYZ(D50), method="Von Kries", transform="CAT16"
    )
    return int(family_at(wheel_position(np.asarray(colour.XYZ_to_Lab(day, D50)))))


def test_a_cast_seen_through_on_an_unmeasured_screen_leaves_the_same_family() -> None:
    screens = plausible()
    turned_unknown, turned_known, count = 0, 0, 0
    for known in (True, False):
        palette = replace(PALETTE, screen_known=known)
        for region in CAST.regions(palette):
            for seed in range(4):
                with suppress(CannotAskError):
                    data = CAST.make(palette, region, 0.4, random.Random(seed)).data
                    assert isinstance(data, InTheCast)
                    wrong = any(
                        seen_through(data.seen, data.paper, one) != data.family for one in screens
                    )
                    turned_known += wrong and known
                    turned_unknown += wrong and not known
                    count += not known
    assert count >= 24
    assert turned_unknown <= 0.03 * count
    assert turned_known > turned_unknown
