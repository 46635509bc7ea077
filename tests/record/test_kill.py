"""Killed at any moment (SIGKILL), the record holds every answer that was said to be saved."""

from __future__ import annotations

import random
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from scores.record.record import Record
from tests.answers import START

pytestmark = pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no SIGKILL here")

ROOT = Path(__file__).parent.parent.parent


def learner(path: Path, answers: int, seed: int) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-m", "tests.answering", str(path), str(answers), str(seed)],
        stdout=subprocess.PIPE,
        text=True,
        cwd=ROOT,
    )


def kill_after(path: Path, answers: int, seed: int) -> list[str]:
    """Let it save so many answers, then kill it while it goes on; the ids it acknowledged."""
    process = learner(path, 100_000, seed)
    assert process.stdout is not None
    acknowledged = [process.stdout.readline().strip() for _ in range(answers)]
    process.send_signal(signal.SIGKILL)
    acknowledged += [line.strip() for line in process.stdout if line.endswith("\n")]
    process.stdout.close()
    assert process.wait() == -signal.SIGKILL
    return acknowledged


def test_nothing_acknowledged_is_lost(tmp_path: Path) -> None:
    path = tmp_path / "record.db"
    rng = random.Random(20)
    acknowledged: list[str] = []
    for turn, answers in enumerate((0, 1, *(rng.randrange(2, 20) for _ in range(4)))):
        acknowledged += kill_after(path, answers, seed=turn)
        record, notice = Record.open_mended(path, START)
        assert notice is None
        kept = [attempt.id for attempt in record.attempts()]
        # All that were acknowledged, in order, and nothing else but one cut off before it was said.
        assert [i for i in kept if i in set(acknowledged)] == acknowledged
        assert len(kept) - len(acknowledged) <= turn + 1
        assert record.replay() == record.skills()
        assert record.count() == len(kept)
        if record.path.exists():
            assert record.check() == ()
        record.close()
    assert len(acknowledged) >= 20


def test_twenty_answers_killed_and_gone_on_with(tmp_path: Path) -> None:
    path = tmp_path / "record.db"
    first = kill_after(path, 20, seed=1)
    process = learner(path, 20, seed=1)
    out, _ = process.communicate()
    assert process.returncode == 0
    record = Record.open(path)
    kept = {attempt.id for attempt in record.attempts()}
    assert set(first) | set(out.split()) <= kept
    assert not set(first) & set(out.split())
    assert record.replay() == record.skills()
