"""What the screen makes of colours: a list of screens known, and a look that measures one."""

from coach.screens.display.room import DisplayScreen

__all__ = ["DisplayScreen"]
