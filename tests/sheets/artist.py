"""An artist of another make: from a sheet filled and photographed to colours painted by plan.

Pencils, films, paper's tooth and hand are ``tests.other_make``'s, each layer's pressure off by
15 %. The coach knows of them only what photos show (``tests.sheets.camera``): of a blank sheet
for the pencils, of a second one for the patches it asks for, of the things to match, and of what
came on paper. Things to match are geometric mixtures of measured reflectances whose colours lie
inside the hull of what these pencils make. All photos of an artist are taken with one camera,
each in a light of its own, some in the white balance's error and the tone curve of a phone.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from PIL import Image
from scipy.spatial import Delaunay

from coach.sheets.printed import Printed
from coach.sheets.reading import asked_patches, draft, light_patches, read_photo
from drills.colour.data.tables import FloatArray
from drills.colour.difference import delta_e00
from drills.colour.spaces import reflectance_to_lab
from drills.hand.choose import choose
from drills.hand.fit import fit
from drills.hand.patch import Patch
from drills.layering.constants import READ_SD
from drills.layering.moves import LIGHT, Move
from drills.layering.palette import Palette, prepare
from drills.layering.paper import drawing_paper
from drills.pencils.pencil import PencilSet
from drills.pictures.light import light_of
from drills.pictures.opening import picture_of
from drills.pictures.spot import read_spot
from drills.planning.mending.mend import mend
from drills.planning.plan import LikelyMiss
from drills.planning.plan_limits import Limits
from drills.planning.plan_words import as_lab
from drills.planning.planner import plan
from drills.sheets.layout import A4, Page
from drills.sheets.results import Slots, combined
from tests.other_make import BLACK_PAPER, World, world
from tests.sheets.camera import Take, blurred, cameras, jpeg, linear_of, mixtures, photograph

LIMITS = Limits(blender=False, burnish=False)
"""The other make knows layers only."""
LIGHTS = ("D50", "D55", "D65", "D75", "LED-B3", "LED-B4", "LED-B5", "LED-V2")
SIDE, GAP = 56, 24
"""Pixels of a patch in a photo of swatches, and of paper between."""


@dataclass(frozen=True)
class Painted:
    """One target: ΔE00 of what was painted from what it truly is, first and in the end.

    ``first_read`` is from the target as its photo was read; ``told`` what the plan said,
    ``misread`` how far the photo's reading was off.
    """

    first: float
    mended: float
    first_read: float
    misread: float
    told: LikelyMiss


@dataclass(frozen=True, eq=False)
class Artist:
    """A world of pencils and a hand, a phone, and a seed for all else."""

    made: World
    camera: str
    seed: int
    megapixels: float

    def take(self, rng: np.random.Generator) -> Take:
        """How the next photo is taken."""
        return Take(
            camera=self.camera,
            light=str(rng.choice(LIGHTS)),
            megapixels=self.megapixels,
            tilt=float(rng.uniform(0, 25)),
            turn=float(rng.uniform(-15, 15)),
            toward=float(rng.uniform(0, 360)),
            balance=(float(rng.uniform(0.96, 1.04)), float(rng.uniform(0.96, 1.04))),
            tone=float(rng.uniform(0, 0.4)),
            falloff=float(rng.uniform(0, 0.25)),
            noise=float(rng.uniform(0.004, 0.012)),
            exposure=float(rng.uniform(0.65, 0.8)),
            seed=int(rng.integers(2**31)),
        )


def artist(seed: int, megapixels: float = 3.0) -> Artist:
    rng = np.random.default_rng(seed + 77)
    return Artist(world(seed), str(rng.choice(sorted(cameras()))), seed, megapixels)


def sheet_read(who: Artist, rng: np.random.Generator) -> tuple[PencilSet, list[Patch]]:
    """The blank sheet of pencils, filled, photographed and read: the set, its light boxes."""
    page = Page("ARTIST", "pencils", A4, 1)
    filled: dict[tuple[int, str], FloatArray] = {}
    for slot in range(len(who.made.target)):
        filled[slot, "light"] = who.made.lay([Move("lay", slot, LIGHT)], rng)
        filled[slot, "firm"] = who.made.lay([Move("lay", slot)], rng)
        filled[slot, "over black"] = who.made.lay([Move("lay", slot)], rng, BLACK_PAPER)
    slots = _read(page, filled, who.take(rng), None)
    pencils = draft(slots, page.slots, None, "what the sheet shows")
    assert pencils is not None
    return pencils, light_patches(slots, page.slots, None, pencils)


def hand_learned(
    who: Artist, pencils: PencilSet, light: list[Patch], count: int, rng: np.random.Generator
) -> Palette:
    """The pencils ready, with the hand of the light boxes and ``count`` patches asked for."""
    plain = prepare(pencils)
    asked = choose(plain, fit(plain, light), count, [one.recipe for one in light])
    printed = Printed(pencils, tuple(one.recipe for one in asked))
    page = Page("HANDED", "patches", A4, 1)
    places = places_of(pencils)
    filled: dict[tuple[int, str], FloatArray] = {}
    for slot, recipe in enumerate(printed.recipes):
        ground = BLACK_PAPER if recipe.paper == "black" else -1.0
        filled[slot, "patch"] = who.made.lay(_true(recipe.moves, places), rng, ground)
    slots = _read(page, filled, who.take(rng), printed)
    patches = [*light, *asked_patches(slots, page.slots, printed)]
    found = fit(plain, patches)
    return prepare(pencils, hand=found.hand) if found.better else plain


def _read(
    page: Page,
    filled: dict[tuple[int, str], FloatArray],
    take: Take,
    printed: Printed | None,
) -> Slots:
    picture = picture_of(jpeg(photograph(page, filled, take)), "the sheet")
    pages, unread = read_photo(picture, lambda _: printed)
    assert not unread
    (slots,) = combined(pages).values()
    return slots


def places_of(pencils: PencilSet) -> tuple[int, ...]:
    """The world's pencil behind each of a set's: a box that was dropped left one out."""
    return tuple(int(one.name.removeprefix("Pencil ")) - 1 for one in pencils.pencils)


def _true(moves: Sequence[Move], places: Sequence[int]) -> list[Move]:
    return [Move(one.action, places[one.pencil], one.pressure) for one in moves]


def things(who: Artist, count: int, rng: np.random.Generator) -> FloatArray:
    """Reflectances (count, 31) of things to match, inside what the pencils truly make."""
    laid = []
    for _ in range(400):
        of = rng.choice(len(who.made.target), 3)
        moves = [
            Move("lay", int(rng.choice(of)), float(rng.choice((0.3, 0.6, 1.0))))
            for _ in range(rng.integers(1, 5))
        ]
        laid.append(who.made.lay(moves, None))
    hull = Delaunay(reflectance_to_lab(np.array(laid)))
    pool = mixtures(rng, 60 * count)
    inside = pool[hull.find_simplex(reflectance_to_lab(pool)) >= 0]
    return inside[:count]


def photo_read(shown: FloatArray, take: Take, rng: np.random.Generator) -> FloatArray:
    """Lab (n, 3) of reflectances (n, 31) in a row on white paper, as read from a photo of it:
    its light is taken off by four points of the paper."""
    n = len(shown)
    wide, high = n * (SIDE + GAP) + GAP, SIDE + 2 * GAP
    table = np.concatenate([drawing_paper().reflectance[None], shown])
    place = np.zeros((high, wide), dtype=int)
    lefts = [GAP + i * (SIDE + GAP) for i in range(n)]
    for i, left in enumerate(lefts):
        place[GAP : GAP + SIDE, left : left + SIDE] = i + 1
    linear = linear_of(take, table)[place]
    grain = np.repeat(np.repeat(rng.uniform(0.9, 1.1, (high // 3 + 1, wide // 3 + 1)), 3, 0), 3, 1)
    linear = linear * np.where(place > 0, grain[:high, :wide], 1.0)[..., None]
    x, y = np.meshgrid(np.arange(wide) / wide, np.arange(high) / high)
    light = take.exposure * (1.0 - take.falloff * (0.7 * x + 0.3 * y))
    linear = blurred(np.clip(linear, 0.0, 4.0) * light[..., None], take.blur)
    linear = linear + rng.normal(0.0, take.noise, linear.shape) * np.sqrt(linear.clip(0.002))
    tone = np.clip(linear, 0.0, 1.0)
    tone = np.where(tone <= 0.0031308, 12.92 * tone, 1.055 * tone ** (1 / 2.4) - 0.055)
    tone = (1 - 0.35 * take.tone) * tone + 0.35 * take.tone * tone * tone * (3 - 2 * tone)
    kept = io.BytesIO()
    Image.fromarray(np.rint(tone * 255).astype(np.uint8)).save(kept, "JPEG", quality=take.quality)
    picture = picture_of(kept.getvalue(), "swatches")
    edge = GAP / 2
    whites = [(x, y) for x in (edge, wide - edge) for y in (edge, high - edge)]
    correction, _ = light_of(picture, whites, radius=6)
    middle = GAP + SIDE / 2
    return np.array(
        [read_spot(picture, left + SIDE / 2, middle, 20, correction).lab for left in lefts]
    )


def painted(who: Artist, palette: Palette, count: int, rng: np.random.Generator) -> list[Painted]:
    """Things photographed, planned for, painted, and mended twice by what a photo shows."""
    shown = things(who, count, rng)
    goal, read = reflectance_to_lab(shown), photo_read(shown, who.take(rng), rng)
    places = places_of(palette.set)
    plans = [plan(palette, as_lab(lab), LIMITS, target_sd=READ_SD) for lab in read]
    laid = [list(one.recipe) for one in plans]
    hands = rng.integers(2**31, size=count)

    def on_paper() -> FloatArray:
        # The same seed, the same hand: layers that lie there stay as they came out.
        return np.array(
            [
                who.made.lay(_true(moves, places), np.random.default_rng(hand))
                for moves, hand in zip(laid, hands, strict=True)
            ]
        )

    first = reflectance_to_lab(on_paper())
    going = set(range(count))
    for _ in range(2):
        got = photo_read(on_paper(), who.take(rng), rng)
        for i in sorted(going):
            found = mend(palette, as_lab(read[i]), as_lab(got[i]), laid[i], 0, READ_SD, READ_SD)
            laid[i] += [one.move for one in found.moves]
            if not found.moves:
                going.discard(i)
    last = reflectance_to_lab(on_paper())
    columns = (
        delta_e00(a, b) for a, b in ((first, goal), (last, goal), (first, read), (read, goal))
    )
    return [
        Painted(*map(float, row), one.likely)
        for row, one in zip(zip(*columns, strict=True), plans, strict=True)
    ]


def whole_way(who: Artist, count: int, patches: int = 30) -> tuple[list[Painted], float, bool]:
    """From the sheet to the painted colours; the swatches' median error, whether a hand counts."""
    rng = np.random.default_rng(who.seed + 5000)
    pencils, light = sheet_read(who, rng)
    true = reflectance_to_lab(who.made.target[list(places_of(pencils))])
    off = delta_e00(np.array([one.lab for one in pencils.pencils]), true)
    palette = hand_learned(who, pencils, light, patches, rng)
    return painted(who, palette, count, rng), float(np.median(off)), palette.hand is not None
