"""The answers at four bytes a piece: written with each answer, made again from them alone."""

from __future__ import annotations

import math
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scores.progress.answers import MATCH_KIND, read_history
from scores.record.record import Record
from scores.record.trials import RETEST, rebuild_trials, trial_bytes
from tests.answers import START, answer


@pytest.fixture
def record(tmp_path: Path) -> Record:
    return Record.open(tmp_path / "record.db")


def trials(record: Record) -> list[tuple[object, ...]]:
    return record._rows("SELECT * FROM trials ORDER BY block, skill, probe")


def test_what_is_written_with_each_answer_is_what_a_rebuild_makes(record: Record) -> None:
    for number in range(60):
        record.save(
            answer(
                number,
                kind=("value", "hue")[number % 2],
                region=f"region {number % 5}",
                days=number * 1.7,
                step=20.0 * 0.95**number,
                right=number % 3 != 0,
                deck=RETEST if number % 11 == 0 else "",
            )
        )
    kept = trials(record)
    with record._write() as db:
        rebuild_trials(db)
    assert trials(record) == kept
    record.rebuild_skills()
    assert trials(record) == kept


def test_every_answer_comes_back_as_it_was_given(record: Record) -> None:
    given_ = [
        answer(n, region=f"region {n % 3}", days=n * 2.0, step=18.0 * 0.9**n, right=n % 4 != 0)
        for n in range(40)
    ]
    for made in given_:
        record.save(made)
    found = read_history(record).practice
    assert len(found) == 40
    by_skill = sorted(given_, key=lambda made: (made.day.toordinal() // 28, made.skill))
    for place, made in enumerate(by_skill):
        assert found.skills[found.skill[place]] == made.skill
        assert date.fromordinal(int(found.day[place])) == made.day
        assert found.place[place] / 100 == pytest.approx(math.log10(made.step), abs=0.005)
        assert found.chance[place] / 200 == pytest.approx(made.chance, abs=0.0025)
        assert bool(found.right[place]) == made.right


def test_only_days_asked_for_are_read(record: Record) -> None:
    for number in range(40):
        record.save(answer(number, days=number))
    since = (START + timedelta(days=30)).date()
    history = read_history(record, since)
    assert len(history.practice) == 10
    assert history.practice.day.min() == since.toordinal()
    assert [day.day for day in history.days] == [since + timedelta(days=n) for n in range(10)]


def test_matches_are_read_and_re_tests_are_not_among_them(record: Record) -> None:
    for number in range(8):
        record.save(answer(number, kind=MATCH_KIND, error=1.0 + number, days=number))
    record.save(answer(9, kind=MATCH_KIND, error=99.0, days=9, deck=RETEST))
    assert read_history(record).matches.error.tolist() == [1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0]


def test_a_re_test_teaches_memory_and_threshold_nothing(record: Record, tmp_path: Path) -> None:
    plain = Record.open(tmp_path / "plain.db")
    for number in range(20):
        made = answer(number, region=f"region {number % 3}", days=number / 2)
        record.save(made)
        plain.save(made)
        record.save(answer(1000 + number, days=number / 2, right=False, deck=RETEST))
    assert record.skills() == plain.skills()
    assert record.kind_times() == plain.kind_times()
    assert record.replay() == record.skills()
    # Yet it is kept, and the time it took is counted.
    assert record.count() == 40
    assert len(read_history(record).retest) == 20
    before = record.skills(), record.kind_times(), record.days()
    record.rebuild_skills()
    assert (record.skills(), record.kind_times(), record.days()) == before


def test_an_answer_that_measures_nothing_is_left_out(record: Record) -> None:
    record.save(answer(1, steps=(1.0, 1.0), step=1.0))
    record.save(answer(2, step=0.0))
    assert trials(record) == []
    assert record.count() == 2


def test_nonsense_in_the_table_hides_that_and_no_more(record: Record) -> None:
    for number in range(6):
        record.save(answer(number, region=f"region {number % 2}"))
    with record._write() as db:
        db.execute("UPDATE trials SET answers = x'0102030405' WHERE skill = 'value:region 0'")
    assert len(read_history(record).practice) == 3


@given(
    st.floats(allow_nan=True, allow_infinity=True),
    st.floats(allow_nan=True, allow_infinity=True),
    st.floats(allow_nan=True, allow_infinity=True),
    st.floats(allow_nan=True, allow_infinity=True),
    st.booleans(),
    st.dates(),
)
def test_any_numbers_make_four_bytes_or_none(
    easiest: float, hardest: float, chance: float, step: float, right: bool, day: date
) -> None:
    assert len(trial_bytes((easiest, hardest), chance, step, right, day)) in (0, 4)
