"""The published JSON Schema (draft 2020-12) and the checks in code refuse the same things."""

from __future__ import annotations

import copy
import json
from importlib.resources import files
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator, FormatChecker

from decks.checks import check
from decks.deck import Deck
from decks.form import schema_text

PUBLISHED = files("decks").joinpath("deck.schema.json").read_text(encoding="utf-8")
SCHEMA = json.loads(PUBLISHED)
VALIDATOR = Draft202012Validator(SCHEMA, format_checker=FormatChecker(["date"]))
SOUND: dict[str, Any] = {
    "format": 1,
    "title": "Greens",
    "author": "A. Teacher",
    "purpose": "To see",
    "note": "One line\nand another",
    "kinds": ["hue-and-lean", "make-the-match"],
    "families": ["green", "blue-green"],
    "targets": [{"name": "Leaf", "colour": "#5f6b3a"}, {"name": "Stem", "colour": "5GY 5/4"}],
    "difficulty": {"easiest": 0.1, "hardest": 0.9},
    "items_a_day": 10,
    "days": 7,
    "due": "2026-09-30",
    "pass_level": 0.7,
    "steps": [
        {"title": "Hue", "word": "One line\nand another", "kinds": ["hue-and-lean"]},
        {"title": "A match", "on_paper": "Lay it.", "day": 3, "hardest": 0.6},
    ],
    "pencils": [
        {"name": "One", "hex": "#b5443c"},
        {"name": "Two", "reflectance": [0.4] * 31, "opacity": "opaque"},
    ],
}

odd: st.SearchStrategy[Any] = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-3, 400),
    st.floats(allow_nan=False, allow_infinity=False, width=32),
    st.sampled_from(["", " ", "x", "green", "hue-and-lean", "Red", "2026-02-30", "2026-02-28"]),
    st.sampled_from(["a\x1b[31mb", "a\u202eb", "tab\there", "line\nbreak", "x" * 81, "y" * 2001]),
    st.sampled_from([[], {}, ["green"], ["green", "green"], [1], [[]], [{}], {"x": 1}]),
)


def refused_by_schema(said: dict[str, Any]) -> list[str]:
    return [error.message[:80] for error in VALIDATOR.iter_errors(said)]


def test_the_schema_is_itself_sound():
    Draft202012Validator.check_schema(SCHEMA)
    assert not refused_by_schema(SOUND)
    deck, problems = check(SOUND, {})
    assert isinstance(deck, Deck), problems


def test_the_published_schema_is_the_one_made_of_the_decks_own_fields():
    """After a change: coach deck schema > decks/deck.schema.json"""
    assert schema_text() == PUBLISHED
    least = {key: SOUND[key] for key in SCHEMA["required"]}
    deck, _ = check(least, {})
    assert deck is not None
    for key, of in SCHEMA["properties"].items():
        assert getattr(deck, key, of.get("default")) == of.get("default", getattr(deck, key, None))


BOUNDED = [
    (key, name, of[name])
    for key, of in SCHEMA["properties"].items()
    for name in ("maxLength", "maxItems", "minimum", "maximum")
    if name in of
]


@pytest.mark.parametrize(("key", "name", "bound"), BOUNDED)
def test_the_code_takes_what_is_at_a_bound_and_refuses_what_is_beyond(
    key: str, name: str, bound: float
):
    """As the schema does: the limit is the same one."""
    at: Any = {
        "maxLength": lambda size: "x" * size,
        "maxItems": lambda size: [{"name": f"N{i}", "hex": "#b5443c"} for i in range(size)],
    }.get(name, lambda size: size)
    if key == "targets":
        at = lambda size: [{"name": f"N{i}", "colour": "#5f6b3a"} for i in range(size)]  # noqa: E731
    if key in ("kinds", "families"):
        at = lambda size: [f"word{i}" for i in range(size)]  # noqa: E731
    if key == "steps":
        at = lambda size: [{"title": f"S{i}"} for i in range(size)]  # noqa: E731
    beyond = bound - 1 if name == "minimum" else bound + 1
    for size, refused in ((bound, False), (beyond, True)):
        said = {**SOUND, key: at(size)}
        told = [one for one in check(said, {})[1] if one.key == key]
        assert bool(told) == bool(refused_by_schema(said)) == refused, (size, told)


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_what_the_schema_refuses_the_code_refuses(data: st.DataObject):
    """One value anywhere in a sound deck is replaced, taken out, or a stray key put beside it."""
    said = copy.deepcopy(SOUND)
    at: Any = said
    while True:
        keys = list(at) if isinstance(at, dict) else list(range(len(at)))
        key = data.draw(st.sampled_from(keys))
        if isinstance(at[key], dict | list) and at[key] and data.draw(st.booleans()):
            at = at[key]
            continue
        break
    change = data.draw(st.sampled_from(["replace", "take out", "stray"]))
    if change == "take out":
        del at[key]
    elif change == "stray" and isinstance(at, dict):
        at["stray"] = 1
    else:
        at[key] = data.draw(odd)
    deck, problems = check(said, {})
    refused = refused_by_schema(said)
    assert (deck is None) == bool(problems)
    if refused:
        assert problems, refused


@pytest.mark.parametrize(
    ("key", "value", "beyond"),
    [
        ("kinds", ["no-such-kind"], "no drill kind"),
        ("families", ["sky"], "no family"),
        ("targets", [{"name": "A", "colour": "mauve"}], "not a colour"),
        ("targets", [{"name": "A", "colour": "lab(60 110 -110)"}], "no screen shows"),
        ("difficulty", {"easiest": 0.9, "hardest": 0.1}, "harder than the hardest"),
        ("steps", [{"title": "A", "kinds": ["what-is-off"]}], "none of the deck's kinds"),
        ("steps", [{"title": "A", "day": 8}], "begins on day 8 of 7"),
        ("steps", [{"title": "A", "day": 3}, {"title": "B"}], "before the one above"),
        ("steps", [{"title": "A", "picture": "bm90IGEgcGljdHVyZQ=="}], "not a picture"),
        ("pencils", [{"name": "A", "hex": "#12"}], "not a hex colour"),
        ("pencils", [{"name": "A", "hex": "#123456"}] * 2, "already the name"),
        ("fingerprint", "0" * 64, "has changed since it was packed"),
    ],
)
def test_the_code_refuses_what_a_schema_cannot_know(key: str, value: object, beyond: str):
    said = {**SOUND, key: value}
    assert not refused_by_schema(said)
    deck, problems = check(said, {})
    assert deck is None
    assert beyond in problems[0].problem
    assert problems[0].key.startswith(key)


def test_what_the_code_takes_the_schema_takes():
    for key, value in (
        ("due", "2026-02-28"),
        ("days", 7.0),
        ("difficulty", {}),
        ("note", ""),
        ("families", []),
        ("targets", []),
        ("families", ["dark greys"]),
    ):
        said = {**SOUND, key: value}
        deck, problems = check(said, {})
        assert deck is not None, (key, problems)
        assert not refused_by_schema(said)
