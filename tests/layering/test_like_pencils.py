"""Films behave as pencils do, over the whole demo set and over sets drawn by lot.

Common practice of the trade, no source, but where one is named. Every rule is asked of every
pencil it speaks of; none is tuned for one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, family_at, wheel_position, wheel_steps
from drills.colour.spaces import lab_to_lch, lab_to_xyz, reflectance_to_lab, xyz_to_lab
from drills.layering.films import masstone
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.palette import Palette, prepare
from drills.layering.paper import rough_paper, smooth_paper
from drills.layering.predict import apply, predict_many, sheet_lab, start
from drills.layering.sheet import fleck
from drills.layering.surface import outside
from tests.palettes import palette_of

SETS = ("demo", "drawn 1", "drawn 2", "drawn 3")
every_set = pytest.mark.parametrize("name", SETS)
PRESSES = (LIGHT, MIDDLE, FIRM)


def chromatic(palette: Palette, values=(0.0, 100.0)) -> list[int]:
    chroma = lab_to_lch(palette.lab)[:, 1]
    return [
        int(i)
        for i in palette.colour_indices
        if chroma[i] >= 15.0 and values[0] <= palette.lab[i, 0] < values[1]
    ]


def lays(*layers: tuple[int, float]) -> list[Move]:
    return [Move("lay", int(pencil), press) for pencil, press in layers]


def seen(palette: Palette, recipes: Sequence[Sequence[Move]]) -> np.ndarray:
    return predict_many(palette, recipes)


def layered(palette: Palette, pencils: list[int], counts=(1, 2, 3, 4, 5, 6)) -> np.ndarray:
    """Lab (len(counts), n, 3) of so many firm layers."""
    return np.array([seen(palette, [lays((i, FIRM)) * n for i in pencils]) for n in counts])


def white_and_black(palette: Palette) -> tuple[int, int]:
    greys = [int(i) for i in palette.colour_indices if lab_to_lch(palette.lab[i])[1] < 6.0]
    return max(greys, key=lambda i: palette.lab[i, 0]), min(greys, key=lambda i: palette.lab[i, 0])


# -- layer upon layer ------------------------------------------------------------------


def test_four_firm_layers_of_the_demo_set_get_richer_then_level_off():
    """Flat scattering gave mean C* 47.2, 42.1, 38.8, 36.9: mud. A glaze of the same pencil
    deepens and enriches (common practice, no source)."""
    palette = palette_of("demo")
    pencils = chromatic(palette)
    assert len(pencils) == 27
    chroma = lab_to_lch(layered(palette, pencils)).mean(axis=1)[:, 1]
    assert chroma[1] > chroma[0] + 1.0
    assert chroma[2] > chroma[0]
    assert chroma[3] > 0.98 * chroma[0]
    assert np.abs(np.diff(chroma))[-1] < np.abs(np.diff(chroma))[0]


@every_set
def test_light_and_middle_pencils_get_richer_or_stay(name):
    palette = palette_of(name)
    pencils = chromatic(palette, (50.0, 100.0))
    assert len(pencils) >= 8
    chroma = lab_to_lch(layered(palette, pencils))[:, :, 1]
    assert (chroma[1] / chroma[0]).mean() > 1.05
    assert (chroma[1] / chroma[0]).min() > 0.92
    assert (chroma[2] / chroma[0]).min() > 0.85


@every_set
def test_no_pencil_greys_at_the_second_layer(name):
    """Chroma against lightness, C*/L*: a deeper colour of the same kind, not a duller one."""
    palette = palette_of(name)
    one, two = lab_to_lch(layered(palette, chromatic(palette), (1, 2)))
    assert np.all(two[:, 1] / two[:, 0] > one[:, 1] / one[:, 0])
    assert np.all(two[:, 0] < one[:, 0])


@every_set
def test_a_dark_pencil_deepens_toward_its_masstone(name):
    """Masstone: the colour of a film so thick that no ground shows (Kubelka & Munk 1931)."""
    palette = palette_of(name)
    pencils = chromatic(palette, (0.0, 45.0))
    assert len(pencils) >= 8
    deep = outside(masstone(palette.K[pencils], palette.S[pencils]))
    end = reflectance_to_lab(deep + palette.surface[pencils][:, None])
    stages = layered(palette, pencils)
    far = delta_e00(stages, end)
    assert np.all(np.diff(far, axis=0) < 1e-6)
    chroma = lab_to_lch(stages)[:, :, 1]
    assert (chroma[1] / chroma[0]).min() > 0.7
    assert (chroma[1] / chroma[0]).mean() > 0.85


@every_set
def test_each_layer_changes_less_than_the_one_before_as_the_tooth_fills(name):
    palette = palette_of(name)
    stages = layered(palette, [int(i) for i in palette.colour_indices])
    steps = delta_e00(stages[1:], stages[:-1])
    assert np.all(np.diff(steps, axis=0) < 0.01)
    assert steps[4].mean() < 0.25 * steps[0].mean()


@every_set
def test_firm_first_leaves_little_for_later(name):
    """A layer lies thinner on a firm one than on a light one, and shows less."""
    palette = palette_of(name)
    pencils = chromatic(palette)
    over = np.roll(pencils, 5)
    change = {}
    for first in (LIGHT, FIRM):
        before = seen(palette, [lays((i, first)) for i in pencils])
        after = seen(palette, [lays((i, first), (j, MIDDLE)) for i, j in zip(pencils, over)])  # noqa: B905
        change[first] = delta_e00(before, after)
    assert change[FIRM].mean() < 0.7 * change[LIGHT].mean()
    x = {}
    for first in (LIGHT, FIRM):
        sheet = apply(palette, start(palette), Move("lay", pencils[0], first))
        both = apply(palette, sheet, Move("lay", over[0], FIRM))
        x[first] = float((both.thickness - sheet.thickness)[0] @ both.paper.areas)
    assert x[FIRM] < 0.7 * x[LIGHT]


# -- paper -----------------------------------------------------------------------------


@every_set
def test_rough_paper_is_paler_and_more_flecked(name):
    owned = palette_of(name).set
    papers = [prepare(owned, paper) for paper in (smooth_paper(), None, rough_paper())]
    for press in (MIDDLE, FIRM):
        L, grain = [], []
        for palette in papers:
            pencils = np.array(chromatic(palette, (0.0, 70.0)))
            sheet = start(palette, len(pencils))
            for at, pencil in enumerate(pencils):
                one = apply(palette, sheet.take(slice(at, at + 1)), Move("lay", pencil, press))
                L.append(sheet_lab(one)[0, 0])
                grain.append(fleck(one)[0])
        L, grain = np.array(L).reshape(3, -1), np.array(grain).reshape(3, -1)
        assert np.all(np.diff(L, axis=0) > 0)
        assert np.all(np.diff(grain, axis=0) > 0)


def test_a_firm_swatch_leaves_a_few_flecks_nearly_bare():
    sheet = apply(palette_of("demo"), start(palette_of("demo")), Move("lay", 5, FIRM))
    bare = sheet.thickness[0] < 0.25 * sheet.thickness[0].max()
    assert 0.0 < sheet.paper.areas[bare].sum() <= 0.05
    full = apply(palette_of("demo"), sheet, Move("burnish"))
    assert full.thickness[0].min() > 0.5 * full.thickness[0].max()


# -- blending, burnishing, gloss --------------------------------------------------------


@every_set
@pytest.mark.parametrize("layers", [1, 2])
@pytest.mark.parametrize("press", [MIDDLE, FIRM])
def test_blending_evens_and_deepens_a_little_and_burnishing_does_more_so(name, layers, press):
    """A colourless blender saturates a layered passage; its bloom is slight."""
    palette = palette_of(name)
    pencils = chromatic(palette)
    plain = seen(palette, [lays((i, press)) * layers for i in pencils])
    blended = seen(
        palette, [[*lays((i, press)) * layers, Move("blend", -1, LIGHT)] for i in pencils]
    )
    pressed = seen(palette, [[*lays((i, press)) * layers, Move("burnish")] for i in pencils])
    chroma = [lab_to_lch(one)[:, 1] for one in (plain, blended, pressed)]
    assert np.all(blended[:, 0] < plain[:, 0] + 0.3)
    assert (blended[:, 0] < plain[:, 0]).mean() > 0.9
    assert (plain[:, 0] - blended[:, 0]).max() < 3.0
    assert (chroma[1] > chroma[0] - 0.05).mean() > 0.8
    assert chroma[1].mean() > chroma[0].mean()
    assert np.all(pressed[:, 0] < blended[:, 0])
    assert pressed[:, 0].mean() < blended[:, 0].mean() - 1.0
    assert chroma[2].mean() > chroma[1].mean()


@every_set
def test_a_haze_is_slight_and_gone_under_the_next_layer(name):
    palette = palette_of(name)
    for i in palette.colour_indices:
        sheet = apply(palette, start(palette), Move("lay", int(i), FIRM))
        hazy = apply(palette, sheet, Move("blend", -1, LIGHT))
        clear = replace(hazy, haze=np.zeros_like(hazy.haze))
        assert sheet_lab(hazy)[0, 0] - sheet_lab(clear)[0, 0] < 1.0
        done = apply(palette, hazy, Move("lay", int(i), MIDDLE))
        clean = replace(done, haze=np.zeros_like(done.haze))
        assert delta_e00(sheet_lab(done)[0], sheet_lab(clean)[0]) < 0.25


@every_set
def test_a_glossy_film_is_darker_than_the_same_film_matt(name):
    """Saunderson (1942): a mirror's reflection goes past the eye, a matt one's into it."""
    palette = palette_of(name)
    for i in palette.colour_indices:
        sheet = apply(palette, start(palette), Move("lay", int(i), FIRM))
        glossy = apply(palette, sheet, Move("burnish"))
        matt = sheet_lab(replace(glossy, surface=sheet.surface))[0]
        assert sheet_lab(glossy)[0, 0] < matt[0]
        assert glossy.surface.max() < 0.2 * sheet.surface.max()


# -- one colour over another -------------------------------------------------------------


@every_set
@pytest.mark.parametrize("press", PRESSES)
def test_white_over_dark_turns_cooler_and_never_covers_in_one_layer(name, press):
    """A turbid film over dark looks blue, for clear grains scatter blue before red (Mie 1908).
    Cooler, that is, than the same two mixed as light to the same lightness; a dark that is
    strongly blue itself only loses its blue."""
    palette = palette_of(name)
    white, _ = white_and_black(palette)
    darks = [
        int(i)
        for i in palette.colour_indices
        if palette.lab[i, 0] < 45.0 and palette.lab[i, 2] > -35.0
    ]
    assert len(darks) >= 8
    under = seen(palette, [lays((i, FIRM)) for i in darks])
    made = seen(palette, [lays((i, FIRM), (white, press)) for i in darks])
    dark, pale = lab_to_xyz(under), lab_to_xyz(palette.lab[white])
    share = (lab_to_xyz(made)[:, 1] - dark[:, 1]) / (pale[1] - dark[:, 1])
    mixed = xyz_to_lab(dark + share[:, None] * (pale - dark))
    assert np.all(made[:, 0] > under[:, 0])
    assert np.all(made[:, 2] < mixed[:, 2])
    assert np.all(delta_e00(made, palette.lab[white]) > 15.0)


@every_set
def test_a_light_layer_of_black_over_yellow_leans_green(name):
    """Toward green is a greater hue angle of Lab; on the demo set, the wheel says so too."""
    palette = palette_of(name)
    _, black = white_and_black(palette)
    L, C, hue = lab_to_lch(palette.lab).T
    yellows = np.flatnonzero((L > 65.0) & (C > 35.0) & (hue > 75.0) & (hue < 105.0))
    assert name != "demo" or len(yellows) >= 3
    for yellow in yellows:
        made = seen(palette, [lays((yellow, FIRM), (black, LIGHT))])[0]
        assert lab_to_lch(made)[2] > hue[yellow]
        assert made[0] < L[yellow] - 10.0
        if name == "demo" and C[yellow] > 50.0:
            turned = (wheel_position(made) - palette.wheel[yellow] + 6.0) % 12.0 - 6.0
            assert turned < 0.0


@every_set
def test_yellow_over_blue_is_green(name):
    palette = palette_of(name)
    yellow, blue = FAMILIES.index("yellow"), FAMILIES.index("blue")
    C = lab_to_lch(palette.lab)[:, 1]
    yellows = [
        i
        for i in chromatic(palette, (65.0, 100.0))
        if C[i] > 40.0 and wheel_steps(palette.wheel[i], yellow) <= 0.3
    ]
    blues = [
        i for i in chromatic(palette) if C[i] > 20.0 and wheel_steps(palette.wheel[i], blue) <= 0.6
    ]
    greens = {FAMILIES.index(name) for name in ("yellow-green", "green", "blue-green")}
    assert name != "demo" or (yellows and blues)
    for over in yellows:
        for under in blues:
            made = seen(palette, [lays((under, FIRM), (over, FIRM))])[0]
            assert int(family_at(wheel_position(made))) in greens


@every_set
def test_complements_make_darks_and_a_light_layer_keeps_the_main_hue(name):
    palette = palette_of(name)
    C = lab_to_lch(palette.lab)[:, 1]
    middle = [i for i in chromatic(palette, (35.0, 70.0)) if C[i] > 30.0]
    pairs = [
        (i, j)
        for i in middle
        for j in middle
        if abs(wheel_steps(palette.wheel[i], palette.wheel[j]) - 6.0) < 1.0
    ]
    assert len(pairs) >= 16
    one, other = (palette.lab[[pair[at] for pair in pairs]] for at in (0, 1))
    firm = seen(palette, [lays((i, FIRM), (j, FIRM)) for i, j in pairs])
    light = seen(palette, [lays((i, FIRM), (j, LIGHT)) for i, j in pairs])
    # Darker than the two mixed as light, and duller than either's brighter.
    by_light = xyz_to_lab(0.5 * (lab_to_xyz(one) + lab_to_xyz(other)))
    see_through = np.array([palette.set.pencils[j].opacity != "opaque" for _, j in pairs])
    assert np.all(firm[see_through, 0] < by_light[see_through, 0] - 8.0)
    assert np.all(firm[:, 0] < by_light[:, 0] + 0.1)
    bright = np.maximum(lab_to_lch(one)[:, 1], lab_to_lch(other)[:, 1])
    dull = lab_to_lch(firm)[:, 1] / bright
    assert dull.max() < 0.8
    assert dull.mean() < 0.5
    assert np.all(lab_to_lch(light)[:, 1] < lab_to_lch(one)[:, 1])
    assert np.all(wheel_steps(wheel_position(light), wheel_position(one)) <= 1.0)
