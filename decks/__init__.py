"""Decks: practice that a teacher assigns, as one file that a student adds.

``deck`` is what a deck holds, ``read`` makes one of a file and finds what is
wrong with it, ``pack`` writes one, ``starters`` are the decks shipped.
"""

PART_OF = "coloured-pencil-coach"
"""Whose package this is: others of its name may lie beside it (``coach.__main__`` looks)."""
