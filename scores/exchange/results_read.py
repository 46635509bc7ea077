"""Reading a results file that a student sent: hostile until every part of it is checked."""

from __future__ import annotations

import gc
import hashlib
import json
import os
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from drills.basics.days import day_of
from drills.basics.errors import InputError, plain
from drills.basics.json_values import from_json, json_text
from drills.basics.ordinary_file import read_ordinary
from scores.classes.passing import Growth
from scores.exchange.on_paper import MOST_ON_PAPER, ON_PAPER, SharedOnPaper, on_paper_of
from scores.exchange.results_written import (
    FORMAT,
    MAX_ANSWERS,
    NAME_MOST,
    PENCIL_SET_MOST,
    PENCILS_MOST,
    SCHEMA,
    CoursePlace,
    DeckNamed,
    digest_of,
)
from scores.exchange.xapi import SharedAnswer, StatementError, answer_of

MAX_BYTES = 40_000_000
QUICK_FROM = 200_000
"""Bytes from which a file's answers are read by a decoder of their own: it takes some time to load,
which shorter files would not win back."""
MAX_SKILLS, MAX_TARGETS = 400, 60
"""Different skills and named targets in one file."""
AHEAD = timedelta(days=1)
"""How far ahead of the reader's own clock an answer may be dated and still be counted."""
EARLIEST = datetime(2020, 1, 1, tzinfo=UTC)
"""An answer dated before this came from a clock that was not set."""
TITLE_MOST = 80
MAX_GROWTH, MAX_COURSE = 30, 30
"""Changes of a deck's answers a day, and decks in a course."""

_HEAD = re.compile(rb'\s*\{"digest":"([0-9a-f]{64})","results":')
_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
_HEX = re.compile(r"[0-9a-f]{64}")
_GIVE = "Give files of: coach scores share"
_ASK_AGAIN = "Ask the student to share it again."


@dataclass(frozen=True)
class ResultsFile:
    """A results file that was found sound.

    ``answers`` are those dated neither in the future nor before ``EARLIEST``;
    ``on_paper`` are those written on worksheets; ``not_counted`` is how many were left out for
    their date. ``pencils`` names the set in use, ``pencil_set`` is its CSV where the student put
    it in; ``made`` says when the file was (UTC).
    """

    student: str
    name: str
    deck: DeckNamed
    app: str
    answers: tuple[SharedAnswer, ...]
    not_counted: int
    pencils: str = ""
    pencil_set: str = ""
    made: str = ""
    on_paper: tuple[SharedOnPaper, ...] = ()


def load_results(path: str | os.PathLike[str], now: datetime) -> ResultsFile:
    """Read a results file; ``now`` is an aware time. Raises InputError."""
    data = read_ordinary(path, MAX_BYTES, "a results file")
    return read_results(data, os.fspath(path), now)


def read_results(data: bytes, source: str, now: datetime) -> ResultsFile:
    """Read results from the bytes of a file; ``source`` names it. Raises InputError."""
    with _without_collecting():
        return _read(data, plain(source, 200), now)


@contextmanager
def _without_collecting() -> Iterator[None]:
    """A parsed file holds no cycles: looking for some takes a third of the reading time."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _read(data: bytes, where: str, now: datetime) -> ResultsFile:
    written = len(data) <= MAX_BYTES and _as_written(data)
    quick = _quickly(data) if written else None
    results, every = quick or (_opened(data, where, written), None)
    _check_schema(results, where)
    try:
        deck = _deck(results["deck"])
        student, name, pencils = _student(results["student"])
        pencil_set = _pencil_set(results["student"])
        made = _made(results) if pencil_set else ""
        app = _text(results["app"], "the app's version", 40)
        said = results["statements"] if every is None else every
    except (KeyError, TypeError):
        raise InputError(where, "a part of it is missing", _ASK_AGAIN) from None
    except ValueError as error:
        raise InputError(where, str(error), _ASK_AGAIN) from None
    if not isinstance(said, list):
        raise InputError(where, "its statements are no list", _ASK_AGAIN)
    if len(said) > MAX_ANSWERS:
        raise InputError(where, f"it holds over {MAX_ANSWERS:,} answers", _ASK_AGAIN)
    answers: list[SharedAnswer] = []
    latest = now + AHEAD
    for number, one in enumerate(said, start=1):
        try:
            answer = answer_of(one) if every is None else one
        except StatementError as error:
            raise InputError(f"{where}, answer {number}", str(error), _ASK_AGAIN) from None
        if answer.student != student or answer.deck != deck.fingerprint:
            problem = "it is of another student or another deck than the file"
            raise InputError(f"{where}, answer {number}", problem, _ASK_AGAIN)
        if EARLIEST <= answer.at <= latest:
            answers.append(answer)
    on_paper = _on_paper(results.get(ON_PAPER, []), where)
    for one in on_paper:
        if one.answer.student != student or one.answer.deck != deck.fingerprint:
            problem = "an answer on paper is of another student or another deck than the file"
            raise InputError(where, problem, _ASK_AGAIN)
    dated = tuple(
        # The latest typed counts: a date to come would stand for ever.
        one
        for one in on_paper
        if EARLIEST <= one.answer.at <= latest and EARLIEST <= one.typed <= latest
    )
    _check_variety([*answers, *(one.answer for one in dated)], where)
    left_out = len(said) - len(answers) + len(on_paper) - len(dated)
    return ResultsFile(
        student, name, deck, app, tuple(answers), left_out, pencils, pencil_set, made, dated
    )


def _on_paper(said: Any, where: str) -> list[SharedOnPaper]:
    """The answers on paper; older files have none."""
    if not isinstance(said, list) or len(said) > MOST_ON_PAPER:
        problem = f"its answers on paper are no list, or over {MOST_ON_PAPER:,}"
        raise InputError(where, problem, _ASK_AGAIN)
    found = []
    for number, one in enumerate(said, start=1):
        try:
            found.append(on_paper_of(one))
        except StatementError as error:
            place = f"{where}, answer {number} on paper"
            raise InputError(place, str(error), _ASK_AGAIN) from None
    return found


def _quickly(data: bytes) -> tuple[dict[str, Any], list[SharedAnswer]] | None:
    """The parts of a file ``_as_written`` but for its statements, and the answers these tell of;
    None for a short file or another, which ``_opened`` reads or tells what is wrong with.
    """
    if len(data) < QUICK_FROM:
        return None
    from scores.exchange.quick_reading import read_quickly

    return read_quickly(data, MAX_ANSWERS)


def _opened(data: bytes, where: str, written: bool) -> dict[str, Any]:
    """The results inside the file, undamaged; ``written`` is whether it is ``_as_written``."""
    if len(data) > MAX_BYTES:
        raise InputError(where, "the file is too big", f"The limit is {MAX_BYTES:,} bytes.")
    if data.startswith((b"PK", b"\x1f\x8b")):
        raise InputError(where, "this is an archive, not a results file", "Unpack it first.")
    try:
        whole = json.loads(data.decode("utf-8-sig"), parse_constant=_no_number)
        results = whole["results"]
        results["format"], results["schema"]
    except UnicodeDecodeError:
        raise InputError(where, "it is not UTF-8", _ASK_AGAIN) from None
    except (KeyError, TypeError):
        raise InputError(where, "this is not a results file", _GIVE) from None
    except (ValueError, RecursionError, MemoryError):
        problem = "it is damaged or not a results file (it is not JSON)"
        raise InputError(where, problem, _ASK_AGAIN) from None
    _check_schema(results, where)
    if not (written or _means_the_same(whole)):
        raise InputError(where, "its digest is wrong: it was damaged or changed", _ASK_AGAIN)
    assert isinstance(results, dict)
    return results


def _check_schema(results: dict[str, Any], where: str) -> None:
    """That it is a results file, of a schema that can be read."""
    form, schema = results.get("format"), results.get("schema")
    if form != FORMAT:
        raise InputError(where, "this is not a results file", _GIVE)
    if type(schema) is not int or schema != SCHEMA:
        newer = type(schema) is int and schema > SCHEMA
        problem = f"it is of another schema ({plain(str(schema), 12)}; this coach reads {SCHEMA})"
        remedy = "Update the coach." if newer else "Ask the student to update and share again."
        raise InputError(where, problem, remedy)


def _means_the_same(whole: dict[str, Any]) -> bool:
    """Whether the digest is that of the results as they mean, however they are laid out."""
    try:
        return bool(digest_of(json_text(whole["results"], in_order=True)) == whole.get("digest"))
    except (ValueError, RecursionError):
        return False


def _as_written(data: bytes) -> bool:
    """Whether the digest is that of the very bytes of the results."""
    head = _HEAD.match(data)
    if head is None:
        return False
    inside = memoryview(data)[head.end() : data.rfind(b"}")]
    return hashlib.sha256(inside).hexdigest().encode() == head[1]


def _no_number(text: str) -> None:
    raise ValueError(f"{text} is no number of JSON")


def _text(value: object, what: str, longest: int) -> str:
    if not isinstance(value, str) or not value.strip() or len(value) > longest:
        raise ValueError(f"{what} is missing or over {longest} characters long")
    if plain(value, longest) != value:
        raise ValueError(f"{what} holds a control or invisible character")
    return value.strip()


def _student(said: Any) -> tuple[str, str, str]:
    """The student's id and name, and the pencils they said they use: nothing in older files."""
    student = said["id"]
    if not (isinstance(student, str) and _UUID.fullmatch(student)):
        raise ValueError("the student's id is not a UUID")
    pencils = said.get("pencils", "")
    if pencils != "":
        pencils = _text(pencils, "the name of the student's pencils", PENCILS_MOST)
    return student, _text(said["name"], "the student's name", NAME_MOST), pencils


def _pencil_set(said: Any) -> str:
    """The canonical CSV of the student's pencils, every one checked; older files have none."""
    text = said.get("pencil_set", "")
    if text == "":
        return ""
    if not isinstance(text, str) or len(text) > PENCIL_SET_MOST:
        raise ValueError("the student's pencils are no text, or too many")
    from drills.pencils.file import parse_pencils, to_csv

    try:
        return to_csv(parse_pencils(text.encode("utf-8", "surrogatepass"), "the pencils in it"))
    except InputError as error:
        raise ValueError(str(error)) from None


def _made(results: dict[str, Any]) -> str:
    """When the file was made, in UTC."""
    said = results["made"]
    try:
        moment = datetime.fromisoformat(said) if isinstance(said, str) else None
        if moment is not None and moment.utcoffset() is not None:
            return moment.astimezone(UTC).isoformat(timespec="seconds")
    except (ValueError, OverflowError):
        pass
    raise ValueError("the time it was made is none")


def _deck(said: Any) -> DeckNamed:
    fingerprint = said["fingerprint"]
    if not (isinstance(fingerprint, str) and _HEX.fullmatch(fingerprint)):
        raise ValueError("the deck's fingerprint is none")
    questions = said.get("questions", "")
    if not (isinstance(questions, str) and (not questions or _HEX.fullmatch(questions))):
        raise ValueError("the fingerprint of the deck's questions is none")
    items, days, level = said["items_a_day"], said["days"], said["pass_level"]
    if not (type(items) is int and 1 <= items <= 100 and type(days) is int and 1 <= days <= 366):
        raise ValueError("the deck's days are out of range")
    if type(level) not in (int, float) or not 0 <= level <= 1:
        raise ValueError("the deck's pass level is out of range")
    due = said["due"]
    if due is not None:
        if not isinstance(due, str) or len(due) != 10:
            raise ValueError("the deck's due date is none")
        due = day_of(due)
    return DeckNamed(
        fingerprint,
        _text(said["title"], "the deck's title", TITLE_MOST),
        _text(said["author"], "the deck's author", TITLE_MOST),
        items,
        days,
        due,
        float(level),
        questions,
        _growth(said.get("growth", [])),
        _course(said.get("course")),
    )


def _growth(said: Any) -> Growth:
    """From which days on a deck wants how many answers; none in older files."""
    try:
        growth = tuple((day, items) for day, items in said[:MAX_GROWTH])
    except (TypeError, ValueError):
        raise ValueError("the deck's growth is none") from None
    sound = all(type(day) is type(items) is int for day, items in growth)
    if not sound or not all(1 <= day <= 366 and 1 <= items <= 100 for day, items in growth):
        raise ValueError("the deck's growth is out of range")
    if list(growth) != sorted(growth, key=lambda one: one[0]):
        raise ValueError("the deck's growth is out of order")
    return growth


def _course(said: Any) -> CoursePlace | None:
    """The deck's place in a course, where it is in one."""
    if said is None:
        return None
    try:
        found = from_json(CoursePlace, said)
    except ValueError:
        raise ValueError("the deck's place in a course is none") from None
    for text, most in ((found.title, 80), (found.author, 80), (found.part, 20), (found.name, 40)):
        _text(text, "the deck's course", most)
    if found.level:
        _text(found.level, "the deck's level", 40)
    if not (1 <= found.number <= found.decks <= MAX_COURSE and _HEX.fullmatch(found.asks)):
        raise ValueError("the deck's place in a course is out of range")
    return found


def _check_variety(answers: list[SharedAnswer], where: str) -> None:
    skills = {(answer.kind, answer.region) for answer in answers}
    targets = {answer.target for answer in answers}
    if len(skills) > MAX_SKILLS or len(targets) > MAX_TARGETS + 1:
        raise InputError(where, "it names more skills or targets than a deck can", _ASK_AGAIN)
    for target in targets:
        if plain(target, 60) != target:
            raise InputError(where, "a target's name holds an invisible character", _ASK_AGAIN)
