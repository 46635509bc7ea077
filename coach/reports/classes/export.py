"""A class's answers and standings as open forms: CSV (RFC 4180), JSON, xAPI statements."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict
from typing import Any

from coach.reports.classes.words import HOW_SURE, paper_words, place_words
from scores.classes.class_lines import StudentLine
from scores.classes.paper.kept import every_one
from scores.classes.person import people_of
from scores.classes.standing_lines import ClassStanding, Standing
from scores.classes.store import ClassBook
from scores.classes.views import ClassView
from scores.exchange.xapi import FAMILIES, statement_of

FORMAT, SCHEMA = "coloured-pencil-coach class", 1
ANSWER_COLUMNS = (
    *("student", "student_id", "deck", "kind", "region", "target", "at_utc", "score", "right"),
    *("seconds", "level", "truth", "said", "id", "on_paper"),
)
STUDENT_COLUMNS = (
    *("student", "student_id", "answers", "days", "last_day", "place", "sure"),
    *("weakest_third", "level", "level_low", "level_high", "stuck_at", "behind_at"),
    *("ask_kind", "ask_region", "passed", "words", "on_paper", "on_paper_right"),
)
NOT_KNOWN = "not known yet"


def answer_rows(book: ClassBook, deck: str) -> Iterator[tuple[Any, ...]]:
    """One row an answer, as ``ANSWER_COLUMNS``: those on screens by student and time, then those
    on paper alike, of which no seconds and no level are known (None)."""
    for one, name in book.answers([deck] if deck else ()):
        yield (
            *(name, one.student, one.deck, one.kind, one.region, one.target),
            *(one.at, one.score, one.right, one.seconds, one.level),
            FAMILIES[one.truth] if one.truth >= 0 else None,
            FAMILIES[one.said] if one.said >= 0 else None,
            one.id,
            False,
        )
    # Those of several ids go by their person's, which is the least of them.
    people = {identity: one for one in people_of(book.db) for identity in one.ids}
    written = [(people[typed.student], typed) for typed in every_one(book.db, deck)]
    for who, typed in sorted(written, key=lambda row: (row[0].name, row[0].id)):
        yield (
            *(who.name, who.id, typed.deck, typed.kind, typed.region, ""),
            *(typed.at, typed.score, typed.right, None, None, None, None, typed.id, True),
        )


def answers_csv(book: ClassBook, deck: str) -> Iterator[str]:
    """``answer_rows`` as a table; what isn't known is empty."""
    yield from _csv(
        ANSWER_COLUMNS,
        (
            (
                *(_cell(name), student, of_deck, kind, region, _cell(target)),
                *(at.isoformat(timespec="milliseconds"), score, int(right), seconds),
                *(None if level is None else round(level, 4), truth, said, identity),
                int(on_paper),
            )
            for (
                name,
                student,
                of_deck,
                kind,
                region,
                target,
                at,
                score,
                right,
                seconds,
                level,
                truth,
                said,
                identity,
                on_paper,
            ) in answer_rows(book, deck)
        ),
    )


def students_csv(
    view: ClassView, standing: ClassStanding, titles: Mapping[str, str]
) -> Iterator[str]:
    """One row a student: where they stand, how sure that is, and what to ask them next.

    Of one who only wrote on paper no standing is known: its cells are empty.
    """
    placed = standing.by_student()
    rows = []
    for line in view.students:
        one = placed.get(line.id)
        rows.append(
            (
                _cell(line.name),
                line.id,
                line.tries,
                line.days,
                line.last_day.isoformat() if line.last_day else "",
                *((NOT_KNOWN, *[""] * 9) if one is None else _standing_cells(one)),
                "" if view.deck is None else int(line.passed),
                _cell(_words(line, one, titles)),
                *((line.on_paper.answers, line.on_paper.right) if line.on_paper else (0, 0)),
            )
        )
    yield from _csv(STUDENT_COLUMNS, rows)


def _standing_cells(one: Standing) -> tuple[object, ...]:
    return (
        one.place,
        "" if one.place == NOT_KNOWN else round(one.sure, 3),
        round(one.weak, 3),
        *(round(level, 3) for level in (one.level, one.low, one.high)),
        " ".join(kind.kind for kind in one.stuck),
        " ".join(kind.kind for kind in one.behind),
        *(one.ask or ("", "")),
    )


def _words(line: StudentLine, one: Standing | None, titles: Mapping[str, str]) -> str:
    if one is not None:
        return place_words(one, titles)
    return paper_words(line.on_paper) if line.on_paper else NOT_KNOWN


def class_json(view: ClassView, standing: ClassStanding, titles: Mapping[str, str]) -> str:
    """The class as one JSON object: probabilities from 0 to 1, levels from 0 to 1.

    What isn't known of one who only wrote on paper is null.
    """
    placed = standing.by_student()
    said: dict[str, Any] = {
        "format": FORMAT,
        "schema": SCHEMA,
        "deck": None
        if view.deck is None
        else {"title": view.deck.title, "fingerprint": view.deck.fingerprint},
        "answers": view.tries,
        "not_begun": list(view.not_begun),
        "how_sure": HOW_SURE,
        "students_differ": round(standing.differ, 3),
        "students": [
            {
                **_student(line, placed.get(line.id), titles),
                "days": line.days,
                "last_day": line.last_day.isoformat() if line.last_day else None,
                "passed": None if view.deck is None else line.passed,
                "on_paper": None
                if line.on_paper is None
                else {
                    "answers": line.on_paper.answers,
                    "right": line.on_paper.right,
                    "grade": round(line.on_paper.grade, 3),
                },
            }
            for line in view.students
        ],
        "pairs": [asdict(one) for one in standing.pairs],
        "harder": [asdict(one) for one in standing.harder],
        "confusions": [asdict(one) for one in standing.confusions],
    }
    return json.dumps(said, ensure_ascii=False, indent=1) + "\n"


def _student(line: StudentLine, one: Standing | None, titles: Mapping[str, str]) -> dict[str, Any]:
    if one is None:
        return {
            "student": line.name,
            "student_id": line.id,
            "answers": line.tries,
            "place": NOT_KNOWN,
            "words": _words(line, one, titles),
            **dict.fromkeys(("weakest_third", "on_track", "level")),
            "kinds": [],
            "ask_next": None,
        }
    return {
        "student": one.name,
        "student_id": one.student,
        "answers": one.tries,
        "place": one.place,
        "words": place_words(one, titles),
        "weakest_third": round(one.weak, 3),
        "on_track": round(one.on_track, 3),
        "level": [round(level, 3) for level in (one.low, one.level, one.high)],
        "kinds": [
            asdict(kind) | {"is_stuck": kind in one.stuck, "is_behind": kind in one.behind}
            for kind in one.kinds
        ],
        "ask_next": None if one.ask is None else {"kind": one.ask[0], "region": one.ask[1]},
    }


def statements(book: ClassBook, deck: str) -> Iterator[str]:
    """A JSON list of xAPI statements, one an answer."""
    yield "["
    between = "\n"
    for one, name in book.answers([deck] if deck else ()):
        yield between + json.dumps(statement_of(one, name), ensure_ascii=False)
        between = ",\n"
    yield "\n]\n"


def _csv(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> Iterator[str]:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns)
    for row in rows:
        writer.writerow(row)
        if out.tell() > 65_536:
            yield out.getvalue()
            out.seek(0)
            out.truncate()
    yield out.getvalue()


def _cell(text: str) -> str:
    """A text that no spreadsheet takes for a formula."""
    return f"'{text}" if text[:1] in ("=", "+", "-", "@") else text
