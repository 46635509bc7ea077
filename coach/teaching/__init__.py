"""What goes to a teacher and what comes from one: no screen, no terminal."""

REPLIES = "replies"
"""The setting that holds what teachers replied: here, so that a start without any loads no more."""
