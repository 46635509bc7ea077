"""How wide words are in print, so that what is laid beside and under them is not run over."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from functools import lru_cache

FONT = "Helvetica, Arial, 'Liberation Sans', sans-serif"
SLACK = 1.16
"""A browser without these fonts takes one that runs wider, most often by up to a sixth."""
_BOLD = 1.08
_WIDE, _OTHER = 1000, 720
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
_WIDTH = {char: width for width, chars in _THOUSANDTHS.items() for char in chars}


def width_mm(words: str, size: float, bold: bool = False) -> float:
    """How wide ``words`` print at a letter size in mm; rather too much than too little."""
    return _in_mm(_thousandths(words), size, bold)


def _in_mm(thousandths: int, size: float, bold: bool) -> float:
    return thousandths / 1000.0 * size * SLACK * (_BOLD if bold else 1.0)


def wrapped(words: str, width: float, size: float, bold: bool = False) -> list[str]:
    """Lines no wider than ``width`` mm. Nothing is left out: a long word is broken."""
    lines: list[str] = []
    line, so_far = "", 0
    for word in words.split():
        for part in _parts(word, width, size, bold):
            longer, more = part, _thousandths(part)
            if line:
                longer, more = f"{line} {part}", so_far + _WIDTH[" "] + more
                if _in_mm(more, size, bold) > width:
                    lines.append(line)
                    longer, more = part, _thousandths(part)
            line, so_far = longer, more
    return [*lines, line] if line else lines


def _parts(word: str, width: float, size: float, bold: bool) -> Iterator[str]:
    if width_mm(word, size, bold) <= width:
        yield word
        return
    part, so_far = "", 0
    for char in word:
        more = so_far + _share(char)
        if part and _in_mm(more, size, bold) > width:
            yield part
            part, more = "", _share(char)
        part, so_far = part + char, more
    yield part


@lru_cache(maxsize=4_096)
def _thousandths(words: str) -> int:
    """How wide words are, in thousandths of the letters' size."""
    return sum(map(_share, words))


def _share(char: str) -> int:
    if char in _WIDTH:
        return _WIDTH[char]
    if unicodedata.combining(char):
        return 0
    if unicodedata.east_asian_width(char) in "WF":
        return _WIDE
    base = unicodedata.normalize("NFD", char)[0]
    return _WIDTH.get(base, _OTHER)
