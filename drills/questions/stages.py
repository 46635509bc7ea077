"""How a question's second stage tells what was said in the first."""

from __future__ import annotations

YOU_SAY, IT_IS = "You say ", "It is "


def told_as_fact(prompt: str) -> str:
    """A stage's prompt for those who said nothing themselves: "It is red." for "You say red."."""
    return f"{IT_IS}{prompt.removeprefix(YOU_SAY)}" if prompt.startswith(YOU_SAY) else prompt
