"""What a class is asked."""

from __future__ import annotations

from drills.questions.protocol import Ask

CALL_OUT = "Which pencil would you lay first, which then, and how hard?"
YOU_SAY, IT_IS = "You say ", "It is "
"""How a second stage begins, said to one who chose, and to a class."""


def prompt(asked: Ask) -> str:
    """What is asked of a class: it calls out what is to be built step by step, and what stood
    in the stage before is told, for hands may have said something else."""
    if asked.form == "build":
        return CALL_OUT
    said = asked.prompt.startswith(YOU_SAY)
    return f"{IT_IS}{asked.prompt.removeprefix(YOU_SAY)}" if said else asked.prompt
