"""``python -m tests.bench``: every table of speed, one after another (or only those named)."""

from __future__ import annotations

import pkgutil
import subprocess
import sys

import tests.bench

WANTED = sys.argv[1:]
ONLY_IF_NAMED = {"bench_repeat"}
"""Takes an hour, and measures no speed."""
FOUND = [
    module.name
    for module in pkgutil.iter_modules(tests.bench.__path__)
    if module.name.startswith("bench_")
    and (
        module.name not in ONLY_IF_NAMED
        if not WANTED
        else module.name.removeprefix("bench_") in WANTED
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
