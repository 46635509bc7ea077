"""Decks: practice that a teacher assigns, as one file that a student adds.

``deck`` is what a deck holds, ``read`` makes one of a file and finds what is
wrong with it, ``pack`` writes one, ``starters`` are the decks shipped.
"""
