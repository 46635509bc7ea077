"""A re-test asks what was held out, in its order, tells nothing, and is kept apart."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from coach.session.retest_session import NOTED, SECONDS, retest
from coach.session.session import Session
from coach.session.unsaved import Unsaved
from drills.questions.protocol import Question
from scores.progress.retest import RETEST, Bank, Due, HeldQuestion, kept_bank
from scores.record.record import NotSavedError, Record
from tests.answers import START, answer
from tests.eyes import eye_of
from tests.fake_kinds import PALETTE, kinds, truth

ITEMS = (
    HeldQuestion("hue", "red", 4.0, 1),
    HeldQuestion("gone", "red", 4.0, 2),
    HeldQuestion("hue", "blue", 5.0, 3),
    HeldQuestion("value", "green", 6.0, 4),
)
BANK = Bank("f" * 64, {"hue": 1, "value": 1}, ITEMS, START.date())


class Taking:
    """A re-test and the seconds its clock has run."""

    def __init__(self, record: Record, items: tuple[HeldQuestion, ...] = ITEMS) -> None:
        self.now = 0.0
        due = Due(BANK, items, False)
        made = {**kinds("hue"), **kinds("value")}
        made["hue"] = replace(made["hue"], refuses=frozenset({"blue"}))
        self.session = Session(
            record,
            made,
            retest(record, PALETTE, due),
            lambda: START + timedelta(seconds=self.now),
            lambda: self.now,
            5,
            eye_of(record, made),
        )

    def ask(self) -> Question:
        question = self.session.next()
        assert question is not None
        self.now += 7.0
        return question


@pytest.fixture
def record(tmp_path: Path) -> Record:
    return Record.open(tmp_path / "record.db")


def test_it_lasts_a_quarter_of_a_minute_a_question_and_a_minute_at_least(record: Record) -> None:
    assert SECONDS == 15.0
    assert Taking(record, ITEMS[:2]).session.minutes == 1.0
    assert Taking(record, ITEMS * 10).session.minutes == 10.0


def test_it_asks_what_is_held_out_in_order_and_passes_over_what_cannot_be(record: Record) -> None:
    taking = Taking(record)
    session = taking.session
    assert session.left == 4
    first = taking.ask()
    assert session.next() is first
    assert (first.kind, first.region, first.step, first.seed) == ("hue", "red", 4.0, 1)
    assert (session.number, session.left) == (1, 3)
    assert session.item is not None
    assert (session.item.skill, session.item.seconds) == ("hue:red", 15.0)
    done = session.answered(first, ((truth(first),),))
    assert (done.grade.verdict, done.grade.figures) == (NOTED, "")
    assert done.reveal.because == ("3 still to come.",)
    assert (done.attempt.deck, done.attempt.response_s) == (RETEST, 7.0)
    last = taking.ask()
    assert (last.kind, last.region) == ("value", "green")
    assert session.answered(last, (("no",),)).reveal.because == ("That was the last.",)
    assert session.next() is None
    summary = session.summary()
    assert (summary.asked, summary.right, summary.skills) == (2, 1, ())
    assert (summary.seconds, summary.unsaved) == (14.0, 0)
    assert record.skills() == {}
    # What these pencils refuse is no part of the bank from now on; the kind that is gone is.
    bank = kept_bank(record)
    assert bank is not None
    assert [item.seed for item in bank.items] == [1, 2, 4]


def test_the_bank_is_kept_with_the_first_answer_and_not_before(record: Record) -> None:
    taking = Taking(record)
    question = taking.ask()
    assert kept_bank(record) is None
    taking.session.answered(question, (("no",),))
    assert kept_bank(record) is not None


def test_none_answered_keeps_nothing(record: Record) -> None:
    taking = Taking(record, ())
    assert taking.session.next() is None
    assert kept_bank(record) is None


def test_a_bank_that_cannot_be_kept_is_said(
    record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    taking = Taking(record)
    question = taking.ask()

    def refuse(*_: object) -> None:
        raise NotSavedError("the disk is full")

    with monkeypatch.context() as patch:
        patch.setattr("coach.session.retest_session.keep_bank", refuse)
        done = taking.session.answered(question, (("no",),))
        assert (done.saved, done.trouble) == (False, "the disk is full")
    assert taking.session.retry_save() == ""
    assert record.count() == 1


def test_answers_that_wait_are_saved_oldest_first_and_written_to_a_draft(
    record: Record, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "drafts"
    folder.mkdir()
    unsaved = Unsaved(record, [folder])
    assert unsaved.take_drafts() == 0

    def refuse(*_: object) -> None:
        raise NotSavedError("the disk is full")

    with monkeypatch.context() as patch:
        patch.setattr(Record, "save", refuse)
        for number in (1, 2):
            unsaved.add(answer(number))
            assert unsaved.save() == unsaved.trouble == "the disk is full"
        assert unsaved.draft is not None
        assert unsaved.draft.exists()
        assert len(unsaved) == 2
    # The next start finds both, though one has been saved since.
    record.save(answer(1))
    later = Unsaved(record, [folder])
    assert later.take_drafts() == 2
    assert (len(later), later.trouble, record.count()) == (0, "", 2)
    assert not unsaved.draft.exists()
    saved = []
    assert unsaved.save(lambda state: saved.append(state.tries)) == ""
    assert saved == [2, 2]
    assert (len(unsaved), unsaved.trouble) == (0, "")
