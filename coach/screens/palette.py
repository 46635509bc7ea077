"""Textual's command palette, which takes nothing more either once it is leaving."""

from __future__ import annotations

from textual.command import CommandList, CommandPalette

from coach.screens.base import CoachScreen


class CommandsScreen(CommandPalette, CoachScreen[None]):
    """Every command by name."""

    def _action_command_list(self, action: str) -> None:
        # The list can't tell its lines while it has no room for one.
        if self.query_one(CommandList).scrollable_content_region.height:
            super()._action_command_list(action)
