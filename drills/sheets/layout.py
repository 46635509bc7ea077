"""Where things lie on a sheet to fill by hand, in millimetres from its top left corner.

A page says in each corner, by a printed code, which sheet and page it is, of what kind and
size: from that alone follows where every box lies.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final, Literal

Kind = Literal["pencils", "patches"]
Part = Literal["light", "firm", "over black", "bare black", "patch"]
Ground = Literal["white", "black"]

CODE: Final = 20.0
"""Side of a corner's code."""
EDGE: Final = 12.0
"""From the sheet's edge to a code: white enough for its quiet zone (4 modules, 3.8 mm)."""
RING: Final = 3.0
"""White paper all round a box."""
BOX: Final = 12.0
BARE: Final = 6.0
"""Width of printed black that is left bare beside what is laid over black."""
CORNERS: Final = ("top left", "top right", "bottom right", "bottom left")
MOST_PAGES: Final = 99
ID_LENGTH: Final = 6
_COLUMNS = 3
_CELL_WIDE = 60.0
_PENCIL_TALL, _PATCH_TALL = 23.5, 20.0
_NAME = 4.5
_TOP = EDGE + CODE + 7.0
_FORM = "PS1"
_ANY_FORM = re.compile(r"PS[0-9]{1,4}[PH][AL].*")
_KINDS: dict[str, Kind] = {"P": "pencils", "H": "patches"}
_CODE_TEXT = re.compile(rf"{_FORM}([PH])([AL])([0-9]{{2}})([A-Z2-7]{{{ID_LENGTH}}})([0-3])")


@dataclass(frozen=True)
class Size:
    """A paper size: its name in CSS Paged Media, width and height in mm."""

    name: str
    width: float
    height: float


A4 = Size("A4", 210.0, 297.0)
LETTER = Size("Letter", 215.9, 279.4)
SIZES: Final = (A4, LETTER)


@dataclass(frozen=True)
class Rect:
    """Left, top, width and height in mm."""

    x: float
    y: float
    width: float
    height: float

    @property
    def middle(self) -> tuple[float, float]:
        return self.x + self.width / 2, self.y + self.height / 2


@dataclass(frozen=True)
class Box:
    """A box to fill. ``slot`` counts the pencils or patches of a page from 0; ``outer`` is all
    that is printed or painted inside the ring of white paper."""

    slot: int
    part: Part
    rect: Rect
    outer: Rect


@dataclass(frozen=True)
class Page:
    """One page of a sheet: what its corners' codes say. ``id`` is six letters or digits of
    RFC 4648's base 32, ``number`` counts from 1."""

    id: str
    kind: Kind
    size: Size
    number: int

    def code(self, corner: int) -> str:
        """What the code in a corner (a place in ``CORNERS``) says."""
        kind = next(letter for letter, name in _KINDS.items() if name == self.kind)
        return f"{_FORM}{kind}{self.size.name[0]}{self.number:02d}{self.id}{corner}"

    @property
    def left(self) -> float:
        """Where the first column begins."""
        return (self.size.width - _COLUMNS * _CELL_WIDE) / 2

    @property
    def slots(self) -> int:
        """How many pencils or patches a page has room for."""
        tall = _PENCIL_TALL if self.kind == "pencils" else _PATCH_TALL
        return _COLUMNS * int((self.size.height - 2 * _TOP) / tall)

    def cell(self, slot: int) -> Rect:
        """A slot's place, with what is printed beside its boxes. Slots run down the columns."""
        tall = _PENCIL_TALL if self.kind == "pencils" else _PATCH_TALL
        column, row = divmod(slot, self.slots // _COLUMNS)
        return Rect(self.left + column * _CELL_WIDE, _TOP + row * tall, _CELL_WIDE, tall)

    def boxes(self, grounds: tuple[Ground, ...] = ()) -> tuple[Box, ...]:
        """Every box; ``grounds`` are those of patches, white where not given."""
        if self.kind == "pencils":
            return tuple(box for slot in range(self.slots) for box in self._of_pencil(slot))
        return tuple(
            box
            for slot in range(self.slots)
            for box in self._of_patch(slot, grounds[slot] if slot < len(grounds) else "white")
        )

    def _of_pencil(self, slot: int) -> tuple[Box, ...]:
        cell = self.cell(slot)
        y = cell.y + _NAME + RING
        light = Rect(cell.x + RING, y, BOX, BOX)
        firm = Rect(light.x + BOX + 2 * RING, y, BOX, BOX)
        black = _over_black(slot, firm.x + BOX + 2 * RING, y, "over black")
        return (Box(slot, "light", light, light), Box(slot, "firm", firm, firm), *black)

    def _of_patch(self, slot: int, ground: Ground) -> tuple[Box, ...]:
        cell = self.cell(slot)
        x, y = cell.x + RING, cell.y + RING
        if ground == "black":
            return _over_black(slot, x, y, "patch")
        rect = Rect(x, y, BOX, BOX)
        return (Box(slot, "patch", rect, rect),)

    def corner(self, at: int) -> Rect:
        """The place of a corner's code."""
        x = EDGE if at in (0, 3) else self.size.width - EDGE - CODE
        y = EDGE if at in (0, 1) else self.size.height - EDGE - CODE
        return Rect(x, y, CODE, CODE)


def _over_black(slot: int, x: float, y: float, part: Part) -> tuple[Box, ...]:
    """A printed black strip: its left is left bare, its right laid over."""
    outer = Rect(x, y, BARE + BOX, BOX)
    return (
        Box(slot, "bare black", Rect(x, y, BARE, BOX), outer),
        Box(slot, part, Rect(x + BARE, y, BOX, BOX), outer),
    )


def page_of_code(text: str) -> tuple[Page, int] | None:
    """The page and corner that a code's text names; None for a code that isn't ours."""
    found = _CODE_TEXT.fullmatch(text)
    if found is None or found[3] == "00":
        return None
    size = A4 if found[2] == "A" else LETTER
    return Page(found[4], _KINDS[found[1]], size, int(found[3])), int(found[5])


def of_another_form(text: str) -> bool:
    """Whether a code's text is that of a sheet in a form that isn't known here."""
    return _ANY_FORM.fullmatch(text) is not None and not text.startswith(_FORM)
