"""Time spent practising, pauses left out."""

from __future__ import annotations

from collections.abc import Callable

LEFT_AFTER_S = 240.0
"""Seconds of one question, example or reveal after which the table was left: more take nothing of a
session's time. Our estimate."""


class Stopwatch:
    """Counts from when it is made. ``timer`` gives seconds that only rise."""

    def __init__(self, timer: Callable[[], float]) -> None:
        self._timer = timer
        self._started = timer()
        self._paused_at: float | None = None
        self._paused_s = 0.0

    @property
    def elapsed(self) -> float:
        """Seconds, pauses left out."""
        until = self._timer() if self._paused_at is None else self._paused_at
        return max(0.0, until - self._started - self._paused_s)

    @property
    def paused(self) -> bool:
        return self._paused_at is not None

    def pause(self) -> None:
        """Stop the time; a second call changes nothing."""
        if self._paused_at is None:
            self._paused_at = self._timer()

    def resume(self) -> None:
        """Let the time run on."""
        if self._paused_at is not None:
            self._paused_s += max(0.0, self._timer() - self._paused_at)
            self._paused_at = None

    def leave_out(self, seconds: float) -> None:
        """Count so many seconds less; none where that is under nought."""
        self._paused_s += max(0.0, seconds)

    def looked_at(self, since: float) -> None:
        """What was shown at ``since`` gives way: of what was left open, no more than
        ``LEFT_AFTER_S`` is counted."""
        self.leave_out(self.elapsed - since - LEFT_AFTER_S)
