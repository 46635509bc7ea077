"""Runs the tests of a part against a copy of the tree with one fault in it.

Each run is a fork of this process, which has imported pytest and what is heavy and not ours;
the fork imports our modules afresh from the copy. What was found is kept by content: a fault
killed stays killed while the code and the file of the test that killed it are the same, and one
that survived has survived while the code and all tests of its part are.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import resource
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.bench.mutation.faults import Fault

ROOT = Path(__file__).resolve().parents[3]
OURS = ("coach", "decks", "drills", "scores", "tests")
HEAVY = ("numpy", "pytest", "_pytest.assertion.rewrite", "hypothesis", "fsrs", "sqlite_utils")
"""Imported once, before the forks."""
TIMES, AT_LEAST_S, WALL = 4, 20, 12
"""Processor time a run may take: so many times what the sound code takes, and at least so many
seconds; and so many times that by the clock. What takes longer counts as killed."""
MEMORY = 6 * 2**30
"""Bytes of address space a run may take."""


@dataclass(frozen=True)
class Outcome:
    """``killed_by``: the test that failed, or what else ended it; empty if none noticed."""

    killed_by: str

    @property
    def killed(self) -> bool:
        return bool(self.killed_by)


class _FirstFailure:
    """A pytest plugin that keeps the id of the first test or file that fails."""

    def __init__(self) -> None:
        self.node = ""

    def pytest_runtest_logreport(self, report: Any) -> None:
        if report.failed and not self.node:
            self.node = report.nodeid

    def pytest_collectreport(self, report: Any) -> None:
        if report.failed and not self.node:
            self.node = f"import of {report.nodeid}"


class Copy:
    """A scratch copy of the tree, in which one fault at a time is put. Use as a context."""

    def __init__(self, cache: Path) -> None:
        self._cache_file = cache
        self._cache = self._kept()
        self._limits: dict[tuple[str, ...], float] = {}

    def __enter__(self) -> Copy:
        os.environ["OPENBLAS_NUM_THREADS"] = "1"
        for name in HEAVY:
            with contextlib.suppress(ImportError):
                __import__(name)
        self.folder = Path(tempfile.mkdtemp(prefix="mutants-"))
        self.tree = self.folder / "tree"
        skip = shutil.ignore_patterns("__pycache__", ".*")
        for name in OURS:
            shutil.copytree(ROOT / name, self.tree / name, ignore=skip)
        for path in ROOT.iterdir():
            if path.is_file() and not path.name.startswith("."):
                shutil.copy(path, self.tree)
        code = (p for name in OURS[:-1] for p in sorted((self.tree / name).rglob("*.py")))
        self._code = _digest(path.read_bytes() for path in code)
        self._helpers = _digest(p.read_bytes() for p in sorted((self.tree / "tests").glob("*.py")))
        return self

    def __exit__(self, *_: object) -> None:
        shutil.rmtree(self.folder, ignore_errors=True)

    def module_source(self, path: str) -> bytes:
        return (self.tree / path).read_bytes()

    def modules(self, patterns: Iterable[str]) -> list[str]:
        """Paths of the modules that these patterns name, from the root."""
        found = {path for pattern in patterns for path in self.tree.glob(pattern)}
        return sorted(path.relative_to(self.tree).as_posix() for path in found)

    def try_fault(self, fault: Fault, tests: tuple[str, ...]) -> Outcome:
        """Whether these tests notice. Raises RuntimeError where they fail without a fault."""
        fault_key = _digest([self._code.encode(), fault.key.encode()])
        kept = self._cache.get(fault_key, {})
        first = kept.get("killed_by", "")
        if kept and self._still_holds(kept, first, tests):
            return Outcome(first)
        limit = self._limit(tests)
        path = self.tree / fault.path
        sound, times = path.read_bytes(), path.stat()
        path.write_bytes(fault.put_in(sound))
        try:
            killed_by = ""
            if "::" in first:
                killed_by = self._run((first,), limit, missing_is_fine=True)[0]
            if not killed_by:
                killed_by = self._run(tests, limit)[0]
        finally:
            path.write_bytes(sound)
            os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))
        self._keep(fault_key, killed_by, tests)
        return Outcome(killed_by)

    # --- what is kept

    def _kept(self) -> dict[str, dict[str, str]]:
        try:
            found: dict[str, dict[str, str]] = json.loads(self._cache_file.read_text())
        except (OSError, ValueError):
            return {}
        return found

    def _test_hash(self, paths: Iterable[str]) -> str:
        files: list[Path] = []
        for name in paths:
            path = self.tree / name
            files += sorted(path.rglob("*.py")) if path.is_dir() else [path]
        return _digest([self._helpers.encode(), *(p.read_bytes() for p in files if p.is_file())])

    def _noticing(self, killed_by: str, tests: tuple[str, ...]) -> tuple[str, ...]:
        return (killed_by.split("::")[0],) if "::" in killed_by else tests

    def _still_holds(self, kept: dict[str, str], killed_by: str, tests: tuple[str, ...]) -> bool:
        return kept["tests"] == self._test_hash(self._noticing(killed_by, tests))

    def _keep(self, key: str, killed_by: str, tests: tuple[str, ...]) -> None:
        tests_hash = self._test_hash(self._noticing(killed_by, tests))
        # Another run may have added to it meanwhile.
        self._cache = self._kept() | self._cache
        self._cache[key] = {"killed_by": killed_by, "tests": tests_hash}
        self._cache_file.parent.mkdir(parents=True, exist_ok=True)
        beside = self._cache_file.with_suffix(".new")
        beside.write_text(json.dumps(self._cache))
        beside.replace(self._cache_file)

    # --- runs

    def _limit(self, tests: tuple[str, ...]) -> float:
        if tests not in self._limits:
            killed_by, took = self._run(tests, 3600.0, keep_compiled=True)
            if killed_by:
                raise RuntimeError(f"without a fault: {killed_by}")
            self._limits[tests] = max(AT_LEAST_S, TIMES * took)
        return self._limits[tests]

    def _run(
        self,
        tests: tuple[str, ...],
        limit: float,
        missing_is_fine: bool = False,
        keep_compiled: bool = False,
    ) -> tuple[str, float]:
        """What ended the tests (empty: nothing) and the processor seconds they took."""
        said = self.folder / "said"
        said.write_text("")
        child = os.fork()
        if not child:
            self._be_pytest(tests, limit, said, keep_compiled)
        until = time.monotonic() + WALL * limit
        while True:
            ended, status, used = os.wait4(child, os.WNOHANG)
            if ended:
                break
            if time.monotonic() > until:
                os.killpg(child, signal.SIGKILL)
            time.sleep(0.02)
        with contextlib.suppress(ProcessLookupError, PermissionError):
            os.killpg(child, signal.SIGKILL)  # what its tests started and left
        took = used.ru_utime + used.ru_stime
        code = os.waitstatus_to_exitcode(status)
        if code == 0 or (missing_is_fine and code in (4, 5)):
            return "", took
        if code < 0:
            return "took too long" if code in (-signal.SIGKILL, -signal.SIGXCPU) else "died", took
        return said.read_text() or f"pytest ended with {code}", took

    def _be_pytest(
        self, tests: tuple[str, ...], limit: float, said: Path, keep_compiled: bool
    ) -> None:
        """In the fork: become a pytest of the copy, and never return."""
        code = 70
        try:
            os.setsid()
            resource.setrlimit(resource.RLIMIT_CPU, (int(limit) + 1, int(limit) + 6))
            resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
            nothing = os.open(os.devnull, os.O_RDWR)
            for stream in (0, 1, 2):
                os.dup2(nothing, stream)
            os.chdir(self.tree)
            for name in [n for n in sys.modules if n.split(".")[0] in OURS]:
                del sys.modules[name]
            sys.path[:] = [str(self.tree), *(p for p in sys.path if p not in ("", str(ROOT)))]
            sys.dont_write_bytecode = not keep_compiled
            import pytest

            first = _FirstFailure()
            options = ["-x", "-q", "-p", "no:cacheprovider", "-p", "no:xdist"]
            options += ["-o", "tmp_path_retention_policy=none"]
            options += ["--basetemp", str(self.folder / "tests-write-here")]
            code = int(pytest.main([*options, *tests], plugins=[first]))
            said.write_text(first.node)
        finally:
            os._exit(code)


def _digest(parts: Iterable[bytes]) -> str:
    made = hashlib.sha256()
    for part in parts:
        made.update(hashlib.sha256(part).digest())
    return made.hexdigest()
