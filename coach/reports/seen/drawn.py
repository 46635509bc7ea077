"""What is drawn of a threshold then and now, worked out; light, for screens import it at start."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from drills.questions.apart import Apart

TOO_FINE = "too fine for a screen of 8 bits"


@dataclass(frozen=True)
class Pair:
    """Two swatches and their words; ``apart`` is None where the screen can't show the step."""

    words: str
    apart: Apart | None


@dataclass(frozen=True)
class Seen:
    """One drill: its pair then, and its pair today."""

    title: str
    then: Pair
    now: Pair
