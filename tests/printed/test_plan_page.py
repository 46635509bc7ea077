"""Plans to print: everything said stands on the sheet, whole, and reads without colour."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections import Counter
from functools import cache
from html import unescape

import pytest

from coach.reports.printed import document
from coach.reports.printed.drawing import Drawing, size_here
from coach.reports.printed.lettering import width_mm, wrapped
from coach.reports.printed.plan_page import OUTSIDE, PRINTS_AS_IT_MAY, plan_pages
from drills.colour.parse import parse_colour
from drills.colour.spaces import hex_of
from drills.layering.palette import Palette, prepare
from drills.pencils.file import make_set
from drills.pencils.pencil import Pencil
from drills.planning.plan import LIMITS_OF_MODEL, Plan
from drills.planning.planner import plan
from drills.sheets.layout import A4, LETTER, Size
from tests.palettes import palette_of

LONG = "Umber of the " + "very " * 12 + "long name"
WIDE = "深緑" * 15


@cache
def odd_palette() -> Palette:
    """Four pencils with names that are long, wide, one word, and markup; one without a code."""
    pencils = (
        Pencil(LONG, "LONG-CODE-1234", hex="#4d3a2e"),
        Pencil(WIDE, "緑", hex="#2d6a4f"),
        Pencil("W" * 60, hex="#c8b040"),
        Pencil('<Rose> & "[b]Co[/b]"', "R1", hex="#c2485a"),
    )
    return prepare(make_set("W" * 60, pencils))


@cache
def planned(text: str, odd: bool = False) -> Plan:
    return plan(odd_palette() if odd else palette_of("pocket"), parse_colour(text))


def page_of(size: Size, *texts: str, odd: bool = False, why: bool = True) -> list[Drawing]:
    plans = [(text, planned(text, odd)) for text in texts]
    return plan_pages(plans, odd_palette() if odd else palette_of("pocket"), size, why)


def texts_of(page: Drawing) -> list[str]:
    return [unescape(found) for found in re.findall(r">([^<>]+)</text>", "".join(page.marks))]


def said(pages: list[Drawing]) -> str:
    """All words, without the breaks that wrapping put between and in them."""
    return "".join("".join(texts_of(page)) for page in pages).replace(" ", "")


ODD = ("#7a5c4a", "#556b2f", "#c33935")
SHEETS = [
    (A4, ("#7a5c4a",), False),
    (LETTER, ("#7a5c4a", "#2f5d62", "#c33935", "#80858a"), False),
    (A4, ODD, True),
    (LETTER, ODD, True),
]


@pytest.mark.parametrize(("size", "texts", "odd"), SHEETS)
def test_everything_a_plan_says_is_on_the_page_whole(size, texts, odd):
    words = said(page_of(size, *texts, odd=odd))
    for text in texts:
        one = planned(text, odd)
        for move in one.moves:
            for part in (move.words, move.stop, move.why):
                assert part.replace(" ", "") in words
        for other in one.alternatives:
            assert other.likely.words().replace(" ", "") in words
        for part in (
            text,
            one.likely.words(),
            *one.notes,
            *(a.words() for a in one.rules_set_aside),
        ):
            assert part.replace(" ", "") in words


@pytest.mark.parametrize(("size", "texts", "odd"), SHEETS)
def test_every_mark_lies_on_its_sheet_and_no_words_run_over_others(size, texts, odd):
    for page in page_of(size, *texts, odd=odd):
        root = ET.fromstring(f"<svg>{''.join(page.marks)}</svg>")
        for rect in root.iter("rect"):
            x, y = float(rect.attrib["x"]), float(rect.attrib["y"])
            assert 10.0 < x < x + float(rect.attrib["width"]) < size.width - 10.0
            assert 10.0 < y < y + float(rect.attrib["height"]) < size.height - 10.0
        lines = []
        for text in root.iter("text"):
            x, y = float(text.attrib["x"]), float(text.attrib["y"])
            letter = float(text.attrib["font-size"])
            wide = width_mm(text.text or "", letter, "font-weight" in text.attrib)
            start = x - wide if "text-anchor" in text.attrib else x
            assert start > 10.0
            assert start + wide < size.width - 10.0
            assert 10.0 < y < size.height - 10.0
            lines.append((start, start + wide, y - 0.75 * letter, y))
        for i, (left, right, top, foot) in enumerate(lines):
            for other in lines[i + 1 :]:
                assert right <= other[0] or other[1] <= left or foot <= other[2] or other[3] <= top


def test_each_step_has_its_pencils_swatch_and_code_its_colour_and_a_box_for_the_hand():
    one, palette = planned("#7a5c4a"), palette_of("pocket")
    (page,) = page_of(A4, "#7a5c4a")
    fills = Counter(re.findall(r'fill="(#[0-9a-f]{6}|none)"', "".join(page.marks)))
    assert fills["none"] == len(one.moves) + 1  # and one beside the target
    assert hex_of(one.target) in fills
    words = texts_of(page)
    for move in one.moves:
        assert hex_of(move.predicted_lab) in fills
        if move.move.pencil >= 0:
            assert hex_of(palette.lab[move.move.pencil]) in fills
            assert palette.set.pencils[move.move.pencil].code in words


def test_in_greys_the_page_says_the_same():
    """Every swatch that isn't a pencil's tells its value; a pencil's, its code or name."""
    one = planned("#7a5c4a")
    (page,) = page_of(A4, "#7a5c4a")
    values = [text for text in texts_of(page) if re.search(r"(target|to|^then),? value \d", text)]
    assert len(values) == len(one.moves) + 2
    inks = set(re.findall(r'<text[^>]*fill="(#[0-9a-f]{6})"', "".join(page.marks)))
    assert all(ink[1:3] == ink[3:5] == ink[5:7] for ink in inks)


def test_several_plans_share_sheets_and_say_what_is_alike_once():
    pages = page_of(A4, "#7a5c4a", "#2f5d62", "#c33935", why=False)
    assert len(pages) < 3
    assert said(pages).count(LIMITS_OF_MODEL.replace(" ", "")) == 1
    for at, page in enumerate(pages, start=1):
        assert f"{at} of {len(pages)}" in texts_of(page)
        assert PRINTS_AS_IT_MAY in texts_of(page)


def test_a_colour_that_can_not_be_printed_is_crossed_out_instead():
    (page,) = page_of(A4, "lab(60 100 -75)")
    assert "".join(page.marks).count("<line ") == 2
    assert OUTSIDE.replace(" ", "") in said([page])


def test_bare_paper_has_its_page_too():
    assert "Leave the paper bare." in texts_of(page_of(A4, "lab(97 -0.3 1.6)")[0])


def test_both_files_are_well_formed_and_fetch_nothing():
    pages = page_of(A4, *ODD, odd=True)
    picture = document.svg("\x1b<&>\ud800", A4, pages)
    root = ET.fromstring(picture.encode("utf-8"))
    assert root.attrib["width"] == "210mm"
    assert root.attrib["height"] == f"{297 * len(pages)}mm"
    page = document.html("<b>", LETTER, pages)
    assert "size: Letter" in page
    assert page.count("<section>") == len(pages)
    assert "<b>" not in page
    assert not re.findall(r"https?://(?!www\.w3\.org/2000/svg)|<script|url\(", page + picture)


def test_wrapping_leaves_nothing_out_and_keeps_its_width():
    text = f"{LONG} {'W' * 90} {WIDE} end"
    for width in (10.0, 40.0, 150.0):
        lines = wrapped(text, width, 3.0)
        assert "".join(lines).replace(" ", "") == text.replace(" ", "")
        assert all(width_mm(line, 3.0) <= width for line in lines)
    assert wrapped("", 10.0, 3.0) == []


@pytest.mark.parametrize(
    ("environ", "size"),
    [
        ({"LANG": "en_US.UTF-8"}, LETTER),
        ({"LANG": "en_GB.UTF-8"}, A4),
        ({"LANG": "en_US.UTF-8", "LC_PAPER": "de_DE@euro"}, A4),
        ({"LANG": "C.UTF-8"}, A4),
        ({}, A4),
    ],
)
def test_the_sheet_is_the_locales(environ, size):
    assert size_here(environ) is size
