"""A learner in a process of its own, to be killed: ``python -m tests.answering RECORD COUNT SEED``.

Prints a line for every answer that the coach says is saved.
"""

from __future__ import annotations

import sys
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path

from coach.session.own_skills import daily
from coach.session.session import Session
from scores.record.record import Record
from tests.eyes import eye_of
from tests.fake_kinds import PALETTE, kinds, truth


def main(path: str, answers: str, seed: str) -> None:
    ticks = count()

    def clock() -> datetime:
        return datetime(2026, 3, 2, 9, tzinfo=UTC) + timedelta(seconds=next(ticks))

    record = Record.open(Path(path))
    made = kinds("hue", "value")
    feed = daily(record, PALETTE, made, minutes=60)
    session = Session(record, made, feed, clock, lambda: 0.0, int(seed), eye_of(record, made))
    for number in range(int(answers)):
        question = session.next()
        assert question is not None
        right = number % 5 != 0
        done = session.answered(question, ((truth(question) if right else "no",),), 3.0)
        assert done.saved, done.trouble
        print(done.attempt.id, flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
