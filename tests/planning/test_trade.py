"""What artists do must come out of the planner (common practice, no source)."""

from __future__ import annotations

import numpy as np
import pytest

from drills.colour.parse import parse_colour
from drills.colour.reading import read_colour
from drills.colour.spaces import lab_to_lch, lch_to_lab
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.predict import predict
from drills.pencils.pencil import Pencil
from drills.planning.plan_limits import Limits, find_pencils
from drills.planning.plan_words import CLOSE
from drills.planning.planner import evaluate, plan
from tests.palettes import palette_of, palette_with

DEMO = palette_of("demo")
COOL_GREY, NAVY, BLUE_GREEN, WHITE = "Wetslate Roof", "Pilotcoat Navy", "Copperhull", "Gullfeather"


def lay(name: str, pressure: float) -> Move:
    return Move("lay", DEMO.names.index(name), pressure)


def test_the_four_pencils_are_what_their_parts_call_for():
    grey, navy, green, white = (
        read_colour(DEMO.lab[DEMO.names.index(name)])
        for name in (COOL_GREY, NAVY, BLUE_GREEN, WHITE)
    )
    assert grey.neutral
    assert grey.temperature == "cool"
    assert grey.value_word == navy.value_word == "dark"
    assert (navy.family, green.family) == ("blue", "blue-green")
    assert white.value > 9


@pytest.mark.parametrize("target", ["10BG 3.5/2", "10BG 4/2", "10BG 3/2"])
def test_a_dark_greyed_blue_green_comes_of_cool_grey_dark_blue_and_blue_green(target):
    four = find_pencils(DEMO.set, [COOL_GREY, NAVY, BLUE_GREEN, WHITE])
    answer = plan(DEMO, parse_colour(target), Limits(tray=four))
    assert answer.reachable
    used = {DEMO.names[move.pencil] for move in answer.recipe if move.pencil >= 0}
    assert {COOL_GREY, BLUE_GREEN} <= used


def test_a_touch_of_white_eases_it():
    dark = [*[lay(COOL_GREY, MIDDLE)] * 2, lay(NAVY, LIGHT), lay(BLUE_GREEN, MIDDLE)]
    before = read_colour(predict(DEMO, dark))
    after = read_colour(predict(DEMO, [*dark, lay(WHITE, LIGHT)]))
    assert before.value < 5.0
    assert before.family == after.family == "blue-green"
    assert 1.0 < after.lab[0] - before.lab[0] < 12.0


@pytest.mark.parametrize("target", ["5BG 3.5/2", "10BG 3/2", "5B 3/2", "5BG 4/2"])
def test_out_of_all_pencils_it_is_made_of_darks_greys_and_cool_colours(target):
    answer = plan(DEMO, parse_colour(target))
    assert answer.reachable
    for move in answer.recipe:
        if move.pencil >= 0:
            pencil = read_colour(DEMO.lab[move.pencil])
            assert pencil.temperature == "cool" or pencil.neutral or pencil.chroma_word == "greyed"


# A rose, redder pencils of its chroma at three values, and a cooler one.
ROSE = palette_with(
    Pencil("rose", lab=(62.0, 42.0, 6.0)),
    Pencil("redder, same value", lab=(62.0, 44.0, 34.0)),
    Pencil("redder, darker", lab=(42.0, 44.0, 34.0)),
    Pencil("redder, lighter", lab=(82.0, 44.0, 34.0)),
    Pencil("cooler, same value", lab=(62.0, 42.0, -20.0)),
)


@pytest.mark.parametrize("turn", [7.0, 12.0])
def test_a_rose_a_touch_too_cool_is_corrected_with_a_redder_pencil_of_its_value(turn):
    """In place of the rose's own last layer, for any layer more deepens a rose."""
    rose = [Move("lay", 0, MIDDLE), Move("lay", 0, FIRM)]
    L, C, h = lab_to_lch(predict(ROSE, [*rose, Move("lay", 0, MIDDLE)])).tolist()
    target = tuple(lch_to_lab([L, C, h + turn]).tolist())
    off = {
        name: min(
            evaluate(ROSE, [*rose, Move("lay", i, pressure)], target).delta_e00
            for pressure in (LIGHT, MIDDLE)
        )
        for i, name in enumerate(ROSE.names)
    }
    assert min(off, key=off.__getitem__) == "redder, same value"
    assert off["redder, same value"] < evaluate(ROSE, rose, target).delta_e00 - 0.4
    # And the planner, free to begin anew, corrects the rose with a redder pencil too.
    answer = plan(ROSE, target)
    assert {1, 2, 3} & {move.pencil for move in answer.recipe}
    assert answer.likely.expected < 4.0


def test_a_red_too_bright_is_muted_from_across_the_wheel_and_inside():
    red, green = DEMO.names.index("Flagloft Red"), DEMO.names.index("Eelgrass Hard")
    L, C, h = lab_to_lch(
        predict(DEMO, [Move("lay", red, MIDDLE), Move("lay", red, MIDDLE)])
    ).tolist()
    target = tuple(lch_to_lab([L - 3.0, 0.75 * C, h]).tolist())
    answer = plan(DEMO, target, Limits(tray=frozenset({red, green})))
    pencils = [move.pencil for move in answer.recipe if move.action == "lay"]
    assert pencils[0] == pencils[-1] == red
    assert green in pencils[1:-1]
    told = next(move for move in answer.moves if move.move.pencil == green)
    assert told.move.pressure == LIGHT
    assert "From across the wheel this mutes it" in told.why


def test_a_stated_reason_says_what_is_off_and_what_the_layer_does():
    answer = plan(DEMO, parse_colour("#8a4a52"))
    assert answer.moves[0].why.startswith("Begin ")
    for before, move in zip(answer.moves, answer.moves[1:], strict=False):
        if move.move.action != "lay":
            continue
        darker = move.predicted_lab[0] < before.predicted_lab[0] - 2.0
        needs_darker = answer.target[0] < before.predicted_lab[0] - 4.0
        needs, does = move.why.split(". ", 1)
        assert not needs_darker or "darker" in needs
        assert not darker or "darker" in does
    last = answer.moves[-1]
    assert last.stop.startswith("Stop when it matches the target.") == (last.delta_e00 < CLOSE)


def test_when_once_more_is_too_much_it_is_said():
    pink = DEMO.names.index("Thriftbank Pink")
    target = predict(DEMO, [Move("lay", pink, MIDDLE), Move("lay", pink, MIDDLE)])
    answer = plan(DEMO, target, Limits(tray=frozenset({pink})))
    assert "Once more would be too much" in answer.moves[-1].stop
    assert "darker" in answer.moves[-1].stop
    assert answer.delta_e00 == pytest.approx(0.0, abs=1e-6)
    assert np.allclose(answer.predicted_lab, target)
