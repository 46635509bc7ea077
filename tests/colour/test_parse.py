"""Colours as people write them: hex, CSS Color 4 rgb() and lab(), Munsell."""

from __future__ import annotations

import unicodedata

import colour
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.basics.errors import InputError
from drills.colour.munsell import munsell_to_lab
from drills.colour.parse import LONGEST, parse_colour
from drills.colour.spaces import hex_of, srgb_to_lab


@pytest.mark.parametrize(
    ("text", "same_as"),
    [
        ("#c63", "#cc6633"),
        ("#CC6633", "#cc6633"),
        ("  #cc6633\t", "#cc6633"),
        ("rgb(204 102 51)", "#cc6633"),
        ("rgb(204, 102, 51)", "#cc6633"),
        ("rgb( 204 ,102,51 )", "#cc6633"),
        ("RGB(80% 40% 20%)", "#cc6633"),
        ("rgb(80%, 40%, 20%)", "#cc6633"),
        ("rgb(80% 102 20%)", "#cc6633"),
        ("rgba(204 102 51)", "#cc6633"),
        ("rgb(2.04e2 +102 51.0)", "#cc6633"),
        ("rgb(204 none 51)", "#cc0033"),
    ],
)
def test_screen_colours(text: str, same_as: str) -> None:
    """Syntax of CSS Color 4, 5.1 and 5.2."""
    assert hex_of(parse_colour(text)) == same_as


def test_lab_is_taken_as_it_stands() -> None:
    """CSS Color 4, 9.3: lab() is under D50; 100 % is L* 100 and a*, b* 125."""
    assert parse_colour("lab(50 20 -30)") == (50, 20, -30)
    assert parse_colour("lab(50% 20 -30)") == (50, 20, -30)
    assert parse_colour("lab(50% 16% -24%)") == (50, 20, -30)
    assert parse_colour("LAB(50 none .5)") == (50, 0, 0.5)
    assert parse_colour("lab(50 100 0)") == (50, 100, 0)


def test_white_is_exactly_white() -> None:
    for text in ("#fff", "#ffffff", "rgb(255 255 255)", "lab(100 0 0)"):
        np.testing.assert_allclose(parse_colour(text), (100, 0, 0), atol=1e-10)


@pytest.mark.parametrize("text", ["5R 4/10", "N 5", "2.5PB 3.5/6.2", "7.5gy 6/8"])
def test_munsell(text: str) -> None:
    assert parse_colour(text) == munsell_to_lab(text)


@given(st.integers(0, 0xFFFFFF))
def test_every_hex_is_the_lab_colour_science_gives(number: int) -> None:
    text = f"#{number:06x}"
    rgb = colour.notation.HEX_to_RGB(text)
    np.testing.assert_allclose(parse_colour(text), srgb_to_lab(rgb), atol=1e-9)
    assert hex_of(parse_colour(text)) == text


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("", "nothing is written"),
        ("   ", "nothing is written"),
        ("#12", "2 digits where 3 or 6 belong"),
        ("#ff00ff80", "opacity"),
        ("#f0f8", "opacity"),
        ("#ggg", "only the digits"),
        ("ff0000", "the # is missing"),
        ("red", "not a colour that can be read"),
        ("rgb(255 0 0 / 50%)", "opacity"),
        ("rgba(255, 0, 0, 0.5)", "opacity"),
        ("lab(50 20 -30 / 1)", "opacity"),
        ("rgb(256 0 0)", "out of range"),
        ("rgb(-1 0 0)", "out of range"),
        ("rgb(101% 0 0)", "out of range"),
        ("rgb(255, 0%, 0)", "mixed"),
        ("rgb(1 2)", "2 numbers where 3 belong"),
        ("rgb(1 2 3 4)", "4 numbers where 3 belong"),
        ("rgb(1 2 x)", "not a number"),
        ("rgb(1 2 3.)", "not a number"),
        ("rgb(1e999 0 0)", "out of range"),
        ("rgb(nan 0 0)", "not a number"),
        ("rgb(١ 2 3)", "not a number"),
        ("lab(50, 20, -30)", "spaces, not commas"),
        ("lab(101 0 0)", "out of range"),
        ("lab(-1 0 0)", "out of range"),
        ("lab(50 500 0)", "no surface"),
        ("lab(50 20)", "2 numbers"),
        ("hsl(120 100% 50%)", "not understood"),
        ("rgb(1 2 3", "not a colour"),
        ("5R 4/90", "no surface is so bright"),
        ("x" * (LONGEST + 1), "longer than"),
    ],
)
def test_anything_else_is_refused_with_a_remedy(text: str, fault: str) -> None:
    with pytest.raises(InputError, match=fault) as caught:
        parse_colour(text)
    assert caught.value.remedy
    assert "\n" not in str(caught.value)
    assert len(str(caught.value)) < 250


def colour_or_fault(text: str) -> tuple[float, ...] | str:
    try:
        return parse_colour(text)
    except InputError as error:
        return str(error)


def check(outcome: tuple[float, ...] | str) -> None:
    if isinstance(outcome, str):
        assert not any(unicodedata.category(char)[0] in "C" for char in outcome)
        assert len(outcome.splitlines()) == 1
    else:
        assert np.isfinite(outcome).all()
        assert 0 <= outcome[0] <= 100 + 1e-9


@given(st.text(max_size=300))
def test_any_text_is_a_colour_or_one_clean_line(text: str) -> None:
    check(colour_or_fault(text))


@given(st.from_regex(r"(rgb|lab)\([0-9.e+%, /none-]{0,40}\)", fullmatch=True))
def test_css_like_text_is_a_colour_or_one_clean_line(text: str) -> None:
    check(colour_or_fault(text))


@given(st.from_regex(r"[0-9.]{1,4} ?(R|YR|PB|N) ?[0-9.]{1,4}/[0-9.]{1,4}", fullmatch=True))
def test_munsell_like_text_is_a_colour_or_one_clean_line(text: str) -> None:
    check(colour_or_fault(text))
