"""Thousands of keys, clicks, pastes, resizes and stray bytes in real terminals: does it stand?

``python -m tests.bench monkey`` counts; exit status 1 for a traceback, a screen that no
longer answers, or a process left behind. Events are drawn from a seed.
"""

from __future__ import annotations

import fcntl
import os
import random
import signal
import struct
import sys
import tempfile
import termios
from collections import Counter
from pathlib import Path

from tests.pseudo_terminal import COACH, Terminal, surroundings
from tests.ways import SCREENS, go, home_for

EVENTS, A_SESSION = 5_000, 250
LOOK_EVERY = 25
"""Events between two looks at whether the screen still answers."""
KEYS = (
    *"0123456789abcdefghijklmnoprstuvwxyzABCXYZ?!/+-= #",
    *("\r", "\x1b", "\t", "\x7f", "\x10", "\x1b[A", "\x1b[B", "\x1b[C", "\x1b[D", "\x1b[5~"),
    *("\x1b[6~", "\x1b[H", "\x1b[F", "\x1bOP", "\x1b[Z", "é", "色", "\U0001f58d"),
)
SIZES = ((80, 24), (120, 40), (40, 10), (200, 60), (81, 25), (20, 5), (1, 1))


def event(rng: random.Random) -> tuple[str, bytes | tuple[int, int]]:
    """What comes next: its sort, and the bytes or the new size."""
    sort = rng.choices(("key", "mouse", "paste", "resize", "bytes"), (70, 12, 4, 4, 10))[0]
    if sort == "key":
        return sort, "".join(rng.choices(KEYS, k=rng.choice((1, 1, 1, 2, 5)))).encode()
    if sort == "mouse":
        x, y, button = rng.randrange(1, 130), rng.randrange(1, 45), rng.choice((0, 0, 2, 64, 65))
        return sort, f"\x1b[<{button};{x};{y}M\x1b[<{button};{x};{y}m".encode()
    if sort == "paste":
        text = bytes(rng.choices(range(32, 127), k=rng.randrange(1, 400)))
        return sort, b"\x1b[200~" + text + b"\x1b[201~"
    if sort == "resize":
        return sort, rng.choice(SIZES)
    legacy = b"\x1b[M" + bytes(rng.choices(range(32, 256), k=3))
    return sort, rng.choice((legacy, rng.randbytes(rng.randrange(1, 6))))


def give(terminal: Terminal, what: bytes | tuple[int, int]) -> None:
    """Write bytes to the terminal, or change its size."""
    if isinstance(what, bytes):
        # Ctrl-Q and Ctrl-C end it rightly; here it is to stay.
        os.write(terminal.master, what.translate(None, b"\x11\x03\x1a\x1c"))
        return
    columns, rows = what
    size = struct.pack("HHHH", rows, columns, 0, 0)
    fcntl.ioctl(terminal.master, termios.TIOCSWINSZ, size)
    terminal.process.send_signal(signal.SIGWINCH)


def answers(terminal: Terminal) -> bool:
    """Whether it draws again when its size changes, or has ended."""
    while terminal.read():
        pass
    seen = len(terminal.output)
    for size in ((90, 30), (80, 24)) * 10:
        if terminal.process.poll() is not None:
            return True
        give(terminal, size)
        for _ in range(30):
            if terminal.read() and len(terminal.output) > seen:
                return True
    return False


def session(screen: str, seed: int, events: int, counts: Counter[str]) -> None:
    """From one screen on, so many events; what went wrong is counted."""
    rng = random.Random(seed)
    with tempfile.TemporaryDirectory() as folder:
        home = home_for(screen, Path(folder) / "home")
        with Terminal(COACH, surroundings(home)) as terminal:
            go(terminal, screen)
            # From here on what is written is kept, and drawn nowhere: the sizes change.
            terminal.draws = False
            for number in range(events):
                if terminal.process.poll() is not None:
                    counts["ended by itself"] += 1
                    break
                sort, what = event(rng)
                counts[sort] += 1
                counts["events"] += 1
                give(terminal, what)
                terminal.read()
                if number % LOOK_EVERY == LOOK_EVERY - 1 and not answers(terminal):
                    counts["stuck"] += 1
                    break
            for _ in range(20):
                if terminal.process.poll() is not None:
                    break
                os.write(terminal.master, b"\x11")
                terminal.read()
            else:
                counts["not ended"] += 1
            ended = terminal.process.poll() is not None
            while ended and terminal.read():
                pass
            wrong = b"Traceback" in terminal.output or bool(list(home.glob("crash-*")))
            if wrong:
                counts["faults"] += 1
                for file in home.glob("crash-*"):
                    print(file.read_text(encoding="utf-8")[-1500:])
            counts["terminals not given back"] += bool(ended and not terminal.restored)


def main(events: int = EVENTS, seed: int = 1) -> int:
    """Print what was counted; how many things went wrong."""
    counts: Counter[str] = Counter()
    turn = 0
    while counts["events"] < events:
        screen = SCREENS[turn % len(SCREENS)]
        session(screen, seed * 1000 + turn, min(A_SESSION, events - counts["events"]), counts)
        turn += 1
    bad = ("faults", "stuck", "not ended", "terminals not given back")
    for name, count in sorted(counts.items()):
        print(f"{name:26} {count:6}")
    wrong = sum(counts[name] for name in bad)
    print(f"{turn} sessions, {counts['events']} events: {wrong} went wrong")
    return wrong


if __name__ == "__main__":
    sys.exit(bool(main(*map(int, sys.argv[1:]))))
