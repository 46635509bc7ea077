"""What the planner answers with. Nothing here needs numpy."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from drills.layering.moves import Move
from drills.pencils.pencil import Lab

REACHED_WITHIN = 2.0
"""ΔE00 within which a target counts as reached: told apart only side by side; our estimate."""

LIMITS_OF_MODEL = (
    "Computed from your swatches: paper, hand and point differ, so try it on a scrap first."
)
RECOVERED = (
    "The target came as a colour, not a spectrum: what it does under other light is judged "
    "from a smooth spectrum recovered for it."
)
NO_SPECTRUM = (
    "No surface can reflect this colour, so it has no spectrum and other light can't be judged."
)
KEEPS_HUE = (
    "The target is far brighter than these pencils: the plan keeps its hue and value and gives "
    "up chroma. ΔE00 is made for small differences and says little here."
)
LIGHT_ON_PURPOSE = (
    "It arrives a little light on purpose: what is too light can be mended, dark can't be lifted."
)
READ_WITHIN = "The target was read, not given exactly: give or take {doubt}, as is counted in."
PAPER_WILL_DO = "The paper is this colour already: it needs no layer."
PAPER_IS_NEAREST = "No layer comes nearer than the bare paper."


@dataclass(frozen=True)
class LikelyMiss:
    """``expected`` ΔE00 from a target, and the ``low`` and ``high`` between which nine of ten
    misses lie: over hand, opacity, scattering, surface, tooth and the spectra behind swatches
    that came as a colour (drills.layering.doubt), and over a target's doubt where it has one.
    Real patches would narrow it."""

    expected: float
    low: float
    high: float

    def words(self, few: bool = False) -> str:
        """Such as "Expect to land a touch off: about 2, most likely between 1 and 4."; with ``few``
        the range alone."""
        low, high = _count(self.low), _count(self.high)
        if few:
            return f"Expect {self.seen()}: {f'{low} to {high}' if low != high else f'about {low}'}."
        where = f"between {low} and {high}" if low != high else f"about {high}"
        return f"Expect {self.seen()}: {self.about()}, most likely {where}."

    def seen(self) -> str:
        """What the miss to expect looks like, by the words that ``describe_difference`` uses."""
        from drills.colour.change import MUCH_FROM, PLAIN_FROM, SEEN_FROM

        told = float(_count(self.expected))
        if told < SEEN_FROM:
            return "a match to the eye"
        if told < PLAIN_FROM:
            return "to land a touch off"
        return f"to land {'plainly' if told < MUCH_FROM else 'far'} off"

    def about(self) -> str:
        """The miss to expect, such as "about 2"."""
        return f"about {_count(self.expected)}"


def read_note(target_sd: float) -> str:
    """What to say of a target that is in doubt by ``target_sd``, a ΔE00."""
    return READ_WITHIN.format(doubt=_count(target_sd))


def _count(delta_e00: float) -> str:
    """A ΔE00 no finer than it is known: by halves under 2, whole from there."""
    return f"{round(2.0 * delta_e00) / 2.0:g}" if delta_e00 < 1.75 else f"{delta_e00:.0f}"


@dataclass(frozen=True)
class PlannedMove:
    """One move, what the swatch looks like after it, and why it is made.

    ``words`` is the move itself ("Lay Flagloft Red lightly"); ``why`` what was off
    and what the move does about it; ``stop`` when to stop. ``delta_e00`` is how far the
    target still is after it.
    """

    move: Move
    words: str
    predicted_lab: Lab
    delta_e00: float
    why: str
    stop: str


@dataclass(frozen=True)
class SetAside:
    """A rule of teaching that a plan sets aside, and what keeping it would have cost: ΔE00 of
    expected miss, or None where no plan that keeps it was found."""

    rule: str
    cost: float | None

    def words(self) -> str:
        """One sentence."""
        if self.cost is None:
            return f"Set aside: {self.rule}. These pencils give no plan that keeps it."
        more = f"about {_count(self.cost)} more" if self.cost >= 0.25 else "hardly more"
        return f"Set aside: {self.rule}. Keeping it would miss by {more}, or take more moves."


@dataclass(frozen=True)
class Alternative:
    """Another way to the colour; ``way`` says which (``drills.planning.ways.Way``).

    The rest is as in Plan.
    """

    way: str
    moves: tuple[Move, ...]
    words: tuple[str, ...]
    steps: tuple[Lab, ...]
    predicted_lab: Lab
    delta_e00: float
    likely: LikelyMiss
    spread_delta_e00: float
    under: Mapping[str, float]
    rules_set_aside: tuple[SetAside, ...] = ()


Direction = Literal["too bright", "too dull", "too dark", "too light", "another hue"]


@dataclass(frozen=True)
class Missing:
    """What keeps a target out of reach.

    ``delta_e00`` is how far off the best plan stays, ``direction`` in what above all,
    ``off`` how the target differs from it in full ("much brighter, leaning greener") and
    ``words`` all of it in sentences. ``kind`` says which pencil would close it best ("a
    light, very bright green"), ``kind_lab`` its swatch, ``kind_delta_e00`` how far off the
    best plan with it would stay; where no one pencil helps they are empty.
    """

    delta_e00: float
    direction: Direction
    off: str
    words: str
    kind: str = ""
    kind_lab: Lab | None = None
    kind_delta_e00: float | None = None


@dataclass(frozen=True)
class Plan:
    """How to come to ``target`` (Lab under D50).

    ``delta_e00`` is the predicted miss, were hand and model exact, and ``likely`` the miss to
    count on; ``spread_delta_e00`` the ΔE00 from the predicted swatch within which nine of ten
    swatches stay when each pressure wanders by 15 %;
    ``under`` the miss against the target's spectrum by illuminant (only D50 where there
    is no spectrum). ``target_sd`` is the doubt in the target, as a ΔE00: 0 where it was given
    exactly. ``reachable`` is False when even the nearest of all plans found misses by
    more than ``REACHED_WITHIN``, and ``missing`` then says what is lacking. ``way`` is how it
    mutes, or empty; ``rules_set_aside`` what a teacher would do and it doesn't. No moves at
    all means that bare paper is the answer.
    """

    target: Lab
    moves: tuple[PlannedMove, ...]
    predicted_lab: Lab
    delta_e00: float
    likely: LikelyMiss
    spread_delta_e00: float
    under: Mapping[str, float]
    alternatives: tuple[Alternative, ...]
    reachable: bool
    missing: Missing | None
    notes: tuple[str, ...] = field(default=())
    way: str = ""
    rules_set_aside: tuple[SetAside, ...] = ()
    target_sd: float = 0.0

    @property
    def recipe(self) -> tuple[Move, ...]:
        """The bare moves."""
        return tuple(planned.move for planned in self.moves)

    @property
    def first_notes(self) -> tuple[str, ...]:
        """The notes that a plan is never told without; how its spectrum came may be asked for."""
        return tuple(one for one in self.notes if one not in (RECOVERED, NO_SPECTRUM))


@dataclass(frozen=True)
class Evaluation:
    """What becomes of moves of one's own: as in Plan, with the craft rules they break."""

    steps: tuple[Lab, ...]
    predicted_lab: Lab
    delta_e00: float
    likely: LikelyMiss
    spread_delta_e00: float
    under: Mapping[str, float]
    broken: tuple[str, ...]
