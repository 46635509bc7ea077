"""The pencils of a set as a tray shows them, and the words for the one marked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from coach.widgets.tray import TrayPencil
from scores.skill.skill_words import WHEEL, region_words

if TYPE_CHECKING:
    from drills.colour.reading import Reading
    from drills.layering.palette import Palette
    from drills.pencils.pencil import Pencil
    from drills.questions.protocol import Lab

OPACITY = {"opaque": "o", "semi": "s", "transparent": "t"}
LEGEND = "Code; lightfastness I to V; o opaque, s semi-opaque, t transparent"
USED_UP, GONE = "used up", "gone"
"""In words, and where the tray has room for four letters beside a code."""
LEGEND_GONE = "Code; lightfastness; o opaque, s semi-opaque, t transparent; gone: used up"
GREYS, BLENDERS = "Greys", "Blenders"


@dataclass(frozen=True)
class PencilLine:
    """A pencil's swatch (None for a blender), two lines of words, and its place in the tray."""

    lab: Lab | None
    name: str
    reads: str
    tray: TrayPencil


def pencil_lines(palette: Palette) -> tuple[PencilLine, ...]:
    """Every pencil, in the file's own order."""
    from drills.colour.reading import read_colours

    return tuple(
        _line(pencil, (lab[0], lab[1], lab[2]), reading)
        for pencil, lab, reading in zip(
            palette.set.pencils, palette.lab.tolist(), read_colours(palette.lab), strict=True
        )
    )


def _line(pencil: Pencil, lab: Lab, reading: Reading) -> PencilLine:
    name = f"{pencil.code}  {pencil.name}" if pencil.code else pencil.name
    label = pencil.code or pencil.name
    used_up = f", {USED_UP}" if pencil.used_up else ""
    if pencil.is_blender:
        last = (float(len(WHEEL) + 1),)
        reads = f"colourless blender{used_up}"
        marks = GONE if pencil.used_up else ""
        shown = TrayPencil(None, label, marks, BLENDERS, last, f"{name} {reads}")
        return PencilLine(None, name, reads, shown)
    light = f", lightfastness {pencil.lightfastness}" if pencil.lightfastness else ""
    reads = short(reading)
    marks = f"{pencil.lightfastness} {OPACITY.get(pencil.opacity, '')}".strip()
    if pencil.used_up:
        marks = GONE
    family = reading.family
    group = GREYS if family is None else region_words(family).capitalize()
    at = len(WHEEL) if family is None else WHEEL.index(family)
    whole = f"{name}  ({pencil.opacity}{light}{used_up})"
    place = (float(at), -reading.value)
    return PencilLine(
        lab, whole, reads, TrayPencil(lab, label, marks, group, place, f"{whole} {reads} {group}")
    )


def short(reading: Reading) -> str:
    """The first sentence of a reading, and the everyday name where it hides the family."""
    first = reading.sentence().split(". ")[0].rstrip(".")
    return f"{first} (a {reading.everyday})" if reading.everyday else first
