"""Two sets to practise with when no file is given.

Every pencil, its swatch, opacity and lightfastness are invented, and named for
places in Port Marrowell, a harbour town that does not exist.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from drills.pencils.file import load_pencils
from drills.pencils.pencil import PencilSet

FOLDER = Path(__file__).parent


@cache
def demo_set() -> PencilSet:
    """Thirty-six invented pencils, spread as an artist's set is, with a blender."""
    return replace(
        load_pencils(FOLDER / "port_marrowell_36.csv"), name="Port Marrowell 36", source=""
    )


@cache
def pocket_set() -> PencilSet:
    """Twelve invented pencils for a coat pocket, with a blender."""
    return replace(
        load_pencils(FOLDER / "port_marrowell_12.csv"), name="Port Marrowell 12", source=""
    )
