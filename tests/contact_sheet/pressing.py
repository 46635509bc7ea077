"""A state that stands on the screen, and the keys that lead from one to the next."""

from __future__ import annotations

from dataclasses import dataclass

from textual.pilot import Pilot

from coach.app import CoachApp
from tests.pilots import lines, shown, until


@dataclass(frozen=True)
class Seen:
    """A state that stands on the screen of ``pilot``'s app."""

    name: str
    pilot: Pilot[None]

    @property
    def app(self) -> CoachApp:
        app = self.pilot.app
        assert isinstance(app, CoachApp)
        return app


async def settled(pilot: Pilot[None], *words: str, gone: str = "") -> None:
    """Wait until these words stand on the screen, and ``gone`` no more, and it stays as it is."""
    app = pilot.app
    assert isinstance(app, CoachApp)
    await until(
        pilot,
        lambda: all(w in shown(app) for w in words) and not (gone and gone in shown(app)),
    )
    await pressed(pilot)


async def pressed(pilot: Pilot[None], *keys: str) -> None:
    """Press, and wait until what stands on the screen stays as it is."""
    await pilot.press(*keys)
    before: list[str] = []
    for _ in range(20):
        await pilot.pause()
        assert isinstance(pilot.app, CoachApp)
        now = lines(pilot.app)
        if now == before:
            return
        before = now
