"""A pencil that is used up stays in its set, and nothing is laid with it or asked of it."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from coach.cli import cli
from coach.home import needed_pencils, record_path
from coach.learned import keep_patches, patches_of
from coach.reports.hand_report import hand_known
from coach.sheets.printed import Printed
from drills.colour.parse import parse_colour
from drills.hand.patch import Patch, Recipe
from drills.kinds import all_kinds, draw
from drills.layering.moves import FIRM, Move
from drills.layering.palette import Palette, prepare
from drills.pencils.edit import marked_used_up, taken_out
from drills.pencils.file import parse_pencils, to_csv
from drills.pencils.pencil import PencilsError
from drills.pencils.sets import demo_set, pocket_set
from drills.pencils.survey import survey
from drills.pictures.main_colours import MainColour
from drills.planning.for_picture.pencils_for import pencils_for
from drills.planning.mending.mend import mend
from drills.planning.plan_limits import Limits, usable
from drills.planning.planner import plan
from drills.questions.protocol import CannotAskError
from scores.record.record import Record
from tests.palettes import palette_of

TARGETS = ("#2f5d62", "#a05040", "#6b4423")


def lacking_every_third() -> tuple[Palette, set[str]]:
    """The 36 with every third used up, and the names of those."""
    places = range(0, 36, 3)
    palette = prepare(marked_used_up(demo_set(), places, True).set)
    return palette, {demo_set().pencils[at].name for at in places}


def test_a_set_keeps_the_mark_when_written_and_read_again() -> None:
    marked = marked_used_up(pocket_set(), {2, 5}, True).set
    again = parse_pencils(to_csv(marked).encode(), "again")
    assert [one.used_up for one in again.pencils] == [at in (2, 5) for at in range(len(again))]
    assert again.fingerprint == marked.fingerprint != pocket_set().fingerprint


def test_without_a_mark_the_file_and_its_fingerprint_are_as_ever() -> None:
    back = marked_used_up(marked_used_up(pocket_set(), {2}, True).set, {2}, False).set
    assert "used_up" not in to_csv(back)
    assert back.fingerprint == pocket_set().fingerprint


@pytest.mark.parametrize(
    ("cell", "means"), [("yes", True), ("Used up", True), ("", False), ("no", False)]
)
def test_a_persons_own_file_may_say_it(cell: str, means: bool) -> None:
    text = f"name,hex,used_up\nOne,#a03030,{cell}\nTwo,#3030a0,\n"
    assert parse_pencils(text.encode(), "own.csv").pencils[0].used_up is means


def test_another_word_there_is_refused() -> None:
    with pytest.raises(PencilsError, match="row 2, column used_up: “half” doesn't say"):
        parse_pencils(b"name,hex,used_up\nOne,#a03030,half\n", "own.csv")


def test_the_last_that_lays_colour_cannot_be_used_up_nor_taken_out() -> None:
    small = parse_pencils(b"name,hex\nOne,#a03030\nTwo,#3030a0\n", "own.csv")
    marked = marked_used_up(small, {0}, True).set
    for last in (lambda: marked_used_up(marked, {1}, True), lambda: taken_out(marked, 1)):
        with pytest.raises(PencilsError, match="used up"):
            last()


@pytest.mark.parametrize("name", sorted(all_kinds()))
def test_no_drill_asks_about_it(name: str) -> None:
    palette, gone = lacking_every_third()
    kind, asked = all_kinds()[name], 0
    for region in kind.regions(palette):
        for seed in range(4):
            with suppress(CannotAskError):
                question = draw(kind, palette, region, kind.steps[0], seed)
                asked += 1
                told = repr((dict(question.facts), kind.ask(question, ())))
                assert not [one for one in gone if one in told]
    assert asked, "else nothing was looked at"


def test_what_the_pool_is_mixed_of_is_there() -> None:
    palette, _ = lacking_every_third()
    assert set(np.unique(palette.pool.pencils)) - {-1} == set(palette.at_hand.tolist())
    assert set(palette.at_hand.tolist()) | set(range(0, 36, 3)) >= set(
        palette.colour_indices.tolist()
    )


@pytest.mark.parametrize("colour", TARGETS)
def test_no_plan_and_no_mending_lays_it(colour: str) -> None:
    target = parse_colour(colour)
    best = {step.move.pencil for step in plan(palette_of("demo"), target).moves}
    palette = prepare(marked_used_up(demo_set(), best, True).set)
    found = plan(palette, target)
    laid = {step.move.pencil for step in found.moves}
    mended = mend(palette, target, parse_colour("#c9b8a8"))
    laid |= {step.move.pencil for step in mended.moves}
    assert laid
    assert not laid & best


def test_a_picture_is_not_drawn_with_it() -> None:
    palette, _ = lacking_every_third()
    colours = [MainColour(parse_colour(one), 1 / 3) for one in TARGETS]
    chosen = pencils_for(palette, colours, 4)
    gone = set(range(0, 36, 3))
    assert not gone & set(chosen.pencils)
    assert chosen.one_more is None or chosen.one_more.pencil not in gone


def test_it_cannot_be_insisted_on() -> None:
    marked = marked_used_up(pocket_set(), {0}, True).set
    with pytest.raises(Exception, match="is used up"):
        usable(marked, Limits(insist=frozenset({0})))


def test_where_a_new_one_would_help_most_a_plan_says_so() -> None:
    """Yellows are used up: a bright yellow is out of reach, and what is missing is one of them."""
    whole = palette_of("demo")
    yellows = {i for i in whole.colour_indices.tolist() if whole.family[i] in (0, 1, 2, 10, 11)}
    yellow = max(whole.colour_indices.tolist(), key=lambda i: float(whole.lab[i, 2]))
    palette = prepare(marked_used_up(demo_set(), yellows | {yellow}, True).set)
    L, a, b = whole.lab[yellow].tolist()
    missing = plan(palette, (L, a, b)).missing
    assert missing is not None
    assert f"What would help most you have, used up: with a new {whole.names[yellow]}" in (
        missing.words
    )
    assert missing.kind_delta_e00 is not None
    assert missing.kind_delta_e00 < missing.delta_e00


def test_a_pencil_left_out_on_purpose_is_not_advised() -> None:
    whole = palette_of("demo")
    yellow = max(whole.colour_indices.tolist(), key=lambda i: float(whole.lab[i, 2]))
    palette = prepare(marked_used_up(demo_set(), {yellow}, True).set)
    L, a, b = whole.lab[yellow].tolist()
    found = plan(palette, (L, a, b), Limits(without=frozenset({yellow})))
    assert found.missing is None or whole.names[yellow] not in found.missing.words


def test_its_patches_go_on_teaching_the_hand_but_no_more_are_asked() -> None:
    patches = [Patch(Recipe((Move("lay", at, FIRM),)), (50.0, 10.0, 10.0)) for at in range(6)]
    marked = marked_used_up(pocket_set(), {0, 1}, True).set
    known = hand_known(marked, patches)
    assert np.allclose(known.found.theta, hand_known(pocket_set(), patches).found.theta)
    asked = {move.pencil for one in known.next for move in one.recipe.moves}
    assert asked
    assert not asked & {0, 1}


def test_a_sheet_to_fill_has_no_place_for_it() -> None:
    marked = marked_used_up(pocket_set(), {1}, True).set
    names = [one.name for one in Printed(marked).coloured]
    assert names == [
        one.name for at, one in enumerate(marked.pencils) if at != 1 and not one.is_blender
    ]


def test_the_survey_says_which() -> None:
    marked = marked_used_up(pocket_set(), {1}, True).set
    assert any(pocket_set().pencils[1].name in note for note in survey(prepare(marked)).notes)
    assert not any("used up" in note for note in survey(prepare(pocket_set())).notes)


class TestTheCommand:
    @pytest.fixture
    def coach(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> CliRunner:
        monkeypatch.setenv("COACH_HOME", str(tmp_path))
        return CliRunner()

    def test_marks_and_takes_back_and_keeps_the_patches_and_the_file(
        self, coach: CliRunner, tmp_path: Path
    ) -> None:
        own = tmp_path / "own.csv"
        own.write_bytes(b"name,hex,code\nOne,#a03030,A1\nTwo,#3030a0,B2\n")
        before = own.read_bytes()
        coach.invoke(cli, ["pencils", "use", str(own)])
        patch = Patch(Recipe((Move("lay", 1, FIRM),)), (50.0, 10.0, 10.0))
        record = Record.open(record_path())
        keep_patches(record, needed_pencils(), [patch])
        record.close()
        said = coach.invoke(cli, ["pencils", "used-up", "b2"])
        assert (said.exit_code, said.output) == (0, "Two: used up.\n")
        assert [one.used_up for one in needed_pencils().pencils] == [False, True]
        assert "used up" in coach.invoke(cli, ["pencils", "list"]).output
        assert own.read_bytes() == before
        record = Record.open(record_path())
        assert patches_of(record, needed_pencils()) == (patch,)
        record.close()
        said = coach.invoke(cli, ["pencils", "used-up", "--back", "Two"])
        assert said.output == "Two: there again.\n"
        assert not any(one.used_up for one in needed_pencils().pencils)

    def test_a_name_that_is_none_changes_nothing(self, coach: CliRunner) -> None:
        coach.invoke(cli, ["pencils", "use", "--pocket"])
        said = coach.invoke(cli, ["pencils", "used-up", pocket_set().pencils[0].name, "Nobody"])
        assert said.exit_code != 0
        assert needed_pencils().fingerprint == pocket_set().fingerprint
