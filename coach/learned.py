"""The patches that a record keeps of a hand, and the palette they make."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from drills.basics.errors import InputError

if TYPE_CHECKING:
    from drills.basics.json_values import JSON
    from drills.hand.patch import Patch, Recipe
    from drills.layering.laying import LearnedHand
    from drills.layering.palette import Palette
    from drills.pencils.edit import Edited
    from drills.pencils.pencil import PencilSet
    from drills.screen.known import ScreenKnown
    from scores.record.record import Record

_MOST_OWN = 24
"""Recipes of one's own that the next patch is chosen by."""


def setting_of(pencil_set: PencilSet) -> str:
    """The setting that keeps a set's patches: each set its own, so that records can be merged."""
    return f"hand:{pencil_set.fingerprint}"


def patches_of(record: Record, pencil_set: PencilSet) -> tuple[Patch, ...]:
    """The patches kept of these pencils. Raises InputError where they can't be read."""
    kept = record.setting(setting_of(pencil_set))
    if kept is None:
        return ()
    from drills.hand.keeping import from_json

    return from_json(kept, pencil_set)


def keep_patches(record: Record, pencil_set: PencilSet, patches: Sequence[Patch]) -> None:
    """Keep these for the set, in place of what was. Raises NotSavedError."""
    record.set_setting(*patches_kept(pencil_set, patches))


def patches_kept(pencil_set: PencilSet, patches: Sequence[Patch]) -> tuple[str, JSON]:
    """The setting that keeps patches: its key and its value."""
    from drills.hand.keeping import to_json

    return setting_of(pencil_set), to_json(patches)


def carry_patches(record: Record, old: PencilSet, edited: Edited) -> None:
    """Keep the patches of a set for the set it was changed to, but for those of a pencil that
    is gone; what was kept of that set before stays. Raises NotSavedError."""
    if old.fingerprint == edited.set.fingerprint:
        return
    from drills.hand.keeping import MOST_PATCHES

    patches, _ = patches_or_none(record, old)
    carried = [now for now in (_carried(patch, edited.places) for patch in patches) if now]
    kept, trouble = patches_or_none(record, edited.set)
    new = [patch for patch in carried if patch not in kept]
    if new and not trouble:
        keep_patches(record, edited.set, (*kept, *new)[:MOST_PATCHES])


def _carried(patch: Patch, places: Sequence[int | None]) -> Patch | None:
    """The patch with its pencils where they are now; None where one is gone."""
    from dataclasses import replace

    moves = []
    for move in patch.recipe.moves:
        place = places[move.pencil] if move.pencil >= 0 else move.pencil
        if place is None:
            return None
        moves.append(replace(move, pencil=place))
    return replace(patch, recipe=replace(patch.recipe, moves=tuple(moves)))


def own_recipes(record: Record, pencil_set: PencilSet) -> tuple[Recipe, ...]:
    """What the learner laid on paper with these pencils, the latest first: their own targets."""
    from drills.hand.patch import MOST_MOVES, Recipe
    from drills.layering.moves import Move
    from scores.progress.on_paper import results

    out: list[Recipe] = []
    for one in reversed(results(record)):
        if one.pencils != pencil_set.fingerprint or len(out) >= _MOST_OWN:
            continue
        moves = tuple(
            Move("lay", pencil, pressure)
            for action, pencil, pressure in one.moves
            if action == "lay" and 0 <= pencil < len(pencil_set) and 0.05 <= pressure <= 1.5
        )
        if 1 <= len(moves) <= MOST_MOVES:
            out.append(Recipe(moves))
    return tuple(out)


def hand_in_use(pencil_set: PencilSet) -> LearnedHand | None:
    """What the learner's record says of their hand with these pencils. Raises InputError."""
    from coach.home import record_path
    from scores.record.record import Record

    path = record_path()
    if not path.exists():
        return None
    record = Record.open(path)
    try:
        patches = patches_of(record, pencil_set)
    finally:
        record.close()
    return learned(pencil_set, patches)


def learned(pencil_set: PencilSet, patches: Sequence[Patch]) -> LearnedHand | None:
    """The hand behind patches, where it predicts each from the others better than the default."""
    if not patches:
        return None
    from drills.hand.fit import fit
    from drills.layering.palette import prepare

    found = fit(prepare(pencil_set), patches)
    return found.hand if found.better else None


def patches_or_none(record: Record, pencil_set: PencilSet) -> tuple[tuple[Patch, ...], str]:
    """As ``patches_of``, with none and why where they can't be read: practice goes on."""
    try:
        return patches_of(record, pencil_set), ""
    except InputError as error:
        return (), str(error)


def set_of(pencils: PencilSet | Palette) -> PencilSet:
    """The set, whether or not it was made ready already."""
    from drills.pencils.pencil import PencilSet

    return pencils if isinstance(pencils, PencilSet) else pencils.set


def warmed(
    pencils: PencilSet | Palette, patches: Sequence[Patch] = (), screen_known: ScreenKnown = True
) -> Palette:
    """A set as films with its pool mixed, and every kind loaded, so that no question waits."""
    from dataclasses import replace

    from drills.kinds import all_kinds
    from drills.layering.palette import prepare
    from drills.pencils.pencil import PencilSet

    all_kinds()
    hand = learned(set_of(pencils), patches)
    if isinstance(pencils, PencilSet) or hand is not None:
        palette = prepare(set_of(pencils), hand=hand)
    else:
        palette = pencils
    if palette.screen_known != screen_known:
        palette = replace(palette, screen_known=screen_known)
    palette.pool  # noqa: B018  mixed when first looked at
    return palette
