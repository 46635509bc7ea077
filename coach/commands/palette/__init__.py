"""``coach palette``: which of your pencils to take out for a picture."""

from coach.commands.palette.picture import command

__all__ = ["command"]
