"""Sheets painted again: swatches of the same pencils are joined, each painting weighing alike.

What each sheet's swatch of a pencil was stays with the set it led to; a set's colours are the
means. So another photo of a sheet takes the place of what that sheet said, and of nothing else.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from coach.sheets.printed import Printed
from drills.basics.json_values import JSON, as_json, from_json

if TYPE_CHECKING:
    from drills.hand.patch import Patch
    from drills.pencils.edit import Edited
    from drills.pencils.pencil import Lab, PencilSet
    from scores.record.record import Record

_SWATCHES = "swatches:"
_MOST_STEPS = 200
"""Sets that one led to, one after another: more than anyone paints."""


@dataclass(frozen=True)
class Swatch:
    """A pencil, by its place in the set, as one sheet has it; ``sheet`` is empty and ``times``
    how many it stands for where they were painted before sheets were told apart."""

    sheet: str
    pencil: int
    lab: tuple[float, float, float]
    on_black: tuple[float, float, float] | None = None
    times: int = 1


@dataclass(frozen=True)
class SwatchesKept:
    """The swatches behind a set, and ``then`` the fingerprint of the set that it led to."""

    swatches: tuple[Swatch, ...]
    then: str = ""


@dataclass(frozen=True)
class Known:
    """A sheet's pencils as they are known by now: ``stands`` the set, ``printed`` the same in the
    places it has on the sheet (a pencil used up since had one), ``swatches`` what is behind it."""

    stands: PencilSet
    printed: Printed
    swatches: tuple[Swatch, ...]


def newest(record: Record, printed: Printed) -> Known:
    """What painting the set of a sheet again, or changing it, led to, unless its pencils were
    since put in another order or called otherwise. Raises InputError."""
    from drills.pencils.file import parse_pencils
    from scores.record.queries import pencil_sets

    settings = record.settings()
    sets = {fingerprint: (name, csv) for fingerprint, name, csv, _ in pencil_sets(record)}
    found, at = printed.pencils, printed.pencils.fingerprint
    for _ in range(_MOST_STEPS):
        at = _kept(settings, at).then
        if at not in sets:
            break
        name, csv = sets[at]
        now = replace(parse_pencils(csv.encode(), name), name=name)
        if _called(now) == _called(found):
            found = now
    on_sheet = tuple(
        replace(one, used_up=was.used_up)
        for one, was in zip(found.pencils, printed.pencils.pencils, strict=True)
    )
    as_printed = replace(printed, pencils=replace(found, pencils=on_sheet))
    return Known(found, as_printed, _behind(settings, found))


def joined(
    known: Known | None, read: PencilSet, places: Collection[int], sheet: str
) -> tuple[PencilSet, tuple[Swatch, ...]]:
    """The set ``read`` of a sheet, which shows the pencils at ``places``, with what was painted
    of them before.

    A pencil that the sheet doesn't show stays as known; one whose colour was not painted before
    is taken as read.
    """
    from drills.pencils.file import make_set
    from drills.pencils.file_cell import MOST_PAINTED

    stands = () if known is None else known.stands.pencils
    swatches = [] if known is None else list(known.swatches)
    pencils = []
    for at, pencil in enumerate(read.pencils):
        was = stands[at] if at < len(stands) else None
        if at not in places or pencil.lab is None:
            pencils.append(pencil if was is None else was)
            continue
        mine = [one for one in swatches if one.pencil == at and one.sheet != sheet]
        if was is None or not was.painted:
            mine = []
        every = [*mine, Swatch(sheet, at, pencil.lab, _lab(pencil.on_black))]
        swatches = [*(one for one in swatches if one.pencil != at), *every]
        pencils.append(
            replace(
                pencil,
                lab=_mean((one.lab, one.times) for one in every),
                on_black=_mean((one.on_black, one.times) for one in every) or pencil.on_black,
                painted=min(MOST_PAINTED, sum(one.times for one in every)),
                used_up=pencil.used_up if was is None else was.used_up,
            )
        )
    return replace(make_set(read.name, tuple(pencils)), name=read.name), tuple(swatches)


def keep_swatches(
    record: Record, known: Known | None, now: PencilSet, swatches: Sequence[Swatch]
) -> None:
    """Keep the swatches behind a set, and which set led to it.

    Raises NotSavedError."""
    kept: JSON = as_json(SwatchesKept(tuple(swatches)))
    record.set_setting(f"{_SWATCHES}{now.fingerprint}", kept)
    if known is not None:
        lead(record, known.stands, now)


def lead(record: Record, before: PencilSet, now: PencilSet) -> None:
    """Keep that one set led to another. Raises NotSavedError."""
    if before.fingerprint == now.fingerprint:
        return
    settings = record.settings()
    led = SwatchesKept(_behind(settings, before), now.fingerprint)
    record.set_setting(f"{_SWATCHES}{before.fingerprint}", as_json(led))
    # What led back is past: else the two would lead to each other.
    back = _kept(settings, now.fingerprint)
    if back.then:
        record.set_setting(f"{_SWATCHES}{now.fingerprint}", as_json(replace(back, then="")))


def carry_swatches(record: Record, old: PencilSet, edited: Edited) -> None:
    """Keep the swatches of a set for the set it was changed to. Raises NotSavedError."""
    if old.fingerprint == edited.set.fingerprint:
        return
    carried = []
    for one in _behind(record.settings(), old):
        place = edited.places[one.pencil] if one.pencil < len(edited.places) else None
        if place is not None and edited.set.pencils[place].painted:
            carried.append(replace(one, pencil=place))
    if carried:
        kept: JSON = as_json(SwatchesKept(tuple(carried)))
        record.set_setting(f"{_SWATCHES}{edited.set.fingerprint}", kept)
        lead(record, old, edited.set)


def added(before: Iterable[Patch], new: Sequence[Patch], again: bool) -> tuple[Patch, ...]:
    """Patches with those of one sheet after them: what that sheet said of the same recipes before
    goes, all else stays. ``again``: it was read before patches knew their sheet."""
    sheets = {one.sheet for one in new} | ({""} if again else set())
    recipes = {one.recipe for one in new}
    return (
        *(one for one in before if one.sheet not in sheets or one.recipe not in recipes),
        *new,
    )


def _kept(settings: Mapping[str, JSON], fingerprint: str) -> SwatchesKept:
    try:
        return from_json(SwatchesKept, settings.get(f"{_SWATCHES}{fingerprint}"))
    except ValueError:
        return SwatchesKept(())


def _behind(settings: Mapping[str, JSON], pencils: PencilSet) -> tuple[Swatch, ...]:
    """The swatches behind a set: where none are kept, its colours as they stand."""
    kept = tuple(
        one
        for one in _kept(settings, pencils.fingerprint).swatches
        if 0 <= one.pencil < len(pencils.pencils) and one.times >= 1
    )
    if kept:
        return kept
    return tuple(
        Swatch("", at, one.lab, _lab(one.on_black), one.painted)
        for at, one in enumerate(pencils.pencils)
        if one.painted and one.lab is not None
    )


def _called(pencils: PencilSet) -> list[tuple[str, str]]:
    return [(one.name, one.code) for one in pencils.pencils]


def _lab(on_black: object) -> Lab | None:
    return on_black if isinstance(on_black, tuple) and len(on_black) == 3 else None


def _mean(weighed: Iterable[tuple[Lab | None, int]]) -> Lab | None:
    """The mean Lab of swatches by how many paintings each stands for; None for none."""
    sound = [(lab, times) for lab, times in weighed if lab is not None]
    if not sound:
        return None
    of = sum(times for _, times in sound)
    L, a, b = (round(sum(lab[i] * times for lab, times in sound) / of, 2) for i in range(3))
    return (L, a, b)
