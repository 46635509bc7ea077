"""A plan in words: why each move is made, when to stop, what is missing, what may not be asked."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest

from drills.basics.errors import InputError
from drills.colour.reading import read_colour
from drills.colour.spaces import reflectance_to_lab
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.predict import predict, predict_steps
from drills.pencils.file import make_set
from drills.pencils.pencil import Pencil
from drills.planning.choose import Weighed
from drills.planning.explain import evaluated, written
from drills.planning.missing import direction, kind_words
from drills.planning.plan import LikelyMiss, SetAside
from drills.planning.plan_limits import Limits, find_pencils, usable
from drills.planning.plan_words import imperative, tell
from drills.planning.request import make_job
from drills.planning.search.finished_plans import Candidate
from drills.planning.teaching import HOME
from drills.planning.ways import WayChoice
from tests.palettes import palette_of, palette_with
from tests.planning.test_choice import BLEND, BURNISH, COLOURS, GOAL, POCKET, job, recipe


def told(moves: Sequence[Move], target: Sequence[float]) -> list[tuple[str, str]]:
    steps = predict_steps(POCKET, moves)
    asked = job(target)
    goal = np.array(target, dtype=np.float64)
    return [(each.why, each.stop) for each in tell(POCKET, moves, steps, asked.paper, goal)]


def place_of(family: str) -> int:
    return next(
        at
        for at, n in enumerate(COLOURS)
        if read_colour(POCKET.lab[n]).family == family and not read_colour(POCKET.lab[n]).neutral
    )


def test_a_beginning_is_told_by_its_family_beside_the_target_s() -> None:
    (red,) = recipe(place_of("red"))
    own = predict(POCKET, [red])
    assert told([red], own)[0][0] == "Begin in the target's own family, red."
    other = told([red], (55.0, 5.0, -40.0))[0][0]
    assert other.startswith("Begin in red: what follows brings it to blue")
    grey = told([red], (55.0, 0.0, 0.0))[0][0]
    assert grey.startswith("Begin with a ")
    assert grey.endswith("red: what follows takes its colour out.")
    neutrals = [n for n in COLOURS if read_colour(POCKET.lab[n]).neutral]
    for n in neutrals:
        value = read_colour(POCKET.lab[n]).value
        said = told([Move("lay", n, MIDDLE)], (55.0, 2.0, 2.0))[0][0]
        assert ("with a black," in said) == (value < 2.5)
        assert "sets the value" in said


def test_each_move_says_why_it_is_made_and_when_to_stop() -> None:
    red, green = place_of("red"), place_of("green")
    moves = (*recipe(red), *recipe(green, pressure=LIGHT), BLEND, *recipe(red), BURNISH)
    said = told(moves, (40.0, 5.0, 5.0))
    whys = [why for why, _ in said]
    assert "From across the wheel this mutes it" in whys[1]
    # Read once the layer lies, so it says of when it speaks.
    assert all("Still to come" not in why for why in whys)
    assert whys[1].startswith("Before this move it still wants: ")
    assert whys[2].startswith("Enough colour is down to blend")
    assert "takes the haze off" in whys[3]
    assert "makes one film of it" in whys[4]
    stops = [stop for _, stop in said]
    assert re.fullmatch(r"Stop when it looks .+ than the target(, leaning .+)?\.", stops[0])
    assert stops[2] == "Stop when the grain is even; don't press."
    assert stops[4] == "Stop when the sheen is even. Nothing takes after it."
    plain = told(recipe(red, red), (40.0, 45.0, 20.0))
    assert "The move makes it: " in plain[1][0]


def test_when_to_stop_on_the_last_layer_and_on_one_before_that_matches() -> None:
    red = place_of("red")
    light = recipe(red, pressure=LIGHT)
    match = predict(POCKET, light)
    (last,) = told(light, match)
    assert last[1].startswith("Stop when it matches the target. Once more would be too much: ")
    early = told((*light, *light), match)
    assert early[0][1] == "Stop when it matches the target; what follows only settles it."
    assert early[1][1].endswith("Another layer takes it further off.")
    short = told(light, predict(POCKET, (*light, *light, *light, *light)))
    assert short[0][1].startswith("Stop when it looks ")
    assert not short[0][1].endswith("further off.")
    # Where once more is no worse, nothing is said of it.
    many = recipe(red, red, red, red, red, pressure=FIRM)
    full = told(many, predict(POCKET, many))
    assert full[-1][1] == "Stop when it matches the target."


def test_a_plan_written_out_says_of_each_step_what_it_leads_to() -> None:
    asked = job(GOAL)
    chosen = Weighed(Candidate(recipe(0, 1), 0.0), 1.0, (HOME,), LikelyMiss(1.0, 0.5, 2.0))
    keeping = Weighed(Candidate(recipe(0, 2), 3.0), 1.7, (), LikelyMiss(1.7, 1.0, 3.0))
    made = written(
        asked, chosen, [WayChoice("nearest", keeping)], [chosen, keeping], recipe(0, 1), ["a note"]
    )
    assert made.recipe == chosen.candidate.moves
    (aside,) = made.rules_set_aside
    assert (aside.rule, aside.cost) == (HOME, pytest.approx(0.7))
    assert [(one.way, one.rules_set_aside) for one in made.alternatives] == [("nearest", ())]
    assert made.delta_e00 == pytest.approx(0.0, abs=1e-6)
    assert made.moves[-1].predicted_lab == made.predicted_lab == pytest.approx(GOAL)
    assert made.moves[0].delta_e00 > 1.0
    assert (made.reachable, made.missing, made.notes[-1]) == (True, None, "a note")
    own = evaluated(asked, made.recipe, ("a rule",))
    assert own.steps[-1] == pytest.approx(GOAL)
    assert own.spread_delta_e00 == pytest.approx(made.spread_delta_e00)
    assert own.broken == ("a rule",)
    nothing = evaluated(asked, (), ())
    assert (nothing.steps, nothing.spread_delta_e00) == ((), 0.0)
    assert nothing.delta_e00 == pytest.approx(asked.bare_miss)


def test_each_move_is_a_short_imperative_with_the_pencils_code() -> None:
    coded = palette_with(Pencil("Red", code="A1", hex="#aa3344"), Pencil("Sand", hex="#d9b26a"))
    assert imperative(coded, Move("lay", 0, LIGHT)) == "Lay Red (A1) lightly"
    assert imperative(coded, Move("lay", 1, FIRM)) == "Lay Sand firmly"
    assert imperative(coded, BLEND) == "Blend lightly with the colourless blender"
    assert imperative(coded, BURNISH) == "Burnish: press all of it flat"
    assert imperative(coded, Move("burnish", 1)) == "Burnish with Sand"


@pytest.mark.parametrize(
    ("aside", "words"),
    [
        (SetAside("a rule", None), "These pencils give no plan that keeps it."),
        (SetAside("a rule", 1.0), "Keeping it would miss by about 1 more, or take more moves."),
        (SetAside("a rule", 0.2), "Keeping it would miss by hardly more, or take more moves."),
    ],
)
def test_a_rule_set_aside_is_named_with_its_cost(aside: SetAside, words: str) -> None:
    assert aside.words() == f"Set aside: a rule. {words}"


@pytest.mark.parametrize(
    ("lab", "words"),
    [
        ((95.0, 0.0, 0.0), "a purer white"),
        ((15.0, 0.0, 0.0), "a deeper black"),
        ((30.0, 0.0, 0.0), "a dark grey"),
        ((55.0, 0.0, 0.0), "a middle grey"),
    ],
)
def test_a_missing_grey_is_called_by_its_value(lab: Any, words: str) -> None:
    assert kind_words(read_colour(lab)) == words


def test_what_differs_most_gives_the_direction() -> None:
    base = np.array([50.0, 30.0, 0.0])
    assert direction(base, np.array([56.0, 34.0, 0.0])) == "too light"
    assert direction(base, np.array([49.0, 45.0, 0.0])) == "too bright"
    assert direction(base, np.array([49.0, 15.0, 0.0])) == "too dull"
    assert direction(base, np.array([44.0, 34.0, 0.0])) == "too dark"


# -- limits --------------------------------------------------------------------------------


def test_limits_hold_to_the_last_number_allowed() -> None:
    for layers in (1, 8):
        assert len(usable(POCKET.set, Limits(max_layers=layers))) == len(COLOURS)
    for layers in (0, 9):
        with pytest.raises(InputError, match="can't be planned"):
            usable(POCKET.set, Limits(max_layers=layers))
    assert len(usable(POCKET.set, Limits(max_pencils=1))) == len(COLOURS)
    last = len(POCKET) - 1
    for place in (-1, last + 1):
        with pytest.raises(InputError, match=f"no pencil {place}"):
            usable(POCKET.set, Limits(without=frozenset({place})))
    two = frozenset(COLOURS[:2])
    assert len(usable(POCKET.set, Limits(insist=two, max_pencils=2, max_layers=2))) > 2
    assert usable(POCKET.set, Limits(tray=two, without=frozenset(COLOURS[:1]))) == (COLOURS[1],)
    assert usable(POCKET.set, Limits(tray=frozenset({0, 1, 2}))) == (0, 1, 2)


def test_lightfast_pencils_are_those_of_classes_one_and_two() -> None:
    classes = ("I", "II", "III", "IV", "V", None)
    pencils = tuple(
        Pencil(f"p{n}", hex="#aa3344", lightfastness=c)  # type: ignore[arg-type]
        for n, c in enumerate(classes)
    )
    assert usable(make_set("six", pencils), Limits(lightfast_only=True)) == (0, 1)


def test_a_name_goes_before_a_code_that_reads_the_same() -> None:
    pencils = (
        Pencil("Red", code="A1", hex="#aa3344"),
        Pencil("A1", code="B2", hex="#33aa44"),
        Pencil("Blue", code="C3", hex="#3344aa"),
    )
    made = make_set("three", pencils)
    assert find_pencils(made, ["a1"]) == {1}
    assert find_pencils(made, ["b2", " BLUE "]) == {1, 2}
    with pytest.raises(InputError) as caught:
        find_pencils(made, ["Blu"])
    assert caught.value.remedy == "Did you mean “Blue”?"


def test_a_spectrum_may_reflect_all_or_nothing_and_no_more() -> None:
    ends = np.linspace(0.0, 1.0, 31)
    asked = make_job(POCKET, (0.0, 0.0, 0.0), Limits(), 0, ends)
    assert asked.spectrum is not None
    np.testing.assert_array_equal(asked.spectrum, ends)
    assert asked.target == pytest.approx(reflectance_to_lab(ends))
    for broken in (ends * 1.001, ends - 0.001, ends[1:]):
        with pytest.raises(InputError, match="31 numbers from 0 to 1"):
            make_job(POCKET, (0.0, 0.0, 0.0), Limits(), 0, broken)
    # Left out where only the moves are wanted.
    assert make_job(POCKET, GOAL, Limits(), 0, None, spectral=False).spectrum is None  # type: ignore[arg-type]
    assert make_job(POCKET, GOAL, Limits(), 0, None).spectrum is not None  # type: ignore[arg-type]


def test_a_job_with_one_more_pencil_may_use_it_whatever_the_tray() -> None:
    wider = palette_of("demo")
    free = make_job(POCKET, (50.0, 0.0, 0.0), Limits(), 0, None).with_pencil(wider)
    assert (free.places[-1], free.limits.tray) == (len(wider) - 1, None)
    few = Limits(tray=frozenset(COLOURS[:2]))
    held = make_job(POCKET, (50.0, 0.0, 0.0), few, 0, None).with_pencil(wider)
    assert held.places.tolist() == [*COLOURS[:2], len(wider) - 1]
    assert held.limits.tray == frozenset({*COLOURS[:2], len(wider) - 1})
