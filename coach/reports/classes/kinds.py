"""What the class's model must know of each drill kind, and what the kinds are called."""

from __future__ import annotations

from scores.classes.class_lines import KindScale

WITHOUT_RANGE = 0.5
"""Range in log10 taken for a kind without one, such as one of facts (our estimate)."""


def kind_scales() -> dict[str, KindScale]:
    """Chance and range of every kind that is installed. Loads numpy."""
    from drills.kinds import all_kinds
    from scores.skill.psychometric import scale_of

    found = {}
    for name, kind in all_kinds().items():
        scale = scale_of(kind.steps, kind.chance)
        span = WITHOUT_RANGE if scale is None else scale.range_log
        found[name] = KindScale(min(kind.chance, 0.75), span)
    return found


def kind_titles() -> dict[str, str]:
    """Every kind's title by its name."""
    from drills.kinds import all_kinds

    return {name: kind.title for name, kind in all_kinds().items()}
