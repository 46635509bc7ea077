"""``python -m tests.bench``: every table of speed, one after another (or only those named)."""

from __future__ import annotations

import pkgutil
import subprocess
import sys

import tests.bench

WANTED = sys.argv[1:]
ONLY_WHEN_NAMED = {"bench_mutants", "bench_repeat"}
"""What takes an hour, and says nothing of speed."""
FOUND = [
    module.name
    for module in pkgutil.iter_modules(tests.bench.__path__)
    if module.name.startswith("bench_")
    and (
        module.name.removeprefix("bench_") in WANTED
        if WANTED
        else module.name not in ONLY_WHEN_NAMED
    )
]
# Each in a process of its own: what one imports or caches must not flatter the next.
FAILED = [
    name
    for name in FOUND
    if subprocess.run([sys.executable, "-m", f"tests.bench.{name}"], check=False).returncode
]
if FAILED:
    print("over a bound:", ", ".join(FAILED))
sys.exit(bool(FAILED) or not FOUND)
