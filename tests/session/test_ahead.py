"""Looking ahead changes nothing that is told, and leaves nothing to work out at the key."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from coach.screens.practice.question import PracticeScreen
from drills.questions.protocol import Answers, Question
from scores.record.record import Record
from scores.skill.model.estimates import figures_on
from tests.fake_kinds import kinds, truth
from tests.pilots import answer, practice, shown, table
from tests.session.test_run import Hands

DRILLS = ("hue", "value")


class Counted:
    """A kind that counts what it is asked to work out."""

    def __init__(self, kind: Any) -> None:
        self.kind = kind
        self.worked = Counter[str]()

    def __getattr__(self, name: str) -> Any:
        return getattr(self.kind, name)

    def grade(self, question: Question, answers: Answers) -> Any:
        self.worked["grade"] += 1
        return self.kind.grade(question, answers)

    def reveal(self, question: Question, answers: Answers) -> Any:
        self.worked["reveal"] += 1
        return self.kind.reveal(question, answers)


def likely(question: Question) -> list[Answers]:
    return [((truth(question),),), (("no",),)]


@pytest.mark.parametrize("right", [True, False])
def test_an_answer_that_was_foreseen_is_told_as_one_that_was_not(
    tmp_path: Path, right: bool
) -> None:
    told = []
    for ahead in (True, False):
        record = Record.open(tmp_path / f"{ahead}.db")
        hands, made = Hands(), kinds(*DRILLS)
        session = hands.begin(record, made)
        for _ in range(8):
            question = session.next()
            assert question is not None
            while ahead and session.look_ahead(likely(question)):
                pass
            outcome = hands.answer(session, question, right)
            while ahead and session.look_ahead(()):
                pass
            told.append((ahead, outcome.grade, outcome.reveal, outcome.state, outcome.measure))
        assert session.eye.figures(session._day()) is not None
        told.append((ahead, session.eye.figures(session._day())))
    foreseen = [one[1:] for one in told if one[0]]
    assert foreseen == [one[1:] for one in told if not one[0]]


def test_once_all_is_foreseen_a_key_has_nothing_to_work_out(tmp_path: Path) -> None:
    record = Record.open(tmp_path / "record.db")
    hands, made = Hands(), {name: Counted(kind) for name, kind in kinds(*DRILLS).items()}
    session = hands.begin(record, made)
    question = session.next()
    assert question is not None
    while session.look_ahead(likely(question)):
        pass
    worked = Counter(made[question.kind].worked)
    assert worked == {"grade": 2, "reveal": 2}
    followed = session.eye._ahead.values()
    assert len(followed) == 2
    states = [state for state, _ in followed]
    hands.answer(session, question)
    assert made[question.kind].worked == worked
    assert any(session.eye.followed is state for state in states)


def test_what_is_told_of_one_skill_is_what_is_told_of_it_among_all(tmp_path: Path) -> None:
    record = Record.open(tmp_path / "record.db")
    hands, made = Hands(), kinds(*DRILLS)
    session = hands.begin(record, made)
    for turn in range(10):
        question = session.next()
        assert question is not None
        hands.answer(session, question, turn % 3 > 0)
    assert session.eye.followed is not None
    learner, day = session.eye.followed.learner, session._day() + 9
    every = figures_on(learner, day)
    for skill in learner.layout.skills:
        one = figures_on(learner, day, (skill,))
        kind, _, family = skill.partition(":")
        assert set(one.skills) == {skill}
        assert one.skills[skill] == pytest.approx(every.skills[skill])
        assert one.kinds[kind].pooled == pytest.approx(every.kinds[kind].pooled)
        assert one.families[family] == pytest.approx(every.families[family])
        assert one.person == pytest.approx(every.person)


@pytest.mark.parametrize(
    "kind", ["hue-and-lean", "value-order", "set-the-colour", "make-the-match"]
)
async def test_the_screen_foresees_every_form_of_answer(tmp_path: Path, kind: str) -> None:
    app = table(tmp_path, kind)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        screen = practice(app)
        assert screen.session is not None
        made = Counted(screen.session.kinds[kind])
        before: list[Counter[str]] = []
        given = screen._reveal

        def reveal() -> None:
            # The key has come: from here on nothing is worked out.
            before.append(Counter(made.worked))
            given()

        screen._reveal = reveal  # type: ignore[method-assign]
        assert screen.session._ahead is not None
        screen.session._ahead._kind = made
        screen.session._ahead._found.clear()
        screen.look_ahead()
        await answer_slowly(pilot, screen)
        assert screen.outcome is not None
        assert before[0]["grade"] >= 1
        assert made.worked == before[0]


async def answer_slowly(pilot: Any, screen: PracticeScreen) -> None:
    """Answer as ``answer`` does, once the screen has looked ahead of each key."""
    press = pilot.press

    async def when_ready(*keys: str) -> None:
        for key in keys:
            while screen.looking_ahead:
                await pilot.pause(0.01)
            await press(key)

    pilot.press = when_ready
    await answer(pilot)


async def test_no_frame_shows_the_hints_of_an_answer_without_it(tmp_path: Path) -> None:
    app = table(tmp_path, "hue-and-lean")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        frames = []
        display = app._display

        def watched(screen: Any, renderable: Any) -> None:
            display(screen, renderable)
            if renderable is not None:
                frames.append(shown(app))

        app._display = watched  # type: ignore[method-assign]
        await answer(pilot)
        outcome = practice(app).outcome
        assert outcome is not None
        told = [frame for frame in frames if "Enter next" in frame]
        assert told
        assert all(outcome.grade.verdict.split(".")[0][:20] in frame for frame in told)
