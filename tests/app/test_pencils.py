"""The pencils are changed in the app: added, put right, taken out, moved; sets are switched."""

from itertools import pairwise
from pathlib import Path

from textual.pilot import Pilot
from textual.widgets import Input, OptionList

from coach.learned import carry_patches, keep_patches, patches_of
from coach.screens.pencils import PencilsScreen
from coach.screens.tray.pencils_shown import BLENDERS, GONE, GREYS, LEGEND, LEGEND_GONE, OPACITY
from coach.screens.tray.sets import SetsScreen
from coach.widgets.tray import Tray
from drills.colour.parse import parse_colour
from drills.hand.patch import Patch, Recipe
from drills.layering.moves import FIRM, Move
from drills.pencils.edit import added, joined, taken_out
from drills.pencils.file import parse_pencils
from drills.pencils.pencil import PencilSet
from drills.pencils.sets import demo_set, pocket_set
from scores.skill.skill_words import WHEEL, region_words
from tests.pilots import FEW_COLOURS, TableApp, painted, ready_once, shown, table


def settled(app: TableApp) -> PencilSet:
    """The set in use, made ready as the app's thread would."""
    made = app.app_state.pencil_set()
    app.app_state.keep(ready_once(made))
    return made


async def opened(pilot: Pilot[None], app: TableApp) -> PencilsScreen:
    await pilot.press("w")
    assert isinstance(app.screen, PencilsScreen)
    return app.screen


async def write(pilot: Pilot[None], field: str, text: str) -> None:
    pilot.app.screen.query_one(f"#{field}", Input).value = text
    await pilot.pause()


async def test_a_pencil_is_renamed_and_coded(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=pocket_set())
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, app)
        await pilot.press("right", "e")
        await write(pilot, "name", "Harbour Red")
        await write(pilot, "code", "H7")
        await write(pilot, "lightfastness", "II")
        await pilot.press("enter")
        pencil = settled(app).pencils[1]
        assert (pencil.name, pencil.code, pencil.lightfastness) == ("Harbour Red", "H7", "II")
        old = pocket_set().pencils
        assert settled(app).pencils[0] == old[0]
        assert pencil.hex == old[1].hex


async def test_what_no_pencils_file_may_hold_is_refused_where_it_is_written(
    tmp_path: Path,
) -> None:
    app = table(tmp_path, pencils=pocket_set())
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, app)
        await pilot.press("e")
        await write(pilot, "name", pocket_set().pencils[1].name)
        await pilot.press("enter")
        await pilot.pause()
        assert "is already the name of" in shown(app)
        await write(pilot, "name", "Quite Another")
        await write(pilot, "opacity", "thick")
        await pilot.press("enter")
        await pilot.pause()
        assert "“thick” is not an opacity" in shown(app)
        await pilot.press("escape")
        assert settled(app).fingerprint == pocket_set().fingerprint


async def test_a_new_pencil_has_its_colour_first_and_then_its_name(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=pocket_set())
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, app)
        await pilot.press("n", "2", *"#336644", "enter")
        await write(pilot, "name", "Fern Stile")
        await pilot.press("enter")
        made = settled(app)
        assert made.pencils[:-1] == pocket_set().pencils
        assert made.pencils[-1].name == "Fern Stile"
        assert made.pencils[-1].lab == parse_colour("#336644")


async def test_its_colour_is_given_anew(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=pocket_set())
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, app)
        await pilot.press("c", "2", *"#336644", "enter")
        assert settled(app).pencils[0].lab == parse_colour("#336644")
        assert settled(app).pencils[0].name == pocket_set().pencils[0].name


async def test_taking_one_out_asks_once_more(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=pocket_set())
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, app)
        await pilot.press("x")
        assert f"Press x again to take {pocket_set().pencils[0].name}" in shown(app)
        await pilot.press("right", "x")
        assert settled(app).fingerprint == pocket_set().fingerprint, "another pencil: asked anew"
        await pilot.press("x")
        assert settled(app).pencils == tuple(
            one for place, one in enumerate(pocket_set().pencils) if place != 1
        )


async def test_a_pencil_is_moved_and_stays_marked(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=pocket_set())
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot, app)
        await pilot.press("full_stop")
        first, second, *rest = pocket_set().pencils
        assert settled(app).pencils == (second, first, *rest)
        assert screen.query_one(Tray).marked == 1


async def test_patches_of_the_hand_follow_the_pencils(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=pocket_set())
    state = app.app_state
    patches = [Patch(Recipe((Move("lay", place, FIRM),)), (50.0, 0.0, 0.0)) for place in (0, 1, 2)]
    keep_patches(state.record, pocket_set(), patches)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, app)
        await pilot.press("right", "x", "x")
        kept = patches_of(state.record, settled(app))
        assert [patch.recipe.moves[0].pencil for patch in kept] == [0, 1]
        assert len(patches_of(state.record, pocket_set())) == 3, "what was kept stays"


def test_patches_of_a_set_taken_up_again_are_not_written_over(tmp_path: Path) -> None:
    """A pencil taken out and put back makes the old set: what was kept of it stays."""
    record, old = table(tmp_path, pencils=pocket_set()).app_state.record, pocket_set()
    last = len(old) - 1
    patches = [Patch(Recipe((Move("lay", at, FIRM),)), (50.0, 0.0, 0.0)) for at in (0, 1)]
    patches.append(Patch(Recipe((Move("lay", 2, FIRM),)), (40.0, 0.0, 0.0)))
    keep_patches(record, old, patches)
    fewer = taken_out(old, last)
    carry_patches(record, old, fewer)
    keep_patches(record, fewer.set, patches_of(record, fewer.set)[:1])
    again = added(fewer.set, old.pencils[last])
    carry_patches(record, fewer.set, again)
    assert again.set.fingerprint == old.fingerprint
    assert patches_of(record, old) == tuple(patches)


async def test_sets_that_were_used_can_be_taken_up_again_and_named(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=pocket_set())
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, app)
        await pilot.press("x", "x")
        fewer = settled(app)
        await pilot.press("s")
        assert isinstance(app.screen, SetsScreen)
        assert f"{len(fewer)} pencils (in use)" in shown(app)
        await pilot.press("r")
        app.screen.query_one(Input).value = "Studio box"
        await pilot.press("enter")
        assert app.app_state.pencils_name == "Studio box"
        assert settled(app).fingerprint == fewer.fingerprint
        await pilot.press("s", "down", "enter")
        assert settled(app).fingerprint == pocket_set().fingerprint


async def test_the_tray_lies_in_the_learner_s_order_or_by_family_and_value(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot, app)
        await pilot.pause()
        tray = screen.query_one(Tray)
        assert tray.shown == tuple(range(len(demo_set())))
        await pilot.press("v")
        await pilot.pause()
        groups = [tray.pencils[at].group for at in tray.shown]
        named = [name for name in dict.fromkeys(groups) if name not in (GREYS, BLENDERS)]
        assert named == [w for w in (region_words(f).capitalize() for f in WHEEL) if w in named]
        assert len(set(groups)) == sum(1 for one, other in pairwise([*groups, ""]) if one != other)
        for one, other in pairwise(tray.shown):
            if tray.pencils[one].group == tray.pencils[other].group and one != other:
                assert tray.pencils[one].place <= tray.pencils[other].place
        assert groups[0] in shown(app)
        await pilot.press("full_stop")
        assert "your own order" in shown(app)
        assert app.app_state.pencil_set().fingerprint == demo_set().fingerprint


async def test_each_pencil_says_by_marks_and_words_how_it_is(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot, app)
        await pilot.pause()
        first = demo_set().pencils[0]
        assert f"{first.lightfastness} {OPACITY[first.opacity]}" in shown(app)
        assert LEGEND in shown(app)
        assert first.name in shown(app)
        assert f"{first.opacity}, lightfastness {first.lightfastness}" in shown(app)
        await pilot.press("right", "down")
        await pilot.pause()
        at = screen.query_one(Tray).marked
        assert at > 2
        assert demo_set().pencils[at].name in shown(app)


async def test_a_pencil_is_found_by_typing(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot, app)
        await pilot.pause()
        tray, last = screen.query_one(Tray), demo_set().pencils[-3]
        await pilot.press("slash", *"zzqx")
        await pilot.pause()
        assert tray.shown == ()
        assert "No pencil has these words." in shown(app)
        screen.query_one("#find", Input).value = last.name.lower()
        await pilot.pause()
        assert [demo_set().pencils[at] for at in tray.shown] == [last]
        assert tray.marked == len(demo_set()) - 3
        await pilot.press("enter", "escape")
        await pilot.pause()
        assert len(tray.shown) == len(demo_set())
        assert isinstance(app.screen, PencilsScreen)
        assert tray.marked == len(demo_set()) - 3, "what was found stays marked"


async def test_the_tray_is_words_alone_without_24_bit_colour(tmp_path: Path) -> None:
    app = table(tmp_path, depth=FEW_COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, app)
        await pilot.pause()
        assert demo_set().pencils[0].name in shown(app)
        assert painted(app) == set()


async def test_a_pencil_is_marked_used_up_in_words_and_back(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=pocket_set())
    state = app.app_state
    patch = Patch(Recipe((Move("lay", 1, FIRM),)), (50.0, 0.0, 0.0))
    keep_patches(state.record, pocket_set(), [patch])
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot, app)
        await pilot.pause()
        assert "used up)" not in shown(app)
        await pilot.press("right", "u")
        made = settled(app)
        assert [one.used_up for one in made.pencils] == [at == 1 for at in range(len(made))]
        screen.fill()
        await pilot.pause()
        assert f"{len(made)} pencils, 1 used up" in shown(app)
        assert screen.query_one(Tray).pencils[1].marks == GONE
        assert LEGEND_GONE in shown(app)
        assert screen.query_one(Tray).marked == 1
        assert "used up)" in shown(app)
        assert patches_of(state.record, made) == (patch,)
        await pilot.press("u")
        assert settled(app).fingerprint == pocket_set().fingerprint


async def test_a_second_box_is_joined_to_the_set_in_use(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=pocket_set())
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, app)
        await pilot.press("s", "j")
        assert "Every pencil of it is in the set in use." in shown(app)
        await pilot.press("down", "j")
        made = settled(app)
        own = set(pocket_set().pencils)
        assert made.name == pocket_set().name
        assert made.pencils[: len(pocket_set())] == pocket_set().pencils
        assert set(made.pencils) == own | set(demo_set().pencils)


async def test_what_a_set_was_before_stands_last_with_its_day(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=pocket_set())
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, app)
        await pilot.press("x", "x")
        fewer = settled(app)
        await pilot.press("s")
        options = app.screen.query_one(OptionList)
        told = [str(options.get_option_at_index(at).prompt) for at in range(options.option_count)]
        name = fewer.name
        assert told[0] == f"{name}: {len(fewer)} pencils  (in use)"
        assert told[-1].startswith(f"{name}, as of ")
        assert told[-1].endswith(f": {len(fewer) + 1} pencils")


def test_of_two_that_share_only_a_name_both_are_kept_and_told_apart() -> None:
    one = parse_pencils(b"name,hex\nRed,#a03030\nSea,#2f7f93\n", "first.csv")
    two = parse_pencils(b"name,hex\nred,#b04040\nSea,#2f7f93\nLeaf,#336644\n", "second.csv")
    made = joined(one, two).set
    assert [pencil.name for pencil in made.pencils] == ["Red", "Sea", "red (second)", "Leaf"]
    assert made.pencils[2].hex == "#b04040"
