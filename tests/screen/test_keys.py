"""What faults of screens do to the keys of drills of hue; ``tests.bench screen`` has more."""

from __future__ import annotations

import random
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import colour
import numpy as np
import pytest

from coach.session.assigned.deck_progress import standing
from coach.session.assigned.deck_questions import keep_ready, ready_deck
from coach.session.today_plan import kinds_stamp
from decks.deck import Deck
from decks.record_form import to_kept
from decks.targets import target_of
from drills.colour.data.tables import FloatArray
from drills.colour.hue import family_at, wheel_position
from drills.colour.spaces import screen_rgb
from drills.kinds.grey_lean import KIND as GREY
from drills.kinds.hue_and_lean import KIND as HUE
from drills.kinds.make_the_match import KIND as MATCH
from drills.kinds.setting.predict_the_mix import KIND as PREDICT
from drills.kinds.setting.predict_the_mix import MixToPredict
from drills.kinds.setting.set_from_memory import KIND as MEMORY
from drills.kinds.setting.set_the_colour import KIND as SET
from drills.kinds.through_the_cast import KIND as CAST
from drills.kinds.through_the_cast import InTheCast
from drills.layering.palette import prepare
from drills.pencils.sets import demo_set
from drills.questions.draw import as_lab, shown_pool
from drills.questions.given_colour import AsksAboutGiven, draw_for, region_of
from drills.questions.protocol import CannotAskError, Lab
from drills.questions.steady import steady
from drills.screen.known import ScreenKnown
from drills.screen.model import Screen
from drills.screen.unmeasured import plausible
from scores.record.decks_added import put_deck
from scores.record.record import Record
from tests.answers import START
from tests.screen.simulated import SCREENS, asked, matched_by_eye, turned

D50 = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D50"]

PALETTE = prepare(demo_set())
UNEVEN, WIDE = SCREENS["channels of 2.1, 2.2, 2.3"], SCREENS["wide, nothing corrects it"]
EACH = 12


def test_uncorrected_screens_turn_a_third_of_greys_and_a_fifth_of_hues() -> None:
    """The fault itself: without it, what follows would prove nothing."""
    greys, _ = asked(PALETTE, "grey-lean", EACH)
    hues, _ = asked(PALETTE, "hue-and-lean", EACH)
    assert turned("grey-lean", greys, UNEVEN) > 0.2
    assert turned("hue-and-lean", hues, UNEVEN) > 0.12
    assert turned("hue-and-lean", hues, WIDE) > 0.06


@pytest.mark.parametrize("name", SCREENS)
@pytest.mark.parametrize("kind", ["grey-lean", "hue-and-lean"])
def test_corrected_at_most_three_in_a_hundred_are_turned(kind: str, name: str) -> None:
    labs, _ = asked(PALETTE, kind, EACH)
    assert turned(kind, labs, SCREENS[name], SCREENS[name]) <= 0.03


@pytest.mark.parametrize("kind", ["grey-lean", "hue-and-lean"])
def test_on_an_unmeasured_screen_nothing_is_asked_that_a_common_fault_turns(kind: str) -> None:
    labs, _ = asked(PALETTE, kind, EACH, known=False)
    assert len(labs) >= 2 * EACH / 3
    assert max(turned(kind, labs, screen) for screen in plausible()) == 0.0


def test_a_band_of_greys_that_all_lean_warm_or_all_cool_is_not_asked() -> None:
    """The answer would be half known without looking."""
    assert "middle greys" in GREY.regions(PALETTE)
    assert GREY.regions(replace(PALETTE, screen_known=False)) == ("light greys",)


@pytest.mark.parametrize("name", SCREENS)
@pytest.mark.parametrize("kind", ["grey-lean", "hue-and-lean"])
def test_matched_by_eye_at_most_three_in_a_hundred_are_turned(kind: str, name: str) -> None:
    """Without the floor under what is asked then, up to one in eight are."""
    labs, _ = asked(PALETTE, kind, EACH, known="by eye")
    rng = random.Random(1)
    eyes = [matched_by_eye(SCREENS[name], rng, 1.0) for _ in range(40)]
    assert np.mean([turned(kind, labs, SCREENS[name], eye) for eye in eyes]) <= 0.03


def seen_through(lab: Lab, paper: Lab, screen: Screen) -> int:
    """The family of a colour beside white paper to an eye adapted to the paper, as the screen
    shows both; the adaptation is colour-science's."""
    levels = screen_rgb(np.array([lab, paper]))
    shown, white = (colour.Lab_to_XYZ(one, D50) for one in screen.lab(levels))
    day = colour.chromatic_adaptation(
        shown, white, colour.xy_to_XYZ(D50), method="Von Kries", transform="CAT16"
    )
    return int(family_at(wheel_position(np.asarray(colour.XYZ_to_Lab(day, D50)))))


def test_a_cast_seen_through_on_an_unmeasured_screen_leaves_the_same_family() -> None:
    screens = plausible()
    turned_unknown, turned_known, count = 0, 0, 0
    for known in (True, False):
        palette = replace(PALETTE, screen_known=known)
        for region in CAST.regions(palette):
            for seed in range(4):
                with suppress(CannotAskError):
                    data = CAST.make(palette, region, 0.4, random.Random(seed)).data
                    assert isinstance(data, InTheCast)
                    wrong = any(
                        seen_through(data.seen, data.paper, one) != data.family for one in screens
                    )
                    turned_known += wrong and known
                    turned_unknown += wrong and not known
                    count += not known
    assert count >= 24
    assert turned_unknown <= 0.03 * count
    assert turned_known > turned_unknown


SETS = {kind.name: kind for kind in (SET, MEMORY, PREDICT)}


def regions_of(labs: FloatArray) -> list[str]:
    return [region_of(as_lab(lab)) for lab in labs]


def turned_regions(labs: FloatArray) -> float:
    """The share of colours that one of the common faults shows in another family or band."""
    own, levels = regions_of(labs), screen_rgb(labs)
    seen = [regions_of(screen.lab(levels)) for screen in plausible()]
    return float(np.mean([len({own[i], *(one[i] for one in seen)}) > 1 for i in range(len(own))]))


def shown_by(kind: str, known: ScreenKnown) -> FloatArray:
    """The colours that drills set, and those of the pencils a mix is predicted from."""
    labs: list[Lab] = []
    palette = replace(PALETTE, screen_known=known)
    for region in SETS[kind].regions(palette):
        for seed in range(3):
            with suppress(CannotAskError):
                question = SETS[kind].make(palette, region, 6.0, random.Random(seed))
                assert question.target is not None
                labs.append(question.target)
                if isinstance(question.data, MixToPredict):
                    labs += [question.data.start, *question.data.swatches]
    return np.array(labs)


@pytest.mark.parametrize("kind", SETS)
def test_what_is_set_on_an_unmeasured_screen_is_of_the_family_that_it_shows(kind: str) -> None:
    assert turned_regions(shown_by(kind, True)) > 0.1  # the fault itself
    unknown = shown_by(kind, False)
    assert len(unknown) >= 15
    assert turned_regions(unknown) == 0.0


def given_colours() -> tuple[Lab, Lab]:
    """A colour that a common fault turns, well within its family by a true screen, and one that
    none does."""
    pool = shown_pool(PALETTE)
    sound = steady(replace(PALETTE, screen_known=False), pool.lab)
    inside = (pool.family >= 0) & (np.abs(pool.wheel - np.round(pool.wheel)) < 0.3)
    return as_lab(pool.lab[inside & ~sound][0]), as_lab(pool.lab[inside & sound][0])


@pytest.mark.parametrize("kind", [HUE, SET], ids=lambda kind: kind.name)
def test_a_given_colour_that_the_screen_may_turn_is_asked_once_it_is_measured(
    kind: AsksAboutGiven,
) -> None:
    unsure, sure = given_colours()
    unknown = replace(PALETTE, screen_known=False)
    with pytest.raises(CannotAskError, match="nobody has measured"):
        draw_for(kind, unknown, unsure, kind.steps[0], 1)
    assert draw_for(kind, PALETTE, unsure, kind.steps[0], 1).target == pytest.approx(unsure)
    assert draw_for(kind, unknown, sure, kind.steps[0], 1).target == pytest.approx(sure)


def test_a_decks_colours_are_worked_out_anew_once_the_screen_is_known(tmp_path: Path) -> None:
    unsure, sure = given_colours()
    targets = tuple(
        target_of(name, f"lab({L:.4f} {a:.4f} {b:.4f})")
        for name, (L, a, b) in (("Unsure", unsure), ("Sure", sure))
    )
    kinds = {kind.name: kind for kind in (HUE, SET, MATCH)}
    deck = Deck("Two colours", "A. Teacher", tuple(kinds), targets=targets, items_a_day=6, days=3)
    unknown, known = (
        ready_deck(deck, replace(PALETTE, screen_known=one), kinds) for one in (False, True)
    )
    asked_of = [{(t.kind, t.target) for t in ready.tasks} for ready in (unknown, known)]
    assert asked_of[1] - asked_of[0] == {(HUE.name, "Unsure"), (SET.name, "Unsure")}
    assert (MATCH.name, "Unsure") in asked_of[0]
    record = Record.open(tmp_path / "record.db")
    put_deck(record, deck.fingerprint, deck.title, to_kept(deck), START)
    keep_ready(record, unknown)
    stamp, pencils = kinds_stamp(), PALETTE.set.fingerprint
    (one,) = standing(record, pencils, stamp, START)
    assert one.tasks == unknown.tasks
    keep_ready(record, known)
    (one,) = standing(record, pencils, stamp, START)
    assert one.tasks is None  # of a screen known, and it isn't
    record.close()
