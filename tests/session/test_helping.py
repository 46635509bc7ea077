"""Help while a step of the match is new: what is said, how it fades, and that it is no measure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.screens.practice.closing import figures
from coach.session.helping import (
    HELP,
    HELPED,
    LESS,
    MOST_HELPED,
    NO_MEASURE,
    WHOLE,
    first_step_done,
    help_given,
)
from drills.kinds import all_kinds, draw
from drills.questions.answered import a_good_way
from drills.questions.narrowing import MOST, leave_out
from drills.questions.protocol import Answers, CannotAskError, Question
from scores.progress.answers import read_history
from scores.record.queries import matches_since
from scores.record.record import Record
from scores.skill.memory import SkillState
from scores.skill.outcome import WITH_HELP
from scores.today.shares import STEPS
from tests.answers import answer
from tests.eyes import eye_of
from tests.fake_kinds import FakeKind
from tests.palettes import palette_of
from tests.session.test_run import Hands


@dataclass(frozen=True)
class Step(FakeKind):
    """A step of the match with something to look for."""

    look_for: tuple[str, ...] = ("Look at the last figure.",)


@pytest.fixture
def record(tmp_path: Path) -> Record:
    return Record.open(tmp_path / "record.db")


def steps(*names: str) -> dict[str, Any]:
    return {name: Step(name) for name in names}


def tried(kind: str, times: int, right: int = 0) -> dict[str, SkillState]:
    return {f"{kind}:red": SkillState(f"{kind}:red", tries=times, right=right)}


@pytest.mark.parametrize("kind", STEPS)
def test_help_fades_with_right_answers(kind: str) -> None:
    given = [help_given(kind, tried(kind, times, times)) for times in range(HELPED + 2)]
    assert given == [WHOLE, LESS, "", ""]


@pytest.mark.parametrize("kind", STEPS)
def test_help_stays_while_answers_are_wrong_and_ends_all_the_same(kind: str) -> None:
    given = [help_given(kind, tried(kind, times)) for times in range(MOST_HELPED + 2)]
    assert given == [*[WHOLE] * MOST_HELPED, "", ""]
    assert help_given(kind, tried(kind, 3, 1)) == LESS


def test_right_answers_in_all_families_of_a_step_count() -> None:
    both = {**tried("nearest-start", 1, 1)}
    both["nearest-start:blue"] = SkillState("nearest-start:blue", tries=1, right=1)
    assert help_given("nearest-start", both) == ""


def test_a_step_met_elsewhere_does_not_count_for_another() -> None:
    assert help_given("nearest-start", tried("make-the-match", 9)) == WHOLE


def test_what_is_no_step_of_the_match_is_asked_without_help() -> None:
    others = [kind for kind in all_kinds() if kind not in STEPS]
    assert others
    assert not any(help_given(kind, {}) for kind in others)


def test_every_step_has_something_to_look_for_and_names_no_colour_asked() -> None:
    kinds = all_kinds()
    for kind in STEPS:
        said = kinds[kind].look_for
        assert said
        assert all(len(words) <= 120 and words[-1] in ".?" for words in said)


def test_help_is_kept_with_the_answer_and_ends(record: Record) -> None:
    hands = Hands()
    session = hands.begin(record, steps("nearest-start"))
    said, told = [], []
    for _ in range(4):
        question = session.next()
        assert question is not None
        said.append(session.help(()))
        told.append(hands.answer(session, question).measure == NO_MEASURE)
    assert told == [True, True, False, False]
    assert said == ["Look at the last figure."] * 2 + ["", ""]
    kept = list(record.attempts())
    assert [one.facts.get(HELP) for one in kept] == [WHOLE, LESS, None, None]  # type: ignore[union-attr]
    assert [one.chance for one in kept] == [WITH_HELP, WITH_HELP, 0.25, 0.25]
    assert session.summary().helped == HELPED
    assert figures(session.summary()).endswith(f"4 right; {HELPED} had help.")


def test_an_answer_with_help_measures_nothing_and_comes_back_sooner(record: Record) -> None:
    hands = Hands()
    made = steps("nearest-start")
    session = hands.begin(record, made)
    before = session.eye.followed
    for _ in range(HELPED):
        question = session.next()
        assert question is not None
        hands.answer(session, question)
    assert session.eye.followed is not None
    assert before is not None
    assert (session.eye.followed.learner.mean == before.learner.mean).all()
    assert len(read_history(record).practice) == 0
    assert {one.outcome for one in record.attempts()} == {"shaky"}
    question = session.next()
    assert question is not None
    hands.answer(session, question)
    assert len(read_history(record).practice) == 1
    again = eye_of(record, made).followed
    assert again is not None
    assert again.learner.mean == pytest.approx(session.eye.followed.learner.mean, abs=1e-3)


def test_matches_made_with_help_are_left_out_of_the_weeks(record: Record) -> None:
    for number, chance in enumerate((WITH_HELP, 0.02, WITH_HELP, 0.02)):
        record.save(answer(number, kind="make-the-match", chance=chance, error=float(number)))
    assert [error for _, error in matches_since(record, date.min)] == [1.0, 3.0]


def answered_right(kind: Any, question: Question) -> Answers:
    """The replies of the key, stage by stage."""
    key = question.facts["key"]
    keys = list(key) if isinstance(key, list) else [key]
    replies: Answers = ()
    while (asked := kind.ask(question, replies)) is not None:
        here = {choice.key for choice in asked.choices}
        replies = (*replies, (next(str(one) for one in keys if str(one) in here),))
        keys = keys[1:] if len(keys) > 1 else keys
    return replies


@given(
    st.sampled_from(("hue-and-lean", "nearest-start", "mute-with-complement")),
    st.sampled_from(("red", "yellow", "blue", "violet")),
    st.integers(0, 2**32),
)
@settings(max_examples=40, deadline=None)
def test_what_is_left_out_is_never_the_key_and_leaves_two_to_choose_from(
    name: str, region: str, seed: int
) -> None:
    kind = all_kinds()[name]
    try:
        question = draw(kind, palette_of("demo"), region, kind.steps[0], seed)
    except CannotAskError:
        return
    replies: Answers = ()
    for reply in answered_right(kind, question):
        asked = kind.ask(question, replies)
        assert asked is not None
        out = leave_out(kind, question, replies)
        if out is not None:
            assert (out.key,) != reply
            assert 3 <= len(asked.choices) <= MOST
            assert out in asked.choices
        replies = (*replies, reply)


@given(st.sampled_from(STEPS), st.sampled_from(("red", "yellow", "blue")), st.integers(0, 2**32))
@settings(max_examples=20, deadline=None)
def test_the_first_step_done_leaves_something_to_ask_and_ends_well(
    name: str, region: str, seed: int
) -> None:
    kind = all_kinds()[name]
    try:
        question = draw(kind, palette_of("pocket"), region, kind.steps[0], seed)
    except CannotAskError:
        return
    done, way = first_step_done(kind, question, WHOLE), a_good_way(kind, question)
    assert way is not None
    assert way[: len(done.replies)] == done.replies
    assert kind.ask(question, done.replies) is not None
    if done.replies:
        assert len(kind.ask(question, done.replies[:-1]).choices) > 1
    elif done.words.startswith("Not "):
        texts = {one.key: one.text for one in kind.ask(question, ()).choices}
        assert texts[way[0][0]] != done.words[4:-1]
    assert first_step_done(kind, question, LESS) == first_step_done(kind, question, "")
    assert not first_step_done(kind, question, LESS).words


def test_a_family_told_is_not_asked_for(tmp_path: Path) -> None:
    """Of two stages the first is answered, of a match the first layer is laid."""
    palette, kinds = palette_of("demo"), all_kinds()
    hue = draw(kinds["hue-and-lean"], palette, "yellow", 0.5, 3)
    done = first_step_done(kinds["hue-and-lean"], hue, WHOLE)
    assert done.replies == ((hue.facts["family"],),)
    assert done.words == f"Done for you: {hue.facts['family']}."
    match = draw(kinds["make-the-match"], palette, "violet", 8.0, 3)
    done = first_step_done(kinds["make-the-match"], match, WHOLE)
    assert len(done.replies) == 2
    assert kinds["make-the-match"].ask(match, done.replies).scene[1].label == "1 laid"


def test_one_pencil_is_left_out_of_the_starts_offered() -> None:
    kind = all_kinds()["nearest-start"]
    question = draw(kind, palette_of("demo"), "red", kind.steps[0], 7)
    out = leave_out(kind, question, ())
    assert out is not None
    asked = kind.ask(question, ())
    assert asked is not None
    scores = {one.key: kind.grade(question, ((one.key,),)).score for one in asked.choices}
    assert scores[out.key] == min(scores.values())


@pytest.mark.parametrize("asked", [True, False])
def test_whether_the_learner_is_sure_is_kept_where_it_is_asked(record: Record, asked: bool) -> None:
    record.set_setting("sure", asked)
    hands = Hands()
    session = hands.begin(record, steps("value"))
    assert session.asks_sure is asked
    for sure in (True, False):
        question = session.next()
        assert question is not None
        session.answered(question, (("no",),), sure=sure)
        hands.now += 9
    said = [one.facts.get("sure") for one in record.attempts()]  # type: ignore[union-attr]
    assert said == ([True, False] if asked else [None, None])
