"""Results come from strangers: whatever is in a file, it is told in one line or merged soundly."""

from __future__ import annotations

import copy
import json
import re
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drills.basics.errors import InputError
from drills.basics.json_values import json_text
from scores.exchange import results_read as classfile
from scores.exchange.results_written import digest_of
from scores.exchange.xapi import EXTENSION
from tests.classes import NOW, attempts, class_of, read, results_file

GOOD = json.loads(results_file("Wren", attempts("Wren", range(3), facts={"named": "Leaf"})))


def sealed(results: Any) -> bytes:
    """A file with these results and a digest that fits them."""
    inner = json.dumps(results, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    inner = inner.encode("utf-8", "surrogatepass").decode("utf-8", "replace")
    return f'{{"digest":"{digest_of(inner)}","results":{inner}}}'.encode()


def canonical(whole: Any) -> bytes:
    return json_text(whole, in_order=True).encode()


def changed(*path: Any, to: Any) -> bytes:
    results = copy.deepcopy(GOOD["results"])
    at = results
    for key in path[:-1]:
        at = at[key]
    at[path[-1]] = to
    return sealed(results)


FIRST = ("statements", 0)
CORPUS: dict[str, tuple[bytes, str]] = {
    "nothing": (b"", "not JSON"),
    "null": (b"null", "not a results file"),
    "a list": (b"[]", "not a results file"),
    "another file": (b'{"a": 1}', "not a results file"),
    "cut short": (results_file("Wren", attempts("Wren", range(3)))[:500], "not JSON"),
    "an archive": (b"PK\x03\x04" + b"\0" * 40, "an archive"),
    "squeezed": (b"\x1f\x8b\x08" + b"\0" * 40, "an archive"),
    "utf-16": ('{"a": 1}'.encode("utf-16"), "UTF-8"),
    "deep": (b'{"results":' + b"[" * 200_000, "not JSON"),
    "deep and closed": (b"[" * 100_000 + b"]" * 100_000, "not JSON"),
    "a long number": (b'{"results":' + b"9" * 10_000 + b"}", "not JSON"),
    "no number": (b'{"results": NaN}', "not JSON"),
    "a newer schema": (changed("schema", to=2), "another schema (2"),
    "no schema": (changed("schema", to="1"), "another schema"),
    "a true schema": (changed("schema", to=True), "another schema"),
    "a wrong digest": (
        canonical(GOOD | {"digest": "0" * 64}),
        "its digest is wrong",
    ),
    "no digest": (
        canonical({"results": GOOD["results"]}),
        "its digest is wrong",
    ),
    "a part missing": (sealed({"format": GOOD["results"]["format"], "schema": 1}), "missing"),
    "escapes in a name": (changed("student", "name", to="\x1b[31mred"), "control or invisible"),
    "a name turned about": (changed("student", "name", to="a\u202eb"), "control or invisible"),
    "a long name": (changed("student", "name", to="x" * 41), "over 40 characters"),
    "an empty name": (changed("student", "name", to=" "), "missing"),
    "an id that is none": (changed("student", "id", to="../../x"), "not a UUID"),
    "a deck's title": (changed("deck", "title", to="a\nb"), "control or invisible"),
    "a deck's days": (changed("deck", "days", to=10**9), "days are out of range"),
    "a deck's level": (changed("deck", "pass_level", to=float("inf")), "not JSON"),
    "a deck's date": (changed("deck", "due", to="2026-02-30"), "day is out of range for month"),
    "another student": (
        changed(*FIRST, "actor", "account", "name", to="1" * 36),
        "answer 1: it is of another student",
    ),
    "another deck": (
        changed(*FIRST, "context", "contextActivities", "grouping", 0, "id", to="x"),
        "answer 1: it is of another student or another deck",
    ),
    "a null statement": (changed(*FIRST, to=None), "answer 1: a statement lacks a part"),
    "a score over one": (changed(*FIRST, "result", "score", "scaled", to=1.01), "a score is not"),
    "a true score": (changed(*FIRST, "result", "score", "scaled", to=True), "a score is not"),
    "success as a word": (changed(*FIRST, "result", "success", to="yes"), "success is neither"),
    "a year's answer": (changed(*FIRST, "result", "duration", to="PT99999S"), "a duration"),
    "another duration": (changed(*FIRST, "result", "duration", to="P1Y"), "a duration"),
    "no offset": (changed(*FIRST, "timestamp", to="2026-03-02T09:00:00"), "not a time with"),
    "no time": (changed(*FIRST, "timestamp", to="yesterday"), "not a time with"),
    "another verb": (changed(*FIRST, "verb", "id", to="http://x/y"), "not one of the coach's"),
    "another drill": (changed(*FIRST, "object", "id", to="http://x/y"), "object is not a drill"),
    "markup in a drill": (
        changed(
            *FIRST, "object", "id", to=GOOD["results"]["statements"][0]["object"]["id"] + "<b>"
        ),
        "a drill's name is not a name",
    ),
    "a long target": (
        changed(*FIRST, "context", "extensions", EXTENSION, "target", to="x" * 61),
        "a target's name is too long",
    ),
    "escapes in a target": (
        changed(*FIRST, "context", "extensions", EXTENSION, "target", to="\x1b]0;x\x07"),
        "a target's name holds an invisible character",
    ),
    "a step that is none": (
        changed(*FIRST, "context", "extensions", EXTENSION, "step", to="6"),
        "a difficulty is out of range",
    ),
    "steps beyond reason": (
        changed(*FIRST, "context", "extensions", EXTENSION, "steps", to=[1e6, 1e-320]),
        "a difficulty is out of range",
    ),
    "a step too long for a float": (
        changed(*FIRST, "context", "extensions", EXTENSION, "step", to=10**400),
        "a difficulty is out of range",
    ),
    "statements as a table": (changed("statements", to={}), "statements are no list"),
}


@pytest.mark.parametrize("name", CORPUS)
def test_a_bad_file_is_told_in_one_plain_line(name: str):
    data, told = CORPUS[name]
    with pytest.raises(InputError) as caught:
        classfile.read_results(data, "file\x1b[2J.json", NOW)
    line = str(caught.value)
    assert told in line
    assert line.startswith("file·[2J.json")
    assert not re.search(r"[\x00-\x1f\x7f-\x9f]", line)
    assert len(line) < 400


def test_limits_on_answers_skills_and_targets(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(classfile, "MAX_ANSWERS", 10)
    with pytest.raises(InputError, match="over 10 answers"):
        read(results_file("Wren", attempts("Wren", range(11))))
    monkeypatch.setattr(classfile, "MAX_SKILLS", 2)
    mine = [a for n in range(3) for a in attempts("Wren", [n], region=f"region{n}")]
    with pytest.raises(InputError, match="more skills or targets"):
        read(results_file("Wren", mine))


def test_a_file_too_big_a_pipe_and_a_folder_are_not_read(tmp_path: Path):
    import os

    big = tmp_path / "big.json"
    with big.open("wb") as file:
        file.truncate(classfile.MAX_BYTES + 1)
    os.mkfifo(tmp_path / "pipe")
    for name, told in (("big.json", "too big"), ("pipe", "ordinary"), ("no", "no such file")):
        with pytest.raises(InputError, match=told):
            classfile.load_results(tmp_path / name, NOW)


odd: st.SearchStrategy[Any] = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=12)
    | st.sampled_from(["red", "2026-03-02T09:00:00+00:00", "PT1S", "\ud800", "<script>"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner),
    max_leaves=6,
)


@settings(max_examples=400, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_whatever_stands_anywhere_in_a_file_it_is_refused_or_sound(data: st.DataObject):
    """One value, anywhere, is replaced; the digest is made to fit, as a hostile hand would."""
    results = copy.deepcopy(GOOD["results"])
    at: Any = results
    while True:
        key = data.draw(st.sampled_from(list(at) if isinstance(at, dict) else range(len(at))))
        if isinstance(at[key], dict | list) and at[key] and data.draw(st.integers(0, 3)):
            at = at[key]
            continue
        break
    at[key] = data.draw(odd)
    try:
        found = read(sealed(results))
    except InputError as error:
        refused = str(error)
    else:
        refused = ""
    assert not re.search(r"[\x00-\x1f\x7f-\x9f]", refused)
    if refused:
        return
    for one in found.answers:
        assert 0 <= one.score <= 1
        assert 0 <= one.level <= 1
        assert 0 <= one.seconds <= 3_600
        assert -1 <= one.said < 12
        assert one.at <= NOW + classfile.AHEAD


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=300))
def test_no_bytes_bring_the_reader_down(data: bytes):
    with pytest.raises(InputError):
        read(data)


def test_one_bad_file_among_many_stops_none_of_the_others(tmp_path: Path, monkeypatch):
    from click.testing import CliRunner

    from coach.cli import cli

    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    names = []
    for number in range(30):
        path = tmp_path / f"{number:02}.json"
        student = ("Wren", "Rail", "Teal")[number % 3]
        path.write_bytes(results_file(student, attempts(student, range(number, number + 2))))
        names.append(str(path))
    (tmp_path / "13.json").write_bytes(CORPUS["a wrong digest"][0])
    done = CliRunner().invoke(cli, ["class", "add", *names, str(tmp_path / "gone.json")])
    assert done.exit_code == 2
    assert "its digest is wrong" in done.output
    assert "there is no such file" in done.output
    assert "answers added from 29 of 31 files" in done.output
    again = CliRunner().invoke(cli, ["class", "add", *names[:13]])
    assert (again.exit_code, "0 answers added" in again.output) == (0, True)


def test_families_that_are_none_are_not_counted_as_mixed_up(tmp_path: Path):
    results = copy.deepcopy(GOOD["results"])
    more = results["statements"][0]["context"]["extensions"][EXTENSION]
    more["truth"], more["said"] = "mauve", ["red"]
    book = class_of(tmp_path / "class.db", sealed(results))
    assert book.db.execute("SELECT count(*) FROM mixups").fetchone() == (0,)
