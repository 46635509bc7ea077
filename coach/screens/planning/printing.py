"""A plan's page to print, written from the app over nothing that is there."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from drills.layering.palette import Palette
    from drills.planning.plan import Plan


def write_page(folder: Path, plan: Plan, palette: Palette) -> Path:
    """The file written: in ``folder``, named by the target. Raises InputError."""
    import numpy as np

    from coach.output import free_name, write
    from coach.reports.printed import document
    from coach.reports.printed.drawing import size_here
    from coach.reports.printed.plan_page import plan_pages, title
    from drills.colour.spaces import hex_of, in_screen_gamut

    L, a, b = plan.target
    shown = bool(in_screen_gamut(np.asarray(plan.target)))
    asked = hex_of(plan.target) if shown else f"lab({L:.1f} {a:.1f} {b:.1f})"
    plans = [(asked, plan)]
    size = size_here(os.environ)
    made = document.html(title(plans), size, plan_pages(plans, palette, size, why=True))
    free = free_name(folder, f"plan-{hex_of(plan.target)[1:]}.html")
    return write(str(free), [made], "plan page")
