"""A student's hand in a question and its reply: only by consent, shown, hostile until checked."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from coach.cli import cli
from coach.learned import keep_patches, learned
from coach.screens.teaching.ask import AskScreen
from coach.teaching.question import FORMAT, AskedOfTeacher, load_question, read_question
from coach.teaching.question import hand_of as read_hand
from coach.teaching.replies_kept import reply_words
from coach.teaching.reply import FORMAT as REPLY
from coach.teaching.reply import answer_to, read_reply, reply_text
from coach.teaching.sealed import sealed
from drills.basics.errors import InputError
from drills.basics.json_values import as_json, json_text
from drills.hand.keeping import MOST_PATCHES, to_json
from drills.hand.patch import Patch
from drills.layering.palette import prepare
from drills.pencils.file import to_csv
from drills.pencils.sets import pocket_set
from drills.planning.planner import plan
from scores.exchange.results_written import digest_of
from scores.record.record import Record
from tests.classes import STUDENTS
from tests.hand.test_hand_command import a_dozen
from tests.pilots import shown, table

POCKET = pocket_set()
BROWN = (40.0, 15.0, 25.0)
ASKED = AskedOfTeacher(STUDENTS["Wren"], "Wren", BROWN, None, "", POCKET.name, to_csv(POCKET))


@cache
def patches() -> tuple[Patch, ...]:
    return tuple(a_dozen())


def with_hand(some: int = 12) -> AskedOfTeacher:
    return replace(ASKED, hand=json_text(to_json(patches()[:some])))


def sent(asked: AskedOfTeacher) -> bytes:
    return sealed(FORMAT, asked).encode()


def test_a_plan_counts_with_the_hand_that_was_sent_and_says_so():
    reply = answer_to(with_hand(), "A. Teacher", "")
    own = plan(prepare(POCKET, hand=learned(POCKET, patches())), BROWN)
    assert [one.lab for one in reply.steps] == [one.predicted_lab for one in own.moves]
    usual = plan(prepare(POCKET), BROWN)
    assert [one.lab for one in reply.steps] != [one.predicted_lab for one in usual.moves]
    said = "Made with your own pencils and your own hand, as its 12 patches tell."
    assert reply_words(read_reply(reply_text(reply).encode(), "f"))[-1] == said


@pytest.mark.parametrize(
    ("some", "said"),
    [
        (0, "but not with your hand: no patches of it came along."),
        (2, "but not with your hand: of 2 sent, they don't predict"),
    ],
)
def test_a_plan_without_it_says_that_too(some: int, said: str):
    reply = answer_to(with_hand(some) if some else ASKED, "A. Teacher", "")
    usual = plan(prepare(POCKET), BROWN)
    assert [one.lab for one in reply.steps] == [one.predicted_lab for one in usual.moves]
    assert said in reply_words(reply)[-1]


GOOD = to_json(a_dozen()[:1])[0]
HOSTILE: dict[str, str] = {
    "no JSON": "{",
    "deep": "[" * 50_000,
    "huge": "[" + " " * 200_000 + "]",
    "no list": "{}",
    "too many": json.dumps([GOOD] * (MOST_PATCHES + 1)),
    "a pencil that is none": json.dumps([{**GOOD, "moves": [["lay", 99, 1.0]]}]),
    "another action": json.dumps([{**GOOD, "moves": [["burn", 0, 1.0]]}]),
    "no pressure": json.dumps([{**GOOD, "moves": [["lay", 0, None]]}]),
    "no number": json.dumps([{**GOOD, "lab": ["NaN", 0, 0]}]),
    "not finite": '[{"moves": [["lay", 0, 1]], "paper": "white", "lab": [1e999, 0, 0], "sd": 1}]',
    "no doubt": json.dumps([{**GOOD, "sd": 0.0}]),
    "other paper": json.dumps([{**GOOD, "paper": "\x1b[31m"}]),
    "surrogates": '["\\udcff"]',
}


@pytest.mark.parametrize("name", sorted(HOSTILE))
def test_a_hostile_hand_is_one_line(name: str):
    with pytest.raises(InputError) as caught:
        read_question(sent(replace(ASKED, hand=HOSTILE[name])), "theirs.json")
    line = str(caught.value)
    assert line.startswith("theirs.json: the patches in it: they are none that these pencils")
    assert "\n" not in line
    assert "\x1b" not in line


def as_before(form: str, value: object, lacks: str) -> bytes:
    """The file of a coach that knew no such key."""
    held = {"format": form, "schema": 1, **as_json(value)}
    del held[lacks]
    inner = json_text(held, in_order=True)
    return f'{{"digest":"{digest_of(inner)}","sealed":{inner}}}'.encode()


def test_files_of_an_older_coach_are_read():
    assert read_question(as_before(FORMAT, ASKED, "hand"), "f") == ASKED
    reply = replace(answer_to(ASKED, "A. Teacher", "Well seen."), made_with="")
    assert read_reply(as_before(REPLY, reply, "made_with"), "f") == reply
    with pytest.raises(InputError, match="missing or of another shape"):
        read_question(as_before(FORMAT, ASKED, "note"), "f")


def test_escapes_in_what_it_was_made_with_are_refused():
    bad = replace(answer_to(ASKED, "A. Teacher", ""), made_with="\x1b[31m")
    with pytest.raises(InputError, match="control or invisible"):
        read_reply(sealed(REPLY, bad).encode(), "f")


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A student with the pocket set in use and a dozen patches of it."""
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    record = Record.open(tmp_path / "home" / "record.db")
    record.put_pencils(POCKET.fingerprint, POCKET.name, to_csv(POCKET), datetime.now(UTC))
    keep_patches(record, POCKET, patches())
    record.close()
    return tmp_path


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, words)


def test_the_hand_goes_along_only_where_the_student_says_so(home: Path):
    assert run("teacher", "ask", "#7a5038", "--name", "Wren", "-o", "bare.json").exit_code == 0
    assert load_question("bare.json").hand == ""
    assert run("teacher", "ask", "#7a5038", "--hand", "-o", "with.json").exit_code == 0
    asked = load_question("with.json")
    assert read_hand(asked, POCKET) == patches()
    told = run("class", "question", "with.json").output
    assert "The patches of their hand are in it" in told
    assert "patches" not in run("class", "question", "bare.json").output
    replied = run("class", "reply", "with.json", "-o", "r.json").output
    assert "Made with your own pencils and your own hand" in replied


def test_a_hand_that_is_not_there_is_one_line(home: Path):
    record = Record.open(home / "home" / "record.db")
    keep_patches(record, POCKET, ())
    record.close()
    done = run("teacher", "ask", "#7a5038", "--hand", "--name", "Wren", "-o", "with.json")
    assert "patches of your hand: there are none with these pencils" in str(done.exception)
    assert not list((home / "here").iterdir())


@pytest.mark.parametrize(("typed", "goes"), [("", False), ("n", False), ("Y", True)])
async def test_in_the_app_a_line_asks_for_it(home: Path, typed: str, goes: bool):
    app = table(home / "app", pencils=POCKET)
    keep_patches(app.app_state.record, POCKET, patches())
    async with app.run_test(size=(80, 24)) as pilot:
        await app.push_screen(AskScreen(BROWN))
        await pilot.pause()
        assert "y puts in the patches of your hand, 12 of them" in shown(app)
        await pilot.press("enter", "enter", *typed, "enter", *"Wren", "enter")
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert "Written. Send your teacher this file" in shown(app)
    (file,) = (home / "here").glob("*.question.json")
    assert bool(load_question(file).hand) is goes


async def test_who_painted_no_patches_is_asked_nothing(home: Path):
    app = table(home / "app", pencils=POCKET)
    async with app.run_test(size=(80, 24)) as pilot:
        await app.push_screen(AskScreen(BROWN))
        await pilot.pause()
        assert "patches of your hand, " not in shown(app)
