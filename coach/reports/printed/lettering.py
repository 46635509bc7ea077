"""How wide words are in print, so that what is laid beside and under them is not run over."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

FONT = "Helvetica, Arial, 'Liberation Sans', sans-serif"
SLACK = 1.16
"""A browser without these fonts takes one that runs wider, most often by up to a sixth."""
_BOLD = 1.08
_WIDE, _OTHER = 1.0, 0.72
_THOUSANDTHS = {
    222: "ijl'",
    260: "|",
    278: " !,./:;I[\\]ft",
    333: '()-`r{}"',
    389: "*",
    500: "Jckvxyszº",
    556: "#$0123456789?L_abdeghnopqu",
    584: "+<=>~",
    611: "FTZ",
    667: "&ABEKPSVXY^",
    722: "CDHNRUw",
    778: "GOQ",
    833: "Mm",
    889: "%",
    944: "W",
    1015: "@",
}
"""Widths of a common sans-serif letter in thousandths of its size, from memory."""
_WIDTH = {char: width / 1000.0 for width, chars in _THOUSANDTHS.items() for char in chars}


def width_mm(words: str, size: float, bold: bool = False) -> float:
    """How wide ``words`` print at a letter size in mm; rather too much than too little."""
    return sum(map(_share, words)) * size * SLACK * (_BOLD if bold else 1.0)


def wrapped(words: str, width: float, size: float, bold: bool = False) -> list[str]:
    """Lines no wider than ``width`` mm. Nothing is left out: a long word is broken."""
    lines: list[str] = []
    line = ""
    for word in words.split():
        for part in _parts(word, width, size, bold):
            longer = f"{line} {part}" if line else part
            if line and width_mm(longer, size, bold) > width:
                lines.append(line)
                longer = part
            line = longer
    return [*lines, line] if line else lines


def _parts(word: str, width: float, size: float, bold: bool) -> Iterator[str]:
    part = ""
    for char in word:
        if part and width_mm(part + char, size, bold) > width:
            yield part
            part = ""
        part += char
    yield part


def _share(char: str) -> float:
    if char in _WIDTH:
        return _WIDTH[char]
    if unicodedata.combining(char):
        return 0.0
    if unicodedata.east_asian_width(char) in "WF":
        return _WIDE
    base = unicodedata.normalize("NFD", char)[0]
    return _WIDTH.get(base, _OTHER)
