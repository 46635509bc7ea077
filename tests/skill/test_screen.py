"""No step is asked that 8 bits a channel can't show: every kind's finest is coarser than a code."""

from __future__ import annotations

import numpy as np
import pytest

from drills.colour.difference import delta_e00
from drills.colour.spaces import lab_to_lch, srgb_to_lab
from drills.kinds import all_kinds
from scores.skill.step_choice import step_to_ask
from scores.skill.threshold import answered, fresh
from tests.skill.test_measure import DAY


def neighbours() -> tuple[np.ndarray, np.ndarray]:
    """Lab (n, 3) of colours all over the screen's gamut and of their next codes in green.

    Green moves the screen's light most of the three channels, so its codes lie
    furthest apart; very dark colours, which no drill shows, are left out.
    """
    rng = np.random.default_rng(8)
    codes = rng.integers(24, 254, size=(4000, 3))
    return srgb_to_lab(codes / 255), srgb_to_lab(np.add(codes, (0, 1, 0)) / 255)


def test_the_finest_step_of_every_kind_is_wider_than_one_code() -> None:
    here, there = neighbours()
    widest = {
        "ΔL*": float(np.max(np.abs(there[:, 0] - here[:, 0]))),
        "ΔE00": float(np.quantile(delta_e00(here, there), 0.99)),
        "ΔC*": float(np.max(np.abs(lab_to_lch(there)[:, 1] - lab_to_lch(here)[:, 1]))),
    }
    kinds = [kind for kind in all_kinds().values() if kind.unit in widest]
    assert {kind.unit for kind in kinds} == set(widest)
    for kind in kinds:
        assert min(kind.steps) > widest[kind.unit], kind.name


@pytest.mark.parametrize("name", sorted(all_kinds()))
def test_an_eye_that_is_always_right_is_never_asked_finer_than_the_kind_can_ask(name: str) -> None:
    kind = all_kinds()[name]
    known = fresh(kind.steps, kind.chance, DAY)
    if known is None:
        assert kind.steps[0] == kind.steps[1], "only a kind without a range is not measured"
        return
    asked = []
    for _ in range(80):
        asked.append(step_to_ask(known, DAY))
        known = answered(known, asked[-1], True, DAY)
    assert min(asked) >= min(kind.steps)
    assert asked[-1] == kind.steps[1]
