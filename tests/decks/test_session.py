"""Assigned work in the daily session: asked, kept under the deck's name, counted the next day."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from itertools import count
from pathlib import Path

import pytest

from coach.app_state import AppState, ready
from coach.session.assigned.deck_work import Assigned
from coach.session.session import Session
from coach.terminal import colour_depth
from coach.this_screen.kept import Known, keep
from decks.record_form import to_kept
from decks.starters import starter
from drills.kinds import all_kinds
from drills.pencils.file import to_csv
from drills.pencils.sets import demo_set, pocket_set
from drills.questions.adjusting import key_of
from drills.questions.protocol import Answers, Question
from scores.record.decks_added import put_deck, tally
from scores.record.queries import deck_attempts
from scores.record.record import Record
from tests.answers import START, answer

DECK = replace(starter("five-colours"), kinds=("hue-and-lean",))


@pytest.fixture
def app_state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> AppState:
    monkeypatch.setenv("COLORTERM", "truecolor")
    record = Record.open(tmp_path / "record.db")
    pencils = pocket_set()
    record.put_pencils(pencils.fingerprint, pencils.name, to_csv(pencils), START)
    keep(record, "desk", Known("wide"))
    seeds = count(1)
    ticks = count()
    return AppState(
        record,
        colour_depth({"COLORTERM": "truecolor", "TERM": "xterm-256color"}),
        clock=lambda: START + timedelta(seconds=next(ticks)),
        timer=lambda: 0.0,
        seeds=lambda: next(seeds),
    )


def assign(app_state: AppState, deck=DECK) -> None:
    put_deck(app_state.record, deck.fingerprint, deck.title, to_kept(deck), START)
    app_state.keep(ready(app_state.pencil_set(), app_state.decks()))


def replies_to(session: Session, question: Question) -> Answers:
    """Complete answers, right or not: the first choice of each stage."""
    replies: Answers = ()
    while (ask := session.kinds[question.kind].ask(question, replies)) is not None:
        keys = tuple(choice.key for choice in ask.choices)
        if ask.start is not None:
            keys = (key_of(ask.start),)
        done = "done" if ask.form == "build" else keys[0]
        replies = (*replies, keys if ask.form == "arrange" else (done,))
    return replies


def test_a_deck_comes_into_the_day_s_plan_and_its_answers_are_its_own(app_state: AppState):
    assign(app_state)
    shown = app_state.today()
    assert shown is not None
    (one,) = shown.standings
    assert (one.state, one.today, len(one.tasks or ())) == ("to do", 0, 5)
    session = app_state.session()
    asked = []
    while (question := session.next()) is not None and len(asked) < len(shown.plan):
        item = session.item
        outcome = session.answered(question, replies_to(session, question), 3.0)
        asked.append((item, question, outcome.attempt))
    mine = [one for one in asked if isinstance(one[0], Assigned)]
    assert len(mine) == DECK.items_a_day
    for item, question, attempt in asked:
        assert attempt.deck == item.source
        assert (attempt.facts.get("named", "") != "") == isinstance(item, Assigned)
        assert question.region == item.region
    assert {attempt.facts["named"] for _, _, attempt in mine} == {t.name for t in DECK.targets}
    assert tally(app_state.record, DECK.fingerprint).answers == DECK.items_a_day
    assert len(list(deck_attempts(app_state.record, DECK.fingerprint))) == DECK.items_a_day
    after = app_state.today()
    assert after is not None
    assert after.standings[0].state == "done today"
    assert not [item for item in after.plan if isinstance(item, Assigned)]


def test_a_deck_s_own_pencils_are_the_ones_asked_with(app_state: AppState):
    deck = replace(DECK, pencils=to_csv(demo_set()), title="With its own")
    assign(app_state, deck)
    session = app_state.session()
    seen = set()
    for _ in range(12):
        question = session.next()
        assert question is not None
        attempt = session.answered(question, replies_to(session, question), 3.0).attempt
        seen.add((attempt.deck, attempt.pencils))
    assert seen == {(deck.fingerprint, demo_set().fingerprint), ("", pocket_set().fingerprint)}


def test_questions_keep_within_the_deck_s_bounds(app_state: AppState):
    """As near as the pencils give: a kind's questions lie about the step asked for."""
    hard = replace(DECK, kinds=("lighter-or-darker",), targets=(), easiest=0.9, hardest=1.0)
    assign(app_state, hard)
    session = app_state.session()
    steps = []
    while len(steps) < 4:
        question = session.next()
        assert question is not None
        if isinstance(session.item, Assigned):
            steps.append(question.step)
        session.answered(question, replies_to(session, question), 3.0)
    easiest, hardest = all_kinds()["lighter-or-darker"].steps
    assert max(steps) < easiest * (hardest / easiest) ** 0.8


def test_the_first_screen_knows_the_decks_without_numpy(app_state: AppState, tmp_path: Path):
    import subprocess
    import sys

    assign(app_state)
    app_state.record.close()
    program = (
        "import sys\nfrom pathlib import Path\nfrom datetime import datetime, UTC\n"
        "from scores.record.record import Record\nfrom coach.session.today_plan import today\n"
        f"record = Record.open(Path({str(tmp_path / 'record.db')!r}))\n"
        "pencils = record.active_pencils()\n"
        "shown = today(record, pencils.fingerprint, datetime(2026, 3, 2, 9, tzinfo=UTC), 1)\n"
        "assert shown.standings[0].tasks and 'numpy' not in sys.modules, shown\n"
    )
    subprocess.run([sys.executable, "-c", program], check=True)


def test_the_plan_shown_is_the_plan_run(app_state: AppState):
    """Even where, between the two, answers of another session change what is called for."""
    app_state.keep(ready(app_state.pencil_set()))
    shown = app_state.today()
    assert shown is not None
    for number, item in enumerate(shown.plan[:20]):
        app_state.record.save(answer(number, kind=item.kind, region=item.region))
    session = app_state.session()
    assert session.feed.plan == shown.plan
    assert app_state.session().feed.plan != shown.plan
