"""Laying pencils on paper: films, tooth, moves of the hand, and the swatch they come to.

``palette`` makes a set ready, ``predict`` says what moves come to, ``sheet`` is
the paper as it is worked, and ``constants`` holds every number of the model.
"""
