"""The test command gives the same result each time: no example hangs on chance or on a clock."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest
from hypothesis import settings

TESTS = Path(__file__).parent
STEADY = settings.get_profile("steady")


def test_examples_are_the_same_each_time_unless_exploring_is_asked_for(
    request: pytest.FixtureRequest,
) -> None:
    named = request.config.getoption("--hypothesis-profile")
    assert settings.get_current_profile_name() == (named or "steady")
    assert STEADY.derandomize
    assert STEADY.database is None
    assert STEADY.deadline is None


def test_the_exploring_profile_draws_anew() -> None:
    assert not settings.get_profile("explore").derandomize


def test_no_test_settles_for_itself_what_the_profile_says() -> None:
    theirs = {"derandomize", "database", "deadline"}
    for path in sorted(TESTS.rglob("test_*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "settings":
                named = {word.arg for word in node.keywords} & theirs
                # Without a deadline is what both profiles say.
                named -= {
                    word.arg
                    for word in node.keywords
                    if word.arg == "deadline" and getattr(word.value, "value", 0) is None
                }
                assert not named, f"{path.relative_to(TESTS)}:{node.lineno}"
