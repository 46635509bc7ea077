"""A deck on paper: the sheet leads back to its questions, prints in greys, and is graded right."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from coach.cli import cli
from coach.reports.printed.drawing import SIZES
from coach.teaching.paper.by_hand import MutingGrid, PlanToLay, ValueScale
from coach.teaching.paper.page import worksheet_page
from coach.teaching.paper.sheet import LETTERS, PaperDeck, Worksheet
from coach.teaching.paper.typed import read_typed
from decks.starters import starter, starter_names
from drills.basics.errors import InputError
from drills.kinds import all_kinds
from drills.layering.palette import prepare
from drills.pencils.edit import marked_used_up
from drills.pencils.sets import demo_set, pocket_set

PALETTE = prepare(demo_set())
SWATCH = re.compile(r'fill="#(..)(..)(..)"')


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, ["deck", *words])


def paper(name: str, palette: Any = PALETTE) -> PaperDeck:
    return PaperDeck(starter(name), palette, all_kinds())


def keys(sheet: Worksheet) -> str:
    return " ".join(f"{one.number}{one.key}" for one in sheet.questions)


@pytest.mark.parametrize("name", starter_names())
def test_what_the_key_says_gets_full_marks_and_the_name_leads_back(name: str):
    made = paper(name)
    sheet = made.sheet(1)
    assert sheet.questions or sheet.hand
    assert [one.number for one in sheet.questions] == list(range(1, len(sheet.questions) + 1))
    again = made.named(sheet.name)
    assert keys(again) == keys(sheet)
    if sheet.questions:
        typed = read_typed(again, keys(sheet))
        assert [one.grade.score for one in typed] == [1.0] * len(sheet.questions)
        assert all(one.grade.right for one in typed)


def test_another_letter_is_graded_as_the_drill_grades_it():
    sheet = paper("values").sheet(1, grey=True)
    for one in sheet.questions:
        choices = LETTERS[: len(one.first.choices)]
        wrong = next(letter for letter in choices if letter != one.key)
        (typed,) = read_typed(sheet, f"{one.number}{wrong}")
        assert not typed.grade.right
        assert typed.grade.score < 1


def test_other_pencils_are_found_out_by_the_name():
    sheet = paper("complements").sheet(1)
    with pytest.raises(InputError, match="asks something else"):
        paper("complements", prepare(pocket_set())).named(sheet.name)
    with pytest.raises(InputError, match="is like 3-7k2m"):
        paper("complements").named("<b>")


def test_the_work_for_the_hand_is_what_the_deck_practises():
    assert isinstance(paper("values").sheet(1).hand, ValueScale)
    found = {type(paper("complements").sheet(day).hand) for day in (1, 2, 3)}
    assert found >= {MutingGrid, PlanToLay}


def test_no_pencil_that_is_used_up_is_to_be_laid():
    darkest = sorted(PALETTE.colour_indices.tolist(), key=lambda i: PALETTE.lab[i, 0])
    gone = {PALETTE.names[i] for i in darkest[: len(darkest) // 2]}
    places = [i for i, name in enumerate(PALETTE.names) if name in gone]
    without = prepare(marked_used_up(PALETTE.set, places, True).set)
    scale = paper("values", without).sheet(1).hand
    assert isinstance(scale, ValueScale)
    assert scale.pencil not in gone
    for day in (1, 2, 3):
        hand = paper("complements", without).sheet(day).hand
        named = (*hand.rows, *hand.columns) if isinstance(hand, MutingGrid) else ()
        assert not gone & set(named)


def test_a_day_that_wants_more_questions_has_more_on_paper():
    deck = replace(starter("complements"), items_a_day=3)
    step = replace(deck.steps[0], day=2, items_a_day=6)
    grows = PaperDeck(replace(deck, steps=(*deck.steps[:1], step)), PALETTE, all_kinds())
    assert [len(grows.sheet(day).questions) for day in (1, 2)] == [3, 6]


def test_a_sheet_for_greys_has_greys_alone_and_keeps_its_answers():
    sheet = paper("values").sheet(1, grey=True)
    assert sheet.questions
    page = worksheet_page(sheet, SIZES["a4"])
    assert {len({*rgb}) for rgb in SWATCH.findall(page)} == {1}
    for one in sheet.questions:
        target, laid = (swatch.lab[0] for swatch in one.first.scene)
        chosen = one.first.choices[LETTERS.index(one.key)].key
        assert chosen == ("lighter" if laid > target else "darker")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "no answer"),
        ("1z", "choices a to"),
        ("99a", "has questions 1 to"),
        ("1a 1b", "answered twice"),
        ("1abc", "takes one letter"),
        ("<script>", "is no answer"),
        ("1a " * 900, "characters long"),
    ],
)
def test_what_is_no_answer_is_told_in_one_line(text: str, words: str):
    with pytest.raises(InputError, match=words) as told:
        read_typed(paper("values").sheet(1, grey=True), text)
    assert "\n" not in str(told.value)


def test_the_page_prints_on_both_papers_and_typing_grades_it(home: Path):
    for size, name in (("a4", "A4"), ("letter", "Letter")):
        out = f"{size}.html"
        done = run(
            *("paper", "--starter", "values", "--grey", "--html", out),
            *("--answers", f"answers-{out}", "--size", size),
        )
        assert done.exit_code == 0, done.output
        assert f"@page {{ size: {name}" in (home / out).read_text(encoding="utf-8")
    found = re.search(r"sheet (\S+), (\d+) questions", done.output)
    assert found
    sheet = paper("values").sheet(1, grey=True)
    assert (found[1], int(found[2])) == (sheet.name, len(sheet.questions))
    told = run("typed", sheet.name, keys(sheet), "--starter", "values")
    assert f"{len(sheet.questions)} of {len(sheet.questions)} as the key has them" in told.output
    answers = (home / "answers-a4.html").read_text(encoding="utf-8")
    for one in sheet.questions:
        assert f">{one.number}. {one.key}<" in answers


def test_nothing_of_a_person_s_is_written_over(home: Path):
    (home / "mine.html").write_text("mine")
    done = run("paper", "--starter", "values", "--html", "mine.html")
    assert "there is a file of this name" in str(done.exception)
    done = run("paper", "--starter", "values", "--html", "x.html", "--day", "99")
    assert "the deck has" in str(done.exception)


def test_where_a_swatch_begins_and_ends_is_marked_for_it_may_be_the_grey_it_lies_on():
    """Apart from it, and alike for all, so that it tells nothing."""
    rect = re.compile(
        r'<rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)" fill="(#\w+)"/>'
    )
    page = worksheet_page(paper("greys").sheet(1), SIZES["a4"])
    found = [(*map(float, one[:4]), one[4]) for one in rect.findall(page)]
    swatches = [one for one in found if one[3] == 14.0]
    marks = [one for one in found if one[2] == 0.3]
    assert len(swatches) >= 4
    for x, y, wide, high, _ in swatches:
        for end in (x, x + wide):
            mine = [one for one in marks if abs(one[0] + 0.15 - end) < 0.02]
            above = [one for one in mine if 0 < y - (one[1] + one[3]) <= 2]
            below = [one for one in mine if 0 < one[1] - (y + high) <= 2]
            assert above, (x, y)
            assert below, (x, y)
    assert {one[4] for one in marks} == {"#ffffff"}


def test_a_day_done_by_hand_alone_promises_nothing_to_type_in(home: Path):
    told = run("paper", "--starter", "complements", "--grey", "--html", "c.html")
    assert told.exit_code == 0, told.output
    assert "by hand alone: it asks nothing that is typed in" in told.output
    assert "coach deck typed" not in told.output
    assert "0 questions" not in told.output
    told = run("paper", "--starter", "values", "--grey", "--html", "v.html")
    assert "questions." in told.output
    assert "coach deck typed" in told.output
