"""Textual's command palette, which takes nothing more either once it is leaving."""

from __future__ import annotations

from textual.command import CommandPalette

from coach.screens.base import CoachScreen


class Palette(CommandPalette, CoachScreen[None]):
    """Every command by name."""
