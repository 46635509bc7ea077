"""How much of the session is spent: one quiet line, no colour, no countdown alarm."""

from __future__ import annotations

from textual.reactive import reactive
from textual.widgets import Static


def bar(share: float, cells: int) -> str:
    """A bar of ``cells`` cells with ``share`` (0–1) of it filled."""
    filled = round(min(1.0, max(0.0, share)) * cells)
    return "━" * filled + "┄" * (cells - filled)


class TimeBar(Static):
    """``spent_s`` of ``total_s`` seconds, and whether the clock is stopped."""

    DEFAULT_CSS = "TimeBar { height: 1; width: 34; text-align: right; padding: 0 2; }"

    spent_s: reactive[float] = reactive(0.0)
    total_s: reactive[float] = reactive(600.0)
    paused: reactive[bool] = reactive(False)

    def render(self) -> str:
        left = max(0.0, self.total_s - self.spent_s)
        words = "paused" if self.paused else f"{_minutes(left)} left" if left else "time is up"
        return f"{bar(self.spent_s / max(1.0, self.total_s), 16)}  {words}"


def _minutes(seconds: float) -> str:
    return f"{round(seconds / 60)} min" if seconds >= 90 else "1 min" if seconds >= 30 else "½ min"
