"""A long results file is read at once by its shape: the same answers as part by part, or none."""

from __future__ import annotations

import copy
import json
from hashlib import sha256
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drills.basics.errors import InputError
from scores.exchange import results_read
from scores.exchange.quick_reading import read_quickly
from scores.exchange.results_read import MAX_ANSWERS, QUICK_FROM, ResultsFile, read_results
from tests.bench.classes import results_text
from tests.classes import NOW, attempts, read, results_file
from tests.teaching.test_class_hostile import CORPUS, sealed

KEY = {"key": "red", "named": "Leaf", "help": "fewer"}
GOOD = results_file("Wren", [*attempts("Wren", range(4)), *attempts("Rail", range(3), facts=KEY)])


def slowly(data: bytes) -> ResultsFile | str:
    """What comes of a file read part by part: the results, or the line that refuses it."""
    try:
        return read_results(data, "file.json", NOW)
    except InputError as error:
        return str(error)


def both(data: bytes) -> tuple[ResultsFile | str, ResultsFile | str]:
    """What comes of a file however long, read part by part and at once."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(results_read, "QUICK_FROM", 0)
        quick = slowly(data)
    return slowly(data), quick


def test_what_the_coach_writes_is_read_at_once() -> None:
    """With whatever a statement may say: help, a target, families, a kind's own range."""
    found = read_quickly(GOOD, MAX_ANSWERS)
    assert found is not None
    assert found[1] == list(read(GOOD).answers)
    assert found[0].keys() >= {"deck", "student", "app", "format", "schema", "made"}


def test_a_long_file_goes_that_way_and_a_short_one_does_not(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    from scores.exchange import quick_reading

    asked: list[int] = []

    def noted(data: bytes, most: int) -> Any:
        asked.append(len(data))
        return read_quickly(data, most)

    monkeypatch.setattr(quick_reading, "read_quickly", noted)
    long = results_text(3, 300).encode()
    assert len(long) >= QUICK_FROM > len(GOOD)
    whole = read(long)
    read(GOOD)
    assert asked == [len(long)]
    monkeypatch.setattr(results_read, "QUICK_FROM", len(long) + 1)
    assert read(long) == whole
    assert asked == [len(long)]


def test_a_long_file_that_it_refuses_is_hashed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    hashed: list[int] = []

    def noted(data: Any) -> Any:
        hashed.append(len(data))
        return sha256(data)

    results = json.loads(results_text(3, 300))["results"]
    results["statements"][200]["result"]["success"] = "yes"
    long = sealed(results)
    assert len(long) >= QUICK_FROM
    monkeypatch.setattr(results_read.hashlib, "sha256", noted)
    with pytest.raises(InputError, match="answer 201"):
        read(long)
    assert len([count for count in hashed if count >= QUICK_FROM // 2]) == 1


@pytest.mark.parametrize("name", sorted(CORPUS))
def test_a_bad_file_is_refused_in_the_same_words(name: str) -> None:
    slow, quick = both(CORPUS[name][0])
    assert slow == quick


ANYTHING = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**20), 10**20)
    | st.floats()
    | st.text(max_size=8)
    | st.sampled_from(["PT1S", "2026-03-09T10:00:00+01:00", "red", 0.5, 1, 0, 20, 2.0]),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner, max_size=2)
    ),
    max_leaves=4,
)


def places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The path to everything inside."""
    items = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    return [path, *(place for key, one in items for place in places(one, (*path, key)))]


RESULTS = json.loads(GOOD)["results"]
PLACES = [place for place in places(RESULTS) if place and place[:1] != ("summary",)]


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_whatever_stands_anywhere_both_ways_say_the_same(data: st.DataObject) -> None:
    results = copy.deepcopy(RESULTS)
    for _ in range(data.draw(st.integers(1, 2))):
        path = data.draw(st.sampled_from(PLACES))
        at = results
        try:
            for key in path[:-1]:
                at = at[key]
            if data.draw(st.integers(0, 3)) == 0:
                del at[path[-1]]
            else:
                at[path[-1]] = data.draw(ANYTHING)
        except (KeyError, IndexError, TypeError):
            continue
    slow, quick = both(sealed(results))
    assert slow == quick


@settings(max_examples=200, deadline=None)
@given(st.integers(0, len(GOOD) - 1), st.integers(0, 255), st.integers(0, 2))
def test_a_byte_changed_is_never_read_otherwise(place: int, byte: int, how: int) -> None:
    """Even where the digest is made to fit."""
    changed = GOOD[:place] + bytes([byte] * how) + GOOD[place + 1 :]
    inside = changed[changed.find(b'"results":') + 10 : changed.rfind(b"}")]
    fitting = b'{"digest":"%s","results":%s}' % (sha256(inside).hexdigest().encode(), inside)
    slow, quick = both(fitting)
    if slow != quick:
        # Bytes that are no text, where nobody reads them: all else is as it was sent.
        assert "UTF-8" in str(slow)
        assert not isinstance(quick, str)
        assert quick.answers == read(GOOD).answers
