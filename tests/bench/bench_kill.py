"""Two hundred kills while answering: is every answer there that was said to be saved?

``python -m tests.bench kill`` counts; exit status 1 when one is lost.
"""

from __future__ import annotations

import random
import tempfile
from pathlib import Path

from scores.record.mending.compare import look_over
from scores.record.record import Record
from tests.answers import START
from tests.record.test_kill import kill_after

KILLS = 200


def main(kills: int = KILLS) -> None:
    """Kill, look and go on with the same record; print what was counted."""
    rng = random.Random(7)
    acknowledged: list[str] = []
    said = 0
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "record.db"
        for turn in range(kills):
            acknowledged += kill_after(path, rng.randrange(6), seed=turn)
            record, notice = Record.open_mended(path, START)
            if turn % 10 == 9:
                for _ in look_over(record):
                    pass
            said += bool(notice or record.said())
            kept = {attempt.id for attempt in record.attempts()}
            sound = record.check() == () and record.replay() == record.skills()
            record.close()
            lost = set(acknowledged) - kept
            if lost or not sound:
                print(f"kill {turn + 1}: {len(lost)} lost, sound: {sound}")
                raise SystemExit(1)
    print(f"{kills} kills: {len(acknowledged)} answers acknowledged, 0 lost; {said} mendings said")


if __name__ == "__main__":
    main()
