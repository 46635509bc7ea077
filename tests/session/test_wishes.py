"""Colours a learner can't get: kept on a list, taken by the match, practised alone."""

from __future__ import annotations

import random
from collections import Counter
from pathlib import Path

import pytest
from click.testing import CliRunner

from coach.cli import cli
from coach.session.own_skills import ABOUT, daily, only
from coach.session.question import ask_about
from coach.session.session import Session
from drills.basics.errors import InputError
from drills.kinds import all_kinds
from drills.questions.draw import as_shown
from scores.learner.eye import EyeModel
from scores.record.record import Record
from scores.skill.skill_words import WHEEL
from scores.today.day_plan import plan_day
from scores.today.shares import STEPS
from scores.today.wishes import MOST, SETTING, Wish, added, as_setting, wish_of, wishes_in
from tests.answers import START
from tests.palettes import palette_of
from tests.session.test_arc import OFFERS, met

ROSE = Wish((54.0, 24.0, 4.0), "#a26a78", "red")
PLUM = Wish((34.0, 18.0, -12.0), "plum", "violet")
AQUA = Wish((70.0, -24.0, -8.0), "aqua", "blue-green")


def run(folder: Path, *args: str) -> str:
    done = CliRunner().invoke(
        cli, ["wish", *args], env={"COACH_HOME": str(folder)}, catch_exceptions=False
    )
    assert done.exit_code == 0, done.output
    return done.output


def test_the_list_comes_back_as_it_was_kept_and_hostile_ones_are_empty(tmp_path: Path) -> None:
    record = Record.open(tmp_path / "record.db")
    record.set_setting(SETTING, as_setting([ROSE, PLUM]))
    assert wishes_in(record.settings()) == (ROSE, PLUM)
    for other in (None, 3, "red", [[1]], [[["a", 1, 2], "x", "red"]], {"a": 1}):
        assert wishes_in({SETTING: other}) == ()


def test_a_colour_stands_on_the_list_once_and_the_list_has_an_end() -> None:
    with pytest.raises(ValueError, match="already"):
        added([ROSE], ROSE._replace(words="rose"))
    full = [Wish((float(n), 0.0, 0.0), "x", "red") for n in range(MOST)]
    with pytest.raises(ValueError, match="at most"):
        added(full, ROSE)


def test_wishes_of_a_family_take_turns() -> None:
    some = (ROSE, PLUM, ROSE._replace(words="other"))
    assert [wish_of(some, "red", turn) for turn in range(3)] == [some[0], some[2], some[0]]
    assert wish_of(some, "green", 0) is None


def test_the_match_takes_families_that_are_wished_for_oftener() -> None:
    counts = Counter(
        next(item.region for item in reversed(made) if item.kind == STEPS[-1])
        for seed in range(30)
        for made in [plan_day(met(), OFFERS, {}, START, 10, random.Random(seed), wished={"violet"})]
    )
    assert counts["violet"] >= 20
    assert set(counts) <= set(WHEEL)


def session_of(tmp_path: Path, drill: str) -> Session:
    record = Record.open(tmp_path / "record.db")
    record.set_setting(SETTING, as_setting([AQUA, ROSE]))
    kinds, clock = all_kinds(), iter(range(10**6))
    feed = daily(record, palette_of("demo"), kinds, drill=drill)
    return Session(record, kinds, feed, lambda: START, lambda: float(next(clock)), 5, EyeModel())


def test_one_colour_alone_is_asked_in_every_drill_that_can_ask_of_it(tmp_path: Path) -> None:
    session = session_of(tmp_path, "wish:2")
    seen = set()
    for _ in range(4):
        question = session.next()
        assert question is not None
        seen.add(question.kind)
        assert question.target == as_shown(ROSE.lab)
        kind = session.kinds[question.kind]
        answers: tuple[tuple[str, ...], ...] = ()
        while (ask := kind.ask(question, answers)) is not None:
            key = "done" if ask.form == "build" else ask.choices[0].key if ask.choices else "50 0 0"
            answers = (*answers, (key,))
        session.answered(question, answers, 3.0)
    assert seen <= set(ABOUT)
    assert len(seen) > 1


def test_one_family_alone(tmp_path: Path) -> None:
    session = session_of(tmp_path, "family:green")
    question = session.next()
    assert question is not None
    assert question.region == "green"
    offers = only(OFFERS, "family:green", ())[0]
    assert {region for _, region in offers.pairs} == {"green"}
    assert {kind for kind, _ in offers.pairs} == set(OFFERS.kinds)


def test_what_names_nothing_leaves_everything() -> None:
    for drill in ("", "wish:3", "wish:x", "wish:0", "family:", "no-such-drill"):
        assert only(OFFERS, drill, [ROSE]) == (OFFERS, None)


def test_a_drill_that_asks_about_no_colour_given_asks_its_own() -> None:
    kind = all_kinds()["lighter-or-darker"]
    assert ask_about(kind, palette_of("demo"), ROSE.lab, 5.0, "1/1") is None


def test_the_command_adds_lists_and_drops(tmp_path: Path) -> None:
    assert "The list is empty" in run(tmp_path)
    assert run(tmp_path, "#a26a78").startswith("Kept: #a26a78 (")
    run(tmp_path, "5R", "4/10")
    assert "  2  5R 4/10 (red)" in run(tmp_path)
    assert run(tmp_path, "--drop", "1") == "Dropped: #a26a78.\n"
    assert run(tmp_path).splitlines() == ["  1  5R 4/10 (red)"]


@pytest.mark.parametrize(
    "args", [["#a26a78"], ["--drop", "9"], ["#12"], ["#a26a79", "--drop", "1"], ["--drop", "-1"]]
)
def test_what_can_t_be_done_is_said_in_a_line(tmp_path: Path, args: list[str]) -> None:
    run(tmp_path, "#a26a78")
    with pytest.raises(InputError):
        CliRunner().invoke(
            cli,
            ["wish", *args],
            env={"COACH_HOME": str(tmp_path)},
            standalone_mode=False,
            catch_exceptions=False,
        )
    assert len(run(tmp_path).splitlines()) == 1
