"""Typed values to JSON and back: in full, or not at all."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Annotated, NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.basics.days import day_of
from drills.basics.json_values import as_json, from_json, json_text, names_in


class Part(NamedTuple):
    name: str
    size: float


@dataclass(frozen=True)
class Whole:
    title: Annotated[str, "what it is called"]
    count: int
    sure: bool
    parts: tuple[Part, ...]
    ends: tuple[float, float]
    by_name: Mapping[str, int]
    due: date | None = None


numbers = st.floats(allow_nan=False, allow_infinity=False)
wholes = st.builds(
    Whole,
    st.text(),
    st.integers(),
    st.booleans(),
    st.lists(st.builds(Part, st.text(), numbers), max_size=3).map(tuple),
    st.tuples(numbers, numbers),
    st.dictionaries(st.text(), st.integers(), max_size=3),
    st.none() | st.dates(),
)
SOUND = Whole("A", 1, True, (Part("b", 2.0),), (0.0, 1.0), {"c": 3}, date(2026, 3, 9))


@given(wholes)
def test_a_value_comes_back_as_it_was(one: Whole) -> None:
    assert from_json(Whole, json.loads(json_text(as_json(one)))) == one


@pytest.mark.parametrize(
    "change",
    [
        {"title": 1},
        {"count": 1.5},
        {"count": True},
        {"sure": 1},
        {"parts": [["b"]]},
        {"parts": "b"},
        {"ends": [1.0]},
        {"ends": [1.0, float("inf")]},
        {"ends": [1.0, 10**400]},
        {"by_name": [["c", 3]]},
        {"due": "20260309"},
        {"due": 1},
    ],
    ids=str,
)
def test_what_is_of_another_shape_is_a_value_error(change: dict[str, object]) -> None:
    assert from_json(Whole, {**as_json(SOUND), "more": 1}) == SOUND
    with pytest.raises(ValueError, match=r".+"):
        from_json(Whole, {**as_json(SOUND), **change})
    for nonsense in (None, [], "A", {key: one for key, one in as_json(SOUND).items() if key > "c"}):
        with pytest.raises(ValueError, match=r".+"):
            from_json(Whole, nonsense)


def test_a_whole_number_may_stand_for_one_with_a_point() -> None:
    found = from_json(Part, ["b", 2])
    assert found == Part("b", 2.0)
    assert isinstance(found.size, float)


def test_names_are_the_texts_of_a_list() -> None:
    assert names_in(["a", 1, "b"]) == ("a", "b")
    assert names_in("ab") == names_in(None) == names_in({"a": 1}) == ()


@pytest.mark.parametrize("text", ["20260309", "2026-W11-1", "2026-3-9", "2026-02-30", ""])
def test_a_day_is_written_in_one_form(text: str) -> None:
    assert day_of("2026-03-09") == date(2026, 3, 9)
    with pytest.raises(ValueError, match=r".+"):
        day_of(text)
