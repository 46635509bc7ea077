"""Awkward boxes of pencils: a kind may have nothing to ask, and never stumbles."""

from __future__ import annotations

import random
from collections.abc import Callable
from functools import cache

import pytest

from drills.colour.hue import FAMILIES
from drills.kinds import all_kinds, draw
from drills.laws.replies import any_answer, key_answer
from drills.layering.palette import Palette, prepare
from drills.pencils.pencil import Pencil
from drills.pencils.sets import demo_set
from drills.questions.protocol import CannotAskError, Question
from tests.palettes import BLENDER, many_pencils, palette_with, pencil

KINDS = tuple(all_kinds())
DEMO = demo_set().pencils


def renamed(one: Pencil, number: int) -> Pencil:
    """The same pencil under a name of 60 characters that looks like markup."""
    name = f"[bold red]{number}[/] {{}} %s \\[x] ".ljust(60, "é")[:60]
    return Pencil(name, hex=one.hex, opacity=one.opacity)


BOXES: dict[str, Callable[[], Palette]] = {
    "one pencil": lambda: palette_with(pencil("Red", "#c33935")),
    "one pencil and a blender": lambda: palette_with(pencil("Red", "#c33935"), BLENDER),
    "two pencils": lambda: palette_with(pencil("Red", "#c33935"), pencil("Green", "#348f54")),
    "greys only": lambda: palette_with(
        *(
            pencil(f"Grey {level}", f"#{level:02x}{level:02x}{level:02x}")
            for level in range(30, 250, 20)
        )
    ),
    "no blender": lambda: palette_with(*(one for one in DEMO if not one.is_blender)),
    "two blenders": lambda: palette_with(*DEMO, BLENDER),
    "500 pencils": lambda: prepare(many_pencils(500)),
    "eight of one colour": lambda: palette_with(
        *(pencil(f"Red {number}", "#c33935") for number in range(8))
    ),
    "every pencil twice": lambda: palette_with(
        *DEMO, *(pencil(f"{one.name} again", one.hex, one.opacity) for one in DEMO if one.hex)
    ),
    "white only": lambda: palette_with(pencil("White", "#f6f5f1", "opaque")),
    "black and purest white": lambda: palette_with(
        pencil("Black", "#000000", "opaque"), pencil("White", "#ffffff")
    ),
    "one hue": lambda: palette_with(
        *(
            pencil(f"Blue {level}", f"#{level // 3:02x}{level // 2:02x}{level:02x}")
            for level in range(60, 250, 12)
        )
    ),
    "names like markup": lambda: palette_with(*(renamed(one, i) for i, one in enumerate(DEMO))),
}


@cache
def box(name: str) -> Palette:
    return BOXES[name]()


@cache
def regions(name: str, pencils: str) -> tuple[str, ...]:
    """What a kind offers of these pencils."""
    return all_kinds()[name].regions(box(pencils))


over_kinds = pytest.mark.parametrize("name", KINDS)
over_boxes = pytest.mark.parametrize("pencils", BOXES)


def asked(name: str, palette: Palette, region: str, seed: int = 1) -> Question | None:
    """A question answered through to its reveal, or None where the kind says why it can't."""
    kind = all_kinds()[name]
    try:
        question = draw(kind, palette, region, kind.steps[0], seed)
    except CannotAskError:
        return None
    answers = any_answer(kind, question, random.Random(seed).choice)
    assert 0.0 <= kind.grade(question, answers).score <= 1.0
    assert kind.reveal(question, answers).because
    key = key_answer(kind, question)
    assert key is None or kind.grade(question, key).score == pytest.approx(1.0)
    return question


@over_boxes
@over_kinds
def test_what_a_kind_offers_it_can_ask(name: str, pencils: str) -> None:
    found = [asked(name, box(pencils), region) for region in regions(name, pencils)[::2]]
    # Asked at the easiest step alone; a region may want another.
    assert sum(question is None for question in found) <= max(1.0, 0.2 * len(found))


@over_boxes
@over_kinds
def test_a_region_not_offered_is_refused_or_asked_soundly(name: str, pencils: str) -> None:
    palette = box(pencils)
    for region in [one for one in FAMILIES if one not in regions(name, pencils)][:3]:
        asked(name, palette, region)


@pytest.mark.parametrize("name", ["hue-and-lean", "lighter-or-darker"])
def test_a_few_look_alikes_are_not_drilled(name: str) -> None:
    # They would be known by heart in a day.
    assert regions(name, "two pencils") == ()


@pytest.mark.parametrize("pencils", ["one pencil", "greys only", "white only", "one hue"])
def test_without_a_complement_there_is_no_muting(pencils: str) -> None:
    assert regions("mute-with-complement", pencils) == ()


@pytest.mark.parametrize("pencils", ["one pencil", "two pencils", "greys only", "white only"])
def test_under_three_colours_there_is_no_order_of_layers(pencils: str) -> None:
    assert regions("order-of-layers", pencils) == ()


def test_names_are_shown_as_they_are_written() -> None:
    # Screens switch markup off, so the words must not be touched here.
    palette, kind = box("names like markup"), all_kinds()["mute-with-complement"]
    question = draw(kind, palette, regions(kind.name, "names like markup")[0], 2.4, 1)
    ask = kind.ask(question, ())
    assert ask is not None
    for choice in ask.choices:
        assert choice.text in palette.names
