"""One line of measure for the reveal: how fine the eye is here, as far as that is known.

It tells no change: whether the eye has changed is told in one place alone
(``scores.progress.claim``).
"""

from __future__ import annotations

from scores.skill.skill_threshold import SkillThreshold
from scores.skill.skill_words import region_words
from scores.today.why import measure_words

_WORDS = {
    "ΔL*": ("tell values apart", "to"),
    "ΔC*": ("tell bright from dull", "to"),
    "C*ab": ("see a grey's lean", "from"),
    "wheel steps": ("place hues", "to"),
}
"""What is told of a threshold by its unit, and the word before the figure."""


def measure_line(known: SkillThreshold | None, title: str, unit: str, region: str) -> str:
    """The line for one skill, or nothing where too little is known.

    ``title`` and ``unit`` are the kind's. "You tell values apart to about ΔL* 4 in reds
    (3 to 6)."
    """
    if known is None or not unit or not known.known or known.beyond == "coarser":
        return ""
    low, high = (measure_words(step, "") for step in known.ends)
    figure, where = measure_words(known.step, unit), region_words(region)
    if unit in _WORDS:
        verb, to = _WORDS[unit]
        here = f"You {verb} {to} about {figure} in {where}"
    else:
        here = f"“{title.rstrip('?')}” in {where}: right down to about {figure}"
    if known.beyond == "finer":
        return f"{here}, as fine as it is asked."
    return f"{here} ({low} to {high})."
