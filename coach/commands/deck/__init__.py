"""``coach deck``: write a deck, look it over, pack it; add one that came, list and drop them."""

from coach.commands.deck.group import command

__all__ = ["command"]
