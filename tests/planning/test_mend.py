"""Mending: what is off, the next moves from the colour on the paper, when to leave it."""

from __future__ import annotations

import re

import numpy as np
import pytest

from drills.basics.errors import InputError
from drills.colour.difference import delta_e00
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.predict import apply, predict, sheet_lab, start
from drills.planning.mending.laid_moves import done_of, laid_moves
from drills.planning.mending.mend import MOST, looking, mend
from tests.palettes import palette_of

DEMO = palette_of("demo")
RED, GREEN, NAVY, GREY = (
    DEMO.names.index(name)
    for name in ("Flagloft Red", "Eelgrass Hard", "Pilotcoat Navy", "Mudhard Grey")
)
ONCE = (Move("lay", RED, LIGHT),)
TARGET = predict(DEMO, (*ONCE, Move("lay", RED, MIDDLE)))


def test_a_swatch_too_light_is_brought_nearer_with_few_moves():
    found = mend(DEMO, TARGET, predict(DEMO, ONCE), ONCE)
    assert found.verdict == "go on"
    assert "lighter" in found.off
    assert 1 <= len(found.moves) <= MOST
    assert found.moves[0].words.startswith("Lay ")
    assert found.likely.low < found.likely.expected < found.delta_e00 - 0.5
    assert not found.guessed


def test_what_matches_is_left():
    found = mend(DEMO, TARGET, TARGET, (*ONCE, Move("lay", RED, MIDDLE)))
    assert (found.verdict, found.moves) == ("leave it", ())
    assert found.off == "the same to the eye"


def test_what_is_sealed_or_full_takes_nothing_more():
    pale = (85.0, 10.0, 5.0)
    firm = [Move("lay", NAVY, FIRM)] * 4
    for laid, word in (([*firm[:2], Move("burnish")], "burnished"), (firm * 4, "tooth is full")):
        found = mend(DEMO, pale, predict(DEMO, laid), laid)
        assert (found.verdict, found.moves) == ("start anew", ())
        assert word in found.words
        assert "common practice" in found.words  # what an eraser takes


def test_too_dark_is_not_promised_to_come_back():
    laid = [Move("lay", NAVY, FIRM)] * 2
    found = mend(DEMO, (85.0, 5.0, 30.0), predict(DEMO, laid), laid)
    assert found.verdict == "start anew"
    assert found.moves == ()
    assert "too dark" in found.words


def test_moves_go_on_from_the_colour_got_and_not_from_the_one_foretold():
    """The same layers, come out too light or too orange: another mending, nearer from there."""
    L, a, b = predict(DEMO, ONCE)
    light, orange = (mend(DEMO, TARGET, got, ONCE) for got in ((L + 4, a, b), (L, a, b + 12)))
    assert [one.move for one in light.moves] != [one.move for one in orange.moves]
    for found in (light, orange):
        last = found.moves[-1]
        assert last.delta_e00 == pytest.approx(float(delta_e00(last.predicted_lab, TARGET)))
        assert last.delta_e00 < found.delta_e00


def test_a_sheet_is_made_to_look_like_the_colour_got():
    sheet = start(DEMO, 2)
    for move in (*ONCE, Move("lay", GREY, MIDDLE)):
        sheet = apply(DEMO, sheet, move)
    seen = sheet_lab(looking(sheet, (55.0, 30.0, 10.0)))
    assert delta_e00(seen, (55.0, 30.0, 10.0)).max() < 0.5


def test_layers_that_nobody_knows_are_doubted_more():
    known = mend(DEMO, TARGET, predict(DEMO, ONCE), ONCE)
    guessed = mend(DEMO, TARGET, predict(DEMO, ONCE))
    assert guessed.guessed
    assert guessed.verdict == "go on"
    assert guessed.likely.high - guessed.likely.low > 0.9 * (known.likely.high - known.likely.low)


def test_the_same_call_gives_the_same_mending_and_no_colour_is_refused():
    one, two = (mend(DEMO, TARGET, predict(DEMO, ONCE), ONCE) for _ in range(2))
    assert one == two
    with pytest.raises(InputError, match="not a colour"):
        mend(DEMO, TARGET, (np.nan, 0.0, 0.0))


@pytest.mark.parametrize(
    ("text", "moves"),
    [
        ("Flagloft Red lightly; Mudhard Grey firmly", [(RED, LIGHT), (GREY, FIRM)]),
        ("1. Lay Flagloft Red (M06) lightly.\n2. Lay mudhard grey firm pressure", None),
        ("flagloft red, light pressure; Mudhard Grey at middle pressure; ", "middle"),
        ("Flagloft Red", [(RED, MIDDLE)]),
    ],
)
def test_moves_are_read_kindly(text, moves):
    if moves is None:
        moves = [(RED, LIGHT), (GREY, FIRM)]
    elif moves == "middle":
        moves = [(RED, LIGHT), (GREY, MIDDLE)]
    assert laid_moves(DEMO.set, text) == tuple(Move("lay", at, press) for at, press in moves)


def test_blending_and_burnishing_are_read_too():
    assert laid_moves(DEMO.set, "Blend lightly with the colourless blender; burnish") == (
        Move("blend", -1, LIGHT),
        Move("burnish"),
    )
    assert laid_moves(DEMO.set, "burnish with Flagloft Red") == (Move("burnish", RED),)


def test_a_pencil_that_is_not_there_and_steps_too_many_are_said_in_one_line():
    with pytest.raises(InputError, match="Did you mean “Flagloft Red”"):
        laid_moves(DEMO.set, "Flagloft Rad lightly")
    assert done_of(ONCE, 0) == ()
    assert done_of(ONCE, 1) == ONCE
    with pytest.raises(InputError, match="the plan has one move, not 2"):
        done_of(ONCE, 2)


def test_what_is_in_doubt_is_told_beside_what_it_may_come_to():
    """The figure now and the miss to expect are comparable only with the same doubt in both."""
    got = predict(DEMO, ONCE)
    sure, unsure = (mend(DEMO, TARGET, got, ONCE, got_sd=sd) for sd in (0.0, 12.0))
    assert "doubt" not in sure.words
    told = re.search(r"doubt in how it was read, it is about ([\d.]+) off now", unsure.words)
    assert told is not None
    assert float(told[1]) > unsure.delta_e00 + 0.5
