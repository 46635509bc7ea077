"""Lines of the journal, answers in four bytes, and rows that may be damaged: to the byte."""

from __future__ import annotations

import struct
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from zlib import crc32

import pytest

from scores.record import tables
from scores.record.journal.file import Journal
from scores.record.journal.lines import (
    answer_body,
    answer_id,
    answer_row,
    body_of,
    deck_body,
    dropped_body,
    gather,
    header,
    line_of,
    pencils_body,
    setting_body,
    what_of,
)
from scores.record.journal.reading import (
    Place,
    line_before,
    lines_from,
    lines_of,
    name_of,
    names_before,
)
from scores.record.mending.readable_rows import sound_answers, sound_attempt
from scores.record.record import Record
from scores.record.rows import attempt_row, facts_row
from scores.record.trials import block_of, trial_bytes, trials_of
from tests.answers import START, answer


def body(number: int = 1, **changes: object) -> str:
    made = replace(answer(number, outcome="held"), **changes)  # type: ignore[arg-type]
    return answer_body(attempt_row(made), facts_row(made))


# -- lines ----------------------------------------------------------------------------------


def test_a_line_is_its_checksum_a_blank_and_the_entry() -> None:
    line = line_of("{}")
    assert line == b"%08x {}\n" % crc32(b"{}")
    assert body_of(line) == b"{}"
    for spoilt in (line[:-1], line[1:], line.replace(b" ", b"\t"), line[:9] + b"[]\n", b"", b"\n"):
        assert body_of(spoilt) is None
    one = line_of("7")
    assert (len(one), body_of(one)) == (11, b"7")
    assert body_of(line_of("")) is None


def test_an_answer_makes_the_same_line_whatever_type_its_numbers_have() -> None:
    whole = body(step=6, response_s=4, score=1)
    assert whole == body(step=6.0, response_s=4.0, score=1.0)
    entry = what_of(whole.encode())
    assert entry is not None
    row, facts = answer_row(entry[1])
    made = answer(1, outcome="held")
    assert row == [*map(_plain, attempt_row(made))]
    assert facts == facts_row(made)
    assert answer_id(whole.encode()) == made.id
    assert answer_id(b'{"setting":{}}') is None


def _plain(value: object) -> object:
    return float(value) if isinstance(value, float) else value


def test_entries_of_no_known_kind_are_none() -> None:
    for text in (
        "",
        "[1]",
        "7",
        "{}",
        '{"a":{}}',
        '{"answer":1}',
        '{"answer":{},"x":{}}',
        "[" * 9999,
    ):
        assert what_of(text.encode()) is None
    assert what_of(b'{"setting":{"key":"a"}}') == ("setting", {"key": "a"})


def test_what_a_journal_holds_is_the_last_of_each_and_the_first_of_an_answer() -> None:
    pencils = ("f" * 64, "Mine", "name,hex", "2026")
    deck = ("d" * 64, "Work", "{}", "2026")
    bodies = [
        body(1),
        setting_body("minutes", 5),
        setting_body("minutes", 7),
        body(1).replace("6.0", "7.0"),
        body(2),
        pencils_body(pencils),
        deck_body(deck),
        dropped_body("e" * 64),
        '{"pencils":{"fingerprint":"x"}}',
        '{"deck":{"fingerprint":"x"}}',
        '{"deck_dropped":{"fingerprint":1}}',
        '{"setting":{"key":1,"value":2}}',
        '{"later":{}}',
    ]
    second = answer(2).id
    held = gather([*(b.encode() for b in bodies), None, None], lambda name: name == second)
    assert held.sums == {answer(1).id: crc32(body(1).encode()), second: crc32(body(2).encode())}
    assert held.answers == {second: body(2).encode()}
    assert held.settings == {"minutes": 7}
    assert held.pencils == {"f" * 64: pencils}
    assert held.decks == {"d" * 64: deck, "e" * 64: None}
    assert held.unread == 2
    assert set(gather([body(2).encode()]).answers) == {second}
    assert [bool(gather([b.encode()])) for b in (bodies[0], bodies[1], bodies[5], bodies[6])] == [
        True
    ] * 4
    assert not gather([None, b'{"later":{}}'])


# -- reading a file of lines -----------------------------------------------------------------


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    path = tmp_path / "r.journal"
    lines = [line_of(header("me", ["old", "older"])), *(line_of(body(n)) for n in range(4))]
    path.write_bytes(b"".join(lines) + b"torn")
    return path


def test_a_journal_says_its_name_and_those_it_stands_in_place_of(journal: Path) -> None:
    lines = list(lines_of(journal, 0))
    assert len(lines) == 5
    assert name_of(lines[0]) == "me"
    assert name_of(lines[1]) == name_of(b"torn") == name_of(line_of('{"journal":{"id":5}}')) == ""
    bodies = [body_of(line) or b"" for line in lines]
    assert names_before(bodies) == ["old", "older"]
    assert names_before([b'{"journal":{"after":[1,"x"]}}', b'{"journal":{"after":"x"}}']) == ["x"]
    assert list(lines_of(journal, len(lines[0]))) == lines[1:]
    assert list(lines_of(journal.with_name("none"), 0)) == []


def test_what_stands_after_a_place_is_read_where_the_place_is_there(journal: Path) -> None:
    lines = list(lines_of(journal, 0))
    end = sum(map(len, lines[:3]))
    place = Place("me", end, len(lines[2]), lines[2][:8])
    assert lines_from(journal, place) == lines[3:]
    assert line_before(journal, end) == lines[2]
    assert line_before(journal, len(lines[0])) == lines[0]
    for other in (
        replace(place, name="you"),
        replace(place, name=""),
        replace(place, end=end + 1),
        replace(place, length=place.length - 1),
        replace(place, line=b"00000000"),
    ):
        assert lines_from(journal, other) is None
    assert lines_from(journal.with_name("none"), place) is None


def test_what_was_added_since_ends_at_the_place_after_it(tmp_path: Path) -> None:
    made = Journal(tmp_path / "r.journal")
    first = made.append([setting_body("minutes", 5)])
    assert made.ends_at(first)
    made.append([setting_body("minutes", n) for n in (6, 7)])
    assert not made.ends_at(first)
    found = made.since(first)
    assert found is not None
    bodies, after = found
    assert bodies == [setting_body("minutes", n).encode() for n in (6, 7)]
    assert made.ends_at(after)
    assert made.since(after) == ([], after)
    assert [body_of(line) for line in lines_of(made.path, first.end)] == bodies
    with made.held():
        assert (made.end(), made.place(made.end())) == (after.end, after)
    assert made.since(replace(after, end=after.end + 1)) is None
    made.close()


def test_the_line_before_a_place_may_be_longer_than_one_reading(tmp_path: Path) -> None:
    path = tmp_path / "long"
    first, long = b"short\n", b"x" * 50_000 + b"\n"
    path.write_bytes(first + long + b"more\n")
    assert line_before(path, len(first + long)) == long
    assert line_before(path, len(first)) == first
    path.write_bytes(long)
    assert line_before(path, len(long)) == long


# -- answers in four bytes ---------------------------------------------------------------------


def test_an_answer_is_kept_in_four_bytes() -> None:
    day = date.fromordinal(28 * 700 + 5)
    for step, right, place in ((10.0, True, 201), (10.0, False, 200), (0.1, True, -199)):
        made = trial_bytes((20.0, 1.0), 0.25, step, right, day)
        assert struct.unpack("<BBh", made) == (5, 50, place)
    # Where a greater step is the finer one the sign is the other way round.
    assert struct.unpack("<BBh", trial_bytes((1.0, 20.0), 0.5, 10.0, True, day))[1:] == (100, -199)
    assert block_of(day) == block_of(day + timedelta(22)) == 700
    assert block_of(day + timedelta(23)) == 701


def test_an_answer_that_measures_nothing_is_no_trial() -> None:
    day = START.date()
    good: dict[str, object] = {"steps": (20.0, 1.0), "chance": 0.5, "step": 3.0}
    assert trial_bytes(**good, right=True, day=day)  # type: ignore[arg-type]
    for change in (
        {"steps": (0.0, 1.0)},
        {"steps": (5.0, 5.0)},
        {"steps": (20.0, float("inf"))},
        {"step": 0.0},
        {"step": -1.0},
        {"step": 1e101},
        {"step": 1e-101},
        {"chance": 1.0},
        {"chance": -0.1},
    ):
        assert trial_bytes(**{**good, **change}, right=True, day=day) == b""  # type: ignore[arg-type]
    assert trial_bytes(**{**good, "chance": 0.0}, right=True, day=day)  # type: ignore[arg-type]
    assert trial_bytes(**{**good, "step": 1e100}, right=True, day=day)  # type: ignore[arg-type]


def test_trials_are_those_of_the_answers_in_order_re_tests_apart(tmp_path: Path) -> None:
    record = Record.open(tmp_path / "r.db")
    for number, deck in enumerate(("", "probe", "", "d" * 64)):
        record.save(answer(number, deck=deck, right=number != 2))
    record.save(answer(9, days=28))
    record.save(answer(10, steps=(5.0, 5.0)))
    assert record._db is not None
    kept = {
        (block, skill, probe): bytes(answers)
        for block, skill, probe, answers in record._db.execute("SELECT * FROM trials")
    }
    assert kept == trials_of(record._db)
    block = block_of(START.date())
    assert {key: len(value) for key, value in kept.items()} == {
        (block, "value:violet", 0): 12,
        (block, "value:violet", 1): 4,
        (block + 1, "value:violet", 0): 4,
    }
    record.close()


# -- what is worth having ----------------------------------------------------------------------


def test_the_median_and_from_how_many_answers_it_is_worth_having() -> None:
    assert tables.median([3.0]) == 3.0
    assert tables.median([9.0, 1.0, 2.0]) == 2.0
    assert tables.median([9.0, 1.0, 2.0, 4.0]) == 3.0
    assert tables.usual_seconds([1.0] * 4) is None
    assert tables.usual_seconds([1.0] * 5) == 1.0


def test_an_answer_longer_than_ten_minutes_counts_as_ten(tmp_path: Path) -> None:
    record = Record.open(tmp_path / "r.db")
    for number, seconds in enumerate((599.0, 600.0, 601.0, 5000.0, 5000.0)):
        record.save(answer(number, response_s=seconds))
    assert record.kind_times() == {"value": 600.0}
    (day,) = record.days()
    assert day.seconds == 599.0 + 4 * 600.0
    record.rebuild_skills()
    assert record.days() == [day]
    assert record.kind_times() == {"value": 600.0}
    record.close()


@pytest.mark.parametrize(
    ("value", "retention"),
    [(0.7, 0.7), (0.97, 0.97), (0.69, 0.9), (0.98, 0.9), ("x", 0.9), (1, 0.9), (None, 0.9)],
)
def test_a_desired_retention_that_makes_no_sense_is_the_usual(
    value: object, retention: float, tmp_path: Path
) -> None:
    record = Record.open(tmp_path / "r.db")
    record.set_setting("desired_retention", value)  # type: ignore[arg-type]
    assert record._db is not None
    assert tables.retention_of(record._db) == retention
    record.close()


# -- rows that may be damaged --------------------------------------------------------------------


def test_an_answer_makes_sense_or_is_none() -> None:
    made = answer(1, outcome="held")
    row, facts = list(attempt_row(made)), list(facts_row(made))
    assert sound_attempt(row, facts) == made
    for place, nonsense in (
        (0, 5),
        (6, "x"),
        (7, "x"),
        (9, float("inf")),
        (12, None),
        (16, "unheard of"),
        (17, float("nan")),
        (18, "no time"),
        (21, 5),
    ):
        assert sound_attempt([*row[:place], nonsense, *row[place + 1 :]], facts) is None
    assert sound_attempt(row, ["{", *facts[1:]]) is None
    assert sound_attempt(row[:-1], facts) is None
    probe = list(attempt_row(replace(made, deck="probe", outcome="")))
    assert sound_attempt(probe, facts) is not None
    assert sound_attempt(list(attempt_row(replace(made, outcome=""))), facts) is None


def test_sound_answers_come_in_order_each_once_and_without_details_where_those_are_lost() -> None:
    rows = {n: list(attempt_row(answer(n, outcome="held"))) for n in (3, 1, 2)}
    facts = {n: list(facts_row(answer(n))) for n in (1, 2)}
    facts[2][1] = "{broken"
    rows[7] = rows[1]
    rows[8] = ["nonsense"]
    made, bare = sound_answers({**rows, "x": rows[1]}, facts)
    assert [(seq, attempt.number) for seq, attempt in made] == [(1, 1), (2, 2), (3, 3)]
    assert bare == 2
    assert [attempt.facts for _, attempt in made] == [answer(1).facts, {}, {}]
