"""``coach read``: say what an artist's eye should find in a colour."""

from __future__ import annotations

import json
import shutil
import sys
import textwrap
from collections.abc import Iterable, Iterator
from itertools import islice
from typing import TYPE_CHECKING, BinaryIO, NamedTuple

import click

from drills.basics.json_values import JSON

if TYPE_CHECKING:
    from drills.colour.reading import Reading

# Colours worked out together: enough to be fast, few enough to answer soon.
_BATCH = 250
_LINE_LIMIT = 4096  # bytes; no colour is so long
_SWATCH_COLUMNS = 8


class _Given(NamedTuple):
    text: str
    where: str  # "line 3, " for standard input, else empty


@click.command("read")
@click.argument("colours", metavar="COLOUR…", nargs=-1)
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")
def command(colours: tuple[str, ...], as_json: bool) -> None:
    """Read each COLOUR in an artist's words.

    A colour is '#c06030', 'rgb(192 96 48)', 'lab(50 20 -30)' or Munsell
    notation such as '5R 4/10' or 'N 5'. Put it in quotes, for the shell gives
    # and brackets a meaning of its own. A single - reads colours from standard
    input, one a line; empty lines are skipped.

    A colour that can't be read is named on standard error and nothing is
    printed for it; the others still are, and the exit status is 2.
    """
    if not colours:
        raise click.UsageError(
            "no colour given. Put one in quotes, such as '#c06030', or - for standard input."
        )
    show = _json_line if as_json else ReadingWords()
    failed = False
    for batch in _batches(_given(colours)):
        texts, labs = [], []
        for given in batch:
            lab = _parse(given)
            if lab is None:
                failed = True
            else:
                texts.append(given.text.strip())
                labs.append(lab)
        if labs:
            from drills.colour.reading import read_colours

            for text, reading in zip(texts, read_colours(labs, with_munsell=True), strict=True):
                click.echo(show(text, reading))
    if failed:
        sys.exit(2)


def _parse(given: _Given) -> tuple[float, float, float] | None:
    from drills.basics.errors import InputError
    from drills.colour.parse import parse_colour

    try:
        return parse_colour(given.text)
    except InputError as error:
        click.echo(f"coach: {given.where}{error}", err=True)
        return None


def _given(colours: tuple[str, ...]) -> Iterator[_Given]:
    """The colours in order, with those of standard input where the - stands."""
    for text in _whole(colours):
        if text == "-":
            if sys.stdin is not None:
                yield from _lines(sys.stdin.buffer)
        else:
            yield _Given(text, "")


def _whole(colours: tuple[str, ...]) -> Iterator[str]:
    """Put Munsell notations back together that the shell cut at their space."""
    words = list(colours)
    while words:
        word = words.pop(0)
        if words and _is_cut(word, words[0]):
            word = f"{word} {words.pop(0)}"
        yield word


def _is_cut(first: str, second: str) -> bool:
    starts_hue = first[:1].isdigit() and first[-1:].isalpha() and "/" in second
    starts_grey = first in {"N", "n"} and second[:1].isdigit()
    return starts_hue or starts_grey


def _lines(stream: BinaryIO) -> Iterator[_Given]:
    number = 0
    while piece := stream.readline(_LINE_LIMIT):
        number += 1
        rest = piece
        while len(rest) == _LINE_LIMIT and not rest.endswith(b"\n"):
            rest = stream.readline(_LINE_LIMIT)  # too long to be a colour: passed over unkept
        text = piece.decode("utf-8", errors="replace").removeprefix("\ufeff").strip()
        if text:
            yield _Given(text, f"line {number}, ")


def _batches(given: Iterable[_Given]) -> Iterator[list[_Given]]:
    # A person typing colours wants each answer at once.
    size = 1 if sys.stdin is not None and sys.stdin.isatty() else _BATCH
    source = iter(given)
    while batch := list(islice(source, size)):
        yield batch


def _json_line(text: str, reading: Reading) -> str:
    from drills.colour.spaces import hex_of, in_screen_gamut

    shown = bool(in_screen_gamut(reading.lab))
    return json.dumps(
        {
            "input": text,
            "lab": [round(x, 4) for x in reading.lab],
            "lch": [round(x, 4) for x in reading.lch],
            "hex": hex_of(reading.lab) if shown else None,
            **in_words(reading),
        }
    )


def in_words(reading: Reading) -> dict[str, JSON]:
    """What the artist's words for a colour are, for JSON."""
    return {
        "munsell": reading.munsell,
        # A grey has no family and no complement, though it may lean.
        "family": reading.family,
        "lean": reading.lean,
        "lean_strength": reading.lean_strength,
        "value": round(reading.value, 3),
        "value_word": reading.value_word,
        "chroma_word": reading.chroma_word,
        "temperature": reading.temperature,
        "complement": reading.complement,
        "neutral": reading.neutral,
        "everyday": reading.everyday,
    }


class ReadingWords:
    """Prints a reading for people, beside a swatch where the terminal can show one."""

    def __init__(self) -> None:
        self.swatches = sys.stdout.isatty() and _has_24_bit_colour()
        self.columns = shutil.get_terminal_size().columns if sys.stdout.isatty() else 0

    def __call__(self, text: str, reading: Reading) -> str:
        from drills.basics.errors import plain
        from drills.colour.spaces import in_screen_gamut, screen_rgb

        L, C, h = reading.lch
        hue = "" if reading.hueless else f"   h {h:.0f}°"
        measures = f"Munsell {reading.munsell}   L* {L:.1f}   C* {C:.1f}{hue}"
        lines = [plain(text), *self.wrapped(reading.sentence()), measures]
        can_show = bool(in_screen_gamut(reading.lab))
        if not can_show:
            note = "It lies outside sRGB: a screen can't show it truly, so no swatch is shown."
            lines += self.wrapped(note)
        if not self.swatches:
            return "\n".join([lines[0], *(f"  {line}" for line in lines[1:])]) + "\n"
        block = " " * _SWATCH_COLUMNS
        if can_show:
            r, g, b = screen_rgb(reading.lab).tolist()
            block = f"\x1b[48;2;{r};{g};{b}m{block}\x1b[0m"
        return "\n".join(f"{block}   {line}" for line in lines) + "\n"

    def wrapped(self, text: str) -> list[str]:
        if not self.columns:
            return [text]
        return textwrap.wrap(text, max(20, min(self.columns, 100) - _SWATCH_COLUMNS - 4))


def _has_24_bit_colour() -> bool:
    from rich.console import Console

    console = Console()
    return console.color_system == "truecolor" and not console.no_color
