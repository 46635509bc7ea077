"""``coach skills``: every skill with its threshold, memory, due day and tries."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from coach.cli import cli
from coach.session.today_plan import keep_offers
from drills.basics.days import practice_day
from scores.learner.eye import EyeModel
from scores.progress.answers import Answers
from scores.progress.claim import Claim, Direction
from scores.record.attempt import Attempt
from scores.record.record import Record
from scores.skill.model.layout import Layout
from scores.today.offers import KindFacts, Offers
from tests.answers import answer

KINDS = {
    "lighter-or-darker": KindFacts(
        "lighter-or-darker", 1, "Lighter or darker", 7.0, "ΔL*", (20.0, 1.0), 0.5, True
    ),
    "handling": KindFacts("handling", 1, "Handling", 18.0, "", (1.0, 1.0), 0.25, False),
}
OFFERS = Offers(
    KINDS,
    (
        ("lighter-or-darker", "red"),
        ("lighter-or-darker", "blue"),
        ("handling", "order_of_work"),
    ),
)


def value(number: int, **changes: object) -> Attempt:
    changes = {"kind": "lighter-or-darker", "region": "red", **changes}
    return answer(number, days=number / 4, **changes)


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    return tmp_path


@pytest.fixture
def record(home: Path) -> Record:
    made = Record.open(home / "record.db")
    keep_offers(made, "f" * 64, OFFERS)
    for number in range(24):
        made.save(value(number, step=5.0, right=number % 5 != 4))
    for number in range(24, 27):
        made.save(
            value(number, kind="handling", region="order_of_work", steps=(1.0, 1.0), step=1.0)
        )
    return made


def run(*args: str) -> Result:
    return CliRunner().invoke(cli, ["skills", *args], standalone_mode=False)


@pytest.mark.parametrize("direction", ["finer", None])
def test_a_known_change_is_said_in_each_drill_s_unit(
    record: Record, monkeypatch: pytest.MonkeyPatch, direction: Direction | None
) -> None:
    def told(answers: Answers, layout: Layout, day: int) -> Claim:
        return Claim(day - 60, day, 30, len(answers), -0.15, -0.2, -0.1, 9.0, direction)

    monkeypatch.setattr("coach.reports.progress_figures.claim", told)
    said = run().stdout
    assert ("As far apart as you could just tell" in said) == (direction is not None)
    assert ("Lighter or darker         on " in said) == (direction is not None)
    assert max(map(len, said.splitlines())) <= 80


def test_json_has_every_skill_with_its_figures(record: Record) -> None:
    told = json.loads(run("--json").stdout)
    rows = {row["skill"]: row for row in told["skills"]}
    assert set(rows) == {*OFFERS.skills}
    assert (told["proportion_right"], told["credible"]) == (0.8, 0.9)
    red = rows["lighter-or-darker:red"]
    now = datetime.now(UTC)
    day = practice_day(now.astimezone()).toordinal()
    figures = EyeModel.of(record, OFFERS, day).figures(day)
    assert figures is not None
    known = figures.interval("lighter-or-darker:red")
    ends = [red["threshold"][end] for end in ("step", "low", "high")]
    assert ends == pytest.approx([min(step, 20.0) for step in known], rel=1e-3)
    assert red["retrievability"] is None
    due = figures.due_day("lighter-or-darker:red")
    assert due is not None
    assert red["due"] == date.fromordinal(due).isoformat()
    assert (red["tries"], red["right"], red["unit"]) == (24, 20, "ΔL*")
    blue = rows["lighter-or-darker:blue"]
    assert (blue["threshold"], blue["due"], blue["tries"]) == (None, None, 0)
    handling = rows["handling:order_of_work"]
    assert handling["threshold"] is None
    assert handling["tries"] == 3


def test_words_are_plain_lines_that_fit_eighty_columns(record: Record) -> None:
    lines = run().stdout.splitlines()
    assert all(len(line) <= 80 for line in lines)
    assert "Lighter or darker (ΔL*)" in lines
    (red,) = [line for line in lines if line.startswith("  reds")]
    assert "tries" in red
    assert "due" in red
    (work,) = [line for line in lines if line.startswith("  order of work")]
    assert "not measured" in work
    assert lines[-1] == "Not met yet: 1 more."


def test_nothing_is_changed_by_looking(record: Record) -> None:
    before = record.skills(), record.settings()
    run()
    run("--json")
    assert (record.skills(), record.settings()) == before


def test_a_threshold_past_the_range_says_so(home: Path) -> None:
    record = Record.open(home / "record.db")
    for number in range(40):
        record.save(value(number, step=20.0, right=False, at_utc=datetime.now(UTC)))
    (red,) = [line for line in run().stdout.splitlines() if line.startswith("  reds")]
    assert "over 20" in red
    (row,) = json.loads(run("--json").stdout)["skills"]
    assert row["threshold"]["beyond"] == "coarser"


def test_a_record_without_answers_has_nothing_to_list(home: Path) -> None:
    record = Record.open(home / "record.db")
    record.set_setting("minutes", 10)
    assert run().stdout.splitlines() == ["Nothing met yet."]
    keep_offers(record, "f" * 64, OFFERS)
    assert run().stdout.splitlines() == ["Nothing met yet: 3 skills to meet."]


def test_no_record_is_one_line_and_status_2(home: Path) -> None:
    done = CliRunner().invoke(cli, ["skills"], standalone_mode=False)
    assert "there is no record yet" in str(done.exception)
    assert not (home / "record.db").exists()
