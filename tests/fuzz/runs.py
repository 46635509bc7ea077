"""Running fuzzed command lines, and what is found wrong with each."""

from __future__ import annotations

import io
import os
import random
import re
import signal
import subprocess
import sys
import tempfile
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import unquote, urlsplit

from coach.running.entry import main
from tests.fuzz.lines import Line, lines
from tests.fuzz.scene import Scene, answers_in, snapshot
from tests.fuzz.sheets import LIE
from tests.pseudo_terminal import COACH, ROOT, surroundings

LONGEST_S = 20
"""After so long a command is taken to hang."""
SAMPLE = 50
"""One in so many is run as a process of its own."""
OURS = re.compile(r"(record|class)[-.\w]*|backups(/.*)?")
_RAW = re.compile(rb"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]|\r(?!\n)|\xc2[\x80-\x9f]")


@dataclass(frozen=True)
class Ran:
    """How a command ended: ``status`` is None where it hung; ``trace`` of what it raised."""

    status: int | None
    out: bytes
    err: bytes
    trace: str = ""


@dataclass
class Found:
    """What was counted over all lines."""

    ran: int = 0
    as_processes: int = 0
    statuses: Counter[int | None] = field(default_factory=Counter)
    commands: Counter[str] = field(default_factory=Counter)
    faults: list[tuple[Line, str]] = field(default_factory=list)


def fuzz(folder: Path, count: int, seed: int, tell: Callable[[Line, str], None]) -> Found:
    """Run so many command lines in ``folder`` and judge each; ``tell`` what is wrong at once."""
    scene = Scene(folder)
    found = Found()
    rng = random.Random(seed)
    for number, line in enumerate(lines(scene.root, count, seed)):
        scene.set_home(line.home, rng)
        held, theirs = answers_in(scene.home), _theirs(scene.home)
        before = _repository()
        wrote: list[str] = []
        if number % SAMPLE == SAMPLE - 1:
            ran = run_process(scene, line)
            found.as_processes += 1
        else:
            with watched(scene.root, wrote):
                ran = run_here(scene, line)
        found.ran += 1
        found.statuses[ran.status] += 1
        found.commands[line.command] += 1
        wrong = [*judged(line, ran), *(f"wrote outside: {path}" for path in wrote)]
        wrong += [f"changed: {name}" for name in scene.changed() if not _forced(line, name)]
        after = _theirs(scene.home)
        wrong += [
            f"changed in the home: {name}" for name in theirs if after.get(name) != theirs[name]
        ]
        if "forget" not in line.words and held - answers_in(scene.home):
            wrong.append("answers lost")
        if before != _repository():
            wrong.append("changed the checkout")
        found.faults += [(line, one) for one in wrong]
        for one in wrong:
            tell(line, one)
    return found


def _forced(line: Line, name: str) -> bool:
    """Whether a line asked for this very file to be written over."""
    named = {os.path.basename(word) for word in line.words}
    return "--force" in line.words and os.path.basename(name) in named


def judged(line: Line, ran: Ran) -> Iterator[str]:
    """What is wrong with how a command ended."""
    if ran.status is None:
        yield "hung"
    elif ran.trace or b"Traceback" in ran.err:
        yield "traceback: " + (ran.trace or ran.err.decode("utf-8", "replace"))
    elif ran.status not in (0, 1, 2):
        yield f"status {ran.status}"
    elif ran.status == 2 and not ran.err:
        yield "status 2 and not a word"
    if _believed(line, ran):
        yield "believed a sheet whose codes lie"
    raw = _RAW.search(ran.out + ran.err)
    if raw:
        yield f"raw control bytes shown: {raw[0]!r}"
    for word in ran.err.splitlines() if ran.status == 2 else ():
        if not word.startswith(b"coach: ") and not word.endswith(b" is written."):
            yield f"an odd line: {word[:200]!r}"


def _believed(line: Line, ran: Ran) -> bool:
    """Whether photos were read, one of them of a lying sheet, and none of them was refused."""
    lying = any(os.path.basename(word).startswith(LIE) for word in line.words)
    read = line.command == "pencils photo" and b"Sheet " in ran.out
    return lying and read and b"Not read: " not in ran.out + ran.err


def run_here(scene: Scene, line: Line) -> Ran:
    """Run a command in this process, as ``coach`` is run."""
    streams = [io.TextIOWrapper(io.BytesIO(text), "utf-8") for text in (line.typed, b"", b"")]
    kept = sys.argv, sys.stdin, sys.stdout, sys.stderr, os.getcwd(), dict(os.environ)
    os.environ.update(_environ(scene))
    os.chdir(scene.here)
    os.umask(0o022)
    sys.argv = ["coach", *line.words]
    sys.stdin, sys.stdout, sys.stderr = streams
    status: int | None = 0
    trace = ""
    # A command that can't say anything lets what is left go nowhere, by the descriptor.
    shown = os.dup(1)
    old = signal.signal(signal.SIGALRM, _hung)
    signal.alarm(LONGEST_S)
    try:
        main()
    except SystemExit as end:
        status = end.code if isinstance(end.code, int) else int(end.code is not None)
    except HungError:
        status = None
    except BaseException:
        trace = traceback.format_exc()
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, old)
        os.dup2(shown, 1)
        os.close(shown)
        sys.argv, sys.stdin, sys.stdout, sys.stderr = kept[:4]
        os.chdir(kept[4])
        os.environ.clear()
        os.environ.update(kept[5])
    said = []
    for stream in streams[1:]:
        if stream.closed:
            said.append(b"")
            continue
        stream.flush()
        said.append(stream.buffer.getvalue())  # type: ignore[attr-defined]
    return Ran(status, said[0], said[1], trace)


def run_process(scene: Scene, line: Line) -> Ran:
    """Run a command as a process of its own."""
    try:
        done = subprocess.run(
            [*COACH, *(os.fsencode(word) for word in line.words)],
            input=line.typed,
            capture_output=True,
            env={**surroundings(scene.home), **_environ(scene)},
            cwd=scene.here,
            timeout=LONGEST_S,
        )
    except subprocess.TimeoutExpired:
        return Ran(None, b"", b"")
    return Ran(done.returncode, done.stdout, done.stderr)


class HungError(BaseException):
    """A command took too long."""


def _hung(number: int, frame: object) -> None:
    raise HungError


def _environ(scene: Scene) -> dict[str, str]:
    return {
        "COACH_HOME": str(scene.home),
        "HOME": str(scene.root / "person"),
        "TMPDIR": str(scene.root / "tmp"),
        "PYTHONPATH": str(ROOT),
    }


def _theirs(home: Path) -> dict[str, tuple[int, int, int, int]]:
    """What is in the home and not the coach's own."""
    if not home.exists():
        return {}
    if not home.is_dir():
        return snapshot(home)
    found = snapshot(home)
    return {
        name: about
        for name, about in found.items()
        if name != str(home) and not OURS.fullmatch(str(Path(name).relative_to(home)))
    }


def _repository() -> tuple[str, ...]:
    return tuple(sorted(path.name for path in ROOT.iterdir()))


# What this process writes, as Python's audit events tell it.

_watching: tuple[Path, list[str]] | None = None
_hooked = False
_CHANGES = {
    *("os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.link", "os.symlink", "os.chmod"),
    *("os.truncate", "os.chown", "os.utime", "sqlite3.connect"),
}


@contextmanager
def watched(root: Path, wrote: list[str]) -> Iterator[None]:
    """Add to ``wrote`` the paths outside ``root`` that are opened for writing or changed."""
    global _watching, _hooked
    if not _hooked:
        sys.addaudithook(_heard)
        _hooked = True
    tempfile.tempdir = str(root / "tmp")
    _watching = (root, wrote)
    try:
        yield
    finally:
        _watching = None
        tempfile.tempdir = None


def _heard(event: str, args: tuple[object, ...]) -> None:
    if _watching is None:
        return
    if event == "open":
        path, _, flags = args
        if not isinstance(flags, int) or not flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT):
            return
        named = [path]
    elif event in _CHANGES:
        named = list(args[:2]) if event in ("os.rename", "os.link") else [args[0]]
    else:
        return
    root, wrote = _watching
    for name in named:
        if not isinstance(name, str | bytes | os.PathLike):
            continue
        text = os.fsdecode(name)
        if text.startswith("file:"):
            if "mode=ro" in text:
                continue
            text = unquote(urlsplit(text).path)
        path = Path(os.path.abspath(text))
        allowed = text in ("", ":memory:", os.devnull, "/dev/full") or "__pycache__" in text
        if not allowed and not path.is_relative_to(root):
            wrote.append(f"{event} {path}")
