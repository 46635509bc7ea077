"""Errors a person can act on: one line that names the place, the fault and the remedy."""

from __future__ import annotations

import unicodedata


def plain(text: str, limit: int = 80) -> str:
    """Make text from a stranger's file safe to show on a terminal, on one line.

    Control and format characters (escape codes, bidirectional overrides, line
    breaks, lone surrogates) become a visible middle dot, and text over
    ``limit`` characters is cut with an ellipsis. Markup is not touched: screens
    show such text with markup switched off.
    """
    shown = "".join(
        "·" if unicodedata.category(char) in {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"} else char
        for char in text[: limit + 1]
    )
    return shown if len(shown) <= limit else shown[: limit - 1] + "…"


class InputError(ValueError):
    """Something the user gave can't be used.

    ``where`` names the file and place (already plain), ``problem`` what is
    wrong there, ``remedy`` what to do. ``str()`` is one line.
    """

    def __init__(self, where: str, problem: str, remedy: str = "") -> None:
        self.where = where
        self.problem = problem
        self.remedy = remedy
        tail = f" {remedy}" if remedy else ""
        super().__init__(f"{where}: {problem}.{tail}")
