"""Every drill kind: found in this folder by its ``KIND``, so that adding a file adds a kind."""

from __future__ import annotations

import pkgutil
import random
from dataclasses import replace
from functools import cache
from importlib import import_module
from typing import TYPE_CHECKING

from drills.outside import outside_kinds
from drills.questions.protocol import Kind, Question

if TYPE_CHECKING:
    from drills.layering.palette import Palette


@cache
def all_kinds() -> dict[str, Kind]:
    """Every kind by name, in name order; those of other packages too."""
    found = dict(outside_kinds()[0])
    for module in pkgutil.walk_packages(__path__, f"{__name__}."):
        kind = getattr(import_module(module.name), "KIND", None)
        if kind is not None:
            found[kind.name] = kind
    return dict(sorted(found.items()))


def draw(kind: Kind, palette: Palette, region: str, step: float, seed: int) -> Question:
    """Make the question that this seed stands for; the same seed makes it again.

    Raises CannotAskError when the pencils give no sound question here.
    """
    question = kind.make(palette, region, step, random.Random(seed))
    facts = question.facts
    if "film_model" in facts:
        # The kind knows the model alone; the palette knows whose hand it has learned too.
        facts = {**facts, "film_model": palette.film_model}
    return replace(question, seed=seed, facts=facts)
