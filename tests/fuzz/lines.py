"""Command lines drawn from a seed, over every command and option that there is."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import click

from coach.cli import cli
from decks.starters import starter_courses, starter_names
from tests.fuzz.scene import HOMES

JUNK = (
    *("", " ", "-", "--", "---", "0", "-1", "1", "7", "99999999999999999999", "9" * 5000, "1e999"),
    *("nan", "inf", "-0.0", "0x10", "1_000", "١٢", "½", "true", "null", "[]", "{}", "%s%n", "a=b"),
    *(
        "\x1b[31mred\x07",
        "\x9b2J",
        "a\u202eb",
        "a\u0000b".replace("\u0000", "\x01"),
        "\udcff\udc80",
    ),
    *("💥", "e\u0301", "\ufeff", "a\nb", "a\tb", "x" * 300, "x" * 5000, "é" * 200, "[red]b[/red]"),
    *("../../..", "/", ".", "~", "~nobody/x", "/dev/null", "/dev/full", "/dev/zero", "no/such/x"),
    *("'; DROP TABLE attempts; --", "$(id)", "`id`", "CON", "--help", "-h", "--nothing", "-o"),
    *("2026-02-30", "9999-12-31", "0001-01-01", "2026-03-02", "-2026-03-02", "20260302", "12:00"),
)
COLOURS = (
    *("#c33935", "#fff", "rgb(1 2 3)", "lab(50 20 -30)", "lab(1e999 0 0)", "5R 4/10", "N 5"),
    *("rgb(-1e9 0 0)", "#12345", "lab(nan 0 0)", "100R 99/99", "lab(50 1000000 0)", "rgb(1,2,3"),
)
NAMES = ("Greys", "greys", "Wren", "all", "d" * 64, "attempts", "Red", "0000", "less time", "A f")
PICTURED = ("look", "palette", "pencils photo", "deck photo")
"""Commands that read pictures: half the files they are given are some."""
NEW = ("new.svg", "new.html", "new.csv", "new.db", "mine.svg", "page.html", "notes.txt")


@dataclass(frozen=True)
class Line:
    """One command line, what stands on its input, and the state of the home it runs in.

    ``command`` is what was meant to run, before a word of junk came between.
    """

    command: str
    words: tuple[str, ...]
    typed: bytes
    home: str


def commands() -> tuple[tuple[tuple[str, ...], click.Command], ...]:
    """Every command, by its words, but the one that serves until it is stopped."""

    def found(
        words: tuple[str, ...], group: click.Command
    ) -> Iterator[tuple[tuple[str, ...], click.Command]]:
        yield words, group
        if isinstance(group, click.Group):
            with click.Context(group) as context:
                for name in group.list_commands(context):
                    below = group.get_command(context, name)
                    assert below is not None
                    yield from found((*words, name), below)

    return tuple(one for one in found((), cli) if one[0] != ("serve",))


def lines(root: Path, count: int, seed: int) -> Iterator[Line]:
    """So many command lines for a scene at ``root``; the same seed draws the same ones."""
    rng = random.Random(seed)
    known = commands()
    files = sorted(str(path) for path in (root / "given").iterdir())
    files += [str(root / "home" / name) for name in ("record.db", "class.db", "garden.txt", "")]
    files += [str(root / "outside" / "dear.txt"), str(root / "here"), *NEW]
    seen = [path for path in files if path.endswith((".png", ".jpg"))]
    pictures = [*files, *seen * max(1, len(files) // max(1, len(seen)))]
    for _ in range(count):
        words, command = rng.choice(known)
        likely = pictures if " ".join(words) in PICTURED else files
        drawn = [*words, *_arguments(rng, command, likely)]
        if rng.random() < 0.05 and drawn:
            drawn.insert(rng.randrange(len(drawn) + 1), _value(rng, files))
        typed = rng.choice([b"", b"y\n", b"n\n", b"\xff\n", b"y\n" * 9, b"#c33935\nx\n\x1b[31m\n"])
        yield Line(" ".join(words) or "coach", tuple(drawn), typed, rng.choice(sorted(HOMES)))


def _arguments(rng: random.Random, command: click.Command, files: Sequence[str]) -> list[str]:
    made: list[list[str]] = []
    for parameter in command.params:
        if isinstance(parameter, click.Option):
            often = 0.5 if parameter.name == "yes" else 0.35
            if parameter.name != "help" and rng.random() < often:
                name = rng.choice([*parameter.opts, *parameter.secondary_opts])
                made.append([name] if parameter.is_flag else [name, _value(rng, files)])
        elif rng.random() < 0.93:
            turns = 1 if parameter.nargs == 1 else rng.randrange(1, 4)
            made += [[_value(rng, files)] for _ in range(turns)]
    rng.shuffle(made)
    return [word for words in made for word in words]


def _value(rng: random.Random, files: Sequence[str]) -> str:
    turn = rng.random()
    if turn < 0.45:
        return rng.choice(files)
    if turn < 0.6:
        return rng.choice(COLOURS)
    if turn < 0.75:
        return rng.choice([*NAMES, *starter_names(), *starter_courses()])
    return rng.choice(JUNK)
