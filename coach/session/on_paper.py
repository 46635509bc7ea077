"""Keeping what came on paper: in the record, and as a patch that tells of the hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from drills.basics.days import zone_name
from drills.layering.constants import READ_SD, WARM_SD
from scores.progress import on_paper
from scores.record.attempt import Attempt, attempt_id
from scores.record.trials import PAPER

if TYPE_CHECKING:
    from coach.app_state import AppState
    from drills.hand.patch import Patch
    from drills.layering.moves import Move
    from drills.layering.palette import Palette
    from drills.pictures.spot import Spot
    from drills.planning.plan import LikelyMiss
    from drills.questions.protocol import Lab


UNLIT_PHOTO_SD = 6.0
"""How far off a photo's colour may be (ΔE00) whose light wasn't taken off; our estimate, from
photos made up with known truth."""


NOT_OF_THE_HAND = "What it tells of your hand was not kept:"


def photo_sd(light: object | None, spot: Spot | None = None) -> float:
    """The doubt in a photo's colour (ΔE00): much more where no ``light`` was taken off, and more
    where the ``spot`` is of those that cameras differ most in."""
    if light is None:
        return UNLIT_PHOTO_SD
    return WARM_SD if spot is not None and "strong_warm" in spot.warnings else READ_SD


@dataclass(frozen=True)
class Laid:
    """Moves laid for a target in one ``swatch`` (a name of its own), and what they were
    predicted to come to; ``mended``, how many times it was gone on with; ``target_sd``, the doubt
    in a target that was read (ΔE00)."""

    target: Lab
    moves: tuple[Move, ...]
    predicted: Lab
    likely: LikelyMiss
    swatch: str
    mended: int = 0
    target_sd: float = 0.0


@dataclass(frozen=True)
class Given:
    """A colour as it came in: its Lab, the doubt in it (ΔE00), and how it was given."""

    lab: Lab
    sd: float
    how: str


def paper_attempt(palette: Palette, laid: Laid, got: Given, now: datetime) -> Attempt:
    """What came of moves laid to their end, as the record keeps it; ``now`` is aware."""
    from drills.colour.difference import delta_e00
    from drills.colour.reading import describe_difference, read_colour

    number = laid.mended + 1
    miss = float(delta_e00(laid.target, got.lab))
    score, right = on_paper.graded(miss)
    reading = read_colour(laid.target)
    expected = laid.likely.expected
    return Attempt(
        id=attempt_id(laid.swatch, number),
        session=laid.swatch,
        number=number,
        kind=on_paper.KIND,
        kind_version=1,
        region=reading.family or "neutral",
        seed=0,
        step=1.0,
        # No range: from what is laid by hand no threshold of the eye is measured.
        steps=(1.0, 1.0),
        chance=0.0,
        pencils=palette.set.fingerprint,
        target=list(laid.target),
        facts={
            "predicted": list(laid.predicted),
            "got": list(got.lab),
            "expected": expected,
            "doubt": got.sd,
            "how": got.how,
            "mended": laid.mended,
            "moves": [[one.action, one.pencil, one.pressure] for one in laid.moves],
            "film_model": palette.film_model,
            "likely": [laid.likely.low, laid.likely.high],
        },
        answers=((got.how,),),
        score=score,
        right=right,
        error=miss,
        unit=on_paper.UNIT,
        verdict=f"On paper: {describe_difference(laid.target, got.lab)}.",
        response_s=0.0,
        at_utc=now.astimezone(UTC),
        zone=zone_name(now),
        deck=PAPER,
    )


def patch_of(moves: Sequence[Move], got: Given) -> Patch | None:
    """The moves and what they came to as a patch; None where no patch can be made of them."""
    from drills.hand.patch import MOST_MOVES, Patch, Recipe
    from drills.layering import constants as c

    if not 1 <= len(moves) <= MOST_MOVES or any(move.action == "burnish" for move in moves):
        return None
    return Patch(Recipe(tuple(moves)), got.lab, max(c.PATCH_SD, got.sd))


def keep(state: AppState, laid: Laid, got: Given, finished: bool) -> str:
    """Keep what came on paper; one sentence on what was kept, or on why it was not.

    Each look tells of the hand; only a ``finished`` swatch counts as a match on paper. Match
    and patch are one write.
    """
    from coach.learned import patches_kept
    from scores.record.record import NotSavedError

    assert state.ready_for is not None
    palette = state.ready_for.palette
    patches, said = _with_patch(state, patch_of(laid.moves, got))
    hand = patches_kept(palette.set, patches) if patches else None
    if not finished:
        if hand is None:
            return said
        try:
            state.record.set_setting(*hand)
        except NotSavedError as error:
            return f"{NOT_OF_THE_HAND} {error}"
        return "Kept for your hand."
    attempt = paper_attempt(palette, laid, got, state.clock())
    try:
        # What waits goes first, so that answers stay in their order.
        if trouble := state.unsaved.save():
            raise NotSavedError(trouble)
        state.record.save(attempt, hand)
    except NotSavedError:
        state.unsaved.add(attempt)
        of_hand = " What it tells of your hand was not kept." if hand else ""
        if trouble := state.unsaved.save():
            match = f"Not saved yet: {trouble}. The match is kept here and tried again."
            return f"{match}{of_hand}"
        return f"Kept as a match on paper.{of_hand}"
    return "Kept, on paper and for your hand." if hand else said or "Kept as a match on paper."


def _with_patch(state: AppState, patch: Patch | None) -> tuple[tuple[Patch, ...], str]:
    """The patches kept and this one; none, and why, where it can't be kept with them."""
    from coach.learned import patches_of
    from drills.basics.errors import InputError
    from drills.hand.keeping import MOST_PATCHES

    assert state.ready_for is not None
    if patch is None:
        return (), ""
    try:
        kept = patches_of(state.record, state.ready_for.palette.set)
    except InputError as error:
        return (), f"{NOT_OF_THE_HAND} {error}"
    if len(kept) >= MOST_PATCHES:
        return (), "No more patches of this set can be kept: undo some in the hand's room."
    return (*kept, patch), ""
