"""The swatches of the guide, computed: from Lab, or from the demo pencils on the model's paper.

Pencils are found by what they are (the reddest, the darkest), never by name, so
that the demo set may change.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, wheel_position, wheel_steps
from drills.colour.spaces import (
    lab_to_lch,
    lch_to_lab,
    reflectance_to_lab,
)
from drills.layering.laying import LearnedHand
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.palette import Palette, prepare
from drills.layering.predict import apply, predict, predict_steps, start
from drills.layering.sheet import zone_reflectance
from drills.pencils.sets import demo_set
from drills.questions.protocol import Lab, Swatch

DIFFERENCES = (1.0, 3.0, 10.0)
PAIRS = (12.0, 6.0, 3.0)
LIGHT_GROUND, DARK_GROUND = (85.0, 0.0, 0.0), (25.0, 0.0, 0.0)


@cache
def demo_palette() -> Palette:
    """The demo pencils on drawing paper."""
    return prepare(demo_set())


def _lab(row: Sequence[float] | np.ndarray) -> Lab:
    L, a, b = (float(v) for v in row)
    return (L, a, b)


def _lch(L: float, C: float, h: float) -> Lab:
    return _lab(lch_to_lab(np.array([L, C, h])))


def _pencil(
    palette: Palette,
    family: str,
    value: float = 50.0,
    chroma: float = 60.0,
    far: float = 0.5,
) -> int:
    """The pencil of a family whose L* and C* come nearest to these."""
    best, least = -1, np.inf
    for place in palette.colour_indices:
        L, C, _ = lab_to_lch(palette.lab[place])
        off = wheel_steps(wheel_position(palette.lab[place]), FAMILIES.index(family))
        if float(off) <= far:
            distance = abs(L - value) + abs(C - chroma)
            if distance < least:
                best, least = int(place), float(distance)
    return best


def _lay(pencil: int, pressure: float) -> Move:
    return Move("lay", pencil, pressure)


def hue_family(palette: Palette) -> tuple[Swatch, ...]:
    bright = _pencil(palette, "orange", 65.0, 75.0)
    brown = _pencil(palette, "orange", 35.0, 25.0, far=0.75)
    return (
        Swatch(_lab(palette.lab[bright]), "orange"),
        Swatch(_lab(palette.lab[brown]), "brown: a dark orange"),
    )


def lean(palette: Palette) -> tuple[Swatch, ...]:
    red = FAMILIES.index("red")
    chroma = lab_to_lch(palette.lab)[:, 1]
    off = (wheel_position(palette.lab) - red + 6.0) % 12.0 - 6.0
    reds = [int(i) for i in palette.colour_indices if abs(off[i]) <= 0.75 and chroma[i] > 38.0]
    # Positions rise from yellow through red to violet.
    reds.sort(key=lambda i: float(off[i]))
    chosen = (reds[0], min(reds, key=lambda i: abs(float(off[i]))), reds[-1])
    labels = ("leans to orange", "squarely red", "leans to violet")
    return tuple(
        Swatch(_lab(palette.lab[i]), label) for i, label in zip(chosen, labels, strict=True)
    )


def value(palette: Palette) -> tuple[Swatch, ...]:
    green = _pencil(palette, "green", 50.0, 45.0)
    hue = float(lab_to_lch(palette.lab[green])[2])
    return tuple(
        Swatch(_lch(L, 22.0, hue), label)
        for L, label in ((82.0, "light"), (55.0, "middle"), (28.0, "dark"))
    )


def chroma(palette: Palette) -> tuple[Swatch, ...]:
    red = _pencil(palette, "red", 45.0, 60.0)
    L, C, h = (float(v) for v in lab_to_lch(palette.lab[red]))
    return tuple(
        Swatch(_lch(L, share * C, h), label)
        for share, label in ((1.0, "bright"), (0.55, "duller"), (0.2, "dull"), (0.0, "grey"))
    )


def _greys(palette: Palette) -> tuple[int, int]:
    """A warm and a cool grey pencil, of values as near as may be."""
    a_b = palette.lab[:, 2]
    C = lab_to_lch(palette.lab)[:, 1]
    greys = [int(i) for i in palette.colour_indices if 2.0 < C[i] < 14.0]
    pairs = [
        (w, c)
        for w in greys
        for c in greys
        if a_b[w] > 1.0 and a_b[c] < -1.0 and palette.lab[w, 0] > 40
    ]
    return min(
        pairs, key=lambda pair: abs(float(palette.lab[pair[0], 0] - palette.lab[pair[1], 0]))
    )


def warm_and_cool(palette: Palette) -> tuple[Swatch, ...]:
    warm, cool = _greys(palette)
    return (
        Swatch(_lab(palette.lab[warm]), "the warmer"),
        Swatch(_lab(palette.lab[cool]), "the cooler"),
    )


def grey_that_leans(palette: Palette) -> tuple[Swatch, ...]:
    warm, cool = _greys(palette)
    L = float((palette.lab[warm, 0] + palette.lab[cool, 0]) / 2)
    return (
        Swatch(_lab(palette.lab[warm]), "leans warm"),
        Swatch((L, 0.0, 0.0), "leans nowhere"),
        Swatch(_lab(palette.lab[cool]), "leans cool"),
    )


def undertone(palette: Palette) -> tuple[Swatch, ...]:
    """Of the dark pencils, the one whose hue shows most when it is laid thin."""
    dark = [int(i) for i in palette.colour_indices if palette.lab[i, 0] < 36.0]
    thin = {i: predict(palette, [_lay(i, LIGHT)] * 2) for i in dark}
    best = max(dark, key=lambda i: float(lab_to_lch(np.array(thin[i]))[1]))
    return (
        Swatch(thin[best], "laid thin"),
        Swatch(predict(palette, [_lay(best, FIRM)] * 2), "laid firmly, twice"),
    )


def surround(palette: Palette) -> tuple[Swatch, ...]:
    grey = (55.0, 0.0, 0.0)
    return (
        Swatch(grey, "on light", LIGHT_GROUND),
        Swatch(grey, "the same on dark", DARK_GROUND),
    )


def complement(palette: Palette) -> tuple[Swatch, ...]:
    red, green = _pencil(palette, "red", 45.0, 60.0), _pencil(palette, "green", 50.0, 45.0)
    main = [_lay(red, MIDDLE)] * 2
    return (
        Swatch(predict(palette, main), "red"),
        Swatch(predict(palette, [_lay(green, MIDDLE)] * 2), "its complement"),
        Swatch(predict(palette, [*main, _lay(green, LIGHT)]), "green lightly over red"),
    )


def mute(palette: Palette) -> tuple[Swatch, ...]:
    red, green = _pencil(palette, "red", 45.0, 60.0), _pencil(palette, "green", 50.0, 45.0)
    main, quiet = _lay(red, MIDDLE), _lay(green, MIDDLE)
    return (
        Swatch(predict(palette, [main, main]), "red alone"),
        Swatch(predict(palette, [main, quiet, main]), "green held inside"),
        Swatch(predict(palette, [main, main, quiet]), "green on top"),
    )


def tooth(palette: Palette) -> tuple[Swatch, ...]:
    blue = _lay(_pencil(palette, "blue", 40.0, 45.0), LIGHT)
    sheet = apply(palette, start(palette), blue)
    zones = reflectance_to_lab(zone_reflectance(sheet)[0])
    order = np.argsort(zones[:, 0])
    return (
        Swatch(_lab(zones[order[0]]), "the peaks"),
        Swatch(_lab(zones[order[-1]]), "the valleys"),
        Swatch(predict(palette, [blue]), "from arm's length"),
    )


def hand(palette: Palette) -> tuple[Swatch, ...]:
    blue = [_lay(_pencil(palette, "blue", 40.0, 45.0), MIDDLE)] * 2
    harder = LearnedHand((1.0,) * len(palette), middle=1.2)
    return (
        Swatch(predict(palette, blue), "as supposed"),
        Swatch(predict(prepare(palette.set, hand=harder), blue), "pressed a fifth harder"),
    )


def pressure(palette: Palette) -> tuple[Swatch, ...]:
    blue = _pencil(palette, "blue", 40.0, 45.0)
    return tuple(
        Swatch(predict(palette, [_lay(blue, weight)]), label)
        for weight, label in ((LIGHT, "light"), (MIDDLE, "middle"), (FIRM, "firm"))
    )


def blender(palette: Palette) -> tuple[Swatch, ...]:
    blue, green = _pencil(palette, "blue", 40.0, 45.0), _pencil(palette, "blue-green", 45.0, 35.0)
    moves = [
        *(_lay(blue, MIDDLE), _lay(green, MIDDLE)),
        Move("blend", -1 if palette.blender is None else palette.blender, LIGHT),
        _lay(blue, MIDDLE),
    ]
    return _steps(palette, moves, ("two layers", "after the blender", "a last layer on it"))


def burnish(palette: Palette) -> tuple[Swatch, ...]:
    blue, green = _pencil(palette, "blue", 40.0, 45.0), _pencil(palette, "blue-green", 45.0, 35.0)
    red = _pencil(palette, "red", 45.0, 60.0)
    moves = [_lay(blue, MIDDLE), _lay(green, MIDDLE), Move("burnish"), _lay(red, LIGHT)]
    return _steps(palette, moves, ("two layers", "burnished", "red laid after it"))


def _steps(palette: Palette, moves: list[Move], labels: Sequence[str]) -> tuple[Swatch, ...]:
    """The last stages of a plan, as many as there are labels."""
    seen = predict_steps(palette, moves)[-len(labels) :]
    return tuple(Swatch(_lab(lab), label) for lab, label in zip(seen, labels, strict=True))


def delta(palette: Palette) -> tuple[Swatch, ...]:
    base = np.array(palette.lab[_pencil(palette, "green", 50.0, 45.0)])
    made = [Swatch(_lab(base), "a green")]
    for wanted in DIFFERENCES:
        made.append(Swatch(_away(base, wanted), f"ΔE00 {wanted:.0f} from it"))
    return tuple(made)


def _away(base: np.ndarray, wanted: float) -> Lab:
    """A colour at this ΔE00, lighter and towards yellow; by halving."""
    way = np.array([0.5, 0.35, 0.79])
    low, high = 0.0, 60.0
    for _ in range(60):
        middle = (low + high) / 2
        if float(delta_e00(base, base + middle * way)) < wanted:
            low = middle
        else:
            high = middle
    return _lab(base + high * way)


def threshold(palette: Palette) -> tuple[Swatch, ...]:
    red = lab_to_lch(palette.lab[_pencil(palette, "red", 45.0, 60.0)])
    hue = float(red[2])
    made = []
    for difference in PAIRS:
        made.append(Swatch(_lch(50.0 + difference / 2, 28.0, hue), f"ΔL* {difference:.0f} up"))
        made.append(Swatch(_lch(50.0 - difference / 2, 28.0, hue), "from this"))
    return tuple(made)


PICTURES: dict[str, Callable[[Palette], tuple[Swatch, ...]]] = {
    "hue family": hue_family,
    "your hand": hand,
    "lean": lean,
    "value": value,
    "chroma": chroma,
    "warm and cool": warm_and_cool,
    "grey that leans": grey_that_leans,
    "undertone": undertone,
    "surround": surround,
    "complement": complement,
    "mute": mute,
    "tooth": tooth,
    "pressure": pressure,
    "blender": blender,
    "burnish": burnish,
    "ΔE00": delta,
    "threshold": threshold,
}
