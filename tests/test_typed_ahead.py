"""Keys, clicks and pastes that arrive together: what is leaving takes no more of them."""

from __future__ import annotations

from pathlib import Path

import pytest

pytest.importorskip("pty", reason="no pseudo-terminals here")

from tests.pseudo_terminal import COACH, Terminal, surroundings
from tests.ways import SCREENS, furnish, go, home_for

PRESS, RELEASE = "\x1b[<0;{0};{1}M", "\x1b[<0;{0};{1}m"
LEAVE_AT = (4, 24)
"""A cell of the hints at the foot."""


def bursts() -> dict[str, bytes]:
    """Each leaves the screen, and goes on in the same write."""
    click = (PRESS + RELEASE).format(*LEAVE_AT)
    paste = "\x1b[200~#2f5d62\x1b[201~"
    ways = {
        "q, another screen": "q?",
        "q, Enter": "q\r",
        "q twice": "qq",
        "Escape twice, then more": "\x1b\x1b\x1b[A\r",
        "Enter twice": "\r\r",
        "there and back": "?q\x1b",
        "clicks": f"q{click}{click}",
        "a paste": f"q{paste}\r\r",
        "all at once": f"qgwshc?\x10k{click}{paste}22\r",
    }
    return {name: keys.encode() for name, keys in ways.items()}


EVERYWHERE = "all at once"
"""What is tried on every screen; the others are tried on the first one."""


@pytest.mark.parametrize(
    ("screen", "name"),
    [(screen, EVERYWHERE) for screen in SCREENS]
    + [("today", name) for name in bursts() if name != EVERYWHERE],
)
def test_what_is_typed_ahead_ends_in_no_fault(tmp_path: Path, screen: str, name: str) -> None:
    home = home_for(screen, tmp_path)
    with Terminal(COACH, surroundings(home)) as terminal:
        go(terminal, screen)
        terminal.write(bursts()[name])
        assert leave(terminal) == 0, terminal.output[-2000:]
        assert terminal.restored
        assert not list(home.glob("crash-*"))


def leave(terminal: Terminal) -> int:
    """Ctrl+Q again whenever nothing more comes (it may fall on a screen that is leaving)."""
    while terminal.process.poll() is None:
        if not terminal.read():
            terminal.press("\x11")
    return terminal.until_gone()


def test_a_pencil_is_taken_once_though_enter_is_pressed_twice(tmp_path: Path) -> None:
    """What a widget tells its screen may come after the screen was dismissed."""
    furnish(tmp_path)
    with Terminal(COACH, surroundings(tmp_path)) as terminal:
        terminal.until_text("skills met")
        # Once only: a second c would land in the field.
        terminal.press("c")
        terminal.until_text("A plan for a colour")
        terminal.press("#2f5d62")
        terminal.press_until("\r", "A plan for a colour ·")
        terminal.press_until("s", "another pencil in its place")
        terminal.press("\r" * 4)
        terminal.until_text("A plan for a colour")
        terminal.press_until("\x1b", "skills met")
        assert leave(terminal) == 0
        assert not list(tmp_path.glob("crash-*"))
