"""Swatches are bare cells of the very colour; words fit the cells they are given."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.style import Style

from coach.design.measures import LARGE_ROWS
from coach.screens.help import HELP, hung
from coach.widgets.choices import (
    KEYS,
    LEAST_LARGE,
    LEAST_ROWS,
    keys_for,
    layout,
    tray,
    two_lines,
)
from coach.widgets.paint import (
    beyond_screen,
    block,
    cell_style,
    grain_rows,
    shortened,
    swatch_row,
    text,
    wrapped,
)
from coach.widgets.results import ResultLine, Shape, lay
from coach.widgets.timebar import bar
from drills.colour.difference import delta_e00
from drills.colour.spaces import lab_to_xyz, srgb_to_lab, xyz_to_lab
from drills.layering.moves import FIRM, LIGHT, Move
from drills.layering.palette import prepare
from drills.layering.predict import predict, predict_grain
from drills.pencils.sets import pocket_set
from drills.questions.protocol import Choice, Lab, Result, Reveal, Swatch

WIDTHS = st.integers(min_value=4, max_value=90)
WORDS = st.text(
    st.sampled_from("ab ,漢é🎨…-[]"), max_size=90
)  # narrow, wide, spaces, and what markup is made of


def lab_of(red: int, green: int, blue: int) -> Lab:
    L, a, b = srgb_to_lab((red / 255, green / 255, blue / 255)).tolist()
    return (L, a, b)


# Swatches


@pytest.mark.parametrize("colour", [(0, 0, 0), (255, 255, 255), (195, 57, 53), (1, 254, 127)])
def test_a_swatch_is_painted_in_the_very_colour(colour: tuple[int, int, int]) -> None:
    painted = cell_style(lab_of(*colour)).bgcolor
    assert painted is not None
    assert painted.triplet is not None
    assert tuple(painted.triplet) == colour


def test_a_colour_beyond_the_screen_is_known() -> None:
    assert beyond_screen((60.0, 110.0, 90.0))
    assert not beyond_screen((50.0, 0.0, 0.0))


@given(st.integers(4, 60), st.integers(3, 20), st.booleans())
def test_a_swatch_fills_its_cells_with_spaces_only(width: int, height: int, ground: bool) -> None:
    surround = (20.0, 0.0, 0.0) if ground else None
    swatch = Swatch((50.0, 30.0, 10.0), surround=surround)
    rows = [swatch_row(swatch, width, row, height) for row in range(height)]
    for row in rows:
        assert "".join(segment.text for segment in row) == " " * width
    inside = [s for row in rows for s in row if s.style == cell_style(swatch.lab)]
    assert inside
    if ground:
        # The ground goes all the way round.
        assert len(rows[0]) == len(rows[-1]) == 1
        assert rows[0][0].style == rows[-1][0].style == cell_style((20.0, 0.0, 0.0))
        assert all(row[0].style == cell_style((20.0, 0.0, 0.0)) for row in rows)


def test_a_block_has_no_lettering() -> None:
    assert block((50.0, 0.0, 0.0), 7).text == " " * 7


# Words


@given(WORDS, WIDTHS)
def test_words_are_cut_or_padded_to_their_cells(words: str, width: int) -> None:
    assert cell_len(text(words, Style(), width).text) == width


@given(WORDS, WIDTHS)
@example("漢" * 40, 4)
@example("漢" * 40, 5)
def test_shortened_words_fit_and_keep_both_ends(words: str, width: int) -> None:
    short = shortened(words, width)
    assert cell_len(short) <= width
    if cell_len(words) <= width:
        assert short == words
    else:
        assert "…" in short
        assert words.endswith(short.rpartition("…")[2])


def test_two_moves_of_one_long_name_can_be_told_apart() -> None:
    long = "A pencil whose maker could not stop naming it until the barrel was full"
    light, firm = (shortened(f"{long}, {hand} pressure", 40) for hand in ("light", "firm"))
    assert light != firm
    assert light.endswith("light pressure")


@given(WORDS, WIDTHS)
@example("漢" * 40 + " ab", 5)
def test_wrapped_words_fit_and_none_is_lost(words: str, width: int) -> None:
    lines = wrapped(words, width)
    assert lines
    assert all(cell_len(line) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == "".join(words.split())


@given(WORDS, WIDTHS)
def test_a_name_below_a_swatch_takes_two_lines_at_most(words: str, width: int) -> None:
    lines = two_lines(words, width)
    assert 1 <= len(lines) <= 2
    assert all(cell_len(line) <= width for line in lines)


# Where choices stand


@given(st.integers(1, 30), st.integers(60, 200), st.integers(3, 50), st.booleans(), st.booleans())
def test_choices_never_overlap_nor_leave_the_width(
    count: int, width: int, height: int, swatches: bool, alone: bool
) -> None:
    cells = layout(count, width, height, swatches, alone)
    assert len(cells) == count
    taken: set[tuple[int, int]] = set()
    for cell in cells:
        assert cell.width >= 1
        spots = {
            (x, y)
            for x in range(cell.x, cell.x + cell.width)
            for y in range(cell.y, cell.y + cell.height)
        }
        assert not spots & taken
        taken |= spots
        assert cell.x + cell.width <= width


@given(st.integers(1, 12), st.integers(60, 200), st.integers(3, 50))
def test_a_layout_asks_for_the_height_it_is_then_drawn_in(
    count: int, width: int, height: int
) -> None:
    for swatches in (False, True):
        for least in (LEAST_ROWS, LEAST_LARGE):
            cells = layout(count, width, height, swatches, least)
            deep = max(cell.y + cell.height for cell in cells)
            assert layout(count, width, deep, swatches, least) == cells


def test_four_or_five_swatches_stand_in_one_row_at_80_columns() -> None:
    for count in (2, 3, 4, 5):
        assert {cell.y for cell in layout(count, 76, 10, with_swatches=True)} == {0}


def test_a_tray_is_two_columns_and_fits_eight_pencils_in_eight_rows() -> None:
    cells = tray(8, 76)
    assert max(cell.y + cell.height for cell in cells) == 8
    assert len({(cell.x, cell.y) for cell in cells}) == 8


# A reveal

TARGET, RESULT, BESIDE = (Swatch((L, 20.0, 10.0)) for L in (30.0, 50.0, 70.0))
ROWS = (
    Result("first", "what it would have made " * 6, RESULT, "yours", BESIDE),
    Result("second", "short", RESULT, "best"),
    Result("third", "words only"),
)


@given(st.integers(60, 200), st.integers(1, 40), st.booleans(), st.booleans())
def test_a_reveal_keeps_every_word_within_its_width(
    width: int, height: int, colour: bool, target: bool
) -> None:
    reveal = Reveal((), ROWS, TARGET if target else None)
    laid = lay(reveal, Shape(width, height), colour, whole=True)
    for line in laid.lines:
        assert cell_len(line.words) <= width - laid.side
        assert cell_len(line.caption) <= laid.side
        assert laid.half * len(line.labs) <= laid.side
    told = " ".join(" ".join(line.words for line in laid.lines).split())
    for row in ROWS:
        assert row.label in told
        assert " ".join(row.words.split()) in told
    assert any(line.labs for line in laid.lines) is colour


def test_a_reveal_says_what_the_parts_of_its_swatches_are() -> None:
    laid = lay(Reveal((), ROWS, TARGET), Shape(80, 40), true_colour=True)
    assert laid.lines[0].caption.split() == ["target", "result"]
    named = replace(
        ROWS[0], swatch=replace(RESULT, label="yours"), beside=replace(BESIDE, label="plan")
    )
    laid = lay(Reveal((), (named,), TARGET), Shape(80, 40), true_colour=True)
    assert laid.lines[0].caption.split() == ["target", "yours", "plan"]
    assert laid.lines[1].labs == (TARGET.lab, RESULT.lab, BESIDE.lab)


def test_a_marked_result_stands_out() -> None:
    laid = lay(Reveal((), ROWS, TARGET), Shape(80, 40), true_colour=True)
    bold = [line.words for line in laid.lines if line.bold]
    assert bold == ["▸ first (yours)", "● second (best)"]


def rows_of(lines: Sequence[ResultLine]) -> list[int]:
    """The lines of each row, one after another."""
    return [len(list(part)) for labs, part in groupby(lines, lambda line: line.labs) if labs]


def test_where_not_all_rows_fit_one_s_own_and_the_best_are_shown_large() -> None:
    marks = ("", "yours", "best", "")
    swatches = (RESULT, BESIDE, RESULT, BESIDE)
    rows = tuple(
        Result(str(i), "short", one, mark)
        for i, (one, mark) in enumerate(zip(swatches, marks, strict=True))
    )
    reveal = Reveal((), rows, TARGET)
    roomy, fair, short = (lay(reveal, Shape(80, height), True).lines for height in (40, 16, 15))
    assert rows_of(roomy) == [9, 9, 9, 9]
    assert rows_of(fair) == [3, 3, 3, 3]
    assert rows_of(short) == [6, 6]
    assert [line.words[2:] for line in short if line.bold] == ["1 (yours)", "2 (best)"]
    # A pair's swatches touch; an empty line parts it from the next.
    assert all(
        line.labs in {(), (TARGET.lab, RESULT.lab), (TARGET.lab, BESIDE.lab)} for line in short
    )
    every = lay(reveal, Shape(80, 15), True, whole=True).lines
    assert rows_of(every) == [2, 2, 2, 2]
    tight = lay(reveal, Shape(80, 5), True).lines
    assert len(tight) == 5
    assert all(line.labs for line in tight[1:])


def test_large_swatches_have_eight_rows_whatever_the_room() -> None:
    reveal = Reveal((), ROWS[:2], TARGET)
    lines = lay(reveal, Shape(80, 12, least=LARGE_ROWS), True).lines
    assert min(rows_of(lines)) >= LARGE_ROWS


def test_a_reveal_of_words_alone_keeps_no_room_for_swatches() -> None:
    assert lay(Reveal((), ROWS[2:]), Shape(80, 40), true_colour=True).side == 0
    assert lay(None, Shape(80, 40), true_colour=True).lines == ()


# Help


@given(st.integers(40, 200))
def test_the_help_fits_and_hangs_each_meaning_under_its_beginning(width: int) -> None:
    page = hung(HELP, width).splitlines()
    assert all(cell_len(line) <= width for line in page)
    assert "".join("".join(page).split()) == "".join(HELP.split())
    for line in page:
        assert not line.startswith(" ") or line.startswith("  ")


# Keys


def test_choices_called_by_a_letter_answer_to_it() -> None:
    assert keys_for(tuple(Choice(str(i), name) for i, name in enumerate("ABC"))) == ("a", "b", "c")
    assert keys_for((Choice("0", "red"), Choice("1", "green"))) == ("1", "2")
    assert keys_for((Choice("0", "A"), Choice("1", "A"))) == ("1", "2")


def test_no_key_of_a_choice_has_another_use_in_practice() -> None:
    from textual.binding import Binding

    from coach.screens.practice.question import PracticeScreen

    assert len(set(KEYS)) == len(KEYS)
    taken = set()
    for binding in PracticeScreen.BINDINGS:
        assert isinstance(binding, Binding)
        taken |= set(binding.key.split(","))
    # While asking, r (save again) has nothing to save.
    assert taken & set(KEYS) <= {"r"}


# Time


@given(st.floats(-1, 3), st.integers(1, 40))
def test_the_time_bar_is_as_long_as_it_is_told(share: float, cells: int) -> None:
    drawn = bar(share, cells)
    assert len(drawn) == cells
    assert drawn.count("━") == round(min(1, max(0, share)) * cells)


class TestGrain:
    """Paper showing through: each part in its share, the whole the mean that is graded."""

    moves = (Move("lay", 0, LIGHT),)

    def test_its_mean_is_the_swatch(self) -> None:
        palette = prepare(pocket_set())
        lab = predict(palette, self.moves)
        rows = grain_rows(predict_grain(palette, self.moves), 30, 10)
        halves = [
            half.triplet
            for row in rows
            for one in row
            for half in (one.style.color, one.style.bgcolor)
        ]
        assert len(halves) == 2 * 30 * 10
        mean = lab_to_xyz(srgb_to_lab(np.array(halves) / 255)).mean(axis=0)
        assert float(delta_e00(xyz_to_lab(mean), lab)) < 1.0

    def test_light_layers_are_flecked_and_heavy_ones_hardly(self) -> None:
        palette = prepare(pocket_set())
        dark = int(palette.lab[palette.colour_indices, 0].argmin())
        pencil = int(palette.colour_indices[dark])

        def bare(pressure: float, layers: int) -> float:
            """The share of the area that stays nearly paper."""
            grain = predict_grain(palette, (Move("lay", pencil, pressure),) * layers)
            return sum(share for share, lab in grain if lab[0] > 85.0)

        assert bare(LIGHT, 1) > 0.1
        assert bare(LIGHT, 1) > 2 * bare(FIRM, 1)
        assert bare(FIRM, 4) == 0.0

    def test_it_stands_still(self) -> None:
        grain = predict_grain(prepare(pocket_set()), self.moves)
        assert grain_rows(grain, 12, 4) == grain_rows.__wrapped__(grain, 12, 4)
