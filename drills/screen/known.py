"""How well a screen is known."""

from __future__ import annotations

from typing import Literal, TypeAlias

ScreenKnown: TypeAlias = bool | Literal["by eye"]
"""True: measured, by a profile or for a reader of numbers; "by eye": matched by the eye, which is
some hundredths of a power off; False: nothing is known of it."""
