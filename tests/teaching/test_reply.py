"""A question to a teacher and the reply: files hostile until checked, both sides by command."""

from __future__ import annotations

import base64
import json
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from coach.cli import cli
from coach.teaching.coming import looked_in
from coach.teaching.question import FORMAT as QUESTION
from coach.teaching.question import (
    PHOTO_BYTES,
    AskedOfTeacher,
    photo_again,
    question_text,
    read_question,
    small_photo,
)
from coach.teaching.replies_kept import replies_in, take_in, unread
from coach.teaching.reply import FORMAT as REPLY
from coach.teaching.reply import Reply, ReplyStep, answer_to, read_reply, reply_text, with_deck
from coach.teaching.sealed import MAX_BYTES, sealed
from decks.pack import written
from decks.starters import starter
from drills.basics.errors import InputError
from drills.pencils.file import to_csv
from drills.pencils.sets import pocket_set
from scores.record.decks_added import decks_kept
from scores.record.record import NotSavedError, Record
from tests.answers import START
from tests.classes import STUDENTS, attempts, results_file
from tests.photos.made import filed, plain, wide_profile

MINE = STUDENTS["Wren"]
BROWN, RED = (40.0, 15.0, 25.0), (45.0, 40.0, 30.0)
POCKET = to_csv(pocket_set())
NOTE = Reply((MINE,), "Wren", "A. Teacher", "Warm the shadow first.\nThen the rest.")
ASKED = AskedOfTeacher(MINE, "Wren", BROWN, RED, "Too red.", "Pocket", POCKET)


def jpeg(side: int) -> str:
    made = BytesIO()
    Image.new("RGB", (side, side), (120, 80, 40)).save(made, "JPEG")
    return base64.b64encode(made.getvalue()).decode()


def told(read: Any, data: bytes) -> str:
    with pytest.raises(InputError) as caught:
        read(data, "file")
    line = str(caught.value)
    assert "\n" not in line
    assert len(line) < 600
    return line


def test_what_is_written_is_read():
    whole = with_deck(replace(NOTE, wanted=BROWN, steps=(ReplyStep("Lay red", RED),)), GREYS)
    assert read_reply(reply_text(whole).encode(), "f") == whole
    with_photo = replace(ASKED, photo=jpeg(40))
    assert read_question(question_text(with_photo).encode(), "f") == with_photo


def test_a_photo_goes_out_in_the_colours_it_was_taken_in_and_says_nothing_else(tmp_path: Path):
    """A phone's wide colours come to sRGB as colour-science has it; a file's comment stays here."""
    colour = pytest.importorskip("colour")
    taken = tmp_path / "taken.jpg"
    options = {"icc_profile": wide_profile(), "comment": b"Mill Lane 3", "quality": 95}
    taken.write_bytes(filed(plain((180, 90, 70), 900, 600), "JPEG", **options))
    asked = replace(ASKED, photo=small_photo(str(taken)))
    wanted = 255 * colour.RGB_to_RGB(
        np.array([180, 90, 70]) / 255, "Display P3", "sRGB", "Bradford", True, True
    )
    for data in (base64.b64decode(asked.photo), photo_again(asked)):
        assert data is not None
        assert b"Mill Lane" not in data
        with Image.open(BytesIO(data)) as sent:
            assert sent.size == (640, 427)
            assert np.abs(np.asarray(sent)[200, 300] - wanted).max() <= 2.0


def test_a_photo_of_very_many_pixels_is_not_opened():
    """A flat picture of nine million pixels has fewer bytes than a photo may have."""
    flat = jpeg(3000)
    assert len(flat) < PHOTO_BYTES
    assert "more than 1 million pixels" in told(
        read_question, sealed(QUESTION, replace(ASKED, photo=flat)).encode()
    )


GREYS = starter("greys")
BAD_REPLIES: dict[str, tuple[Any, str]] = {
    "nobody's": (replace(NOTE, to=()), "whom it is for"),
    "a path for a number": (replace(NOTE, to=("../../x",)), "whom it is for"),
    "too many machines": (replace(NOTE, to=(MINE,) * 21), "whom it is for"),
    "escapes in the note": (replace(NOTE, note="\x1b[31mred"), "control or invisible"),
    "a note turned about": (replace(NOTE, note="a\u202eb"), "control or invisible"),
    "a long note": (replace(NOTE, note="x" * 1001), "1,000 characters"),
    "a tall note": (replace(NOTE, note="x\n" * 30 + "x"), "on 20 lines"),
    "nothing": (replace(NOTE, note=""), "nothing in it"),
    "escapes in a name": (replace(NOTE, author="a\x07"), "control or invisible"),
    "no author": (replace(NOTE, author=""), "is missing"),
    "steps without end": (replace(NOTE, steps=(ReplyStep("Lay", RED),) * 13), "over 12 steps"),
    "lines in a step": (replace(NOTE, steps=(ReplyStep("a\nb", RED),)), "spaces too many"),
    "a colour that is none": (replace(NOTE, wanted=(500.0, 0.0, 0.0)), "no colour"),
    "a step's colour": (replace(NOTE, steps=(ReplyStep("a", (5.0, 900.0, 0.0)),)), "no colour"),
    "a deck that is none": (replace(NOTE, deck="title = Greys"), "the deck in it"),
    "a deck with escapes": (replace(NOTE, deck='title = "\x1b[31m"'), "the deck in it"),
    "a huge deck": (replace(NOTE, deck="#" * 300_000), "too big"),
}


@pytest.mark.parametrize("name", BAD_REPLIES)
def test_a_reply_that_won_t_do_is_told_in_a_line(name: str):
    reply, problem = BAD_REPLIES[name]
    assert problem in told(read_reply, sealed(REPLY, reply).encode())


BAD_QUESTIONS: dict[str, tuple[Any, str]] = {
    "a number that is none": (replace(ASKED, student="x"), "the student's number is none"),
    "a colour that is none": (replace(ASKED, got=(0.0, 0.0, 9e9)), "no colour"),
    "pencils that are none": (replace(ASKED, pencils="name,hex\nRed,red"), "the pencils in it"),
    "no pencils": (replace(ASKED, pencils=""), "the pencils in it"),
    "a photo that is none": (replace(ASKED, photo="!!"), "can't be read"),
    "a photo of another kind": (replace(ASKED, photo="aGVsbG8="), "no JPEG"),
    "a broken photo": (replace(ASKED, photo=jpeg(40)[:200]), "the photo in it"),
    "a wide photo": (replace(ASKED, photo=jpeg(700)), "too big"),
    "a heavy photo": (replace(ASKED, photo="A" * 400_000), "too big"),
}


@pytest.mark.parametrize("name", BAD_QUESTIONS)
def test_a_question_that_won_t_do_is_told_in_a_line(name: str):
    question, problem = BAD_QUESTIONS[name]
    assert problem in told(read_question, sealed(QUESTION, question).encode())


@pytest.mark.parametrize(
    ("data", "problem"),
    [
        (b"", "not JSON"),
        (b"[]", "not a reply"),
        (b'{"sealed":' + b"[" * 100_000, "not JSON"),
        (b'{"sealed": NaN}', "not JSON"),
        (b"\xff\xfe", "not UTF-8"),
        (b" " * (MAX_BYTES + 1), "too big"),
        (sealed(QUESTION, ASKED).encode(), "not a reply"),
        (sealed(REPLY, NOTE).replace("shadow", "light!").encode(), "its digest is wrong"),
        (sealed(REPLY, ReplyStep("a", RED)).encode(), "of another shape"),
        (sealed(REPLY, NOTE).replace("shadow", "\\ud800").encode(), "of another shape"),
        (sealed(REPLY, NOTE).replace('"schema":1', '"schema":2').encode(), "schema"),
    ],
)
def test_a_file_of_another_kind_or_damaged_is_told_in_a_line(data: bytes, problem: str):
    assert problem in told(read_reply, data)


@given(st.data())
def test_no_bytes_changed_on_the_way_end_in_a_fault(data):
    good = bytearray(reply_text(NOTE).encode())
    for _ in range(data.draw(st.integers(1, 4))):
        good[data.draw(st.integers(0, len(good) - 1))] = data.draw(st.integers(0, 255))
    try:
        read_reply(bytes(good), "f")
    except InputError as error:
        assert "\n" not in str(error)  # noqa: PT017


def test_a_question_is_answered_with_the_student_s_own_pencils():
    """With what came, a mending of it; else a plan."""
    plan = answer_to(replace(ASKED, got=None), "A. Teacher", "")
    mending = answer_to(ASKED, "A. Teacher", "")
    names = {pencil.name for pencil in pocket_set().pencils}
    for reply in (plan, mending):
        assert reply.to == (MINE,)
        assert reply.steps or "start" in reply.outlook
        assert read_reply(reply_text(reply).encode(), "f") == reply
    assert any(name in step.words for step in plan.steps for name in names)
    assert mending.outlook.startswith("What you have is")
    assert plan.steps != mending.steps
    # To leave it is an answer too, without another word.
    left = answer_to(replace(ASKED, got=ASKED.wanted), "A. Teacher", "")
    assert not left.steps
    assert "Leave it" in read_reply(reply_text(left).encode(), "r").outlook


# -- what a student keeps ----------------------------------------------------------------------


@pytest.fixture
def record(tmp_path: Path):
    record = Record.open(tmp_path / "record.db")
    record.set_setting("student", MINE)
    yield record
    record.close()


def test_a_reply_is_kept_once_and_its_deck_added(record: Record):
    take_in(record, with_deck(NOTE, GREYS), START)
    assert [kept.title for kept in decks_kept(record)] == [GREYS.title]
    came = unread(record)
    assert came is not None
    assert came.reply == NOTE
    assert came.at == START
    with pytest.raises(InputError, match="taken in before"):
        take_in(record, with_deck(NOTE, GREYS), START)


def test_a_reply_to_another_student_is_refused_and_nothing_of_it_kept(record: Record):
    other = replace(with_deck(NOTE, GREYS), to=(STUDENTS["Rail"],))
    with pytest.raises(InputError, match="for another student"):
        take_in(record, other, START)
    assert not replies_in(record)
    assert not decks_kept(record)


def test_the_latest_dozen_are_kept_and_what_was_damaged_is_passed_over(record: Record):
    for number in range(14):
        take_in(record, replace(NOTE, note=f"Note {number}"), START)
    notes = [kept.reply.note for kept in replies_in(record)]
    assert notes == [f"Note {number}" for number in range(13, 1, -1)]
    held = record.setting("replies")
    assert isinstance(held, list)
    held[0] = {"reply": 3}
    record.set_setting("replies", held)
    assert len(replies_in(record)) == 11


def test_replies_that_an_older_coach_took_in_are_read_and_stay(record: Record):
    take_in(record, NOTE, START)
    held: Any = record.setting("replies")
    # A coach of before there was a hand in questions kept no such word.
    del held[0]["reply"]["made_with"]
    record.set_setting("replies", [*held, {"reply": [], "came": "", "read": True}, {}, 3])
    assert [kept.reply for kept in replies_in(record)] == [NOTE]
    take_in(record, replace(NOTE, note="Another."), START)
    assert [kept.reply.note for kept in replies_in(record)] == ["Another.", NOTE.note]


def test_a_reply_that_can_t_be_kept_is_told(record: Record, monkeypatch: pytest.MonkeyPatch):
    def full(*_: object) -> None:
        raise NotSavedError("the disk is full")

    monkeypatch.setattr(record, "set_setting", full)
    with pytest.raises(InputError, match="the disk is full"):
        take_in(record, NOTE, START)


def test_one_way_in_takes_decks_and_replies(record: Record, tmp_path: Path):
    (tmp_path / "a.json").write_text(reply_text(with_deck(NOTE, GREYS)), encoding="utf-8")
    coming = looked_in(record, str(tmp_path / "a.json"), START)
    assert coming.new
    assert "Warm the shadow first." in "\n".join(coming.words)
    assert "What it changes" in "\n".join(coming.words)
    assert "The reply is kept" in coming.take_in(record, START)


# -- both sides by command ---------------------------------------------------------------------


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, words)


def test_a_question_goes_to_the_teacher_and_a_reply_comes_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "student"))
    run("pencils", "use", "--pocket")
    Image.new("RGB", (1600, 900), (120, 80, 40)).save("photo.png")
    asked = run(
        *("teacher", "ask", "#7a5038", "--got", "#94524a", "--note", "Too red", "--name", "Wren"),
        *("--photo", "photo.png"),
    )
    assert "wren-asks.question.json is written" in asked.output
    assert "there is a file of this name" in str(run("teacher", "ask", "#7a5038").exception)

    monkeypatch.setenv("COACH_HOME", str(tmp_path / "teacher"))
    seen = run("class", "question", "wren-asks.question.json", "--photo", "seen.jpg")
    assert "Wren asks, with " in seen.output
    assert "Too red" in seen.output
    assert Image.open("seen.jpg").size == (640, 360)
    Path("greys.toml").write_text(written(GREYS), encoding="utf-8")
    made = run(
        *("class", "reply", "wren-asks.question.json", "--note", "A green first."),
        *("--deck", "greys.toml", "--from", "A. Teacher"),
    )
    assert "wren-reply.reply.json is written for Wren" in made.output

    monkeypatch.setenv("COACH_HOME", str(tmp_path / "student"))
    taken = run("teacher", "add", "wren-reply.reply.json", "--yes")
    assert "A green first." in taken.output
    assert "There is work in it:" in taken.output
    assert "From A. Teacher:" in run("teacher", "show").output
    assert GREYS.title in run("deck", "list").output


def test_a_note_goes_to_a_student_of_the_class_on_all_their_machines(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    for student in ("Wren", "Rail"):
        data = results_file(student, attempts(student, range(3)))
        Path(f"{student}.json").write_bytes(data)
    run("class", "add", "Wren.json", "Rail.json")
    run("class", "same", "Wren", "Rail")
    assert run("class", "reply", "Wren", "--note", "Well seen.", "-o", "r.json").exit_code == 0
    reply = read_reply(Path("r.json").read_bytes(), "r")
    assert reply.to == (STUDENTS["Wren"], STUDENTS["Rail"])
    assert json.loads(Path("r.json").read_text())["sealed"]["note"] == "Well seen."
    said = str(run("class", "reply", "Wren").exception)
    assert "there is nothing in it. Give a note, or a deck." in said
