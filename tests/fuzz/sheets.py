"""Hostile photos for fuzzed commands: sheets whose codes lie, and files that are no good picture.

``LIE`` begins the name of a sheet that no home may believe, whatever it knows.
"""

from __future__ import annotations

import random
from functools import cache
from typing import Final

import numpy as np

from drills.sheets.layout import A4, LETTER, Page
from tests.photos.made import filed
from tests.sheets.scan import PAPER, Image, scanned, symbol
from tests.sheets.test_lying_codes import FILES, ID, LIES, PAGE

LIE: Final = "lie-"
_ONLY_TO_WHO_PRINTED_IT = ("a page that was not printed", "patches that were not asked for")
_LONG = 2_900
"""Bytes that a code says, near the most that one can (ISO/IEC 18004: 2,953)."""


@cache
def photos(seed: int, lies: int = 8, broken: int = 6, odd: int = 5) -> dict[str, bytes]:
    """Files by name, of which so many of each sort are drawn; the same seed draws the same."""
    rng = random.Random(seed)
    made = {"good-sheet.png": filed(scanned(PAGE)), "long-code.png": filed(_long(rng))}
    for name in rng.sample(sorted(LIES), lies):
        sort = "unprinted-" if name in _ONLY_TO_WHO_PRINTED_IT else LIE
        made[f"{sort}{_plain(name)}.png"] = filed(LIES[name][0]())
    whole = filed(scanned(PAGE), "JPEG")
    for name in rng.sample(sorted(FILES), broken):
        made[f"broken-{_plain(name)}.jpg"] = FILES[name][0](whole)
    for number in range(odd):
        made[f"odd-{number}.jpg"] = _changed(filed(_odd(rng), "JPEG"), rng)
    return made


def _plain(name: str) -> str:
    return name.replace(" ", "-").casefold()


def _long(rng: random.Random) -> Image:
    """A sheet beside a code that says far more than a corner may, escape codes among it."""
    text = ("\x1b[2J\x1b]0;x\x07" + "".join(rng.choices("PS1A0 \r\n", k=_LONG))).encode()[:_LONG]
    sheet = scanned(PAGE)
    beside = np.full((len(sheet), 800), PAPER, dtype=np.uint8)
    beside[40 : 40 + 708, 40 : 40 + 708] = symbol(text, 708)
    return np.hstack([sheet, np.repeat(beside[..., None], 3, axis=2)])


def _odd(rng: random.Random) -> Image:
    """A sheet with some corners that say another thing, turned, mirrored, shadowed or cut."""
    page = Page(
        ID, rng.choice(("pencils", "patches")), rng.choice((A4, LETTER)), rng.choice((1, 9))
    )
    drawn_as = Page(ID, rng.choice(("pencils", "patches")), rng.choice((A4, LETTER)), 1)
    says: dict[int, str | bytes | None] = {}
    for corner in range(4):
        text = page.code(rng.choice((corner, corner, corner, rng.randrange(4))))
        if rng.random() < 0.3:
            at = rng.randrange(len(text))
            text = text[:at] + rng.choice("019-AZ٣\0\x1bé🎨") + text[at + 1 :]
        says[corner] = text if rng.random() < 0.85 else None
    image = scanned(page, says, drawn_as if rng.random() < 0.4 else page)
    if rng.random() < 0.4:
        shade = np.linspace(1.0, rng.uniform(0.05, 0.9), image.shape[1])
        image = (image * shade[None, :, None]).astype(np.uint8)
    if rng.random() < 0.3:
        image = image[:, ::-1]
    if rng.random() < 0.3:
        image = image[rng.randrange(400) :, : rng.randrange(300, image.shape[1])]
    return np.ascontiguousarray(np.rot90(image, rng.randrange(4)))


def _changed(data: bytes, rng: random.Random) -> bytes:
    """A file with some bytes changed, or none of them."""
    if rng.random() < 0.5:
        return data
    out = bytearray(data)
    for _ in range(rng.randrange(1, 30)):
        out[rng.randrange(2, len(out))] = rng.randrange(256)
    return bytes(out)
