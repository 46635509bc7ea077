"""A swatch that was painted by hand and read from a photo is known no better than these are."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.colour.difference import delta_e00, metric
from drills.colour.spaces import reflectance_to_lab
from drills.layering.doubt.draws import many_in_doubt
from drills.layering.misread import directions, misread
from drills.layering.moves import FIRM, LIGHT, Move
from drills.layering.palette import prepare
from drills.pencils.file import make_set, parse_pencils, to_csv
from drills.pencils.pencil import PencilsError
from drills.planning.mending.mend import mend
from drills.planning.planner import plan
from tests.palettes import palette_of

DEMO = palette_of("demo")
COLOURS = DEMO.colour_indices


@pytest.mark.parametrize("direction", range(3))
def test_a_step_along_each_direction_shows_as_one_unit(direction: int) -> None:
    # The size is held to CIEDE2000 (CIE 142-2001); near greys its terms in hue, which the
    # metric leaves out, make a step shorter or longer.
    given_ = DEMO.reflectance[COLOURS]
    by = np.zeros((len(given_), 3))
    by[:, direction] = 0.5
    off = delta_e00(reflectance_to_lab(misread(given_, by)), reflectance_to_lab(given_)) / 0.5
    assert 0.85 < np.median(off) < 1.15
    assert np.percentile(off, 10) > 0.6


def test_the_directions_are_lightness_chroma_and_hue() -> None:
    given_ = DEMO.reflectance[COLOURS]
    lab = reflectance_to_lab(given_)
    step = reflectance_to_lab(given_ + 0.05 * directions(given_)[:, :, 0]) - lab
    assert np.abs(step[:, 0]).min() > 5 * np.abs(step[:, 1:]).max()


@settings(max_examples=60, deadline=None)
@given(st.integers(0, len(COLOURS) - 1), st.tuples(*[st.floats(-12.0, 12.0)] * 3))
def test_a_misread_spectrum_is_one_that_a_surface_can_have(at: int, by: tuple[float, ...]) -> None:
    given_ = DEMO.reflectance[COLOURS[[at]]]
    spectrum = misread(given_, np.array([by]))
    assert (spectrum > 0.0).all()
    assert (spectrum < 1.0).all()
    np.testing.assert_allclose(misread(given_, np.zeros((1, 3))), given_)


def test_the_metric_agrees_with_ciede2000_for_small_steps() -> None:
    rng = np.random.default_rng(3)
    lab = DEMO.lab[COLOURS]
    step = rng.normal(0.0, 0.3, lab.shape)
    near = np.linalg.norm(np.einsum("bij,bj->bi", metric(lab), step), axis=1)
    ratio = near / delta_e00(lab, lab + step)
    assert 0.8 < np.median(ratio) < 1.2


def painted_demo(count: int):
    """The demo set as if each swatch were the mean of ``count`` painted ones."""
    pencils = [replace(one, painted=count) for one in DEMO.set.pencils]
    return prepare(make_set("painted", tuple(pencils)))


def spread_of(palette, moves: list[Move]) -> float:
    labs = many_in_doubt(palette, [moves], 192, 0)[0]
    return float(delta_e00(labs, labs.mean(axis=0)).mean())


@pytest.mark.parametrize("pencil", COLOURS[::7].tolist())
def test_what_is_laid_with_painted_pencils_is_less_sure_and_a_mean_of_more_is_surer(pencil) -> None:
    moves = [Move("lay", pencil, LIGHT), Move("lay", pencil, FIRM)]
    exact, once, often = (spread_of(painted_demo(count), moves) for count in (0, 1, 12))
    assert exact < often < once


def test_how_often_a_swatch_was_painted_stays_in_the_file() -> None:
    kept = make_set("kept", tuple(replace(one, painted=2) for one in DEMO.set.pencils[:3]))
    again = parse_pencils(to_csv(kept).encode(), "again.csv")
    assert [one.painted for one in again.pencils] == [2, 2, 2]
    plain = make_set("plain", DEMO.set.pencils[:3])
    assert "painted" not in to_csv(plain)


@pytest.mark.parametrize("cell", ["often", "-1", "1.5", "1000000", "²"])
def test_another_word_there_is_refused(cell: str) -> None:
    with pytest.raises(PencilsError, match="painted"):
        parse_pencils(f"name,hex,painted\nAny,#b04030,{cell}\n".encode(), "bad.csv")


def test_a_target_that_was_read_widens_what_is_told_and_changes_no_move() -> None:
    target = (47.0, 20.0, 25.0)
    sure, read = plan(DEMO, target), plan(DEMO, target, target_sd=3.0)
    assert read.moves == sure.moves
    assert read.likely.expected > sure.likely.expected
    assert read.likely.high > sure.likely.high
    assert any("give or take" in note for note in read.notes)
    assert not any("give or take" in note for note in sure.notes)


def test_a_mending_tells_the_doubt_of_what_was_read_and_chooses_as_without() -> None:
    target, got = (47.0, 20.0, 25.0), (58.0, 14.0, 22.0)
    sure = mend(DEMO, target, got)
    read = mend(DEMO, target, got, target_sd=3.0, got_sd=3.0)
    assert read.moves == sure.moves
    assert read.likely.expected > sure.likely.expected
