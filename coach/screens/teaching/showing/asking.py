"""What a class is asked."""

from __future__ import annotations

from drills.questions.protocol import Ask

CALL_OUT = "Which pencil would you lay first, which then, and how hard?"


def prompt(asked: Ask) -> str:
    """What is asked of a class: it calls out what is to be built step by step, and what stood
    in the stage before is told, for hands may have said something else."""
    if asked.form == "build":
        return CALL_OUT
    return asked.as_fact
