"""``coach pencils``: the pencils one owns."""

from coach.commands.pencils.group import command

__all__ = ["command"]
