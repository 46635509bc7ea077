"""What ``coach doctor`` reports: terminal, record, versions. Nothing private is in it.

No path, no name of a person or a machine, no answer, no pencil: only what is
listed here, so that a report can be pasted into a letter without a second look.
"""

from __future__ import annotations

import os
import platform
import shutil
import sqlite3
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from coach.terminal import colour_depth, has_terminal
from drills.basics.errors import InputError, plain
from scores.record.migrations import LATEST
from scores.upkeep.ages import age_words
from scores.upkeep.backups import hindrance, newest_day
from scores.upkeep.health import Health, health

LEAST_SIZE = (80, 24)
PACKAGES = ("textual", "rich", "click", "numpy", "fsrs", "sqlite-utils", "platformdirs")
TERMINAL_NAMES = (
    "TERM",
    "COLORTERM",
    "TERM_PROGRAM",
    "TERM_PROGRAM_VERSION",
    "TEXTUAL_COLOR_SYSTEM",
)
"""What is told of the environment, and no more."""
BLOCKS, SIGNS = "█▀▄▌▐", "Δ·−×→│─"
"""Characters the screens are made of: each should be one column wide."""


@dataclass(frozen=True)
class Finding:
    """One thing looked at: what was found, and where it is a trouble, the remedy."""

    name: str
    found: str
    trouble: bool = False
    remedy: str = ""


@dataclass(frozen=True)
class Checkup:
    """The whole report, part by part."""

    parts: Mapping[str, tuple[Finding, ...]] = field(default_factory=dict)

    @property
    def troubles(self) -> tuple[Finding, ...]:
        return tuple(finding for part in self.parts.values() for finding in part if finding.trouble)


def check_up(
    path: Path,
    environ: Mapping[str, str] | None = None,
    widths: Mapping[str, int] | None = None,
    today: date | None = None,
) -> Checkup:
    """Look at everything. ``widths`` are columns that the terminal gave to characters.

    ``today`` is the practice day; without one nothing is said of the backups' age.
    """
    environ = os.environ if environ is None else environ
    found = health(path)
    kept = record(found, "COACH_HOME" in environ)
    if today is not None and found.state != "none yet":
        kept += backup(path, found, today)
    return Checkup(
        {
            "Terminal": terminal(environ, widths or {}),
            "Record": kept,
            "Versions": versions(),
            **({"Kinds": kinds} if (kinds := outside()) else {}),
        }
    )


def terminal(environ: Mapping[str, str], widths: Mapping[str, int]) -> tuple[Finding, ...]:
    """Colour, size, characters."""
    found: list[Finding] = []
    try:
        depth = colour_depth(environ)
        found.append(Finding("colour", depth.words, not depth.true_colour, depth.remedy))
    except InputError as error:
        found.append(Finding("colour", str(error), True))
    columns, rows = shutil.get_terminal_size()
    if has_terminal():
        small = columns < LEAST_SIZE[0] or rows < LEAST_SIZE[1]
        remedy = "Make the window larger, or the letters smaller." if small else ""
        found.append(Finding("size", f"{columns} × {rows}", small, remedy))
    else:
        found.append(Finding("size", "no terminal here: sent to a file or a pipe"))
    encoding = (getattr(sys.stdout, "encoding", None) or "unknown").lower()
    odd = encoding.replace("-", "") != "utf8"
    remedy = "Set the locale to UTF-8." if odd else ""
    found.append(Finding("encoding", plain(encoding), odd, remedy))
    found.append(_characters(widths))
    for name in TERMINAL_NAMES:
        if name in environ:
            found.append(Finding(name, plain(environ[name], 40)))
    if "NO_COLOR" in environ:
        found.append(Finding("NO_COLOR", "is set"))
    inside = [word for word, name in (("tmux", "TMUX"), ("screen", "STY")) if name in environ]
    far = "SSH_CONNECTION" in environ or "SSH_TTY" in environ
    found.append(
        Finding("inside", ", ".join([*inside, *(["ssh"] if far else [])]) or "nothing else")
    )
    return tuple(found)


def _characters(widths: Mapping[str, int]) -> Finding:
    if not widths:
        return Finding(
            "characters", "not asked (they can only be measured on a terminal that answers)"
        )
    wide = [char for char, columns in widths.items() if columns != 1]
    if not wide:
        return Finding("characters", "each one column wide, as they should be")
    return Finding(
        "characters",
        f"not one column wide: {' '.join(wide)}",
        True,
        "Set characters of ambiguous width to narrow in the terminal, or take another font.",
    )


def record(found: Health, elsewhere: bool) -> tuple[Finding, ...]:
    """The record's health."""
    where = "where COACH_HOME says" if elsewhere else "in its usual place"
    bad = found.state in ("damaged", "newer", "can't be opened")
    remedies = {
        "damaged": "Keep a copy of the file, then: coach scores rescue",
        "newer": "Update the coach.",
        "can't be opened": "Check the file's rights.",
    }
    lines = [Finding("state", f"{found.state}, {where}", bad, remedies.get(found.state, ""))]
    lines += [Finding("found", fault, True) for fault in found.found]
    if found.state == "none yet":
        lines = [Finding("state", f"none yet ({where})")]
    for name, count in (
        ("answers", found.answers),
        ("skills", found.skills),
        ("days", found.days),
    ):
        if count is not None:
            lines.append(Finding(name, f"{count:,}"))
    if found.schema is not None:
        lines.append(Finding("schema", f"{found.schema} (this coach writes {LATEST})"))
    if found.bytes:
        lines.append(
            Finding("size", f"{found.bytes / 1e6:.1f} MB, log {found.log_bytes / 1e6:.1f} MB")
        )
    if found.aside:
        lines.append(Finding("set aside", f"{found.aside} older files beside it"))
    return tuple(lines)


def backup(path: Path, found: Health, today: date) -> tuple[Finding, ...]:
    """How old the newest backup is; a trouble where days of practice are in none.

    One day may be: the first, or one on which the coach was left at once.
    """
    newest = newest_day(path.parent)
    age = "none yet" if newest is None else age_words(newest, today)
    if newest is not None and newest > today:
        return (Finding("newest backup", age, True, "Set the computer's clock."),)
    since = sum(1 for day in found.practised if newest is None or day > newest)
    if since < 2:
        return (Finding("newest backup", age),)
    why = hindrance(path)
    return (
        Finding(
            "newest backup",
            f"{age}; {since:,} days of practice are in none{f': {why}' if why else ''}",
            True,
            "Mend that, or make a copy elsewhere: coach scores backup FILE"
            if why
            else "Make one now: coach scores backup FILE",
        ),
    )


def versions() -> tuple[Finding, ...]:
    """This program, Python, SQLite, the system, and what it is built on."""
    lines = [
        Finding("coach", _version("coloured-pencil-coach")),
        Finding("python", f"{platform.python_implementation()} {platform.python_version()}"),
        Finding("sqlite", sqlite3.sqlite_version),
        # Not platform.platform(): a kernel may be named after its owner.
        Finding("system", f"{platform.system()} {platform.machine()}"),
    ]
    return (*lines, *(Finding(name, _version(name)) for name in PACKAGES))


def outside() -> tuple[Finding, ...]:
    """Kinds of drill that other packages bring, and each that can't be used, with the reason."""
    from drills.outside import outside_kinds

    kinds, faults = outside_kinds()
    used = [Finding("from a package", f"{name}, version {k.version}") for name, k in kinds.items()]
    remedy = "Update that package, or ask its author."
    return (*used, *(Finding("left out", fault, True, remedy) for fault in faults))


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return "not found"
