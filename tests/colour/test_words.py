"""Where one word ends and the next begins: values, chroma, leans, everyday names, changes."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.colour import words
from drills.colour.change import describe_difference, told_beside
from drills.colour.everyday import everyday_name, with_article
from drills.colour.munsell import coordinates_to_lab
from drills.colour.reading import read_colour, read_colours
from drills.colour.spaces import lch_to_lab

UNDER = 1e-6
LABS = st.tuples(st.floats(1, 99), st.floats(-60, 60), st.floats(-60, 60))


@pytest.mark.parametrize(
    ("border", "below", "above"),
    [
        (1.5, "grey", "greyed"),
        (3.5, "greyed", "dull"),
        (6.0, "dull", "moderate"),
        (9.0, "moderate", "bright"),
        (13.0, "bright", "very bright"),
    ],
)
def test_chroma_words_begin_at_their_borders(border: float, below: str, above: str) -> None:
    assert (words.chroma_word(border - UNDER), words.chroma_word(border)) == (below, above)


@pytest.mark.parametrize(
    ("value", "word"),
    [
        (0.0, "dark"),
        (3.94, "dark"),
        (3.96, "middle"),  # it is printed as 4.0
        (4.0, "middle"),
        (6.94, "middle"),
        (6.96, "light"),
        (7.0, "light"),
        (10.0, "light"),
    ],
)
def test_value_words_go_by_the_value_as_printed(value: float, word: str) -> None:
    assert words.value_word(value) == word


def test_leans_begin_at_their_borders() -> None:
    for border, below, above in (
        (0.1, "squarely", "slightly"),
        (0.25, "slightly", "clearly"),
        (0.4, "clearly", "strongly"),
    ):
        assert (words.lean_strength(border - UNDER), words.lean_strength(border)) == (below, above)
    for border, below, above in (
        (1.0, "squarely", "slightly"),
        (3.0, "slightly", "clearly"),
        (5.5, "clearly", "strongly"),
    ):
        assert words.grey_lean_strength(border - UNDER) == below
        assert words.grey_lean_strength(border) == above


# Each everyday name: its families, and where it begins and ends in value and in strength.
ANY = math.inf
PLACES = [
    ("navy", "blue blue-violet", (0, 3), (1.5, 20)),
    ("maroon", "red-violet red", (0, 3.5), (6.5, 14)),
    ("brown", "red", (0, 4.2), (1.5, 6.5)),
    ("brown", "red-orange orange yellow-orange", (0, 5), (1.5, 9.5)),
    ("olive", "yellow yellow-green", (0, 6), (1.5, 9.5)),
    ("ochre", "orange yellow-orange", (5, 7.2), (7, 11)),
    ("tan", "orange yellow-orange", (5, 7.2), (2, 7)),
    ("cream", "yellow-orange yellow", (9.2, 10.1), (2.5, 5.5)),
    ("beige", "yellow-orange yellow", (7.2, 9.2), (1.5, 4)),
    ("peach", "orange", (7.2, 10.1), (4, 9)),
    ("salmon", "red-orange", (6, 10.1), (5, 11)),
    ("pink", "red-orange", (6.5, 10.1), (1.5, 5)),
    ("pink", "red", (5.5, 10.1), (1.5, 12.5)),
    ("pink", "red-violet", (5.5, 10.1), (1.5, ANY)),
    ("sage", "green", (5, 7.5), (1.5, 4)),
    ("sage", "yellow-green", (6, 7.5), (1.5, 4)),
    ("mint", "green", (8, 10.1), (1.5, 5)),
    ("teal", "blue-green", (0, 5.5), (3, ANY)),
    ("turquoise", "blue-green", (5.5, 10.1), (5, ANY)),
    ("sky blue", "blue", (6.5, 10.1), (4.5, ANY)),
    ("lavender", "blue-violet violet", (6.5, 10.1), (1.5, 12)),
    ("plum", "violet", (0, 4), (3, 10)),
]


@pytest.mark.parametrize(("name", "families", "value", "strength"), PLACES)
def test_everyday_names_begin_and_end_at_their_borders(
    name: str, families: str, value: tuple[float, float], strength: tuple[float, float]
) -> None:
    """Where two places overlap, the border is the one at which the first of them ends."""

    def called(family: str, v: float, s: float) -> str | None:
        found = everyday_name(family, v, s)
        return found.name if found else None

    middle = (sum(value) / 2, strength[0] + min(1.0, (strength[1] - strength[0]) / 2))
    for family in families.split():
        assert called(family, *middle) == name
        for axis, (low, high) in enumerate((value, strength)):
            for border, inside in ((low, True), (high, False)):
                if math.isinf(border):
                    continue
                at, under = list(middle), list(middle)
                at[axis], under[axis] = border, border - UNDER
                assert (called(family, *at) == name) == inside
                assert (called(family, *under) == name) == (not inside)
    high = 1000.0 if math.isinf(strength[1]) else strength[1] - UNDER
    assert called(families.split()[0], middle[0], high) == name


def test_some_names_are_taken_by_one_before_them() -> None:
    assert everyday_name("red", 3.0, 7.0).name == "maroon"  # type: ignore[union-attr]
    assert everyday_name("red", 3.0, 6.4).name == "brown"  # type: ignore[union-attr]
    assert everyday_name("yellow", 5.5, 9.0).name == "olive"  # type: ignore[union-attr]
    assert everyday_name("yellow", 6.5, 9.0).name == "ochre"  # type: ignore[union-attr]
    assert everyday_name("yellow", 9.5, 3.0).name == "cream"  # type: ignore[union-attr]
    assert everyday_name("orange", 7.5, 3.5).name == "beige"  # type: ignore[union-attr]
    assert everyday_name("orange", 7.1, 3.0).name == "tan"  # type: ignore[union-attr]
    assert everyday_name("orange", 7.1, 8.0).name == "ochre"  # type: ignore[union-attr]
    assert everyday_name("yellow-green", 5.5, 3.0).name == "olive"  # type: ignore[union-attr]
    assert everyday_name("red-violet", 3.6, 8.0).name == "plum"  # type: ignore[union-attr]
    assert everyday_name("red", 3.8, 7.5 - UNDER).name == "brown"  # type: ignore[union-attr]
    assert everyday_name("orange", 10.1 - UNDER, 2.0).name == "beige"  # type: ignore[union-attr]
    for place in (("green", 3.0, 3.0), ("red", 3.8, 7.5), ("orange", 10.1, 2.0)):
        assert everyday_name(*place) is None


def test_an_article_goes_by_the_first_letter() -> None:
    assert [with_article(noun) for noun in ("orange", "tan")] == ["an orange", "a tan"]


@pytest.mark.parametrize(
    ("hue", "value", "chroma", "sentence"),
    [
        (5, 5, 8, "A middle-value red, "),
        (5, 3, 8, "A dark red, "),
        (5, 5, 4, "A middle-value, dull red, "),
        (45, 8, 5, "A light, dull green, "),
    ],
)
def test_a_sentence_leaves_out_what_is_moderate(
    hue: float, value: float, chroma: float, sentence: str
) -> None:
    """The hues 5R and 5G of Munsell."""
    assert read_colour(coordinates_to_lab(hue, value, chroma)).sentence().startswith(sentence)


def test_greys_are_called_white_from_nine_and_black_under_one_and_a_half() -> None:
    names = []
    for value in (1.49, 1.51, 8.99, 9.01):
        sentence = read_colour(coordinates_to_lab(0, value, 0)).sentence()
        names.append(sentence.split(" that")[0])
    assert names == ["A black", "A dark grey", "A light grey", "A white"]


def test_a_grey_on_a_hinge_is_called_neither_warm_nor_cool() -> None:
    """A red-violet leans without a temperature."""
    for chroma, how in ((0.5, "a touch"), (1.0, "clearly")):
        reading = read_colour(coordinates_to_lab(92.5, 5, chroma))
        assert reading.sentence() == f"A middle grey that leans {how} to red-violet: value 5.0."
    bright = read_colour(coordinates_to_lab(92.5, 5, 8))
    assert (
        ": neither warm nor cool, value 5.0. Its complement is yellow-green." in bright.sentence()
    )


def test_notations_are_worked_out_with_the_rest_only_where_all_are_wanted(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    worked_out = []

    def counted(labs: np.ndarray) -> list[str]:
        worked_out.append(len(labs))
        return ["5R 4/10"] * len(labs)

    monkeypatch.setattr("drills.colour.reading.lab_to_munsell", counted)
    labs = [[50.0, 20.0, 30.0]] * 3
    read_colours(labs)
    assert worked_out == []
    read_colours(labs, with_munsell=True)
    assert worked_out == [3]


def turned(L: float, C: float, h: float) -> list[float]:
    return lch_to_lab([L, C, h]).tolist()  # type: ignore[no-any-return]


def test_a_change_of_value_is_named_by_its_size_in_delta_e00() -> None:
    """At L* 50 a grey's ΔE00 is nearly its ΔL* (the weight there is 1, by CIEDE2000)."""
    said = [describe_difference((50 - d, 0, 0), (50 + d, 0, 0)) for d in (0.49, 0.51, 1.49, 1.52)]
    assert said == ["the same to the eye", "a touch lighter", "a touch lighter", "lighter"]
    assert describe_difference((46.1, 0, 0), (53.9, 0, 0)) == "lighter"
    assert describe_difference((45.9, 0, 0), (54.1, 0, 0)) == "much lighter"


def test_changes_of_one_degree_share_its_word_and_the_greater_comes_first() -> None:
    assert describe_difference(turned(50, 30, 40), turned(48, 27, 40)) == (
        "a touch darker and duller"
    )
    assert describe_difference(turned(50, 30, 40), turned(40, 27, 40)) == (
        "much darker, a touch duller"
    )
    assert describe_difference(turned(50, 30, 40), turned(52, 60, 40)) == (
        "much brighter, a touch lighter"
    )


def test_of_several_changes_too_small_to_see_alone_the_greatest_is_told() -> None:
    assert describe_difference(turned(50, 40, 40), turned(50.4, 43, 40.9)) == "a touch brighter"
    assert describe_difference(turned(50, 40, 40), turned(50.9, 41, 40.9)) == "a touch lighter"
    assert describe_difference(turned(50, 40, 40), turned(50.6, 41, 41.6)).startswith(
        "leaning a touch"
    )


def test_a_grey_gains_a_hue_by_name_and_a_colour_loses_its_own() -> None:
    assert describe_difference((50, 0, 0), (50, 20, 30)) == "much brighter, toward orange"
    assert describe_difference((50, 20, 30), (50, 0.5, 0)) == "much greyer"
    assert describe_difference(turned(50, 3, 40), turned(50, 3, 260)).startswith("its lean toward")
    assert "lean" not in describe_difference((50, 30, 0), (50, 0, 4))


@pytest.mark.parametrize(
    ("seen", "reference", "said"),
    [
        (turned(48, 27, 40), turned(50, 30, 40), "a touch darker and duller than it"),
        (turned(40, 27, 40), turned(50, 30, 40), "much darker and a touch duller than it"),
        # "much duller and darker" would say that it is much darker too.
        (turned(45, 12, 40), turned(50, 40, 40), "darker and much duller than it"),
        (turned(50, 30, 60), turned(50, 30, 40), "much more orange than it"),
        (turned(60, 30, 60), turned(50, 30, 40), "much lighter than it, leaning much more orange"),
        ((50, 20, 30), (50, 0, 0), "much brighter than it, leaning to orange"),
        (turned(50, 3, 260), turned(50, 3, 40), "leaning more to blue than it"),
        (turned(56, 3, 260), turned(50, 3, 40), "lighter than it, leaning more to blue"),
        ((50.2, 20, 30), (50, 20, 30), "the same to the eye"),
    ],
)
def test_beside_a_reference_it_reads_as_a_sentence(
    seen: tuple[float, ...], reference: tuple[float, ...], said: str
) -> None:
    assert told_beside(seen, reference, "it") == said


@given(LABS, LABS)
def test_beside_a_reference_the_same_is_told_as_of_the_change(
    seen: tuple[float, ...], reference: tuple[float, ...]
) -> None:
    """Word for word, but for the order and what joins them."""
    said, change = told_beside(seen, reference, "it"), describe_difference(reference, seen)
    lean = {"leaning", "more", "toward", "to", "its", "lean", "than", "it", "and", "much"}
    told = [set(each.replace(",", "").split()) - lean for each in (said, change)]
    assert told[0] == told[1]
    assert ("than it" in said) == (change != "the same to the eye")
    assert not re.search(r", .* than|, and|than it \w", said)


@pytest.mark.parametrize("place", range(12))
def test_the_shorter_way_round_is_told_from_every_place(place: int) -> None:
    """From each family's hue a small turn either way, by Munsell hues a fifth of a family on."""
    said = []
    hue = place * 100 / 12
    start = coordinates_to_lab(hue, 6, 8)
    for turn in (-4, 4):
        said.append(describe_difference(start, coordinates_to_lab((hue + turn) % 100, 6, 8)))
    assert all("leaning" in each for each in said)
    assert said[0].split()[-1] != said[1].split()[-1]
