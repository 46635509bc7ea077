"""A colour set by steps: each step about alike to the eye, and never what a screen can't show.

Weights of the steps: CIE 142-2001 (S_L, S_C, S_H), checked by CIEDE2000 itself.
"""

from __future__ import annotations

import random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.colour.difference import delta_e00
from drills.colour.spaces import in_screen_gamut
from drills.questions.adjusting import COARSE, FINE, PARTS, Setting, matched, start_near

SETTINGS = st.builds(
    Setting, st.floats(15.0, 90.0), st.floats(0.0, 60.0), st.floats(0.0, 359.9)
).map(lambda one: Setting.of(one.lab))


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("step", [COARSE, FINE])
def test_a_step_is_about_as_large_to_the_eye_in_each_part(part: str, step: float) -> None:
    rng = random.Random(5)
    sizes = []
    for _ in range(200):
        at = Setting.of(Setting(rng.uniform(25, 80), rng.uniform(10, 40), rng.uniform(0, 360)).lab)
        moved = at.moved(part, step)
        if moved.chroma == pytest.approx(at.moved(part, step / 2).chroma) and part == "chroma":
            continue  # at the edge of the screen there is no step further
        sizes.append(float(delta_e00(at.lab, moved.lab)))
    assert np.median(sizes) == pytest.approx(step, rel=0.15)
    assert np.percentile(sizes, 90) < 1.6 * step


@given(SETTINGS, st.sampled_from(PARTS), st.floats(-9.0, 9.0))
def test_what_is_shown_lies_within_the_screen(at: Setting, part: str, by: float) -> None:
    assert in_screen_gamut(at.moved(part, by).lab)


@given(SETTINGS, st.sampled_from(["lightness", "hue"]), st.floats(0.1, 3.0))
def test_a_step_back_undoes_a_step(at: Setting, part: str, by: float) -> None:
    back = at.moved(part, by).moved(part, -by)
    assert float(delta_e00(at.lab, back.lab)) < 0.6 * by + 0.05


@given(SETTINGS)
def test_brighter_never_comes_out_duller_nor_duller_brighter(at: Setting) -> None:
    chroma = float(np.hypot(*at.lab[1:]))
    assert float(np.hypot(*at.moved("chroma", FINE).lab[1:])) >= chroma - 1e-6
    assert float(np.hypot(*at.moved("chroma", -FINE).lab[1:])) <= chroma + 1e-6


def test_at_the_edge_of_the_screen_the_key_back_acts_at_once() -> None:
    at = Setting.of((52.0, 60.0, 40.0))
    for _ in range(30):
        at = at.moved("chroma", COARSE)
    assert float(delta_e00(at.lab, at.moved("chroma", -COARSE).lab)) > 0.5 * COARSE


def test_a_grey_remembers_its_hue() -> None:
    at = Setting.of((50.0, 20.0, 20.0))
    grey = at
    for _ in range(20):
        grey = grey.moved("chroma", -COARSE)
    assert grey.chroma == 0.0
    assert grey.hue == at.hue


@given(SETTINGS, st.sampled_from(PARTS))
def test_a_scale_puts_a_part_back_where_it_shows_it(at: Setting, part: str) -> None:
    again = at.put(part, at.share(part))
    assert float(delta_e00(at.lab, again.lab)) < 0.1


@given(SETTINGS, st.integers(0, 2**32))
def test_a_setting_starts_off_in_every_part(at: Setting, seed: int) -> None:
    start = start_near(at.lab, random.Random(seed))
    assert abs(start.lightness - at.lightness) >= 4.0
    assert abs(start.chroma - at.chroma) >= 5.0
    turned = abs(start.hue - at.hue) % 360.0
    assert min(turned, 360.0 - turned) >= 12.0


def test_several_settings_give_their_mean_and_spread() -> None:
    found = matched([(50.0, 0.0, 0.0), (52.0, 0.0, 0.0)])
    assert found.lab == (51.0, 0.0, 0.0)
    off = float(delta_e00((51.0, 0.0, 0.0), (50.0, 0.0, 0.0)))
    assert found.spread == pytest.approx(off * 2**0.5, rel=0.05)
    assert matched([(50.0, 0.0, 0.0)]).spread == 0.0
    with pytest.raises(ValueError, match="no settings"):
        matched([])
