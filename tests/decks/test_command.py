"""``coach deck``: the teacher's new, check, preview and pack; the student's add, list and drop."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from coach.cli import cli
from decks.deck_file import load_deck
from decks.pack import written
from decks.starters import starter, starter_names
from drills.basics.errors import InputError


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*words: str, keys: str = "") -> Result:
    return CliRunner().invoke(cli, ["deck", *words], input=keys)


def told(result: Result) -> str:
    assert isinstance(result.exception, InputError)
    return str(result.exception)


def test_new_writes_the_example_and_never_over_a_file(home: Path):
    assert "coach deck check mine.toml" in run("new", "mine.toml").output
    assert run("check", "mine.toml").exit_code == 0
    assert "there is a file of this name" in told(run("new", "mine.toml"))
    assert run("new", "-", "--starter", "greys").output.startswith("# The colour in a grey")
    assert "Did you mean greys?" in told(run("new", "-", "--starter", "grey"))


def test_check_tells_every_fault_of_every_file(home: Path):
    run("new", "good.toml")
    text = (home / "good.toml").read_text(encoding="utf-8")
    bad = text.replace('"hue-and-lean"', '"hue-and-leen"').replace("= 0.8", "= 8")
    (home / "bad.toml").write_text(bad, encoding="utf-8")
    done = run("check", "bad.toml", "no.toml", "good.toml")
    assert done.exit_code == 2
    kinds = next(n for n, line in enumerate(bad.splitlines(), 1) if line.startswith("kinds"))
    assert f"bad.toml, line {kinds}, key kinds[1]" in done.output
    assert "Did you mean hue-and-lean?" in done.output
    assert "key difficulty.hardest: 8 is out of range" in done.output
    assert "no.toml: there is no such file" in done.output
    assert "good.toml: sound." in done.output
    assert not (home / "home").exists()


def test_an_author_that_is_still_the_example_s_is_minded(home: Path):
    """A student would read that the deck is from "Your name"."""
    run("new", "mine.toml")
    text = (home / "mine.toml").read_text(encoding="utf-8")
    minded = "Mind: students see that it is from “Your name”."
    assert minded in run("check", "mine.toml").output
    assert minded in run("pack", "mine.toml").output
    (home / "mine.toml").write_text(text.replace("Your name", "Ms Lark"), encoding="utf-8")
    for words in (("check", "mine.toml"), ("pack", "mine.toml", "-o", "two.deck.toml")):
        assert "Mind" not in run(*words).output


def test_preview_shows_what_a_student_would_be_asked(home: Path):
    shown = run("preview", "--starter", "five-colours", "--pocket").output
    assert "With Port Marrowell 12, 15 things to practise" in shown
    assert "Hue family and lean (yellow: Pear)" in shown
    assert "Which hue family does this colour belong to?" in shown
    assert not (home / "home").exists()


def test_preview_says_which_targets_these_pencils_can_t_come_near(home: Path):
    bare = replace(starter("five-colours"), kinds=("make-the-match",), steps=())
    text = written(bare).replace("#b3a45a", "#ff00ff")
    (home / "mine.toml").write_text(text, encoding="utf-8")
    assert "these pencils can't be asked for Pear" in run("preview", "mine.toml").output


def test_pack_makes_one_file_with_its_fingerprint_and_the_pencils_given(home: Path):
    run("new", "mine.toml")
    (home / "box.csv").write_text("name,hex\nSea,#2f7f93\nClay,#a0522d\nOchre,#c08a2e\n")
    done = run("pack", "mine.toml", "--pencils", "box.csv")
    assert "mine.deck.toml is ready to send" in done.output
    found = load_deck(home / "mine.deck.toml")
    assert found.packed
    deck = found.sound()
    assert deck.pencils.count("\n") == 4
    assert deck.fingerprint[:12] in done.output
    assert load_deck(home / "mine.toml").sound().pencils == ""


def test_add_says_who_it_is_from_and_what_it_changes_and_asks(home: Path):
    run("new", "mine.toml")
    run("pack", "mine.toml")
    asked = run("add", "mine.deck.toml", keys="n\n")
    assert "It says it is from: Your name" in asked.output
    assert "10 questions a day on 7 days" in asked.output
    assert "at most half of it" in asked.output
    assert "No deck yet" in run("list").output
    assert "is added" in run("add", "mine.deck.toml", keys="y\n").output
    assert "Dark greyed greens (Your name): 0 of 10 today, day 1 of 7" in run("list").output
    assert "nothing was changed" in run("add", "mine.deck.toml").output


def test_a_newer_version_takes_the_place_of_the_older(home: Path):
    run("new", "mine.toml")
    run("add", "mine.toml", "--yes")
    text = (home / "mine.toml").read_text(encoding="utf-8")
    (home / "mine.toml").write_text(text.replace("= 10 ", "= 11 "), encoding="utf-8")
    assert "takes the place of the version you added" in run("add", "mine.toml", "--yes").output
    listed = run("list").output.splitlines()
    assert len(listed) == 1
    assert "0 of 11 today" in listed[0]


def test_drop_by_title_or_fingerprint(home: Path):
    run("add", "--starter", "greys", "--yes")
    run("add", "--starter", "values", "--yes")
    assert "you have no such deck" in told(run("drop", "violets"))
    assert "is dropped" in run("drop", "the colour in a GREY").output
    assert "is dropped" in run("drop", starter("values").fingerprint[:8]).output
    assert "No deck yet" in run("list").output


def test_a_damaged_pack_is_not_added(home: Path):
    run("new", "mine.toml")
    run("pack", "mine.toml")
    text = (home / "mine.deck.toml").read_text(encoding="utf-8")
    (home / "mine.deck.toml").write_text(text.replace("Your name", "Another"), encoding="utf-8")
    assert "has changed since it was packed" in told(run("add", "mine.deck.toml", "--yes"))


def test_starters_kinds_and_schema_are_listed(home: Path):
    listed = run("starters").output
    assert all(name in listed for name in starter_names())
    assert "hue-and-lean" in run("kinds").output
    assert "dark greys" in run("kinds").output
    assert '"$schema": "https://json-schema.org/draft/2020-12/schema"' in run("schema").output
