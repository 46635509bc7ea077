"""``coach hand``: patches kept, dropped and told of; what can't be read is one line."""

from __future__ import annotations

import json
import sys
from datetime import UTC, datetime

import pytest

from coach.app_state import ready
from coach.learned import keep_patches, learned, patches_of, patches_or_none, setting_of
from coach.running.entry import main
from drills.basics.errors import InputError
from drills.hand.choose import choose
from drills.hand.fit import fit
from drills.hand.keeping import from_json, to_json
from drills.hand.patch import Patch, Recipe
from drills.kinds import all_kinds, draw
from drills.layering.constants import FILM_MODEL
from drills.layering.laying import LearnedHand
from drills.layering.moves import Move
from drills.layering.palette import prepare
from drills.layering.paper import black_paper
from drills.layering.predict import predict
from drills.pencils.file import to_csv
from drills.pencils.sets import pocket_set
from scores.record.record import Record

POCKET = pocket_set()
NAMES = [one.name for one in POCKET.pencils if not one.is_blender]


def a_dozen() -> list[Patch]:
    """Twelve patches of a hand far from the default."""
    palette = prepare(POCKET)
    hand = LearnedHand((1.6,) * len(POCKET), tooth=1.35, power=2.0, middle=0.85)
    on = {"white": prepare(POCKET, None, hand), "black": prepare(POCKET, black_paper(), hand)}
    chosen = [one.recipe for one in choose(palette, fit(palette, []), 12)]
    return [Patch(one, predict(on[one.paper], one.moves)) for one in chosen]


@pytest.fixture
def home(tmp_path, monkeypatch):
    """A record that has the pocket set in use."""
    folder = tmp_path / "home"
    monkeypatch.setenv("COACH_HOME", str(folder))
    record = Record.open(folder / "record.db")
    record.put_pencils(POCKET.fingerprint, POCKET.name, to_csv(POCKET), datetime.now(UTC))
    record.close()
    return folder / "record.db"


@pytest.fixture
def coach(home, monkeypatch, capsys):
    def run(*words: str) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["coach", *words])
        capsys.readouterr()
        code = 0
        try:
            main()
        except SystemExit as end:
            code = int(end.code or 0)
        return code, *capsys.readouterr()

    return run


def kept_at(path, patches) -> None:
    record = Record.open(path)
    keep_patches(record, POCKET, patches)
    record.close()


def test_before_any_patch_it_says_so_and_what_to_paint(coach):
    code, out, _ = coach("hand")
    assert code == 0
    assert out.startswith("Nothing is known yet of your hand")
    assert out.count("takes ") == 3


def test_a_patch_added_is_kept_and_undone(coach, home):
    words = ("--pencil", NAMES[0], "--pencil2", NAMES[1], "--layers", "2", "--pressure", "light")
    assert coach("hand", "add", *words, "--pressure2", "firm", "--blend", "#806040")[0] == 0
    assert coach("hand", "add", "--pencil", NAMES[2], "--pressure", "firm", "--paper", "black",
                 "lab(30 5 5)")[0] == 0  # fmt: skip
    record = Record.open(home)
    first, second = patches_of(record, POCKET)
    record.close()
    at = [next(i for i, p in enumerate(POCKET.pencils) if p.name == name) for name in NAMES[:3]]
    assert first.recipe.moves == (
        Move("lay", at[0], 0.3), Move("lay", at[0], 0.3), Move("lay", at[1], 1.0),
        Move("blend", -1, 0.3),
    )  # fmt: skip
    assert second == Patch(Recipe((Move("lay", at[2], 1.0),), "black"), (30.0, 5.0, 5.0))
    assert coach("hand", "undo")[0] == 0
    record = Record.open(home)
    assert patches_of(record, POCKET) == (first,)
    record.close()
    assert coach("hand", "anew", "--yes")[0] == 0
    assert coach("hand", "undo")[0] == 2


def test_a_dozen_patches_are_used_by_the_plan_and_the_drills(coach, home):
    patches = a_dozen()
    kept_at(home, patches)
    figures = json.loads(coach("hand", "--json")[1])
    assert figures["in_use"]
    assert figures["held_out_delta_e00"] < figures["default_delta_e00"]
    assert len(figures["patches"]) == 12
    assert "The tooth of your paper is deeper than supposed" in coach("hand")[1]
    assert "12 patches of yours" in coach("plan", "#806040")[1]
    palette = ready(POCKET, patches=patches).palette
    assert palette.film_model == f"{FILM_MODEL}+hand12"
    name, kind = next(iter(all_kinds().items()))
    region = kind.regions(palette)[0]
    question = draw(kind, palette, region, kind.steps[1], 1)
    assert question.facts["film_model"] == palette.film_model, name
    default = draw(kind, prepare(POCKET), region, kind.steps[1], 1)
    assert default.facts["film_model"] == FILM_MODEL


def test_another_set_of_pencils_keeps_its_own(home):
    from drills.pencils.sets import demo_set

    kept_at(home, a_dozen()[:2])
    record = Record.open(home)
    assert patches_of(record, demo_set()) == ()
    keep_patches(record, demo_set(), [])
    assert len(patches_of(record, POCKET)) == 2
    record.close()


def test_a_hand_that_foretells_nothing_better_is_left_out():
    assert learned(POCKET, ()) is None
    assert learned(POCKET, a_dozen()[:3]) is None


def test_patches_come_back_as_they_were_kept():
    patches = a_dozen()
    assert from_json(json.loads(json.dumps(to_json(patches))), POCKET) == tuple(patches)


GOOD = {"moves": [["lay", 0, 0.6]], "paper": "white", "lab": [50.0, 0.0, 0.0], "sd": 1.5}


@pytest.mark.parametrize(
    "change",
    [
        {"moves": []},
        {"moves": [["lay", 99, 0.6]]},
        {"moves": [["lay", -1, 0.6]]},
        {"moves": [["lay", True, 0.6]]},
        {"moves": [["lay", 0, float("nan")]]},
        {"moves": [["lay", 0, 0.0]]},
        {"moves": [["burnish", 0, 1.0]]},
        {"moves": [["blend", -1, 0.3]]},
        {"moves": [["lay", 0, 0.6]] * 9},
        {"moves": 7},
        {"paper": "green"},
        {"paper": []},
        {"lab": [50.0, 0.0]},
        {"lab": [50.0, 0.0, 1e400]},
        {"lab": "abc"},
        {"sd": 0.0},
        {"sd": True},
    ],
)
def test_what_can_not_be_a_patch_is_named_in_one_line(change):
    with pytest.raises(InputError, match="patch 2 is none") as fault:
        from_json([GOOD, {**GOOD, **change}], POCKET)
    assert "coach hand anew" in str(fault.value)


@pytest.mark.parametrize("value", [5, "x", {"a": 1}, [GOOD] * 201, [None], [[]]])
def test_what_is_no_list_of_patches_is_refused(value):
    with pytest.raises(InputError):
        from_json(value, POCKET)


def test_patches_that_can_not_be_read_stop_no_practice_and_can_be_begun_anew(coach, home):
    record = Record.open(home)
    record.set_setting(setting_of(POCKET), [{"moves": 3}])
    assert patches_or_none(record, POCKET)[0] == ()
    record.close()
    code, _, err = coach("hand")
    assert (code, err.count("\n")) == (2, 1)
    assert coach("hand", "anew", "--yes")[0] == 0
    assert coach("hand")[0] == 0


@pytest.mark.parametrize(
    "words",
    [
        ("add", "--pencil", "Nobody", "--pressure", "light", "#806040"),
        ("add", "--pencil", NAMES[0], "--pressure", "light", "no colour"),
        ("add", "--pencil", NAMES[0], "--pressure", "light", "--pressure2", "firm", "#806040"),
    ],
)
def test_what_can_not_be_added_is_said(coach, words):
    code, _, err = coach("hand", *words)
    assert code == 2
    assert "Traceback" not in err
