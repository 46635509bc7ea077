"""Photos of filled sheets, rendered with known truth (tests.sheets.camera), read back.

``python -m tests.bench sheets`` prints how often the codes are found, how far boxes are placed
off, and how far their colours are, ΔE00; under a shadow, beside the same photos without it. The
patches are geometric mixtures of measured reflectances; boxes that were dropped are counted. What
phones do by themselves besides is not known, and isn't here.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from time import process_time

import numpy as np
from PIL import Image

from drills.basics.errors import InputError
from drills.colour.data.tables import FloatArray
from drills.colour.difference import delta_e00
from drills.pictures.chart import read_chart
from drills.pictures.picture import Picture
from drills.sheets.finding import Sighted, find_pages
from drills.sheets.layout import A4, LETTER, Page
from drills.sheets.sampling import BoxRead, ByChart, read_boxes
from tests.sheets.camera import (
    CHART,
    Take,
    cameras,
    filled_page,
    lights,
    measured,
    photograph,
    projected,
    truth,
)

PHOTOS, BOWED, SHADOWED = 100, 12, 8
FOUND, FLAT_MM, BOWED_MM = 0.98, 0.5, 4.0
BY_PAPER, BY_CHART = (2.5, 6.0), (2.0, 4.5)


def drawn(rng: np.random.Generator, seed: int) -> Take:
    """A photo as someone may take it: from 2 megapixels, tilted to 45°, in a fair light."""
    return Take(
        camera=str(rng.choice(sorted(cameras()))),
        light=str(rng.choice(sorted(lights()))),
        megapixels=float(rng.choice([2.0, 2.0, 3.0, 5.0])),
        tilt=float(rng.uniform(0, 45)),
        turn=float(rng.uniform(0, 360)),
        toward=float(rng.uniform(0, 360)),
        balance=(float(rng.uniform(0.94, 1.06)), float(rng.uniform(0.94, 1.06))),
        tone=float(rng.uniform(0, 0.6)),
        falloff=float(rng.uniform(0, 0.35)),
        blur=float(rng.uniform(0.4, 1.0)),
        noise=float(rng.uniform(0.004, 0.015)),
        quality=int(rng.integers(75, 96)),
        exposure=float(rng.uniform(0.6, 0.85)),
        seed=seed,
    )


def placed_off(page: Page, take: Take, seen: Sighted) -> float:
    """The worst box's distance from where it truly is, in mm of the sheet there."""
    middles = np.array([box.rect.middle for box in page.boxes()])
    step = 0.5 * np.eye(2)
    slopes = np.stack(
        [
            projected(page, take, middles + one) - projected(page, take, middles - one)
            for one in step
        ],
        axis=-1,
    )
    off = seen.pixels(middles) - projected(page, take, middles)
    return float(np.linalg.norm(np.linalg.solve(slopes, off[..., None])[..., 0], axis=1).max())


def errors(read: list[BoxRead], filled: dict[tuple[int, str], FloatArray]) -> FloatArray:
    """ΔE00 of each filled box, nan where it was dropped."""
    return np.array(
        [
            np.nan
            if one.trouble
            else float(delta_e00(np.array(one.lab), truth(filled[one.box.slot, one.box.part])))
            for one in read
            if (one.box.slot, one.box.part) in filled
        ]
    )


def one(take: Take, number: int) -> tuple[Page, Sighted | None, FloatArray, FloatArray, float]:
    """A photo taken and read: page, place, errors by paper white and by chart, seconds."""
    rng = np.random.default_rng(number)
    page = Page("TESTID", "pencils", A4 if number % 2 else LETTER, 1)
    filled = filled_page(page, rng)
    image = photograph(page, filled, take)
    start = process_time()
    seen, _ = find_pages(np.asarray(Image.fromarray(image).convert("L")))
    if not seen:
        return page, None, np.array([]), np.array([]), process_time() - start
    read = read_boxes(image, seen[0], page.boxes())
    spent = process_time() - start
    by_chart = np.array([])
    if take.chart:
        left, top, wide, high = CHART
        outline = np.array(
            [(left, top), (left + wide, top), (left + wide, top + high), (left, top + high)]
        )
        a, b, c, d = (tuple(point) for point in projected(page, take, outline).tolist())
        picture = Picture(Image.fromarray(image), None, "photo")
        try:
            chart = read_chart(picture, (a, b, c, d), truth(measured()[:24]))
        except InputError:  # too many of its patches are clipped: the learner is told so
            return page, seen[0], errors(read, filled), by_chart, spent
        at = projected(page, take, outline).mean(axis=0).tolist()
        by = ByChart(chart, (at[0], at[1]))
        by_chart = errors(read_boxes(image, seen[0], page.boxes(), by), filled)
    return page, seen[0], errors(read, filled), by_chart, spent


def figures(values: list[FloatArray]) -> tuple[float, float, float]:
    """Median, 95th centile, and the share dropped."""
    every = np.concatenate(values)
    kept = every[~np.isnan(every)]
    return float(np.median(kept)), float(np.percentile(kept, 95)), float(np.isnan(every).mean())


def main(photos: int = PHOTOS) -> int:
    rng = np.random.default_rng(14)
    over = []
    found, off, paper, chart, spent = 0, [], [], [], []
    for number in range(photos):
        take = replace(drawn(rng, number), chart=number % 2 == 0)
        page, seen, by_paper, by_chart, seconds = one(take, number)
        spent.append(seconds)
        if seen is None:
            continue
        found += 1
        off.append(placed_off(page, take, seen))
        paper.append(by_paper)
        if by_chart.size:
            chart.append(by_chart)
    share = found / photos
    print(f"three codes found in {found} of {photos} photos (bar {FOUND:.0%})")
    print(
        f"worst box off {max(off):.2f} mm on a flat sheet (bar {FLAT_MM}); reading takes"
        f" {np.median(spent):.2f} s of processor"
    )
    over += ["found"] * (share < FOUND) + ["flat"] * (max(off) > FLAT_MM)
    print(f"charts read: {len(chart)} of {(photos + 1) // 2}; the rest had patches clipped")
    for name, values, bar in (("paper white", paper, BY_PAPER), ("chart", chart, BY_CHART)):
        median, most, dropped = figures(values)
        print(
            f"by {name}: median ΔE00 {median:.2f}, 95 % within {most:.2f}"
            f" (bars {bar[0]}, {bar[1]}); {dropped:.1%} of boxes dropped"
        )
        over += [name] * (median > bar[0] or most > bar[1])
    off, bowed = [], []
    for number in range(BOWED):
        take = replace(drawn(rng, number), bow=5.0)
        page, seen, by_paper, _, _ = one(take, 1000 + number)
        if seen is not None:
            off.append(placed_off(page, take, seen))
            bowed.append(by_paper)
    median, most, dropped = figures(bowed)
    print(
        f"bowed by 5 mm: {len(bowed)} of {BOWED} read, worst box off {max(off):.2f} mm (bar"
        f" {BOWED_MM}), median ΔE00 {median:.2f}, 95 % within {most:.2f}; {dropped:.1%} dropped"
    )
    over += ["bowed"] * (max(off) > BOWED_MM)
    shaded, plain = [], []
    for number in range(SHADOWED):
        take = replace(drawn(rng, number), megapixels=5.0)
        shaded.append(one(replace(take, shadow=0.55), 2000 + number)[2])
        plain.append(one(take, 2000 + number)[2])
    median, most, dropped = figures(shaded)
    p_median, p_most, _ = figures(plain)
    print(
        f"a shadow over a part: median ΔE00 {median:.2f}, 95 % within {most:.2f}, {dropped:.1%}"
        f" dropped; without it {p_median:.2f} and {p_most:.2f}"
    )
    if over:
        print("over a bar:", ", ".join(over))
    return bool(over)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else PHOTOS))
