"""Results files of a made-up class, written quickly: each statement is laid out by hand.

A test holds them to what ``scores.exchange.results_written`` writes.
"""

from __future__ import annotations

import json
import random
from datetime import UTC, datetime, timedelta
from uuid import UUID

from drills.basics.json_values import as_json
from scores.exchange.results_written import FORMAT, SCHEMA, DeckNamed, digest_of
from scores.exchange.xapi import ANSWERED, DECKS, DRILLS, EXTENSION, FAMILIES, HOME

FIRST_DAY = datetime(2026, 1, 5, 18, 0, tzinfo=UTC)
DECK = DeckNamed("d" * 64, "Ninety days", "Invented", 60, 90, None, 0.7)
KINDS = ("hue-and-lean", "lighter-or-darker", "brighter-or-duller", "make-the-match")


def student_of(number: int) -> tuple[str, str]:
    """A made-up student's id and name."""
    rng = random.Random(f"student {number}")
    return str(UUID(int=rng.getrandbits(128), version=4)), f"Student {number + 1}"


def results_text(number: int, answers: int, a_day: int = 60) -> str:
    """The results file of one made-up student; the same number gives the same file."""
    student, name = student_of(number)
    rng = random.Random(f"answers {number}")
    able = {kind: rng.uniform(0.2, 0.9) for kind in KINDS}
    said = []
    for turn in range(answers):
        kind = KINDS[rng.randrange(len(KINDS))]
        place = rng.randrange(12)
        right = rng.random() < 0.8
        more = ""
        if kind == KINDS[0]:
            heard = place if right else (place + rng.choice((-1, 1, 2))) % 12
            more = f'"said":"{FAMILIES[heard]}",'
        truth = f',"truth":"{FAMILIES[place]}"' if more else ""
        at = FIRST_DAY + timedelta(days=turn // a_day, seconds=17 * (turn % a_day))
        step = round(20.0 * 0.1 ** (able[kind] + rng.uniform(-0.05, 0.05)), 4)
        score = 1.0 if right else round(rng.random() * 0.6, 4)
        identity = UUID(int=rng.getrandbits(128), version=4)
        said.append(
            f'{{"actor":{{"account":{{"homePage":"{HOME}","name":"{student}"}},"name":"{name}"}},'
            f'"context":{{"contextActivities":{{"grouping":[{{"id":"{DECKS}{DECK.fingerprint}"}}]}},'
            f'"extensions":{{"{EXTENSION}":{{"chance":0.25,"error":1.5,"kind_version":1,{more}'
            f'"step":{step!r},"steps":[20.0,2.0]{truth},"unit":"ΔE00"}}}}}},"id":"{identity}",'
            f'"object":{{"id":"{DRILLS}{kind}/{FAMILIES[place]}"}},'
            f'"result":{{"duration":"PT{4 + rng.random() * 9:.2f}S","response":"darker",'
            f'"score":{{"scaled":{score!r}}},"success":{"true" if right else "false"}}},'
            f'"timestamp":"{at.isoformat(timespec="milliseconds")}","verb":{{"id":"{ANSWERED}"}}}}'
        )
    head = {
        "app": "0.1.0",
        "deck": as_json(DECK),
        "format": FORMAT,
        "made": "2026-04-06T18:00:00+00:00",
        "schema": SCHEMA,
    }
    parts = [
        json.dumps(head, ensure_ascii=False, sort_keys=True, separators=(",", ":"))[:-1],
        f'"statements":[{",".join(said)}]',
        f'"student":{{"id":"{student}","name":"{name}"}}',
        '"summary":{}}',
    ]
    inner = ",".join(parts)
    return f'{{"digest":"{digest_of(inner)}","results":{inner}}}\n'
