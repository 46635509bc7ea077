"""How a day's time is shared out: every constant of ``scores.today.arc``, all our estimates.

``WORTH``, the shares and the turns of short days were set on the "consolidating" learners of
``tests/bench/schedule``, the rest beforehand.
"""

from __future__ import annotations

from collections.abc import Mapping

STEPS = (
    "hue-and-lean",
    "nearest-start",
    "lighter-or-darker",
    "mute-with-complement",
    "order-of-layers",
    "make-the-match",
)
"""The drills that take a colour from its hue to the laid pencils, in the order of the work."""
CRAFT = frozenset(
    {"nearest-start", "mute-with-complement", "order-of-layers", "make-the-match", "what-is-off"}
)
"""The craft's own steps."""
CRAFT_SHARE = (0.42, 0.48)
"""Share of the time that they get at least, and that they are mixed in up to."""
WARM_UP, MATCH, SPARE = 0.06, 0.7, 0.06
"""Shares of the time: the warm-up's, the most a match takes, and what is left for a step that
goes wrong."""
OWED_SHARE = 0.6
"""Share of what is left that drills left out for days may take."""
LATE_SHARE, LATE_AHEAD = 0.6, 0.35
"""Share of a short day for drills that would else be left out for more than a week, and the
share of each day to come that is counted on for them: the less, the sooner they come."""
AGAIN_S = 400.0
"""Seconds of practice that bring one more laying, of a family met before, beside the match."""
MOST_CRAFT = 0.6
"""Share of the time up to which such a laying may bring the craft's own steps: a slow hand, which
needs minutes for one, has time for little else."""
FOCUS = 0.5
"""The focus's share of what is then left."""
MATCH_EVERY_S = 600.0
"""Seconds of practice that bring one whole match: each of its steps once, on one day or spread
over the next ones where days are short."""
WHOLE = 0.75
"""Share of those seconds from which a day holds a whole match."""
BLOCK, LAYING_EVERY_S = 0.75, 235.0
"""Share of those seconds within which each step comes again on short days; for the laying, of
these seconds."""
WORTH: Mapping[str, float] = {
    **dict.fromkeys(("nearest-start", "mute-with-complement", "what-is-off"), 1.25),
    **dict.fromkeys(("lighter-or-darker", "hue-and-lean", "order-of-layers"), 1.15),
    **dict.fromkeys(("surround-lies", "hold-in-mind", "through-the-cast"), 0.7),
    **dict.fromkeys(("set-the-colour", "set-from-memory", "predict-the-mix"), 0.7),
    **dict.fromkeys(("evenly-between", "value-order", "grey-lean", "handling"), 0.6),
}
"""What practice of a drill is thought to do for matching, for its time; 1 for those not named."""
FIRST_RUN, LEAST_RUN, MOST_FOCUS = 5, 3, 12
"""Questions of a focus: fewer make no run, more tire."""
SURE, USUAL = 0.9, 0.8
"""Proportion right that a warm-up, and any other question, is asked for."""
FIRST_DAY = ("hue-and-lean", "lighter-or-darker", "nearest-start", "make-the-match")
"""The drills of a first session."""
FIRST_OF_ALL = ("hue-and-lean", "nearest-start", "make-the-match")
"""What a first session begins with, one of each: a match within some two minutes."""
KIND_AGAIN = 0.9
"""What each time a drill was asked today leaves of its need, so that no quick one fills a day."""
NEW_KINDS, NEW_KINDS_SHORT = 3, 2
"""Drills never met, beside the steps of a match, that a day may begin with; and a short one."""
WISHED = 2.0
"""How much more a family calls for the match where a colour of it is wished for."""
AWAY_DAYS, AWAY_SHARE = 14, 0.6
"""Days away after which the first session is short, by this share, and sure."""
BACK_SURE = 0.25
"""The warm-up's share of such a session."""
