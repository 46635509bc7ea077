"""What is known of a hand, as figures and as lines of words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from drills.basics.errors import plain
from drills.colour.spaces import hex_of
from drills.hand.choose import Suggestion, choose
from drills.hand.fit import FEWEST, Fit, fit, surest
from drills.hand.patch import Patch, Recipe
from drills.layering.moves import Move, move_words
from drills.layering.palette import Palette, prepare
from drills.pencils.pencil import PencilSet

NEXT = 3
_ABOUT = {
    "tooth": ("The tooth of your paper is", "shallower", "deeper"),
    "capacity": ("Your paper fills", "sooner", "later"),
    "power": ("Pressing harder sheds", "less", "more"),
    "light": ("Your light pressure is", "lighter", "harder"),
    "middle": ("Your middle pressure is", "lighter", "harder"),
    "scatter_power": ("Your pencils scatter what they absorb", "more", "less"),
    "shine": ("Your pencils' surface looks", "glossier", "more matt"),
}
"""What a value below and above the default's means."""
_KNOWN = 0.7
"""Of the prior's spread left: more, and patches say too little to speak of."""


@dataclass(frozen=True)
class HandKnown:
    """What ``patches`` say of a hand, by a palette prepared without one, and what to paint."""

    palette: Palette
    patches: tuple[Patch, ...]
    found: Fit
    next: tuple[Suggestion, ...]


def hand_known(
    pencil_set: PencilSet, patches: Sequence[Patch], own: Sequence[Recipe] = ()
) -> HandKnown:
    """Learn from the patches; ``own`` are the recipes of the learner's own targets."""
    palette = prepare(pencil_set)
    found = fit(palette, patches)
    painted = [patch.recipe for patch in patches]
    chosen = choose(palette, found, NEXT, painted, own)
    return HandKnown(palette, tuple(patches), found, tuple(chosen))


def hand_figures(known: HandKnown) -> dict[str, Any]:
    """All of ``coach hand`` as JSON values; colour differences are ΔE00."""
    palette, patches, found = known.palette, known.patches, known.found
    painted = [patch.recipe for patch in patches]
    return {
        "pencils": palette.set.name,
        "patches": [
            {
                "words": recipe_words(palette, patch.recipe),
                "lab": list(patch.lab),
                "predicted_lab": predicted.tolist(),
                "held_out_delta_e00": float(held_out),
                "default_delta_e00": float(default),
            }
            for patch, predicted, held_out, default in zip(
                patches, found.predicted, found.held_out, found.by_default, strict=True
            )
        ],
        "in_use": found.better,
        "held_out_delta_e00": float(found.held_out.mean()) if patches else None,
        "default_delta_e00": float(found.by_default.mean()) if patches else None,
        "known": {
            name: {"from_default": float(value), "spread_left": left}
            for value, (name, left) in zip(found.theta, surest(found).items(), strict=False)
        },
        "opacity": {
            name: found.hand.scales[i]
            for i, name in enumerate(palette.names)
            if any(move.pencil == i for one in painted for move in one.moves)
        },
        "next": [
            {"words": recipe_words(palette, one.recipe), "narrows": one.narrows}
            for one in known.next
        ],
    }


def lines(figures: dict[str, Any]) -> list[str]:
    """The figures in words."""
    patches = figures["patches"]
    out = [where_it_stands(figures)]
    if patches:
        out += known_words(figures["known"]) if figures["in_use"] else []
        out += ["", "As learned, against painted:"]
        for one in patches:
            seen, said = hex_of(tuple(one["lab"])), hex_of(tuple(one["predicted_lab"]))
            out.append(
                f"  {plain(one['words'], 160)}: {said}, painted {seen};"
                f" ΔE00 {one['held_out_delta_e00']:.1f} held out,"
                f" {one['default_delta_e00']:.1f} by the default"
            )
    out += ["", "Paint next, best first:"]
    for one in figures["next"]:
        out.append(
            f"  {plain(one['words'], 160)}: takes {one['narrows']:.0%} of the doubt about"
            " two- to four-layer recipes"
        )
    out += ["", "Then: coach hand add --pencil NAME --layers N --pressure HOW '#rrggbb'"]
    return out


def where_it_stands(figures: dict[str, Any]) -> str:
    """In a sentence or two: how many patches, whether predictions use them, and what it gains."""
    patches, name = figures["patches"], plain(figures["pencils"])
    if not patches:
        return f"Nothing is known yet of your hand with {name}: predictions are the default's."
    before, after = figures["default_delta_e00"], figures["held_out_delta_e00"]
    count = f"{len(patches)} patch{'es' * (len(patches) != 1)}"
    few = FEWEST - len(patches)
    use = (
        "Predictions use what they say"
        if figures["in_use"]
        else f"Predictions stay the default's until there are {FEWEST}"
        if few > 0
        else "Predictions stay the default's, for they predict these patches better"
    )
    return (
        f"{count} of {name}. {use}: each patch, predicted from the others, lands ΔE00"
        f" {after:.1f} off on average; by the default {before:.1f}."
    )


def known_words(known: dict[str, dict[str, float]]) -> list[str]:
    out = []
    for name, one in known.items():
        if one["spread_left"] > _KNOWN:
            continue
        start, less, more = _ABOUT[name]
        by = one["from_default"]
        if abs(by) < 0.05:
            out.append(f"{start} about as supposed.")
        else:
            out.append(f"{start} {less if by < 0 else more} than supposed, by about {abs(by):.0%}.")
    return out or ["They say too little yet of paper and pressure to speak of."]


def recipe_words(palette: Palette, recipe: Recipe) -> str:
    """ "2 layers of Flagloft Red, light pressure, on black paper"."""
    parts: list[tuple[Move, int]] = []
    for move in recipe.moves:
        if parts and parts[-1][0] == move:
            parts[-1] = (move, parts[-1][1] + 1)
        else:
            parts.append((move, 1))
    words = [
        f"{n} layers of {move_words(palette, move)}" if n > 1 else move_words(palette, move)
        for move, n in parts
    ]
    return ", then ".join(words) + (", on black paper" if recipe.paper == "black" else "")
