"""What is said of a screen."""

from __future__ import annotations

from coach.this_screen.kept import Known

ABOUT = """\
Screens differ: on one whose channels differ by a tenth of a power, every third grey leans \
another way. What is drawn is corrected for the screen you name here. On one that is not known, \
hues are asked only where such faults can't turn them."""
NOTHING = "nothing known: drawn for sRGB"
IN_BROWSER = "In a browser, a profile the system knows is followed already: measure what is left."
LEAST_SEEN = 3
"""Squares on black or on white of which a fair screen shows as many."""


def how_words(known: Known) -> str:
    """How a screen was made known, in a few words."""
    if known.how == "by eye":
        powers = " ".join(f"{power:.2f}" for power in known.powers)
        return f"measured by eye (powers {powers})"
    if known.how == "profile":
        return "from its profile"
    return "wider than sRGB (as P3), uncorrected"


def advice(known: Known) -> str:
    """What to do about what the look at it told; empty where nothing."""
    if not known.told:
        return ""
    dark, light, even = known.told
    said = []
    if dark < LEAST_SEEN:
        said.append("Dark colours run together: raise the brightness, or darken the room.")
    if light < LEAST_SEEN:
        said.append("Light colours run together: lower the contrast.")
    if not even:
        said.append("It is uneven: sit square before it, and judge in its middle.")
    return " ".join(said)
