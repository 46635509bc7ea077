"""``coach teacher``: ask a teacher about a colour, take in what comes back, read it."""

from coach.commands.teacher.group import command

__all__ = ["command"]
