"""What mutes it, a complement or a grey: what the model says of each choice, worked out again."""

from __future__ import annotations

from collections import Counter
from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, complement, wheel_position, wheel_steps
from drills.colour.munsell import munsell_to_lab
from drills.colour.reading import describe_difference, read_colour
from drills.colour.spaces import hex_of, lab_to_lch
from drills.colour.words import NEUTRAL_BELOW, strength
from drills.kinds import draw
from drills.kinds.mute_with_complement import KIND, MutersOffered
from drills.layering.moves import LIGHT, MIDDLE, Move
from drills.layering.palette import Palette
from drills.layering.predict import predict, predict_many
from drills.planning.ways import EARTH_BELOW
from drills.questions.draw import VISIBLE_STEP
from drills.questions.muting import ACROSS, COMPLEMENT, GREYS, By
from drills.questions.protocol import Question
from tests.palettes import palette_of, palette_with, pencil

STEPS = (6.0, 2.4, 1.0)
SEEDS = 2
"""Questions of each region at each step."""
SETS = ("demo", "pocket", "120")


@cache
def questions(pencils: str, seeds: int = SEEDS) -> tuple[Question, ...]:
    palette = palette_of(pencils)
    return tuple(
        draw(KIND, palette, region, step, 1000 * turn + seed)
        for turn, region in enumerate(KIND.regions(palette))
        for step in STEPS
        for seed in range(seeds)
    )


def data_of(question: Question) -> MutersOffered:
    assert isinstance(question.data, MutersOffered)
    return question.data


def asked(pencils: str, by: By, seeds: int = 4) -> list[Question]:
    """Those of one way of muting."""
    return [one for one in questions(pencils, seeds) if data_of(one).by == by]


def held(main: int, other: int) -> list[Move]:
    """A pencil laid lightly between two layers of a main colour."""
    return [Move("lay", main, MIDDLE), Move("lay", other, LIGHT), Move("lay", main, LIGHT)]


def every_result(palette: Palette, question: Question) -> tuple[list[int], np.ndarray]:
    """Every pencil but the main one, and how far off the target (ΔE00) each leaves it."""
    main = data_of(question).main
    others = [int(i) for i in palette.colour_indices if i != main]
    labs = predict_many(palette, [held(main, other) for other in others])
    return others, delta_e00(labs, question.target)


over_sets = pytest.mark.parametrize("pencils", SETS)

# The key


@over_sets
def test_each_result_is_what_the_model_predicts(pencils: str) -> None:
    palette = palette_of(pencils)
    for question in questions(pencils)[::3]:
        data = data_of(question)
        for place, result, error in zip(data.offered, data.results, data.errors, strict=True):
            again = predict(palette, held(data.main, place))
            assert result == pytest.approx(again, abs=1e-9)
            assert error == pytest.approx(float(delta_e00(again, question.target)))
        alone = predict(palette, held(data.main, data.main))
        assert delta_e00(alone, data.alone) < 0.5, "shown to 8 bits"


@over_sets
def test_the_key_comes_nearest_of_all_the_pencils_not_only_of_the_four(pencils: str) -> None:
    palette = palette_of(pencils)
    for question in questions(pencils):
        others, errors = every_result(palette, question)
        best = others[int(np.argmin(errors))]
        key = int(str(question.facts["key"]))
        assert data_of(question).offered[key] == best
        assert question.facts["choices"][key] == palette.names[best]


@over_sets
def test_no_other_choice_is_within_a_visible_step_of_the_best(pencils: str) -> None:
    for question in questions(pencils):
        first, second, *_ = sorted(data_of(question).errors)
        assert second - first >= VISIBLE_STEP
        assert question.step == pytest.approx(second - first)


@over_sets
def test_facts_keep_every_result(pencils: str) -> None:
    for question in questions(pencils)[::3]:
        data = data_of(question)
        assert question.facts["choices"] == list(data.names)
        assert question.facts["delta_e00"] == pytest.approx(list(data.errors), abs=1e-3)
        assert question.facts["results"] == [
            pytest.approx(list(lab), abs=1e-3) for lab in data.results
        ]


# What muting means


@over_sets
def test_the_best_stands_across_the_wheel_and_is_no_grey(pencils: str) -> None:
    palette = palette_of(pencils)
    for question in asked(pencils, COMPLEMENT):
        data = data_of(question)
        best = data.offered[data.best]
        assert wheel_steps(palette.wheel[data.main], palette.wheel[best]) >= 4.0
        assert strength(palette.lab[best]) >= NEUTRAL_BELOW


def test_both_ways_are_asked_and_greys_are_chosen_among_greys_and_earths() -> None:
    for pencils in ("demo", "120"):
        palette = palette_of(pencils)
        greys = asked(pencils, GREYS)
        assert 0.2 < len(greys) / len(questions(pencils, 4)) < 0.8
        for question in greys:
            data = data_of(question)
            assert all(strength(palette.lab[place]) < EARTH_BELOW for place in data.offered)
            assert question.facts["way"] == GREYS
            assert "greys and earths" in KIND.first_ask(data).prompt
            told = " ".join(KIND.reveal(question, ((str(data.best),),)).because)
            grey = read_colour(data.swatches[data.best]).family is None
            assert ("A grey turns no hue" in told) is grey
            assert ("An earth takes chroma" in told) is not grey


@over_sets
def test_the_target_is_the_main_colour_quieted_not_killed(pencils: str) -> None:
    palette = palette_of(pencils)
    for question in questions(pencils):
        data = data_of(question)
        assert FAMILIES[data.main_family] == question.region
        assert wheel_steps(wheel_position(question.target), palette.wheel[data.main]) <= 1.0
        assert NEUTRAL_BELOW <= strength(question.target) < strength(data.alone)
        assert delta_e00(data.alone, question.target) >= 2.0, "else nothing is too bright"


def test_muting_lowers_chroma() -> None:
    for question in questions("demo"):
        data = data_of(question)
        result = data.results[data.best]
        assert lab_to_lch(result)[1] < lab_to_lch(data.alone)[1]


@pytest.mark.parametrize(
    ("main", "mute"),
    # Itten's complements (The Art of Color, 1961), in Munsell's notation by their families.
    [
        ("5R 4/12", "5G 4/8"),
        ("5YR 6/12", "7.5B 5/8"),
        ("7.5PB 4/12", "7.5YR 7/12"),
        ("5P 4/10", "5Y 8/12"),
        ("5G 5/10", "5R 5/12"),
    ],
)
def test_among_kin_and_greys_only_the_complement_mutes(main: str, mute: str) -> None:
    def of(name: str, notation: str, opacity: str = "semi") -> object:
        return pencil(name, hex_of(munsell_to_lab(notation)), opacity)

    hue, rest = main.split(" ")
    value = float(rest.split("/")[0])
    palette = palette_with(
        of("Main", main),
        of("Complement", mute),
        of("Kin", f"{hue} {value + 1}/8"),
        of("Dull kin", f"{hue} {value}/4"),
        of("Grey", "N 6"),
        of("Dark grey", "N 3"),
        of("White", "N 9.3", "opaque"),
    )
    region = FAMILIES[int(palette.family[0])]
    assert region in KIND.regions(palette)
    for seed in range(12):
        question = draw(KIND, palette, region, 2.4, seed)
        if data_of(question).by == GREYS:
            continue
        assert data_of(question).names[data_of(question).best] == "Complement"


# What is offered


@over_sets
def test_four_different_pencils_are_offered_and_the_main_colour_is_none_of_them(
    pencils: str,
) -> None:
    for question in questions(pencils):
        data = data_of(question)
        assert len(set(data.offered)) == 4
        assert data.main not in data.offered


def test_wrong_choices_have_a_hue_and_are_no_kin_of_the_main_colour() -> None:
    """Else a grey or a kindred pencil could be passed over with no look at the target."""
    for pencils in ("demo", "120"):
        palette = palette_of(pencils)
        for question in asked(pencils, COMPLEMENT):
            data = data_of(question)
            for place in data.offered:
                assert strength(palette.lab[place]) >= NEUTRAL_BELOW
                assert wheel_steps(palette.wheel[data.main], palette.wheel[place]) >= ACROSS


def test_how_many_stand_farther_round_the_wheel_than_the_best_is_left_to_chance() -> None:
    palette = palette_of("demo")
    farther: Counter[int] = Counter()
    for question in asked("demo", COMPLEMENT, 12):
        data = data_of(question)
        away = wheel_steps(palette.wheel[data.main], palette.wheel[list(data.offered)])
        farther[int((away > away[data.best]).sum())] += 1
    assert max(farther.values()) < 0.4 * farther.total()
    assert len(farther) == 4


def test_the_best_stands_anywhere_alike() -> None:
    places = Counter(data_of(q).best for q in questions("120"))
    fair = places.total() / 4
    # Chi-square for three degrees of freedom; the seeds are fixed.
    assert sum((count - fair) ** 2 / fair for count in places.values()) < 11.4


def test_a_twin_of_the_best_is_not_offered_as_wrong() -> None:
    twins = [
        one
        for each in palette_of("demo").set.pencils
        if each.hex
        for one in (each, pencil(f"{each.name} again", each.hex, each.opacity))
    ]
    palette = palette_with(*twins)
    for region in KIND.regions(palette)[:4]:
        data = data_of(draw(KIND, palette, region, 2.4, 1))
        best = palette.set.pencils[data.offered[data.best]].hex
        assert [palette.set.pencils[place].hex for place in data.offered].count(best) == 1


# Difficulty, grades and the reveal


@pytest.mark.parametrize("step", STEPS)
def test_a_real_set_is_asked_near_the_wanted_step(step: float) -> None:
    asked = [q.step for q in questions("120")]
    third = asked[STEPS.index(step) * SEEDS :: len(STEPS) * SEEDS]
    assert np.median(third) == pytest.approx(step, rel=0.25)


@over_sets
def test_the_farther_off_a_choice_leaves_it_the_less_it_earns(pencils: str) -> None:
    for question in questions(pencils):
        data = data_of(question)
        order = sorted(range(4), key=lambda i: data.errors[i])
        grades = [KIND.grade(question, ((str(i),),)) for i in order]
        assert [grade.error for grade in grades] == pytest.approx(sorted(data.errors))
        assert grades[0].score == 1.0
        assert [grade.right for grade in grades] == [True, False, False, False]
        assert all(a.score > b.score or a.error == b.error for a, b in pairwise(grades))


def test_the_reveal_shows_all_four_nearest_first_with_what_each_still_wants() -> None:
    for question in questions("demo")[::2]:
        data = data_of(question)
        rows = KIND.reveal(question, (("0",),)).results
        order = sorted(range(4), key=lambda i: data.errors[i])
        assert [row.label for row in rows] == [data.names[i] for i in order]
        assert [row.swatch.lab for row in rows if row.swatch] == [data.results[i] for i in order]
        for i, row in zip(order, rows, strict=True):
            off = describe_difference(data.results[i], data.target)
            assert row.words in (f"still wants: {off}", "a match to the eye")
            assert (off == "the same to the eye") == (row.words == "a match to the eye")
        assert "best" in rows[0].mark


def test_the_reveal_names_the_complement_on_the_wheel() -> None:
    for question in asked("demo", COMPLEMENT)[::3]:
        told = " ".join(KIND.reveal(question, (("0",),)).because)
        assert f"The wheel complement of {question.region} is {complement(question.region)}" in told
