"""Three hundred records damaged before, during and after a session: is every answer there?

``python -m tests.bench damage`` counts; exit status 1 when any acknowledged answer is lost,
any opening crashes, or anything was mended without a word.
"""

from __future__ import annotations

import os
import random
import shutil
import tempfile
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from scores.record.attempt import Attempt
from scores.record.mending.compare import look_over
from scores.record.record import Record
from tests.answers import START, answer

RECORDS = 300
EARLIER, IN_SESSION = 300, 6
PLACES = 300
"""Bytes changed where bytes are flipped."""


def earlier(number: int) -> Attempt:
    """An answer from before."""
    return answer(number, region=f"region {number % 5}", days=number / 7)


def flipped(path: Path, rng: random.Random) -> None:
    """Bytes changed anywhere in the database."""
    data = bytearray(path.read_bytes())
    for _ in range(rng.randrange(1, PLACES)):
        data[rng.randrange(len(data))] = rng.randrange(256)
    path.write_bytes(data)


def one_byte(path: Path, rng: random.Random) -> None:
    """A single bit turned."""
    data = bytearray(path.read_bytes())
    data[rng.randrange(len(data))] ^= 1 << rng.randrange(8)
    path.write_bytes(data)


def cut(path: Path, rng: random.Random) -> None:
    """Truncated anywhere."""
    os.truncate(path, rng.randrange(path.stat().st_size))


def deleted(path: Path, rng: random.Random) -> None:
    """Gone, with its logs or without them."""
    path.unlink()
    if rng.random() < 0.5:
        for end in ("-wal", "-shm"):
            path.with_name(path.name + end).unlink(missing_ok=True)


def replaced(path: Path, rng: random.Random) -> None:
    """Another valid record renamed over it."""
    other = path.with_name("other.db")
    record = Record.open(other, journaled=False)
    for number in range(rng.randrange(1, 40)):
        record.save(earlier(number))
    record.close()
    os.replace(other, path)


SPOILS: tuple[Callable[[Path, random.Random], None], ...] = (
    flipped,
    one_byte,
    cut,
    deleted,
    replaced,
)
WHEN = ("before", "during", "after")


def damaged(home: Path, sound: Path, seed: int) -> tuple[str, str]:
    """One record through a session with damage at one moment; what came of it, in a word."""
    rng = random.Random(seed)
    spoil, when = SPOILS[seed % len(SPOILS)], WHEN[seed // len(SPOILS) % len(WHEN)]
    path = home / "record.db"
    for suffix in (".db", ".journal"):
        shutil.copy(sound.with_suffix(suffix), path.with_suffix(suffix))
    acknowledged = {made.id: made for made in map(earlier, range(EARLIER))}
    said = []
    what = f"{spoil.__name__} {when}"
    try:
        if when == "before":
            spoil(path, rng)
        record, notice = Record.open_mended(path, START)
        said.append(notice.text if notice else "")
        for number in range(IN_SESSION):
            if when == "during" and number == IN_SESSION // 2:
                spoil(path, rng)
            made = answer(number, "today", region=f"region {number % 5}", days=60 + number / 99)
            record.save(made)
            acknowledged[made.id] = made
        said.append(record.said())
        record.close()
        if when == "after":
            spoil(path, rng)
        record, notice = Record.open_mended(path, START)
        said.append(notice.text if notice else "")
        for _ in look_over(record):
            pass
        said.append(record.said())
        kept = {attempt.id: attempt for attempt in record.attempts()}
        sound_now = record.check() == () and record.replay() == record.skills()
        record.close()
    except Exception as error:
        return what, f"crashed: {type(error).__name__}: {error}"
    lost = [
        name
        for name, made in acknowledged.items()
        if name not in kept or replace(kept[name], outcome="") != made
    ]
    if lost:
        return what, f"lost or changed {len(lost)}"
    if kept.keys() - acknowledged.keys():
        return what, "doubled"
    if not sound_now:
        return what, "not sound"
    if any(said):
        return what, "mended and said"
    # A byte may lie where nothing is kept, and a cut take nothing from the pages in the log.
    harmless = spoil in (flipped, one_byte, cut)
    return what, "nothing to mend" if harmless else "mended without a word"


def main(records: int = RECORDS) -> None:
    """Print what came of each way of damage; exit status 1 when anything was lost."""
    counts: Counter[tuple[str, str]] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        sound = Path(folder) / "sound.db"
        record = Record.open(sound)
        for number in range(EARLIER):
            record.save(earlier(number))
        record.set_setting("minutes", 12)
        record.close()
        for seed in range(records):
            home = Path(folder) / str(seed)
            home.mkdir()
            counts[damaged(home, sound, seed)] += 1
            shutil.rmtree(home)
    for (what, came), count in sorted(counts.items()):
        print(f"{what:20} {count:4}  {came}")
    bad = [came for _, came in counts if came not in ("mended and said", "nothing to mend")]
    print(f"{records} records, {sum(counts.values()) - len(bad)} kept whole")
    if bad:
        raise SystemExit(1)


if __name__ == "__main__":
    main()
