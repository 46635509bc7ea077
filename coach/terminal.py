"""What the terminal can do: whether there is one, and whether it shows 24-bit colour.

The colour depth is asked of the same library that will draw the screen, so that
what is reported is what is drawn.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass

from drills.basics.errors import InputError, plain


@dataclass(frozen=True)
class ColourDepth:
    """Whether swatches are true on this terminal, and in words why or why not."""

    true_colour: bool
    words: str
    remedy: str = ""


_SYSTEMS = ("auto", "standard", "256", "truecolor", "windows")
_NAMES = {"256": "256 colours", "standard": "16 colours", "windows": "16 colours"}


def colour_depth(environ: Mapping[str, str] | None = None) -> ColourDepth:
    """The depth of colour that will be drawn under these environment variables.

    Raises InputError for a colour system that the drawing library does not know.
    """
    from rich.console import Console

    environ = dict(os.environ if environ is None else environ)
    if "NO_COLOR" in environ:
        return ColourDepth(
            False,
            "no colour, as NO_COLOR is set",
            "Start the coach without NO_COLOR to judge colours.",
        )
    wanted = environ.get("TEXTUAL_COLOR_SYSTEM", "auto")
    if wanted not in _SYSTEMS:
        remedy = f"Unset it, or take one of: {', '.join(_SYSTEMS)}."
        raise InputError("TEXTUAL_COLOR_SYSTEM", f"no such colours: {plain(wanted)}", remedy)
    console = Console(
        color_system=wanted,  # type: ignore[arg-type]
        force_terminal=True,
        legacy_windows=False,
        _environ=environ,
    )
    system = console.color_system
    if system == "truecolor":
        return ColourDepth(True, "24-bit colour, so swatches are shown as they are")
    name = _NAMES.get(system or "", "no colour")
    return ColourDepth(
        False,
        f"{name} only, so no swatch could be shown truly",
        "Open it in a browser: coach serve. If your terminal has more, set COLORTERM=truecolor.",
    )


def in_browser(environ: Mapping[str, str] | None = None) -> bool:
    """Whether ``coach serve`` runs this app for a page in a browser, keys and screen by pipe."""
    environ = os.environ if environ is None else environ
    return environ.get("TEXTUAL_DRIVER", "").endswith(":WebDriver")


def has_terminal() -> bool:
    """Both the keyboard and the screen are a terminal."""
    # A closed stream is None: started by a scheduler, say.
    return all(stream is not None and stream.isatty() for stream in (sys.stdin, sys.stdout))
