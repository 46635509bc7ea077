"""``coach scores``: your own record, and the part of it that you choose to share."""

from coach.commands.scores.group import command

__all__ = ["command"]
