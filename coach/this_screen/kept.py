"""The screens known by name, as the settings keep them, and which of them is looked at now.

Nothing here loads numpy but ``model_of``, which painting asks for.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, get_args

from drills.basics.errors import InputError, plain
from drills.basics.json_values import JSON
from scores.record.record import Record

if TYPE_CHECKING:
    from drills.screen.known import ScreenKnown
    from drills.screen.model import Screen

SETTING = "screens"
DARK, LIGHT = (2, 4, 8, 12, 20), (253, 251, 247, 243, 235)
"""Levels of the squares on black and on white, the hardest to see first."""
How = Literal["by eye", "profile", "wide"]
LONGEST_NAME = 30
MOST_SCREENS = 20
SAMPLES = 52
"""Levels kept of a profile's curve, every fifth from 0 to 255."""
SCALE, BEND = 10_000, 2.2
"""A sample is light ** (1 / BEND), in so many parts: even steps for the eye."""


@dataclass(frozen=True)
class Known:
    """What is known of one screen.

    ``powers`` of red, green and blue, or a profile's ``curves`` as SAMPLES of each; ``primaries``
    as CIE 1931 chromaticities, sRGB's where there are none.
    """

    how: How
    powers: tuple[float, ...] = ()
    curves: tuple[tuple[int, ...], ...] = ()
    primaries: tuple[tuple[float, float], ...] = ()
    told: tuple[int, ...] = ()
    """Of the eye's look at it: DARK and LIGHT squares told apart, and 1 where it is even."""

    def as_json(self) -> JSON:
        kept: dict[str, JSON] = {"how": self.how}
        if self.powers:
            kept["powers"] = [round(power, 3) for power in self.powers]
        if self.curves:
            kept["curves"] = [list(curve) for curve in self.curves]
        if self.primaries:
            kept["primaries"] = [[round(x, 4), round(y, 4)] for x, y in self.primaries]
        if self.told:
            kept["told"] = list(self.told)
        return kept


@dataclass(frozen=True)
class Screens:
    """All that are known, in the order they were named; ``active`` is "" where none is."""

    active: str = ""
    known: tuple[tuple[str, Known], ...] = ()

    @property
    def now(self) -> Known | None:
        return dict(self.known).get(self.active)


def screens_in(kept: JSON) -> Screens:
    """What the setting says; what of it is not as this version keeps it is left out."""
    if not isinstance(kept, dict) or not isinstance(names := kept.get("known"), dict):
        return Screens()
    known = tuple((name, one) for name, value in names.items() if (one := _known(value)))
    active = kept.get("active")
    return Screens(active if isinstance(active, str) else "", known)


def screens_of(record: Record) -> Screens:
    return screens_in(record.setting(SETTING))


def screen_known(settings: Mapping[str, JSON]) -> ScreenKnown:
    """Whether what is drawn is corrected for the screen looked at, and whether by eye alone."""
    now = screens_in(settings.get(SETTING)).now
    return "by eye" if now is not None and now.how == "by eye" else now is not None


def keep(record: Record, name: str, known: Known) -> None:
    """Keep a screen under its name, in place of one of that name, and look at it from now on.

    Raises InputError for a name that is none; NotSavedError.
    """
    name = " ".join(name.split())
    if not name or len(name) > LONGEST_NAME or plain(name, LONGEST_NAME) != name:
        raise InputError("name", f"it needs 1 to {LONGEST_NAME} letters", "Such as: desk.")
    all_known = dict(screens_of(record).known) | {name: known}
    if len(all_known) > MOST_SCREENS:
        raise InputError("screens", f"{MOST_SCREENS} are known already", "Take one out first.")
    _put(record, name, all_known)


def look_at(record: Record, name: str) -> None:
    """Practise on this screen from now on; with "" on one that nothing is known of."""
    _put(record, name, dict(screens_of(record).known))


def take_out(record: Record, name: str) -> None:
    """Forget a screen. Raises NotSavedError."""
    screens = screens_of(record)
    known = {one: value for one, value in screens.known if one != name}
    _put(record, screens.active if screens.active in known else "", known)


def _put(record: Record, active: str, known: Mapping[str, Known]) -> None:
    every: dict[str, JSON] = {name: one.as_json() for name, one in known.items()}
    record.set_setting(SETTING, {"active": active, "known": every})


def model_of(known: Known) -> Screen:
    """The screen as a model of light."""
    from drills.screen.model import D50_XY, D65_XY, SRGB_XY, STANDARD, WIDE_XY, Screen, powers

    red, green, blue = known.primaries or (WIDE_XY if known.how == "wide" else SRGB_XY)
    curves = STANDARD.curves
    if known.powers:
        curves = powers((known.powers[0], known.powers[1], known.powers[2]))
    elif known.curves:
        first, second, third = (_curve(samples) for samples in known.curves)
        curves = (first, second, third)
    # A profile's primaries stand under D50, to which they were adapted.
    white = D50_XY if known.how == "profile" else D65_XY
    return Screen(curves, primaries=(red, green, blue), white_xy=white)


def _curve(samples: tuple[int, ...]) -> tuple[float, ...]:
    """The light of 256 levels between the samples kept."""
    import numpy as np

    bent = np.interp(np.arange(256), np.linspace(0, 255, SAMPLES), np.array(samples) / SCALE)
    return tuple((np.maximum.accumulate(np.clip(bent, 0.0, 1.0)) ** BEND).tolist())


def _known(value: JSON) -> Known | None:
    if not isinstance(value, dict):
        return None
    how = next((word for word in get_args(How) if word == value.get("how")), None)
    powers, curves = _numbers(value.get("powers")), value.get("curves")
    primaries = value.get("primaries")
    told = tuple(int(part) for part in _numbers(value.get("told")))
    rows = tuple(_numbers(row) for row in curves) if isinstance(curves, list) else ()
    corners = tuple(_numbers(row) for row in primaries) if isinstance(primaries, list) else ()
    sound = (
        how is not None
        and len(powers) in (0, 3)
        and all(1.0 <= power <= 4.0 for power in powers)
        and len(rows) in (0, 3)
        and all(len(row) == SAMPLES for row in rows)
        and len(corners) in (0, 3)
        and all(len(row) == 2 and 0 < row[1] < 1 and 0 < row[0] < 1 for row in corners)
    )
    if how is None or not sound:
        return None
    return Known(
        how,
        powers,
        tuple(tuple(int(sample) for sample in row) for row in rows),
        tuple((row[0], row[1]) for row in corners),
        told if len(told) == 3 else (),
    )


def _numbers(value: JSON) -> tuple[float, ...]:
    if not isinstance(value, list):
        return ()
    return tuple(float(part) for part in value if isinstance(part, int | float))
