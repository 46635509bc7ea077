"""What a student shares: one deck's answers as xAPI statements, a summary and a digest; no more.

Statements are held to the published rules of xAPI 1.0.3 (``tests.teaching.xapi_rules``).
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.cli import cli
from decks.record_form import to_kept
from decks.starters import starter
from drills.basics.errors import InputError
from drills.basics.json_values import json_text
from scores.exchange.results_written import digest_of, share, sound_name
from scores.exchange.xapi import answer_of, statement, statement_of
from scores.record.decks_added import put_deck
from scores.record.record import Record
from tests.answers import START, answer
from tests.classes import DECK, NOW, STUDENTS, attempts, read, results_file
from tests.teaching.xapi_rules import faults

WREN = STUDENTS["Wren"]

answers = st.builds(
    lambda number, kind, region, score, right, seconds, at, zone, named, key: answer(
        number,
        deck=DECK.fingerprint,
        kind=kind,
        region=region,
        score=score,
        right=right,
        response_s=seconds,
        at_utc=at,
        zone=zone,
        facts={**({"named": named} if named else {}), **({"key": key} if key else {})},
        answers=(("red",), ("orange",)),
    ),
    st.integers(1, 10**6),
    st.sampled_from(["hue-and-lean", "grey-lean"]),
    st.sampled_from(["red", "blue-green", "dark greys"]),
    st.floats(0, 1),
    st.booleans(),
    st.floats(0, 9_000),
    st.datetimes(datetime(2025, 1, 1), datetime(2026, 3, 31), timezones=st.just(UTC)),
    st.sampled_from(["+00:00", "+05:45", "-09:30", "Europe/Lisbon", "nowhere"]),
    st.sampled_from(["", "Leaf"]),
    st.sampled_from([None, "red", ["orange", "squarely"], {"x": 1}]),
)


# The anchor of the rule in ADL's text, and what breaks it in a sound statement.
BROKEN: dict[str, tuple[tuple[str, ...], Any]] = {
    "2.2.s4.b1.b1 null": (("result", "response"), None),
    "2.2.s4.b1.b2 a number as a text": (("result", "score", "scaled"), "1"),
    "2.2.s4.b1.b3 a truth as a text": (("result", "success"), "true"),
    "2.2.s4.b1.b5 the case of a key": (("Result",), {}),
    "2.2.s4.b1.b6 the case of a value": (("object", "objectType"), "activity"),
    "2.2.s4.b1.b7 a key it has not": (("result", "grade"), 1),
    "2.2.s4.b1.b8 no scheme": (("object", "id"), "drills/value"),
    "2.4.1 no UUID": (("id",), "1"),
    "2.4.2.1 two identifiers": (("actor", "mbox"), "mailto:wren@example.com"),
    "2.4.2.4 no home page": (("actor", "account"), {"name": "wren"}),
    "2.4.3.s5.b1 no display": (("verb",), {"id": "http://adlnet.gov/expapi/verbs/answered"}),
    "2.4.5.1 a score above 1": (("result", "score", "scaled"), 1.5),
    "2.4.6.2.s4.b1 another key": (("context", "contextActivities", "deck"), []),
    "4.1.s3.b1 a key that is no IRI": (("context", "extensions", "answer"), {}),
    "4.2 no language": (("verb", "display"), {"English words": "answered"}),
    "4.5.s1.b3 whole seconds": (("timestamp",), "2026-03-02T09:00:00+00:00"),
    "4.5.s1.b4 no zone": (("timestamp",), "2026-03-02T09:00:00.000"),
    "4.6.s1.b1 no duration": (("result", "duration"), "4 s"),
    "4.6.s1.b2 too fine": (("result", "duration"), "PT4.125S"),
}


@pytest.mark.parametrize("rule", BROKEN)
def test_a_statement_that_breaks_a_published_rule_is_found(rule: str):
    said: Any = statement(attempts("Wren", range(1))[0], WREN, "Wren")
    assert faults(said) == []
    (*path, last), value = BROKEN[rule]
    part = said
    for key in path:
        part = part[key]
    part[last] = value
    assert faults(said)


@settings(max_examples=150, deadline=None)
@given(answers)
def test_every_answer_becomes_a_statement_by_the_standard_and_comes_back(one: Any):
    said = statement(one, WREN, "Wren")
    assert faults(said) == []
    back = answer_of(json.loads(json.dumps(said)))
    assert (back.id, back.student, back.deck) == (one.id, WREN, DECK.fingerprint)
    assert (back.kind, back.region, back.right) == (one.kind, one.region, one.right)
    assert back.score == pytest.approx(one.score, abs=6e-5)
    assert back.seconds == pytest.approx(min(one.response_s, 3_600), abs=0.006)
    assert abs(back.at - one.at_utc) < timedelta(milliseconds=1)
    assert back.at.replace(tzinfo=None) == pytest.approx(
        one.local_time.replace(tzinfo=None), abs=timedelta(milliseconds=1)
    )
    assert back.target == one.facts.get("named", "")
    exported = statement_of(back, "Wren")
    assert faults(exported) == []
    again = answer_of(exported)
    assert again._replace(level=0.0) == back._replace(level=0.0)
    assert again.level == pytest.approx(back.level)


def test_what_was_said_and_what_was_true_are_told_where_families_were_named():
    one = answer(1, facts={"key": ["orange", "squarely"]}, answers=(("red",), ("orange",)))
    back = answer_of(statement(replace(one, deck=DECK.fingerprint), WREN, "Wren"))
    assert (back.truth, back.said) == (2, 4)
    other = answer_of(statement(replace(one, facts={}, deck=DECK.fingerprint), WREN, "Wren"))
    assert (other.truth, other.said) == (-1, -1)


def test_the_file_is_canonical_json_whose_digest_is_that_of_the_results():
    data = results_file("Wren", attempts("Wren", range(5)))
    whole = json.loads(data)
    assert data.decode() == json_text(whole, in_order=True) + "\n"
    inner = json_text(whole["results"], in_order=True).encode()
    assert whole["digest"] == hashlib.sha256(inner).hexdigest()
    assert set(whole["results"]) == {
        *("format", "schema", "app", "made", "deck", "student", "summary", "statements")
    }


def test_the_summary_says_what_the_statements_say():
    mine = attempts("Wren", range(30), score=0.5, right=False)
    mine += attempts("Wren", range(30, 40), region="green")
    said = share(mine, DECK, WREN, "Wren", "0.1.0", NOW).results["summary"]
    assert said == {
        "answers": 40,
        "right": 10,
        "mean_score": 0.625,
        "seconds": 160.0,
        "days": {"2026-03-02": 19, "2026-03-03": 21},
        "skills": [
            {"kind": "value", "region": "green", "answers": 10, "right": 10, "mean_score": 1.0},
            {"kind": "value", "region": "violet", "answers": 30, "right": 0, "mean_score": 0.5},
        ],
    }


def test_an_attempt_of_another_deck_is_never_written():
    stray = answer(9, deck="e" * 64)
    with pytest.raises(ValueError, match="not of this deck"):
        share([*attempts("Wren", range(3)), stray], DECK, WREN, "Wren", "0.1.0", NOW)


def test_of_too_many_answers_the_latest_are_shared(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("scores.exchange.results_written.MAX_ANSWERS", 10)
    made = share(attempts("Wren", range(25)), DECK, WREN, "Wren", "0.1.0", NOW)
    assert (made.answers, made.left_out) == (10, 15)
    assert len(read(made.text.encode()).answers) == 10


@pytest.mark.parametrize("name", ["", "  ", "x" * 41, "a\x1b[1mb", "a\u202eb"])
def test_a_name_that_would_not_do_is_refused(name: str):
    with pytest.raises(ValueError, match="name"):
        sound_name(name)


# -- damage ---------------------------------------------------------------------------------


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_any_change_of_a_byte_is_found(data: st.DataObject):
    good = results_file("Wren", attempts("Wren", range(3)))
    at = data.draw(st.integers(0, len(good) - 2))
    byte = data.draw(st.integers(0, 255).filter(lambda b: b != good[at]))
    bad = good[:at] + bytes([byte]) + good[at + 1 :]
    try:
        results = read(bad)
    except InputError:
        return
    # White space outside of texts may change: what the file means is then the same.
    assert results == read(good)


def test_a_file_laid_out_anew_means_the_same():
    good = results_file("Wren", attempts("Wren", range(3)))
    laid_out = json.dumps(json.loads(good), indent=2, ensure_ascii=True).encode()
    assert read(laid_out) == read(good)
    assert read(b"\xef\xbb\xbf" + good) == read(good)
    assert read(good.replace(b"\n", b"\r\n")) == read(good)


def test_a_digest_made_anew_passes_for_it_finds_damage_and_not_cheating():
    results = json.loads(results_file("Wren", attempts("Wren", range(3))))["results"]
    results["statements"][0]["result"]["success"] = False
    inner = json_text(results, in_order=True)
    forged = f'{{"digest":"{digest_of(inner)}","results":{inner}}}'.encode()
    assert [one.right for one in read(forged).answers] == [False, True, True]


# -- the command -------------------------------------------------------------------------------


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A record with two decks and answers to each, and to none."""
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    record = Record.open(tmp_path / "record.db")
    for name in ("greys", "values"):
        deck = starter(name)
        put_deck(record, deck.fingerprint, deck.title, to_kept(deck), START)
        for number in range(4):
            one = answer(number, session=name, days=number, deck=deck.fingerprint)
            record.save(replace(one, facts={"made_with": f"secret of {name}"}))
    record.save(answer(1, session="own", region="secret-region"))
    record.close()
    return tmp_path


def run(*words: str, keys: str = "") -> Any:
    return CliRunner().invoke(cli, ["scores", "share", *words], input=keys)


def test_it_is_shown_first_and_written_when_agreed_to(home: Path):
    told = run("values before colours", "--name", "Wren", keys="y\n")
    assert told.exit_code == 0, told.output
    shown = told.output
    for part in ("Wren", "Values before colours", "4 answers, 4 right", "a random number"):
        assert part in shown
    # What is in it in four lines, and the question; then that it is written.
    assert len(shown.splitlines()) == 6
    assert "{" not in shown
    data = (home / "wren-values-before-colours.results.json").read_bytes()
    results = read(data)
    assert results.deck.fingerprint == starter("values").fingerprint
    assert len(results.answers) == 4


def test_nothing_else_of_the_record_is_in_it(home: Path):
    text = run("values before colours", "--name", "Wren", "--json").output
    for other in ("secret", starter("greys").fingerprint, "made_with", "seed", "session"):
        assert other not in text
    assert set(home.iterdir()) >= {home / "record.db"}
    assert not list(home.glob("*.json"))


def test_no_writes_nothing(home: Path):
    told = run("values before colours", "--name", "Wren", keys="n\n")
    assert told.exit_code != 0
    assert not list(home.glob("*.json"))


def test_the_random_number_stays_from_file_to_file_and_the_name_may_change(home: Path):
    run("values before colours", "--name", "Wren", "-o", "a.json", "--yes")
    run("The colour in a grey", "-o", "b.json", "--yes")
    run("values before colours", "--name", "Teal", "-o", "c.json", "--yes")
    a, b, c = (read((home / f"{name}.json").read_bytes()) for name in "abc")
    assert a.student == b.student == c.student
    assert (a.name, b.name, c.name) == ("Wren", "Wren", "Teal")


def test_a_file_that_is_there_is_not_written_over(home: Path):
    (home / "a.json").write_text("mine")
    told = run("values before colours", "--name", "Wren", "-o", "a.json", "--yes")
    assert isinstance(told.exception, InputError)
    assert (home / "a.json").read_text() == "mine"
