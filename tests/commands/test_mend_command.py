"""``coach mend``: words and JSON of what to do about a colour that came out wrong."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from coach.commands.mend import command
from drills.basics.errors import InputError


@pytest.fixture
def mend(tmp_path, monkeypatch):
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    return lambda *words: CliRunner().invoke(command, words)


def test_it_says_what_is_off_and_what_to_lay_next(mend):
    done = mend("#a05050", "--got", "#b8766c", "--after", "1")
    assert done.exit_code == 0
    assert "What you have: " in done.stdout
    assert "lighter" in done.stdout
    assert "1. Lay " in done.stdout
    assert "It can be mended. Expect to land " in done.stdout
    assert "guessed" not in done.stdout
    assert "The move makes it" not in done.stdout


def test_without_what_lies_there_it_says_that_it_guesses(mend):
    done = mend("#a05050", "--got", "#b8766c", "--why")
    assert "guessed from its colour" in done.stdout
    assert "The move makes it" in done.stdout


def test_json_holds_the_verdict_and_the_moves(mend):
    words = ("#a05050", "--got", "#b8766c", "--after", "Flagloft Red lightly", "--json")
    answer = json.loads(mend(*words).stdout)
    assert answer["verdict"] == "go on"
    assert {"action", "pencil", "pressure", "predicted_lab", "why", "stop"} == set(
        answer["moves"][0]
    )
    low, high = answer["range90"]
    assert low < answer["expected_miss"] < high
    assert answer["expected_miss"] < answer["delta_e00"]
    assert answer["guessed"] is False


@pytest.mark.parametrize(
    ("after", "said"), [("Flagloft Rad", "Did you mean"), ("9", "the plan has"), ("²", "not in")]
)
def test_what_can_not_be_read_is_one_line(mend, after, said):
    done = mend("#a05050", "--got", "#b8766c", "--after", after)
    assert isinstance(done.exception, InputError)
    assert done.stdout == ""
    assert said in str(done.exception)
    assert "\n" not in str(done.exception)
