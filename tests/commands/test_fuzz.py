"""A hundred command lines at random: the short form of ``python -m tests.bench fuzz``."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from tests.pseudo_terminal import ROOT


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes with names are POSIX's")
def test_no_command_line_ends_in_a_traceback_hangs_or_writes_over_anything() -> None:
    """In a process of its own, for it listens to all that its process writes."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.bench.bench_fuzz", "100", "1"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        errors="replace",
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "100 command lines" in done.stdout
    assert "faults: 0" in done.stdout
