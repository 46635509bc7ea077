"""Does the test command pass each time? The README's, so many times running, in a fresh copy.

``python -m tests.bench repeat`` runs it 20 times (about three minutes each on two cores);
``python -m tests.bench.bench_repeat 2`` twice. What one run leaves of hypothesis is gone
before the next. Ends with 1 unless every run passed.
"""

from __future__ import annotations

import shlex
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
TIMES = 20
LEFT_OUT = (".git", ".venv", ".hypothesis", "__pycache__", ".*_cache", "*.egg-info")


def test_command() -> list[str]:
    """What the README's line runs once everything is installed, by the Python that runs this."""
    after = (ROOT / "README.md").read_text(encoding="utf-8").split("<!-- tests -->")[1]
    line = next(line for line in after.splitlines() if line.startswith("python3 -m venv"))
    program, *rest = shlex.split(line.rpartition("&&")[2])
    assert program == ".venv/bin/python", program
    return [sys.executable, *rest]


def main() -> int:
    times = int(sys.argv[1]) if len(sys.argv) > 1 else TIMES
    command, passed = test_command(), 0
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "copy"
        shutil.copytree(ROOT, copy, ignore=shutil.ignore_patterns(*LEFT_OUT))
        for run in range(1, times + 1):
            shutil.rmtree(copy / ".hypothesis", ignore_errors=True)
            done = subprocess.run(command, cwd=copy, capture_output=True, text=True, check=False)
            passed += done.returncode == 0
            lines = done.stdout.splitlines() or done.stderr.splitlines() or ["nothing was said"]
            print(f"run {run:2d} of {times}: {lines[-1]}", flush=True)
            for line in lines:
                if line.startswith(("FAILED", "ERROR")):
                    print(f"    {line}", flush=True)
    print(f"{passed} of {times} runs passed")
    return int(passed < times)


if __name__ == "__main__":
    sys.exit(main())
