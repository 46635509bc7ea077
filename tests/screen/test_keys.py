"""What faults of screens do to the keys of drills of hue; ``tests.bench screen`` has more."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drills.kinds.grey_lean import KIND as GREY
from drills.layering.palette import prepare
from drills.pencils.sets import demo_set
from drills.screen.unmeasured import plausible
from tests.screen.simulated import SCREENS, asked, turned

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
