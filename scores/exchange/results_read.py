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

from drills.basics.errors import InputError, plain
from drills.basics.json_values import json_text
from drills.basics.ordinary_file import read_ordinary
from scores.exchange.deck_read import deck_of, line_of
from scores.exchange.on_paper import MOST_ON_PAPER, ON_PAPER, SharedOnPaper, on_paper_of
from scores.exchange.results_written import (
    FORMAT,
    MAX_ANSWERS,
    NAME_MOST,
    PENCIL_SET_MOST,
    PENCILS_MOST,
    SCHEMA,
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

_HEAD = re.compile(rb'\s*\{"digest":"([0-9a-f]{64})","results":')
_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
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
        deck = deck_of(results["deck"])
        student, name, pencils = _student(results["student"])
        pencil_set = _pencil_set(results["student"])
        made = _made(results) if pencil_set else ""
        app = line_of(results["app"], "the app's version", 40)
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


def _student(said: Any) -> tuple[str, str, str]:
    """The student's id and name, and the pencils they said they use: nothing in older files."""
    student = said["id"]
    if not (isinstance(student, str) and _UUID.fullmatch(student)):
        raise ValueError("the student's id is not a UUID")
    pencils = said.get("pencils", "")
    if pencils != "":
        pencils = line_of(pencils, "the name of the student's pencils", PENCILS_MOST)
    return student, line_of(said["name"], "the student's name", NAME_MOST), pencils


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
        # What the whole line ends with brings its own stop.
        raise ValueError(str(error).rstrip(".")) from None


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


def _check_variety(answers: list[SharedAnswer], where: str) -> None:
    skills = {(answer.kind, answer.region) for answer in answers}
    targets = {answer.target for answer in answers}
    if len(skills) > MAX_SKILLS or len(targets) > MAX_TARGETS + 1:
        raise InputError(where, "it names more skills or targets than a deck can", _ASK_AGAIN)
    for target in targets:
        if plain(target, 60) != target:
            raise InputError(where, "a target's name holds an invisible character", _ASK_AGAIN)
