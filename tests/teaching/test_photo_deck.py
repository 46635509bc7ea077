"""A picture made into a deck: its colours, the picture inside, and whose pencils can make them.

Whether a colour is in reach is held to the planner's own word on it (``Plan.missing``).
"""

from __future__ import annotations

import json
from base64 import b64decode
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner, Result
from PIL import Image

from coach.cli import cli
from coach.teaching.merging import merge
from coach.teaching.photo.colours import Found, colour_name, place_words, with_colours
from coach.teaching.photo.reached import Owned, Reaches, of_class, out_of_reach, reached_words
from coach.teaching.question import AskedOfTeacher, question_text
from coach.teaching.sharing import made_of, shown
from decks.deck import Deck
from decks.deck_file import load_deck, read_deck
from decks.lessons.pictures import open_inside
from decks.pack import pack
from drills.basics.errors import InputError
from drills.basics.json_values import json_text
from drills.colour.spaces import hex_of
from drills.layering.palette import prepare
from drills.pencils.file import parse_pencils, to_csv
from drills.pencils.sets import demo_set, pocket_set
from drills.planning.for_picture.reach import reach
from drills.planning.planner import plan
from scores.classes.pencils_sent import pencils_known
from scores.classes.store import ClassBook
from scores.exchange.results_written import digest_of
from scores.record.decks_added import decks_kept, put_deck
from scores.record.record import Record
from tests.answers import START
from tests.classes import NOW, STUDENTS, attempts, class_of, content, read, results_file
from tests.photos.made import filed

DEMO, POCKET = to_csv(demo_set()), to_csv(pocket_set())
TAN, FLAME, GLASS = (176, 134, 60), (230, 60, 20), (20, 190, 90)
EMPTY = Deck("The bronze", "A. Teacher", ("make-the-match",))


def blocks() -> bytes:
    """Three blocks of 80 pixels on grey: tan upper left, flame in the middle, glass lower right."""
    levels = np.full((300, 300, 3), 128, dtype=np.uint8)
    for at, colour in zip((50, 150, 250), (TAN, FLAME, GLASS), strict=True):
        levels[at - 40 : at + 40, at - 40 : at + 40] = colour
    return filed(levels)


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, words)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    (tmp_path / "bronze.png").write_bytes(blocks())
    return tmp_path


def test_spots_become_named_colours_and_the_picture_goes_with_them(folder: Path):
    made = run(
        *("deck", "photo", "bronze.png", "-o", "b.toml", "--at", "50,50=Tan", "--at", "50%,50%"),
        *("--at", "250,250=Glass", "--from", "A. Teacher", "--days", "3"),
    )
    assert made.exit_code == 0, made.output
    deck = load_deck(folder / "b.toml").sound()
    assert (deck.title, deck.author, deck.days) == ("bronze", "A. Teacher", 3)
    assert [one.name for one in deck.targets] == ["Tan", "Middle very bright red-orange", "Glass"]
    assert [one.colour for one in deck.targets] == ["#b0863c", "#e63c14", "#14be5a"]
    (step,) = deck.steps
    assert "1 Tan, upper left" in step.word
    assert "2 Middle very bright red-orange, in the middle" in step.word
    picture = open_inside(step.picture)
    assert (picture.width, picture.height) == (300, 300)
    # Ringed, but the place itself is as it was.
    assert np.abs(picture.levels()[50, 50].astype(int) - TAN).max() <= 8
    assert (picture.levels()[40:60, 40:60].min(axis=(0, 1)) < 60).all()
    # No pencils were sent: the set in use, or the demo, is tried instead, and that is said.
    assert "No student has sent their pencils yet" in made.output
    assert "Tan: in reach" in made.output
    assert "can't reach Glass" in made.output


def test_main_colours_have_no_place_and_are_named_by_what_they_look_like(folder: Path):
    run("deck", "photo", "bronze.png", "-o", "b.toml", "--main", "4")
    deck = load_deck(folder / "b.toml").sound()
    assert len({one.name for one in deck.targets}) == 4
    assert "Middle grey" in [one.name for one in deck.targets]
    assert not {"upper", "lower", "left", "right"} & set(deck.steps[0].word.split())


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((), "say which colours"),
        (("--at", "900,10"), "this lies outside it"),
        (("--at", "here"), "is no place"),
        (("--at", "5,5=A", "--at", "50,50=a"), "there is a colour “a”"),
        (("--at", f"5,5={'x' * 61}"), "60 characters"),
        (("--main", "90"), ""),
        (("--at", "5,5", "--kinds", "hue"), "there is no drill kind"),
        (("--at", "5,5", "--kinds", "grey-lean"), "none of the kinds can be asked"),
        (("--at", "5,5", "--days", "0"), "days"),
    ],
)
def test_what_can_t_be_is_one_line_and_nothing_is_written(
    folder: Path, words: tuple[str, ...], told: str
):
    made = run("deck", "photo", "bronze.png", "-o", "b.toml", *words)
    assert made.exit_code != 0
    assert told in f"{made.output}{made.exception}"
    assert not (folder / "b.toml").exists()


def test_names_are_words_for_the_colour_and_each_is_given_once():
    assert colour_name((50.0, 0.0, 0.0)) == "Middle grey"
    assert colour_name((50.0, 0.0, 0.0), ["middle Grey"]) == "Middle grey 2"


def test_places_are_said_in_ninths():
    told = [place_words(x, y) for y in (0.1, 0.5, 0.99) for x in (0.1, 0.5, 1.0)]
    assert told == [
        *("upper left", "upper middle", "upper right"),
        *("middle left", "in the middle", "middle right"),
        *("lower left", "lower middle", "lower right"),
    ]


# -- whose pencils reach it --------------------------------------------------------------------


@pytest.mark.parametrize("pencils", [demo_set(), pocket_set()], ids=["36", "12"])
def test_in_reach_is_what_the_planner_calls_reached(pencils):  # type: ignore[no-untyped-def]
    palette = prepare(pencils)
    for lab in ((58.0, 9.0, 44.0), (20.0, 0.0, 0.0), (70.0, -60.0, 40.0), (45.0, 5.0, -30.0)):
        found = reach(palette, lab)
        planned = plan(palette, lab)
        assert found.reached == (planned.missing is None)
        if planned.missing is not None:
            assert found.miss == pytest.approx(planned.missing.delta_e00, abs=0.5)
            assert found.way == planned.missing.direction


def test_who_can_t_reach_a_colour_is_named_and_how_near_they_come():
    both = [Owned("Wren", demo_set()), Owned("Rail", pocket_set()), Owned("Teal", pocket_set())]
    found = Reaches(both).of(colours(TAN))
    near = {owner: one.miss for owner, one in found.short}
    assert near["Rail"] == near["Teal"] > 2.0
    told = reached_words("Tan", found)
    assert told.startswith(f"2 of 3 can't reach Tan: Rail stays {near['Rail']:.0f} off (")
    assert "Teal stays" in told
    # A grey that both make.
    assert reached_words("Ash", Reaches(both).of((60.0, 0.0, 2.0))) == "All 3 can reach Ash."


def colours(rgb: tuple[int, int, int]) -> tuple[float, float, float]:
    from drills.colour.spaces import srgb_to_lab

    L, a, b = srgb_to_lab(np.array(rgb) / 255).tolist()
    return L, a, b


def test_a_deck_is_minded_where_nobody_reaches_a_colour_and_only_there():
    found = [Found(colours(TAN), "Tan"), Found(colours(GLASS), "Glass")]
    deck = with_colours(EMPTY, picture_of_blocks(), found)
    (told,) = out_of_reach(deck, [Owned("Rail", pocket_set()), Owned("Wren", demo_set())])
    assert told.startswith("Mind: None of 2 can reach Glass. Nearest come ")
    tried = [reach(prepare(one), deck.targets[1].lab) for one in (demo_set(), pocket_set())]
    nearest = min(tried, key=lambda one: one.miss)
    assert f"{nearest.miss:.0f} off" in told
    assert hex_of(nearest.lab) in told


def picture_of_blocks():  # type: ignore[no-untyped-def]
    from drills.pictures.opening import picture_of

    return picture_of(blocks(), "bronze.png")


def test_deck_check_minds_and_stays_sound(folder: Path):
    run("deck", "photo", "bronze.png", "-o", "b.toml", "--at", "50,50=Tan", "--at", "250,250=Glass")
    checked = run("deck", "check", "b.toml")
    assert checked.exit_code == 0
    assert "can't reach Glass" in checked.output
    assert "Tan" not in checked.output.partition("sound.")[2]
    run("deck", "pack", "b.toml", "--pencils", str(Path(demo_set().source or "x")), "-o", "p.toml")


# -- the pencils that students send ------------------------------------------------------------


def sent(student: str, csv: str, numbers: range = range(3)) -> bytes:
    return results_file(student, attempts(student, numbers), pencil_set=csv)


def test_pencils_go_out_only_where_the_student_says_so(tmp_path: Path):
    record = Record.open(tmp_path / "record.db")
    own = parse_pencils(b"name,hex,notes\nMine,#c33935,from my aunt\n", "mine")
    record.put_pencils(own.fingerprint, "Mine", to_csv(own), START)
    deck = EMPTY
    put_deck(record, deck.fingerprint, deck.title, kept_form(deck), START)
    (kept,) = decks_kept(record)
    silent = made_of(record, kept, "Wren", NOW)
    assert "c33935" not in silent.text
    told = made_of(record, kept, "Wren", NOW, pencils_too=True)
    assert "c33935" in told.text
    assert "aunt" not in told.text
    assert "all their colours" in shown(told)[1]
    assert "all their colours" not in shown(silent)[1]
    assert len(shown(told)) == 4
    record.close()


def kept_form(deck: Deck):  # type: ignore[no-untyped-def]
    from decks.record_form import to_kept

    return to_kept(deck)


def test_pencils_that_came_are_kept_whatever_the_order(tmp_path: Path):
    later = dated(sent("Wren", DEMO), "2026-05-01T00:00:00+00:00")
    files = [sent("Wren", POCKET), later, sent("Rail", POCKET), results_file("Teal", [])]
    one = class_of(tmp_path / "a.db", *files)
    two = class_of(tmp_path / "b.db", *reversed(files), *files)
    assert content(one) == content(two)
    known = {each.name: each.csv for each in pencils_known(one)}
    assert known == {"Rail": POCKET, "Wren": DEMO}
    one.drop(STUDENTS["Wren"])
    assert [each.name for each in pencils_known(one)] == ["Rail"]
    for book in (one, two):
        book.close()


def dated(data: bytes, made: str) -> bytes:
    results = json.loads(data)["results"] | {"made": made}
    inner = json_text(results, in_order=True)
    return f'{{"digest":"{digest_of(inner)}","results":{inner}}}'.encode()


@pytest.mark.parametrize(
    "pencil_set",
    [3, "", "name,hex\n", "name,hex\nA,#zzzzzz\n", "x" * 400_000, "name,hex\nA\x07,#111111"],
)
def test_pencils_in_results_are_hostile_until_checked(pencil_set: object):
    data = json.loads(results_file("Wren", attempts("Wren", range(2))))["results"]
    data["student"]["pencil_set"] = pencil_set
    inner = json_text(data, in_order=True)
    whole = f'{{"digest":"{digest_of(inner)}","results":{inner}}}'.encode()
    if pencil_set == "":
        assert read(whole).pencil_set == ""
        return
    with pytest.raises(InputError) as caught:
        read(whole)
    assert "\n" not in str(caught.value)
    assert ".." not in str(caught.value)
    assert len(str(caught.value)) < 500


def test_a_question_brings_its_student_s_pencils_too(tmp_path: Path):
    asked = AskedOfTeacher(STUDENTS["Rail"], "Rail", (40.0, 15.0, 25.0), None, "", "Pocket", POCKET)
    (tmp_path / "q.json").write_text(question_text(asked), encoding="utf-8")
    (tmp_path / "r.json").write_bytes(results_file("Rail", attempts("Rail", range(2))))
    book = ClassBook.open(tmp_path / "class.db")
    told = list(merge(book, [str(tmp_path / "q.json"), str(tmp_path / "r.json")], NOW))
    assert all(one.used for one in told)
    assert "a question from Rail" in told[0].words
    assert "Answer it with: coach class reply" in told[0].words
    assert [(one.owner, one.pencils.fingerprint) for one in of_class(book)] == [
        ("Rail", pocket_set().fingerprint)
    ]
    book.close()


def test_the_class_is_told_by_name_who_can_t_reach_a_colour(folder: Path):
    for student, csv in (("Wren", DEMO), ("Rail", POCKET), ("Teal", "")):
        (folder / f"{student}.json").write_bytes(sent(student, csv))
    run("class", "add", *(f"{name}.json" for name in ("Wren", "Rail", "Teal")))
    made = run("deck", "photo", "bronze.png", "-o", "b.toml", "--at", "50,50=Tan", "--main", "2")
    assert "Pencils are known of 2 of the 3 students" in made.output
    assert "1 of 2 can't reach Tan: Rail stays" in made.output


def test_the_picture_in_a_deck_says_nothing_of_where_it_was_taken(folder: Path):
    taken = Image.open(BytesIO(blocks()))
    taken.save(folder / "taken.jpg", "JPEG", comment=b"Mill Lane 3", quality=95)
    run("deck", "photo", "taken.jpg", "-o", "b.toml", "--at", "50,50=Tan")
    (step,) = load_deck(folder / "b.toml").sound().steps
    assert b"Mill Lane" not in b64decode(step.picture)


def test_a_deck_of_a_picture_reads_back_as_it_was():
    deck = with_colours(EMPTY, picture_of_blocks(), [Found(colours(TAN), "", (0.5, 0.5))])
    assert read_deck(pack(deck).encode(), "f").sound() == deck
    again = with_colours(deck, picture_of_blocks(), [Found(colours(FLAME), "Flame")])
    assert [one.name for one in again.targets][1:] == ["Flame"]
    assert len(again.steps) == 2
    assert replace(deck, steps=()).questions == deck.questions
