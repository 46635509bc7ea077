"""The decks a learner has added, and how far each has been worked through."""

from __future__ import annotations

import json
import sqlite3
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from drills.basics.days import from_utc_text, utc_text
from drills.basics.json_values import JSON, json_text
from scores.exchange.deck_meant import deck_meant
from scores.record.journal.lines import deck_body, dropped_body
from scores.record.paper_answers import paper_answers, that_count
from scores.record.record import Record


@dataclass(frozen=True)
class DeckKept:
    """A deck as kept: ``content`` is the decks floor's own JSON.

    ``offers`` is what was worked out for a set of pencils, None until then.
    """

    fingerprint: str
    title: str
    content: str
    offers: JSON
    added: datetime


@dataclass(frozen=True)
class Tally:
    """What was answered of one deck.

    ``days`` are answers by practice day; ``tried`` gives, by (kind, region,
    target's name), the answers on screen and their mean score; ``scores`` are all
    scores, the latest first, at most as many as were asked for. ``on_paper`` of the answers
    were written on worksheets.
    """

    days: dict[date, int]
    tried: dict[tuple[str, str, str], tuple[int, float]]
    scores: tuple[float, ...]
    on_paper: int = 0

    @property
    def answers(self) -> int:
        return sum(self.days.values())


def put_deck(record: Record, fingerprint: str, title: str, content: str, at: datetime) -> None:
    """Keep a deck; one already kept stays as it was. Raises NotSavedError."""
    row = (fingerprint, title, content, utc_text(at))

    def keep(db: sqlite3.Connection) -> None:
        made = db.execute(
            "INSERT INTO decks (fingerprint, title, content, offers, added_utc)"
            " VALUES (?, ?, ?, 'null', ?) ON CONFLICT (fingerprint) DO NOTHING",
            row,
        )
        if made.rowcount:
            record._journal(db, deck_body(row))

    record.transact(keep)


def rewrite_deck(record: Record, kept: DeckKept, content: str) -> None:
    """Keep a deck's content otherwise, in one step; one no longer kept stays away.

    Raises NotSavedError.
    """
    row = (kept.fingerprint, kept.title, content, utc_text(kept.added))

    def keep(db: sqlite3.Connection) -> None:
        sql = "UPDATE decks SET content = ? WHERE fingerprint = ?"
        if db.execute(sql, (content, kept.fingerprint)).rowcount:
            record._journal(db, deck_body(row))

    record.transact(keep)


def put_deck_offers(record: Record, fingerprint: str, offers: JSON) -> None:
    """Keep what was worked out for a deck. Raises NotSavedError."""
    row = (json_text(offers), fingerprint)
    record.transact(lambda db: db.execute("UPDATE decks SET offers = ? WHERE fingerprint = ?", row))


def drop_deck(record: Record, fingerprint: str) -> None:
    """Forget a deck; its answers stay in the record. Raises NotSavedError."""

    def drop(db: sqlite3.Connection) -> None:
        if db.execute("DELETE FROM decks WHERE fingerprint = ?", (fingerprint,)).rowcount:
            record._journal(db, dropped_body(fingerprint))

    record.transact(drop)


def decks_kept(record: Record) -> tuple[DeckKept, ...]:
    """Every deck kept, in the order they were added."""
    rows = record._rows(
        "SELECT fingerprint, title, content, offers, added_utc FROM decks"
        " ORDER BY added_utc, fingerprint"
    )
    kept = []
    for fingerprint, title, content, offers, added in rows:
        try:
            kept.append(
                DeckKept(fingerprint, title, content, json.loads(offers), from_utc_text(added))
            )
        except (ValueError, TypeError):
            # A row written over by hand hides that deck and no other.
            continue
    return tuple(kept)


def find_deck(record: Record, named: str) -> DeckKept:
    """The one deck of this title, the beginning of it, or fingerprint. Raises InputError."""
    kept = decks_kept(record)
    named_so = [(one.fingerprint, one.title) for one in kept]
    remedy = "See them with: coach deck list"
    return kept[deck_meant(named, named_so, "you have no such deck", remedy)]


def tally(
    record: Record,
    fingerprint: str,
    latest: int = 100,
    named: bool = True,
    before: Sequence[str] = (),
) -> Tally:
    """What was answered of a deck so far, under this fingerprint and those it had ``before``, on
    the screen and on paper.

    ``named`` False tells no targets apart, which spares reading every answer's facts.
    """
    mine = (fingerprint, *before)
    of_mine = f"deck IN ({', '.join('?' * len(mine))}) AND deck != ''"
    days = record._rows(
        f"SELECT day, count(*) FROM attempts WHERE {of_mine} GROUP BY day",
        mine,
    )
    target, facts = "''", ""
    if named:
        target = "coalesce(json_extract(facts, '$.named'), '')"
        facts = "JOIN attempt_facts USING (seq)"
    tried = record._rows(
        f"SELECT kind, region, {target}, count(*), avg(score)"
        f" FROM attempts {facts} WHERE {of_mine} GROUP BY 1, 2, 3",
        mine,
    )
    scores = record._rows(
        f"SELECT score FROM attempts WHERE {of_mine} ORDER BY seq DESC LIMIT ?",
        (*mine, latest),
    )
    made = Tally(
        {date.fromisoformat(day): count for day, count in days},
        {(kind, region, str(name)): (n, mean) for kind, region, name, n, mean in tried},
        tuple(row[0] for row in scores),
    )
    paper = that_count(paper_answers(record, mine))
    if not paper:
        return made
    of_days = Counter(made.days)
    of_days.update(one.written for one in paper)
    given = record._rows(
        f"SELECT at_utc, score FROM attempts WHERE {of_mine} ORDER BY seq DESC LIMIT ?",
        (*mine, latest),
    )
    dated = [(from_utc_text(at), score) for at, score in given]
    dated += [(one.at, one.score) for one in paper]
    dated.sort(key=lambda one: one[0], reverse=True)
    scores_of_all = tuple(score for _, score in dated[:latest])
    return Tally(dict(of_days), made.tried, scores_of_all, len(paper))
