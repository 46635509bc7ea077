"""What other programs may call: its examples are run, and it is typed."""

from __future__ import annotations

import doctest
from pathlib import Path

import pytest

import drills
from drills import public

ROOT = Path(__file__).parent.parent


def test_the_examples_are_true() -> None:
    done = doctest.testmod(public)
    assert (done.failed, done.attempted >= 10) == (0, True)


def test_every_name_has_an_example_and_says_what_it_raises() -> None:
    for name in drills.__all__:
        words = getattr(public, name).__doc__
        assert f"from drills import {name}" in words
        assert "Raises InputError" in words
        assert getattr(drills, name) is getattr(public, name)


def test_another_name_is_refused_as_usual() -> None:
    with pytest.raises(AttributeError, match="no attribute 'paint'"):
        drills.paint  # type: ignore[attr-defined]  # noqa: B018


@pytest.mark.parametrize("package", ["coach", "decks", "drills", "scores"])
def test_types_are_for_others_too(package: str) -> None:
    assert (ROOT / package / "py.typed").exists()
