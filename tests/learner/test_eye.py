"""The learner's model beside the record: gone on from, made again, and the same either way."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest

from scores.learner import eye as rules
from scores.learner.eye import EyeModel, all_over, follow, layout_for
from scores.learner.overlay import skills_told
from scores.learner.state_file import forget, read, state_path
from scores.record.record import Record
from scores.record.trials import RETEST
from scores.skill.memory import DESIRED_RETENTION
from scores.skill.model.estimates import skills_on
from scores.today.offers import KindFacts, Offers
from tests.answers import START, answer

REGIONS = ("red", "blue", "green")
OFFERS = Offers(
    {
        "value": KindFacts("value", 1, "Value", 9.0, "ΔL*", (20.0, 0.8), 0.5, True),
        "rules": KindFacts("rules", 1, "Rules", 9.0, "", (4.0, 1.0), 0.2, False, of_the_eye=False),
    },
    tuple((kind, region) for kind in ("value", "rules") for region in REGIONS),
)
DAY = START.date().toordinal()


def practise(record: Record, first: int, count: int, kind: str = "value", **more: object) -> None:
    rng = random.Random(first)
    for number in range(first, first + count):
        given = {"steps": (20.0, 0.8), "chance": 0.5, "step": rng.uniform(2.0, 9.0), **more}
        days, right = number / 10, rng.random() < 0.8
        region = REGIONS[number % 3]
        record.save(answer(number, kind=kind, region=region, days=days, right=right, **given))


@pytest.fixture
def record(tmp_path: Path) -> Record:
    made = Record.open(tmp_path / "record.db")
    practise(made, 0, 60)
    return made


def thresholds(eye: EyeModel | None) -> list[float]:
    assert eye is not None
    assert eye.followed is not None
    learner = eye.followed.learner
    return skills_on(learner, learner.day)[0].tolist()


def test_what_is_kept_goes_on_as_if_all_answers_were_gone_over(record: Record) -> None:
    EyeModel.of(record, OFFERS, DAY + 6)
    kept = read(record.path)
    assert kept is not None
    practise(record, 60, 25)
    gone_on = EyeModel(follow(record, OFFERS, kept))
    # Answers of the day that is parted come in another order.
    again = EyeModel(follow(record, OFFERS))
    assert thresholds(gone_on) == pytest.approx(thresholds(again), abs=0.005)
    assert gone_on.followed is not None
    assert gone_on.followed.learner.answers.sum() == 85


def test_the_session_s_own_steps_come_to_the_same_as_the_record(record: Record) -> None:
    """The record keeps a step to 2 %, so the two differ by less than that tells."""
    live = EyeModel(follow(record, OFFERS))
    for number in range(60, 80):
        given = answer(number, kind="value", region="red", days=6.5, steps=(20.0, 0.8), chance=0.5)
        record.save(given)
        live.answered(given)
    assert thresholds(live) == pytest.approx(thresholds(EyeModel(follow(record, OFFERS))), abs=0.01)


def test_a_state_of_another_record_or_of_more_answers_is_not_gone_on_from(
    record: Record, tmp_path: Path
) -> None:
    EyeModel.of(record, OFFERS, DAY + 6)
    kept = read(record.path)
    assert kept is not None
    other = Record.open(tmp_path / "other" / "record.db")
    practise(other, 1, 10)
    fresh = thresholds(EyeModel(follow(other, OFFERS)))
    assert thresholds(EyeModel(follow(other, OFFERS, kept))) == fresh
    # The same first answer, but fewer than the state has seen: a copy put back.
    less = Record.open(tmp_path / "less" / "record.db")
    practise(less, 0, 1)
    practise(less, 3, 10)
    same = kept._replace(first_id="s:000001")
    assert thresholds(EyeModel(follow(less, OFFERS, same))) == thresholds(
        EyeModel(follow(less, OFFERS))
    )


def test_answers_merged_in_from_long_before_make_it_again(record: Record) -> None:
    EyeModel.of(record, OFFERS, DAY + 6)
    kept = read(record.path)
    for number in range(200, 210):
        early = answer(number, kind="value", region="red", days=-30, steps=(20.0, 0.8), chance=0.5)
        record.save(early)
    assert thresholds(EyeModel(follow(record, OFFERS, kept))) == thresholds(
        EyeModel(follow(record, OFFERS))
    )


def test_re_tests_and_cards_to_remember_teach_it_nothing(record: Record) -> None:
    before = thresholds(EyeModel(follow(record, OFFERS)))
    practise(record, 60, 10, deck=RETEST, session="r")
    practise(record, 70, 10, kind="rules")
    assert thresholds(EyeModel(follow(record, OFFERS))) == before
    assert not any(skill.startswith("rules") for skill in layout_for(OFFERS).skills)


def test_very_many_answers_are_left_to_the_background(
    record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(rules, "MANY", 20)
    quick = follow(record, OFFERS, all_at_once=False)
    assert quick is not None
    assert not quick.whole
    assert quick.learner.answers.sum() == 20
    EyeModel(quick).keep(record, DAY + 6)
    assert read(record.path) is None
    whole = all_over(record, quick.learner.layout)
    assert whole is not None
    assert thresholds(EyeModel(whole)) == thresholds(EyeModel(follow(record, OFFERS)))
    assert all_over(record, quick.learner.layout, lambda: False) is None


def test_the_eye_is_marked_once_a_week(record: Record) -> None:
    practise(record, 60, 240)
    followed = follow(record, OFFERS)
    assert followed is not None
    days = [mark.day for mark in followed.marks]
    assert days[0] == DAY
    assert set(np.diff(days)) == {7}
    EyeModel.of(record, OFFERS, DAY + 30)
    kept = read(record.path)
    assert kept is not None
    assert [mark.day for mark in kept.marks] == days
    assert kept.marks[-1].kinds["value"].answers == followed.marks[-1].kinds["value"].answers


@pytest.mark.parametrize("at", [0, 3, 10, 400, -5, -1])
def test_a_file_with_one_byte_changed_is_no_state(record: Record, at: int) -> None:
    EyeModel.of(record, OFFERS, DAY + 6)
    path = state_path(record.path)
    data = bytearray(path.read_bytes())
    data[at] ^= 1
    path.write_bytes(data)
    assert read(record.path) is None
    path.write_bytes(b"")
    assert read(record.path) is None
    forget(record.path)
    assert not path.exists()


def test_the_kept_file_is_the_owner_s_and_goes_with_the_record(record: Record) -> None:
    from scores.upkeep.places import record_files

    EyeModel.of(record, OFFERS, DAY + 6)
    assert state_path(record.path) in record_files(record.path.parent)


def test_skills_are_told_with_the_model_s_threshold_and_due_day(record: Record) -> None:
    practise(record, 60, 5, kind="rules")
    figures = EyeModel.of(record, OFFERS, DAY + 7).figures(DAY + 7)
    assert figures is not None
    kept = record.skills()
    day = START.date() + timedelta(days=7)
    told = skills_told(kept, figures, day)
    red = told["value:red"]
    assert red.threshold is not None
    assert red.threshold.step == pytest.approx(figures.interval("value:red")[0])
    assert red.due is not None
    assert red.due.toordinal() == figures.due_day("value:red")
    assert told["rules:red"] == kept["rules:red"]
    assert skills_told(kept, None, day) == kept
    sooner = skills_told(kept, figures, day, 0.97)["value:red"].due
    later = skills_told(kept, figures, day, 0.7)["value:red"].due
    assert sooner is not None
    assert later is not None
    assert sooner < red.due < later
    assert DESIRED_RETENTION == 0.9


def test_where_nothing_can_be_measured_it_knows_nothing(record: Record) -> None:
    cards = replace(OFFERS, kinds={"rules": OFFERS.kinds["rules"]}, pairs=(("rules", "red"),))
    assert follow(record, cards) is None
    none = EyeModel()
    assert none.figures(DAY) is None
    none.answered(answer(1))
    none.keep(record, DAY)
    assert none.step(OFFERS.kinds["value"], "value:red", DAY) == pytest.approx(
        20.0 * (0.8 / 20.0) ** 0.3
    )


def test_the_first_screen_reads_the_figures_without_numpy() -> None:
    from tests.test_floors import loaded_after

    loaded = loaded_after("import scores.learner.state_file, scores.learner.overlay")
    assert "numpy" not in loaded
