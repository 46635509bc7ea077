"""``coach class``: merge what students sent, see who needs what, report and export it."""

from coach.commands.class_.group import command

__all__ = ["command"]
