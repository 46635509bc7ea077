"""A target that was read from a photo: its doubt is told, and chooses nothing."""

from __future__ import annotations

import numpy as np
import pytest

from drills.colour.difference import delta_e00
from drills.layering.moves import MIDDLE, Move
from drills.layering.predict import predict
from drills.planning.mending.mend import mend
from drills.planning.plan import read_note
from drills.planning.planner import evaluate, plan
from drills.planning.pressure_spread import as_it_may_be
from tests.palettes import palette_of

POCKET = palette_of("pocket")
MOVES = (Move("lay", 1, MIDDLE), Move("lay", 4, MIDDLE))
TARGET = predict(POCKET, MOVES)


def test_a_colour_in_doubt_is_off_by_that_in_the_root_mean_square():
    read = np.array(TARGET)
    off = delta_e00(as_it_may_be(read, 2.0, 1, draws=4000), read)
    assert np.sqrt((off**2).mean()) == pytest.approx(2.0, rel=0.15)
    assert (as_it_may_be(read, 0.0, 1) == read).all()


def test_a_plan_for_a_target_that_was_read_is_the_same_and_says_its_doubt():
    exact, read = plan(POCKET, TARGET), plan(POCKET, TARGET, target_sd=2.5)
    assert read.recipe == exact.recipe
    assert read.likely.expected > exact.likely.expected
    assert read.likely.high > exact.likely.high
    assert read.target_sd == 2.5
    assert read_note(2.5) in read.notes
    assert read_note(2.5).endswith("give or take 2, as is counted in.")
    assert not any("give or take" in note for note in exact.notes)


def test_ones_own_moves_and_bare_paper_are_told_with_it_too():
    far = evaluate(POCKET, MOVES, TARGET, target_sd=4.0).likely
    assert far.expected > evaluate(POCKET, MOVES, TARGET).likely.expected
    paper = predict(POCKET, ())
    bare = plan(POCKET, paper, target_sd=2.5)
    assert not bare.moves
    assert bare.likely.expected > 1.0
    assert plan(POCKET, paper).likely.expected < 0.1


def test_a_mending_is_the_same_and_tells_of_both_doubts():
    got = (TARGET[0] + 9.0, TARGET[1], TARGET[2])
    exact = mend(POCKET, TARGET, got, MOVES[:1])
    read = mend(POCKET, TARGET, got, MOVES[:1], target_sd=2.5, got_sd=2.5)
    one = mend(POCKET, TARGET, got, MOVES[:1], target_sd=2.5)
    assert exact.moves
    assert read.moves == exact.moves
    assert read.verdict == exact.verdict
    assert read.likely.expected > one.likely.expected > exact.likely.expected
