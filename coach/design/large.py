"""Where large things are wanted: what a line of a list keeps, and what stands between lines."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import groupby

from coach.design.measures import columns

_NUMBER = r"\d[\d.,]*\d|\d"
FIGURE = re.compile(
    rf"(?<![\w#.])[−-]?(?:{_NUMBER})(?:(?:\s?[–/]\s?|\sof\s|\sto\s|\s)[−-]?(?:{_NUMBER}))*(?!\w)"
)
"""One figure: a number, a range, a part of a whole, or the numbers of one colour."""
DAY = re.compile(
    r"\b\d{1,2} (?:Jan|Feb|Mar|Apr|May|June?|July?|Aug|Sep|Oct|Nov|Dec)[a-z]*\b(?: \d{2,4}\b)?"
)
"""A day is no figure."""
_PARTS = re.compile(r"(?: {2,}|[,;] | (?=\())")
_ROW = re.compile(r"^ {2,}\S.* {2,}\S")
_END = re.compile(r"(?<=\.) ")
_ASIDE = re.compile(r"\s+\([^()]*\d[^()]*\)")
"""What stands in brackets with a figure in it."""


def figures_in(words: str) -> int:
    """How many figures these words carry."""
    return len(FIGURE.findall(DAY.sub("", words)))


def one_figure(line: str) -> str:
    """The line with its first figure and all words beside it; parts with further ones left out.

    Parts end at a comma, a semicolon, a bracket, or a gap between columns.
    """
    if figures_in(line) < 2:
        return line
    indent = line[: len(line) - len(line.lstrip())]
    kept, begins, found, gap = indent, len(indent), 0, ""
    while begins <= len(line):
        match = _PARTS.search(line, begins)
        part = line[begins : match.start() if match else len(line)]
        count = figures_in(part)
        if not kept.strip() or found + count <= 1:
            kept, found = kept + gap + part, found + count
        if match is None:
            break
        begins, gap = match.end(), match.group()
    return kept.rstrip()


def short(words: str) -> str:
    """Words with one figure, and none said beside it in brackets."""
    return one_figure(_ASIDE.sub("", words))


def spaced_rows(lines: Iterable[str]) -> Iterator[str]:
    """A page's lines: the rows of its lists with one figure each and an empty line between,
    in columns; all else as it is."""
    for row, some in groupby(lines, lambda line: _ROW.match(line) is not None):
        if not row:
            yield from some
            continue
        cells = [re.split(" {2,}", one_figure(line).strip()) for line in some]
        most = max(map(len, cells))
        rows = [[*one, *[""] * (most - len(one))] for one in cells]
        sides = ("<" if any(map(_no_number, column)) else ">" for column in zip(*rows, strict=True))
        for at, line in enumerate(columns(rows, "".join(sides))):
            if at:
                yield ""
            yield f"  {line}"


def _no_number(cell: str) -> bool:
    return bool(cell) and FIGURE.fullmatch(cell) is None


def fewer(page: str) -> str:
    """A page's words without the figures said beside others in brackets, one figure a sentence
    of a line, and its rows set apart.

    It is for words of our own alone: what others wrote is left as they wrote it.
    """
    lines = _ASIDE.sub("", page).split("\n")
    return "\n".join(spaced_rows(line if _ROW.match(line) else _sentences(line) for line in lines))


def _sentences(line: str) -> str:
    found = [one_figure(one.rstrip(".")) + "." * one.endswith(".") for one in _END.split(line)]
    return " ".join(found)
