"""How many small faults the tests notice: ``python -m tests.bench mutants``.

Faults (``tests.bench.mutation.faults``) are put one at a time in a scratch copy, and the tests of
their part run until one fails. A sample of each group is tried, the same for the same seed; a run
that takes too long counts as killed. Faults that change nothing anyone could see are listed with
the reason in ``mutation/equivalents.toml`` and not counted. It takes an hour or so the first time
and is run only when named; ``python -m tests.bench.bench_mutants --help`` says how to try one
group, one module, another sample or every fault.

Why not a kept tool: of two tried or read, one leaves what stands outside functions alone, which is
where tuned constants stand; the other leaves out no statement and no result, and starts a cold
process a fault.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import sys
import tempfile
import tomllib
from pathlib import Path

from tests.bench.mutation.faults import Fault, faults_in
from tests.bench.mutation.groups import GROUPS
from tests.bench.mutation.runs import Copy

BAR = 0.85
SAMPLE = 40
EQUIVALENTS = Path(__file__).parent / "mutation" / "equivalents.toml"


def equivalents() -> dict[str, str]:
    """Why each fault that changes nothing is left out, by its key."""
    listed = tomllib.loads(EQUIVALENTS.read_text())["fault"]
    return {
        f"{one['path']} | {one['where']} | {one['old']} | {one['new']}": one["reason"]
        for one in listed
    }


def faults_of(copy: Copy, group: str) -> list[tuple[Fault, tuple[str, ...]]]:
    """Every fault of a group, each with the tests that must notice it."""
    found: dict[str, list[tuple[Fault, tuple[str, ...]]]] = {}
    for part in GROUPS[group]:
        for path in copy.modules(part.modules):
            if path not in found:
                source = copy.module_source(path)
                found[path] = [(fault, part.tests) for fault in faults_in(path, source)]
    return [each for path in sorted(found) for each in found[path]]


def sample(
    faults: list[tuple[Fault, tuple[str, ...]]], count: int, seed: int
) -> list[tuple[Fault, tuple[str, ...]]]:
    """So many of them, which change little when the code does."""

    def place(each: tuple[Fault, tuple[str, ...]]) -> bytes:
        return hashlib.sha256(f"{seed} {each[0].key}".encode()).digest()

    return sorted(faults, key=place)[:count]


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.bench_mutants")
    parser.add_argument("groups", nargs="*", metavar="GROUP", help=", ".join(GROUPS))
    parser.add_argument("--sample", type=int, default=SAMPLE, help="faults a group (%(default)s)")
    parser.add_argument("--all", action="store_true", help="every fault")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--module", default="", help="only modules whose path has this in it")
    usual = Path(tempfile.gettempdir()) / f"coach-mutants-{os.getuid()}.json"
    parser.add_argument("--kept", type=Path, default=usual, help="what was found (%(default)s)")
    wanted = parser.parse_args()
    if unknown := set(wanted.groups) - set(GROUPS):
        parser.error(f"no such group: {', '.join(sorted(unknown))}")
    known, missed = equivalents(), []
    with Copy(wanted.kept) as copy:
        print(f"{'group':12}{'killed':>8}{'total':>8}{'share':>8}   of")
        for group in wanted.groups or GROUPS:
            every = [each for each in faults_of(copy, group) if wanted.module in each[0].path]
            counted = [each for each in every if each[0].key not in known]
            tried = counted if wanted.all else sample(counted, wanted.sample, wanted.seed)
            survivors = []
            for fault, tests in sorted(tried, key=lambda each: (each[0].path, each[0].start)):
                if not copy.try_fault(fault, tests).killed:
                    survivors.append(fault)
                    print(f"  {fault.path}:{fault.line}  {fault.old}  →  {fault.new}", flush=True)
            killed = len(tried) - len(survivors)
            share = killed / len(tried) if tried else 1.0
            of = f"{len(counted)} ({len(every) - len(counted)} equivalent)"
            print(f"{group:12}{killed:>8}{len(tried):>8}{share:>8.0%}   {of}", flush=True)
            if share < BAR:
                missed.append(group)
    if missed:
        print(f"under {BAR:.0%}: {', '.join(missed)}")
    return bool(missed)


if __name__ == "__main__":
    sys.exit(main())
