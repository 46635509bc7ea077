"""A colour said beside another: the words of ``describe_difference`` and of a person, read back.

The words' sizes are ours (drills.colour.change); no outside source.
"""

from __future__ import annotations

import random

import numpy as np
import pytest

from drills.basics.errors import InputError
from drills.colour.change import MUCH_FROM, PLAIN_FROM, SEEN_FROM, describe_difference
from drills.colour.difference import delta_e00
from drills.colour.parse import parse_colour
from drills.colour.said import LEAST_DOUBT, Said, said_beside, written_or_said
from drills.colour.spaces import lab_to_lch

BRICK, GREY = parse_colour("#a04030"), parse_colour("#808080")


@pytest.mark.parametrize(
    ("words", "part", "way"),
    [
        ("too light", 0, 1),
        ("paler", 0, 1),
        ("too dark", 0, -1),
        ("not dark enough", 0, 1),
        ("not bright enough", 1, -1),
        ("too bright", 1, 1),
        ("too grey", 1, -1),
        ("muddy", 1, -1),
        ("too orange", 2, 1),
        ("warmer", 2, 1),
        ("too violet", 2, -1),
    ],
)
def test_a_word_moves_its_own_part_alone_and_the_right_way(words: str, part: int, way: int) -> None:
    before, after = lab_to_lch([BRICK, said_beside(words, BRICK).lab])
    moved = after - before
    assert moved[part] * way > 0
    others = [place for place in range(3) if place != part]
    assert np.abs(moved[others]).max() < 0.05


@pytest.mark.parametrize(
    ("words", "least", "most"),
    [
        ("a bit too light", SEEN_FROM, PLAIN_FROM),
        ("too light", PLAIN_FROM, MUCH_FROM),
        ("much too light", MUCH_FROM, 14.0),
    ],
)
def test_the_degree_is_the_one_that_differences_are_told_in(
    words: str, least: float, most: float
) -> None:
    off = float(delta_e00(BRICK, said_beside(words, BRICK).lab))
    assert least < off < most


def test_a_degree_holds_on_over_and_but_not_past_a_comma() -> None:
    both = said_beside("a touch darker and duller", BRICK).lab
    apart = said_beside("a touch darker, duller", BRICK).lab
    assert describe_difference(BRICK, both) == "a touch duller and darker"
    assert "a touch darker" in describe_difference(BRICK, apart)
    assert describe_difference(BRICK, apart).startswith("duller")


def test_a_hue_across_the_wheel_dulls_and_a_grey_takes_on_a_hue() -> None:
    assert lab_to_lch(said_beside("too blue", BRICK).lab)[1] < lab_to_lch(BRICK)[1]
    assert "toward green" in describe_difference(GREY, said_beside("much too green", GREY).lab)


def test_the_more_is_said_the_more_is_in_doubt() -> None:
    sds = [
        said_beside(words, BRICK).sd
        for words in ("the same", "a bit dark", "dark", "much too dark", "much too dark and green")
    ]
    assert sds[0] == LEAST_DOUBT
    assert sds == sorted(set(sds))


def test_what_the_coach_says_of_a_difference_leads_back_nearer_to_the_colour() -> None:
    rng = random.Random(3)
    nearer = tried = 0
    for _ in range(120):
        one = (rng.uniform(25, 80), rng.uniform(-35, 35), rng.uniform(-35, 35))
        other = tuple(part + rng.gauss(0, 7) for part in one)
        words = describe_difference(one, other)
        if "its lean" in words:
            continue  # a grey's hue alone: said of what it is, not of how it must change
        tried += 1
        back = said_beside(words, one).lab
        nearer += float(delta_e00(back, other)) < float(delta_e00(one, other))
    assert nearer >= 0.97 * tried


@pytest.mark.parametrize("words", ["", "flibber", "not", "a bit", "too light\x1b[31m", "x" * 300])
def test_words_that_say_nothing_of_a_colour_are_refused_in_one_line(words: str) -> None:
    with pytest.raises(InputError) as refused:
        said_beside(words, BRICK)
    assert "\n" not in str(refused.value)
    assert "\x1b" not in str(refused.value)


def test_a_colour_may_be_written_instead() -> None:
    assert written_or_said("#a04030", GREY) == Said(BRICK, 0.0)
    assert written_or_said("a bit dark", GREY) == said_beside("a bit dark", GREY)
    with pytest.raises(InputError, match="3 or 6 digits"):
        written_or_said("#a0403", GREY)
    with pytest.raises(InputError, match="not understood"):
        written_or_said("flibber", GREY)
