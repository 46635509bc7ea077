"""The guide: every word of the craft in a few sentences, with swatches that do show it."""

from __future__ import annotations

import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from coach.guide import ENTRIES, GuideEntry, look_up, shown
from coach.guide.pictures import DIFFERENCES, PAIRS, PICTURES, demo_palette
from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, wheel_steps
from drills.colour.reading import read_colour
from drills.colour.spaces import in_screen_gamut, lab_to_lch
from drills.questions.protocol import Swatch

WORDS = ("undertone", "value", "chroma", "complement", "tooth", "blender", "burnish")
"""What the issue asks for by name."""
every_entry = pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.word)


def of(word: str) -> tuple[Swatch, ...]:
    (entry,) = [entry for entry in ENTRIES if entry.word == word]
    return shown(entry)


def lch(swatch: Swatch) -> tuple[float, float, float]:
    L, C, h = (float(v) for v in lab_to_lch(np.array(swatch.lab)))
    return L, C, h


def apart(one: Swatch, other: Swatch) -> float:
    return float(delta_e00(np.array(one.lab), np.array(other.lab)))


# -- every entry -------------------------------------------------------------------------------


def test_the_words_of_the_craft_are_there() -> None:
    assert set(WORDS) <= {entry.word for entry in ENTRIES}
    assert len({entry.word for entry in ENTRIES}) == len(ENTRIES)
    assert {entry.word for entry in ENTRIES} == set(PICTURES)


@every_entry
def test_each_is_said_in_a_sentence_or_three(entry: GuideEntry) -> None:
    assert 1 <= len(entry.says) <= 3
    for said in (*entry.says, entry.look):
        assert said.endswith(".")
        assert len(said) <= 120
        assert said.isprintable()


@every_entry
def test_each_is_shown_by_swatches_that_a_screen_can_show_and_few_enough_for_80_columns(
    entry: GuideEntry,
) -> None:
    swatches = shown(entry)
    assert 2 <= len(swatches) <= 6
    for swatch in swatches:
        assert bool(in_screen_gamut(np.array(swatch.lab))), swatch
        assert swatch.label
        # So wide is each, with gaps of four between them.
        assert len(swatch.label) <= (76 - 4 * (len(swatches) - 1)) // len(swatches)
    assert shown(entry) == swatches


@every_entry
def test_neighbouring_swatches_differ_visibly_but_where_sameness_is_the_point(
    entry: GuideEntry,
) -> None:
    swatches = shown(entry)
    for place, (one, other) in enumerate(pairwise(swatches)):
        same = entry.word == "surround" or (entry.word == "burnish" and place == 1)
        # What a light blending does is little, as the words say.
        least = 0.5 if entry.word == "blender" else 1.0
        assert (apart(one, other) < 1.0) if same else (apart(one, other) >= least * 0.99)


# -- what each shows -------------------------------------------------------------------------


def test_brown_is_of_oranges_family() -> None:
    orange, brown = (read_colour(swatch.lab) for swatch in of("hue family"))
    assert orange.family == brown.family == "orange"
    assert brown.everyday == "brown"


def test_three_reds_lean_from_orange_to_violet() -> None:
    places = [read_colour(swatch.lab).position for swatch in of("lean")]
    assert places == sorted(places)
    readings = [read_colour(swatch.lab) for swatch in of("lean")]
    assert readings[0].lean == "red-orange"
    assert readings[1].lean is None
    assert readings[2].lean == "red-violet"
    assert {reading.family for reading in readings} == {"red"}


def test_value_moves_alone() -> None:
    three = [lch(swatch) for swatch in of("value")]
    assert [L for L, _, _ in three] == sorted((L for L, _, _ in three), reverse=True)
    assert [read_colour(s.lab).value_word for s in of("value")] == ["light", "middle", "dark"]
    for _, C, h in three:
        assert (C, h) == pytest.approx(three[0][1:], abs=1e-6)


def test_chroma_moves_alone() -> None:
    four = [lch(swatch) for swatch in of("chroma")]
    assert [C for _, C, _ in four] == sorted((C for _, C, _ in four), reverse=True)
    assert all(pytest.approx(four[0][0]) == L for L, _, _ in four)
    assert four[-1][1] == pytest.approx(0.0, abs=1e-9)


def test_of_two_greys_the_warmer_is_the_warmer() -> None:
    warm, cool = of("warm and cool")
    assert read_colour(warm.lab).temperature == "warm"
    assert read_colour(cool.lab).temperature == "cool"
    assert abs(warm.lab[0] - cool.lab[0]) < 5


def test_a_true_grey_leans_nowhere() -> None:
    warm, true, cool = of("grey that leans")
    assert read_colour(true.lab).hueless
    assert not read_colour(warm.lab).hueless
    assert not read_colour(cool.lab).hueless


def test_a_thin_layer_shows_the_undertone_for_what_it_is() -> None:
    """Lighter by far, its hue plain, and of the family that the firm layer hides."""
    thin, firm = (read_colour(swatch.lab) for swatch in of("undertone"))
    assert thin.value - firm.value > 3
    assert firm.value < 4
    assert thin.chroma > 10
    assert float(wheel_steps(thin.position, firm.position)) < 1.0


def test_the_surround_changes_and_the_grey_does_not() -> None:
    light, dark = of("surround")
    assert light.lab == dark.lab
    assert light.surround is not None
    assert dark.surround is not None
    assert light.surround[0] - dark.surround[0] > 40


def test_the_complement_is_opposite_and_quiets() -> None:
    red, green, over = of("complement")
    families = [FAMILIES.index(read_colour(swatch.lab).family) for swatch in (red, green)]
    assert abs(families[0] - families[1]) == 6
    assert lch(over)[1] < lch(red)[1] - 3
    assert read_colour(over.lab).family == "red"


def test_muting_inside_keeps_more_of_the_red_than_on_top() -> None:
    alone, inside, top = (lch(swatch)[1] for swatch in of("mute"))
    assert alone > inside > top


def test_light_pressure_reaches_the_peaks_alone() -> None:
    peaks, valleys, whole = of("tooth")
    paper = demo_palette().paper
    assert peaks.lab[0] < whole.lab[0] < valleys.lab[0]
    from drills.colour.spaces import reflectance_to_lab

    bare = reflectance_to_lab(np.asarray(paper.reflectance))
    assert float(delta_e00(np.array(valleys.lab), bare)) < 1.0


def test_pressure_darkens_step_by_step() -> None:
    values = [swatch.lab[0] for swatch in of("pressure")]
    assert values == sorted(values, reverse=True)


def test_the_blender_deepens_a_little_and_a_last_layer_more() -> None:
    before, blended, after = of("blender")
    assert before.lab[0] - 2.0 < blended.lab[0] < before.lab[0]
    assert after.lab[0] < blended.lab[0]


def test_after_burnishing_red_hardly_takes() -> None:
    _, burnished, after = of("burnish")
    assert apart(burnished, after) < 0.5


def test_differences_are_of_the_size_they_say() -> None:
    base, *others = of("ΔE00")
    for other, wanted in zip(others, DIFFERENCES, strict=True):
        assert apart(base, other) == pytest.approx(wanted, abs=0.01)
        assert f"{wanted:.0f}" in other.label


def test_pairs_at_the_threshold_differ_in_value_alone() -> None:
    swatches = of("threshold")
    for one, other, wanted in zip(swatches[::2], swatches[1::2], PAIRS, strict=True):
        assert lch(one)[1:] == pytest.approx(lch(other)[1:], abs=1e-6)
        assert one.lab[0] - other.lab[0] == pytest.approx(wanted)


def test_layered_swatches_come_from_the_pencils() -> None:
    assert {entry.word for entry in ENTRIES if entry.layered} >= {
        *("undertone", "tooth", "blender", "burnish", "mute", "complement", "pressure")
    }


# -- looking up -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "word"),
    [
        *((word, word) for word in WORDS),
        *(("tone", "value"), ("Saturation", "chroma"), ("blend", "blender"), ("JND", "threshold")),
        *(
            ("burnishing", "burnish"),
            ("grain", "tooth"),
            ("delta e", "ΔE00"),
            ("brown", "hue family"),
        ),
    ],
)
def test_words_are_found_by_the_names_people_use(text: str, word: str) -> None:
    assert look_up(text)[0].word == word


def test_nothing_asked_is_everything_and_nonsense_is_nothing() -> None:
    assert look_up("  ") == ENTRIES
    assert look_up("zzz\x1b[31m") == ()


def test_the_words_alone_load_nothing_heavy() -> None:
    told = subprocess.run(
        [sys.executable, "-c", "import sys, coach.guide; print('numpy' in sys.modules)"],
        check=True,
        capture_output=True,
        text=True,
        cwd=Path(__file__).parent.parent,
    )
    assert told.stdout.strip() == "False"
