"""A second sheet painted with the same pencils is joined with the first, and nothing is lost."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from coach.learned import keep_patches, patches_of
from coach.sheets.joining import Known, added, carry_swatches, joined, newest
from coach.sheets.joining import Swatch as Painted
from coach.sheets.photos import Read, keep
from coach.sheets.printed import Printed
from drills.hand.keeping import MOST_PATCHES, from_json, to_json
from drills.hand.patch import Patch, Recipe
from drills.layering.moves import FIRM, LIGHT, Move
from drills.pencils.edit import marked_used_up
from drills.pencils.file import make_set, parse_pencils, to_csv
from drills.pencils.pencil import Lab, Pencil, PencilSet
from drills.sheets.results import Slots, Swatch
from scores.record.queries import pencil_sets
from scores.record.record import Record

NOW = datetime(2026, 3, 1, 9, tzinfo=UTC)
RED, BLUE = (45.0, 50.0, 30.0), (40.0, 0.0, -35.0)
PER_PAGE = 27


def moved(lab: Lab, by: float) -> Lab:
    return (lab[0] + by, lab[1] + by, lab[2] - by)


def slots(*firm: Lab | None) -> Slots:
    """As a photo of a sheet has them; a pencil that is None was dropped."""
    out = {}
    for at, lab in enumerate(firm):
        light = None if lab is None else moved(lab, 20.0)
        out[1, at] = {"light": Swatch(light, "", 1), "firm": Swatch(lab, "glare on it", 1)}
    return out


def read(sheet: str, of: PencilSet | None, *firm: Lab | None) -> Read:
    printed = None if of is None else Printed(of)
    return {(sheet, "pencils"): (slots(*firm), PER_PAGE, printed)}


@pytest.fixture
def record(tmp_path: Path) -> Record:
    return Record.open(tmp_path / "record.db")


def kept(record: Record, found: Read, days: int = 0) -> PencilSet:
    _, pencils = keep(record, found, NOW + timedelta(days=days))
    assert pencils is not None
    active = record.active_pencils()
    assert active is not None
    assert active.fingerprint == pencils.fingerprint
    return pencils


def labs(pencils: PencilSet) -> list[object]:
    return [one.lab for one in pencils.pencils]


def test_a_second_sheet_is_joined_with_the_first_each_weighing_alike(record: Record) -> None:
    first = kept(record, read("AAAAAA", None, RED, BLUE))
    before = patches_of(record, first)
    second = kept(record, read("BBBBBB", first, moved(RED, 4.0), moved(BLUE, 2.0)), 1)
    assert labs(second) == [pytest.approx(moved(RED, 2.0)), pytest.approx(moved(BLUE, 1.0))]
    assert [one.painted for one in second.pencils] == [2, 2]
    third = kept(record, read("CCCCCC", second, moved(RED, 5.0), moved(BLUE, 4.0)), 2)
    assert labs(third) == [pytest.approx(moved(RED, 3.0)), pytest.approx(moved(BLUE, 2.0))]
    assert [one.painted for one in third.pencils] == [3, 3]
    # The light boxes of all three weigh alike too: none took another's place.
    lights = [patch.lab for patch in patches_of(record, third) if patch.recipe.moves[0].pencil == 0]
    assert lights == [moved(moved(RED, by), 20.0) for by in (0.0, 4.0, 5.0)]
    assert {patch.sheet for patch in patches_of(record, third)} == {"AAAAAA", "BBBBBB", "CCCCCC"}
    # And what was kept of the sets before stays theirs.
    assert patches_of(record, first) == before
    assert {row[0] for row in pencil_sets(record)} == {
        one.fingerprint for one in (first, second, third)
    }


def test_another_photo_of_a_sheet_takes_the_place_of_what_that_sheet_said(record: Record) -> None:
    first = kept(record, read("AAAAAA", None, RED, BLUE))
    kept(record, read("BBBBBB", first, moved(RED, 4.0), moved(BLUE, 2.0)), 1)
    again = kept(record, read("BBBBBB", first, moved(RED, 6.0), None), 2)
    assert labs(again) == [pytest.approx(moved(RED, 3.0)), pytest.approx(moved(BLUE, 1.0))]
    assert [one.painted for one in again.pencils] == [2, 2]
    assert len(patches_of(record, again)) == 4
    same = kept(record, read("BBBBBB", first, moved(RED, 6.0), None), 3)
    assert same == again


def test_a_sheet_printed_for_the_first_set_joins_what_it_has_become(record: Record) -> None:
    """Two sheets printed on one day, kept one after the other."""
    first = kept(record, read("AAAAAA", None, RED, BLUE))
    kept(record, read("BBBBBB", first, moved(RED, 4.0), BLUE), 1)
    last = kept(record, read("CCCCCC", first, moved(RED, 5.0), BLUE), 2)
    assert labs(last)[0] == pytest.approx(moved(RED, 3.0))
    assert [one.painted for one in last.pencils] == [3, 3]


def test_patches_of_a_sheet_are_kept_for_what_its_pencils_have_become(record: Record) -> None:
    first = kept(record, read("AAAAAA", None, RED, BLUE))
    recipe = Recipe((Move("lay", 1, FIRM), Move("lay", 0, FIRM)))
    printed = Printed(first, (recipe,))
    found = read("BBBBBB", first, moved(RED, 4.0), BLUE)
    patch = {(1, 0): {"patch": Swatch((30.0, 10.0, 5.0), "", 1)}}
    found = {("BBBBBB", "patches"): (patch, 30, printed), **found}
    second = kept(record, found, 1)
    assert (30.0, 10.0, 5.0) in [one.lab for one in patches_of(record, second)]
    # The same recipe on another sheet is another patch.
    patch = {(1, 0): {"patch": Swatch((32.0, 10.0, 5.0), "", 1)}}
    keep(record, {("CCCCCC", "patches"): (patch, 30, printed)}, NOW + timedelta(days=2))
    mine = [one.lab[0] for one in patches_of(record, second) if one.recipe == recipe]
    assert mine == [30.0, 32.0]


@pytest.mark.parametrize("older", [MOST_PATCHES - 2, MOST_PATCHES])
def test_the_oldest_patches_make_room_and_it_is_said(record: Record, older: int) -> None:
    first = kept(record, read("aaaaaa", None, RED, BLUE))
    one = Recipe((Move("lay", 0, FIRM),))
    keep_patches(record, first, [Patch(one, RED, 1.0, "") for _ in range(older)])
    asked = (one, Recipe((Move("lay", 1, FIRM),)))
    got: Slots = {(1, at): {"patch": Swatch(RED, "", 1)} for at in range(2)}
    patches: Read = {("dddddd", "patches"): (got, PER_PAGE, Printed(first, asked))}
    (said,), _ = keep(record, patches, NOW)
    assert len(patches_of(record, first)) == MOST_PATCHES
    told = "The 2 oldest patches are no longer kept" in said
    assert told is (older == MOST_PATCHES)


def test_a_colour_that_was_not_painted_is_taken_as_read(record: Record) -> None:
    typed = make_set("Typed", (Pencil("Red", hex="#c03020"), Pencil("Blue", hex="#2040a0")))
    found = kept(record, read("AAAAAA", typed, RED, None))
    assert found.pencils[0].lab == pytest.approx(RED)
    assert [one.painted for one in found.pencils] == [1, 0]
    assert found.pencils[1] == typed.pencils[1]


def test_swatches_of_before_they_were_told_apart_count_as_many_as_were_painted() -> None:
    old = make_set("Old", (Pencil("Red", lab=RED, painted=2),))
    new = make_set("Old", (Pencil("Red", lab=moved(RED, 3.0), painted=1),))
    found, swatches = joined(
        Known(old, Printed(old), (Painted("", 0, RED, None, 2),)), new, {0}, "BBBBBB"
    )
    assert found.pencils[0].lab == pytest.approx(moved(RED, 1.0))
    assert found.pencils[0].painted == 3
    assert [one.times for one in swatches] == [2, 1]


def test_black_paper_is_the_mean_of_the_sheets_that_have_it() -> None:
    old = make_set("Old", (Pencil("Red", lab=RED, painted=1),))
    read_now = replace(old.pencils[0], lab=moved(RED, 1.0), on_black=(20.0, 10.0, 5.0))
    new = make_set("Old", (read_now,))
    before = (Painted("A", 0, RED, None), Painted("B", 0, RED, (22.0, 10.0, 5.0)))
    found, _ = joined(Known(old, Printed(old), before), new, {0}, "C")
    assert found.pencils[0].on_black == pytest.approx((21.0, 10.0, 5.0))


def test_an_edit_carries_the_swatches_on(record: Record) -> None:
    first = kept(record, read("AAAAAA", None, RED, BLUE))
    edited = marked_used_up(first, {1}, True)
    carry_swatches(record, first, edited)
    record.put_pencils(edited.set.fingerprint, "Mine", to_csv(edited.set), NOW)
    known = newest(record, Printed(first))
    assert known.stands.fingerprint == edited.set.fingerprint
    assert [(one.sheet, one.pencil) for one in known.swatches] == [("AAAAAA", 0), ("AAAAAA", 1)]
    # Used up since, it has its place on the sheet yet, and stays used up.
    assert len(known.printed.coloured) == 2
    second = kept(record, read("BBBBBB", first, RED, moved(BLUE, 2.0)), 1)
    assert labs(second) == [pytest.approx(RED), pytest.approx(moved(BLUE, 1.0))]
    assert [one.used_up for one in second.pencils] == [False, True]


def test_a_change_taken_back_and_damage_fall_back_to_the_set(record: Record) -> None:
    first = kept(record, read("AAAAAA", None, RED, BLUE))
    edited = marked_used_up(first, {1}, True)
    carry_swatches(record, first, edited)
    record.put_pencils(edited.set.fingerprint, "Mine", to_csv(edited.set), NOW)
    back = marked_used_up(edited.set, {1}, False)
    carry_swatches(record, edited.set, back)
    assert newest(record, Printed(edited.set)).stands.fingerprint == first.fingerprint
    nought = {"sheet": "AAAAAA", "pencil": 0, "lab": list(BLUE), "on_black": None, "times": -1}
    for damaged in ({"swatches": [["x"]], "then": 3}, {"swatches": [nought], "then": ""}):
        record.set_setting(f"swatches:{first.fingerprint}", damaged)
        behind = newest(record, Printed(first)).swatches
        assert [(one.sheet, one.lab) for one in behind] == [("", RED), ("", BLUE)]
        # Which would be a mean of none.
        assert joined(newest(record, Printed(first)), first, {0}, "BBBBBB")


def test_pencils_called_otherwise_since_are_not_joined_by_place(record: Record) -> None:
    first = kept(record, read("AAAAAA", None, RED, BLUE))
    renamed = make_set("Mine", tuple(replace(p, name=f"My {p.name}") for p in first.pencils))
    record.put_pencils(renamed.fingerprint, "Mine", to_csv(renamed), NOW)
    record.set_setting(
        f"swatches:{first.fingerprint}", {"swatches": [], "then": renamed.fingerprint}
    )
    assert newest(record, Printed(first)).stands == first


def test_patches_of_one_sheet_take_each_others_place_and_no_others() -> None:
    recipe, other = Recipe((Move("lay", 0, LIGHT),)), Recipe((Move("lay", 1, LIGHT),))
    hand, old, rest = Patch(recipe, RED), Patch(recipe, RED, 2.5, "A"), Patch(other, RED, 2.5, "B")
    new = Patch(recipe, BLUE, 2.5, "B")
    assert added((hand, old, rest), [new], False) == (hand, old, rest, new)
    assert added((hand, old, rest, new), [replace(new, lab=RED)], False) == (
        hand, old, rest, replace(new, lab=RED),
    )  # fmt: skip
    assert added((hand, old), [new], True) == (old, new)


def test_a_patchs_sheet_is_kept_and_an_absurd_one_refused() -> None:
    pencils = parse_pencils(b"name,hex\nRed,#c03020\n", "a file")
    patch = Patch(Recipe((Move("lay", 0, LIGHT),)), RED, 2.5, "AAAAAA")
    assert from_json(to_json([patch]), pencils) == (patch,)
    for sheet in (7, "A" * 13, None):
        with pytest.raises(ValueError, match="patch 1"):
            from_json([{**to_json([patch])[0], "sheet": sheet}], pencils)
