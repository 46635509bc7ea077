"""Every answer is kept, once, and what follows from the answers follows from them alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.basics.errors import InputError
from scores.record.record import Record
from scores.record.set_aside import SIDE_FILES
from tests.answers import START, answer
from tests.bench.records import make_long_record


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "home" / "record.db"


def test_nothing_is_made_until_something_is_kept(path: Path) -> None:
    record = Record.open(path)
    assert record.skills() == {}
    assert record.kind_times() == {}
    assert record.settings() == {}
    assert record.active_pencils() is None
    assert list(record.attempts()) == []
    assert record.count() == 0
    assert not path.parent.exists()
    record.save(answer(1))
    assert path.exists()


def test_a_command_that_only_reads_says_that_there_is_no_record(path: Path) -> None:
    with pytest.raises(InputError, match="there is no record yet"):
        Record.open(path, create=False)


def test_an_answer_comes_back_as_it_went_in(path: Path) -> None:
    record = Record.open(path)
    kept = answer(
        1,
        target=None,
        facts={"é": [1, 2.5, None, True, {"x": "“quoted”\n"}]},
        answers=(("a", "b"), ("c",)),
        error=1 / 3,
        at_utc=datetime(2026, 3, 29, 0, 59, 59, 123456, UTC),
        zone="Europe/Paris",
        deck="greens",
        seed=2**48 - 1,
    )
    record.save(kept)
    record.close()
    (back,) = Record.open(path).attempts()
    assert back.outcome == "held"
    assert back == replace(kept, outcome="held")


def test_saving_the_same_answer_twice_rates_it_once(path: Path) -> None:
    record = Record.open(path)
    first = record.save(answer(1))
    assert record.save(answer(1)) == first
    assert record.save(answer(1, days=9, right=False, score=0.0)) == first
    assert record.count() == 1
    assert len(list(record.attempts())) == 1
    assert first.tries == 1


def test_every_answer_is_in_the_journal_and_the_database(path: Path) -> None:
    record = Record.open(path)
    record.save(answer(1))
    assert record._rows("PRAGMA journal_mode") == [("wal",)]
    # NORMAL (SQLite's pragma table): the journal is what each answer is on the disk in.
    assert record._rows("PRAGMA synchronous") == [(1,)]
    journal = path.with_suffix(".journal").read_bytes()
    assert answer(1).id.encode() in journal
    assert journal.endswith(b"\n")
    other = Record.open(path)
    assert other.count() == 1
    record.save(answer(2))
    assert other.count() == 2


outcomes = st.lists(
    st.tuples(
        st.sampled_from(("value", "hue")),
        st.sampled_from(("violet", "red", "blue-green")),
        st.booleans(),
        st.floats(0, 1),
        st.floats(0.1, 900),
        st.floats(0.5, 30),
        st.floats(-3, 40),  # days since the last: the clock may go back
        st.sampled_from(("+00:00", "-09:30", "Europe/London", "Pacific/Auckland", "Nowhere/Lost")),
    ),
    max_size=40,
)


@settings(max_examples=15, deadline=None)
@given(outcomes)
def test_skills_times_and_days_equal_a_rebuild_from_the_attempts(tmp_path_factory, made) -> None:  # type: ignore[no-untyped-def]
    record = Record.open(tmp_path_factory.mktemp("r") / "record.db")
    day = 0.0
    for number, (kind, region, right, score, seconds, step, gap, zone) in enumerate(made):
        day += gap
        record.save(
            answer(
                number,
                days=day,
                kind=kind,
                region=region,
                right=right,
                score=score,
                response_s=seconds,
                step=step,
                zone=zone,
            )
        )
    stored = (record.skills(), record.kind_times(), record.days())
    assert record.replay() == stored[0]
    assert record.rebuild_skills() == stored[0]
    skills, times, days = record.skills(), record.kind_times(), record.days()
    assert (skills, times) == stored[:2]
    assert [(d.day, d.tries, d.right) for d in days] == [
        (d.day, d.tries, d.right) for d in stored[2]
    ]
    assert [d.seconds for d in days] == pytest.approx([d.seconds for d in stored[2]])
    assert sum(d.tries for d in days) == record.count() == len(made)
    record.close()


def test_attempts_are_found_by_time_kind_and_region_in_the_order_kept(path: Path) -> None:
    record = Record.open(path)
    for number in range(6):
        kind = "value" if number % 2 else "hue"
        record.save(answer(number, days=number, kind=kind, region="red" if number < 3 else "blue"))
    numbers = [a.number for a in record.attempts()]
    assert numbers == [0, 1, 2, 3, 4, 5]
    assert [a.number for a in record.attempts(since=START + timedelta(days=4))] == [4, 5]
    assert [a.number for a in record.attempts(kind="value")] == [1, 3, 5]
    assert [a.number for a in record.attempts(kind="value", region="red")] == [1]
    assert [a.number for a in record.attempts(limit=2, newest_first=True)] == [5, 4]


def test_own_time_is_the_median_of_the_last_fifty_and_known_from_five(path: Path) -> None:
    record = Record.open(path)
    for number in range(4):
        record.save(answer(number, response_s=1.0))
    assert record.kind_times() == {}
    record.save(answer(4, response_s=1.0))
    assert record.kind_times() == {"value": 1.0}
    for number in range(5, 55):
        record.save(answer(number, response_s=float(number)))
    assert record.kind_times() == {"value": 29.5}  # the median of 5..54
    for number in range(55, 82):
        record.save(answer(number, response_s=1e9))
    assert record.kind_times() == {"value": 600.0}  # left the table: counted as ten minutes


def test_days_are_the_learners_own(path: Path) -> None:
    record = Record.open(path)
    evening = datetime(2026, 3, 2, 23, 30, tzinfo=UTC)
    record.save(answer(1, at_utc=evening, zone="+00:00"))
    record.save(answer(2, at_utc=evening + timedelta(hours=2), zone="+00:00"))  # 01:30, same night
    record.save(answer(3, at_utc=evening + timedelta(hours=2), zone="+13:00", right=False))
    counted = record.days()
    assert [(d.day, d.tries, d.right) for d in counted] == [
        (date(2026, 3, 2), 2, 2),
        (date(2026, 3, 3), 1, 0),
    ]
    assert record.days(since=date(2026, 3, 3)) == counted[1:]


def test_a_new_desired_retention_moves_every_due_day_and_a_rebuild_agrees(path: Path) -> None:
    record = Record.open(path)
    for day in range(6):
        record.save(answer(day, days=day * 3))
    at_nine_in_ten = record.skills()["value:violet"].due
    record.set_setting("desired_retention", 0.8)
    later = record.skills()["value:violet"].due
    assert at_nine_in_ten is not None
    assert later is not None
    assert later > at_nine_in_ten
    assert record.replay() == record.skills()
    record.set_setting("desired_retention", "nonsense")
    assert record.skills()["value:violet"].due == at_nine_in_ten


def test_settings_and_pencils_are_kept(path: Path) -> None:
    record = Record.open(path)
    record.set_setting("minutes", 15)
    record.set_setting("kinds_off", ["value"])
    record.put_pencils("a" * 64, "First tin", "name,hex\r\n", START)
    record.put_pencils("b" * 64, "Second tin", "name,lab\r\n", START)
    record.close()
    record = Record.open(path)
    assert record.setting("minutes") == 15
    assert record.setting("unset", 3) == 3
    kept = record.active_pencils()
    assert kept is not None
    assert (kept.name, kept.csv) == ("Second tin", "name,lab\r\n")
    record.put_pencils("a" * 64, "First tin", "name,hex\r\n", START)
    again = record.active_pencils()
    assert again is not None
    assert again.name == "First tin"


def test_numbers_that_are_none_are_refused_before_anything_is_kept(path: Path) -> None:
    record = Record.open(path)
    with pytest.raises(ValueError, match="not finite"):
        record.save(answer(1, error=float("nan")))
    with pytest.raises(ValueError, match="not JSON compliant"):
        record.save(answer(1, facts={"x": float("inf")}))
    record.save(answer(2))
    assert record.count() == 1


def test_two_coaches_at_once_lose_nothing(path: Path) -> None:
    one, two = Record.open(path), Record.open(path)
    for number in range(10):
        (one if number % 2 else two).save(answer(number, days=number))
    assert one.skills() == two.skills() == one.replay()
    assert one.count() == 10


def test_the_long_record_of_the_bench_is_an_honest_one(tmp_path: Path) -> None:
    made = make_long_record(tmp_path / "long.db", attempts=700, seed=3)
    assert made.count() == 700
    assert made.replay() == made.skills()
    outcomes = {attempt.outcome for attempt in made.attempts()}
    assert outcomes == {"lost", "shaky", "held", "easy-won"}
    saved = Record.open(tmp_path / "saved.db")
    for attempt in made.attempts():
        saved.save(replace(attempt, outcome=""))
    assert saved.skills() == made.skills()
    assert saved.kind_times() == made.kind_times()
    assert [a.outcome for a in saved.attempts()] == [a.outcome for a in made.attempts()]


def test_closing_leaves_the_record_and_its_journal(path: Path) -> None:
    record = Record.open(path)
    record.save(answer(1))
    record.close()
    assert sorted(p.name for p in path.parent.iterdir()) == ["record.db", "record.journal"]
    assert not any(path.with_name(path.name + end).exists() for end in SIDE_FILES)
