"""Reading a colour in an artist's words."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import colour
import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from textual.color import Color

from drills.colour import words
from drills.colour.change import describe_difference
from drills.colour.data.tables import MUNSELL_CHROMAS, munsell_grid
from drills.colour.everyday import EVERYDAY
from drills.colour.hue import FAMILIES, family_index, wheel_position, wheel_steps
from drills.colour.munsell import coordinates_to_lab, lab_to_munsell
from drills.colour.parse import parse_colour
from drills.colour.reading import Reading, read_colour, read_colours
from drills.colour.renotation import max_chroma
from drills.colour.spaces import lab_to_lch, reflectance_to_lab, srgb_to_lab

rgbs = st.tuples(st.floats(0, 1), st.floats(0, 1), st.floats(0, 1))


def read(text: str) -> Reading:
    return read_colour(parse_colour(text))


# CSS Color 4 named colours whose name holds a hue word, with the families the word allows.
ALLOWED = {
    "red": {"red", "red-orange"},
    "orange": {"orange", "yellow-orange", "red-orange"},
    "yellow": {"yellow", "yellow-green"},
    "green": {"green", "yellow-green"},
    "blue": {"blue", "blue-violet"},
    "violet": {"violet", "red-violet", "blue-violet"},
    "purple": {"violet", "blue-violet"},
    "brown": {"red-orange", "orange", "red"},
}
CSS_NAMES = {
    "red": "red darkred indianred orangered",
    "orange": "orange darkorange",
    "yellow": "yellow lightyellow lightgoldenrodyellow greenyellow yellowgreen",
    "green": "green darkgreen darkolivegreen darkseagreen forestgreen lawngreen lightgreen "
    "limegreen mediumseagreen mediumspringgreen palegreen seagreen springgreen",
    "blue": "blue aliceblue cornflowerblue darkblue darkslateblue deepskyblue dodgerblue lightblue "
    "lightskyblue lightsteelblue mediumblue mediumslateblue midnightblue royalblue skyblue "
    "slateblue steelblue",
    "violet": "violet darkviolet blueviolet mediumvioletred palevioletred",
    "purple": "purple mediumpurple rebeccapurple",
    "brown": "brown saddlebrown sandybrown rosybrown",
}
# Names that say something else than the eye, and why.
CSS_EXCEPTIONS = {
    "lightseagreen": "blue-green",  # a sea green is a blue-green: Munsell 6BG
    "cadetblue": "blue-green",  # Munsell 9BG, and very dull
    "powderblue": "blue-green",  # Munsell 3B, on the green side of blue
}


@pytest.mark.parametrize(
    ("name", "word"), [(name, word) for word, names in CSS_NAMES.items() for name in names.split()]
)
def test_css_names_read_as_the_hue_they_name(name: str, word: str) -> None:
    """CSS Color 4, 6.1, its hex values as Textual keeps them. A grey leans to the hue it names."""
    reading = read(Color.parse(name).hex)
    assert reading.neutral == (name == "aliceblue")
    assert (reading.lean if reading.neutral else reading.family) in ALLOWED[word]


@pytest.mark.parametrize("name", CSS_EXCEPTIONS)
def test_css_names_that_misname(name: str) -> None:
    assert read(Color.parse(name).hex).family == CSS_EXCEPTIONS[name]


def test_css_blue_leans_to_violet() -> None:
    """#0000ff is Munsell 7PB, a purple blue: a screen's blue lamp is no painter's blue."""
    reading = read("#0000ff")
    assert reading.family == "blue-violet"
    assert reading.munsell.split()[0].endswith("PB")


# What each patch's printed name allows; ColorChecker names.
PATCHES = {
    "dark skin": {"orange", "red-orange"},
    "light skin": {"orange", "red-orange"},
    "blue sky": {"blue", "blue-violet"},
    "foliage": {"yellow-green"},
    "blue flower": {"blue-violet"},
    "bluish green": {"blue-green", "green"},
    "orange": {"orange"},
    "purplish blue": {"blue-violet", "blue"},
    "moderate red": {"red"},
    "purple": {"violet"},
    "yellow green": {"yellow-green"},
    "orange yellow": {"yellow-orange"},
    "blue": {"blue-violet", "blue"},
    "green": {"green", "yellow-green"},
    "red": {"red", "red-orange"},
    "yellow": {"yellow"},
    "magenta": {"red-violet"},
    "cyan": {"blue", "blue-green"},
}


def test_colour_checker_patches_read_as_they_are_named() -> None:
    """ColorChecker spectra of Ohta (1997), from colour-science."""
    shape = colour.SpectralShape(400, 700, 10)
    spectra = colour.SDS_COLOURCHECKERS["ColorChecker N Ohta"]
    seen = set()
    for name, sd in spectra.items():
        reading = read_colour(reflectance_to_lab(sd.copy().align(shape).values))
        if name in PATCHES:
            seen.add(name)
            assert reading.family in PATCHES[name], name
            assert not reading.neutral
        else:
            assert reading.neutral, name
    assert seen == set(PATCHES)


@pytest.mark.parametrize(
    ("text", "everyday", "families"),
    [
        ("#8b4513", "brown", {"orange", "red-orange"}),
        ("5YR 3/4", "brown", {"orange", "red-orange"}),
        ("#ffc0cb", "pink", {"red", "red-violet"}),
        ("5R 7/6", "pink", {"red"}),
        ("#808000", "olive", {"yellow", "yellow-green"}),
        ("7.5Y 4/4", "olive", {"yellow"}),
        ("#000080", "navy", {"blue-violet", "blue"}),
        ("5PB 2/6", "navy", {"blue", "blue-violet"}),
        ("#f5f5dc", "beige", {"yellow", "yellow-orange"}),
        ("10YR 8/3", "beige", {"yellow-orange", "yellow"}),
        ("7.5YR 6/4", "tan", {"orange", "yellow-orange"}),
        ("#800000", "maroon", {"red"}),
        ("#008080", "teal", {"blue-green"}),
    ],
)
def test_everyday_names_are_seen_through(text: str, everyday: str, families: set[str]) -> None:
    reading = read(text)
    assert reading.everyday == everyday
    assert reading.family in families
    assert f" {reading.family}, " in reading.sentence()
    assert everyday in reading.sentence()


def test_a_brown_is_a_dark_dull_orange() -> None:
    assert "Many call it brown: look for the orange in it." in read("#8b4513").sentence()


def test_every_everyday_name_can_be_met() -> None:
    labs = srgb_to_lab(np.random.default_rng(7).uniform(0, 1, (6000, 3)))
    met = {reading.everyday for reading in read_colours(labs)}
    assert {name.name for name in EVERYDAY} <= met


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("N 5", "A middle grey that leans nowhere, value 5.0."),
        ("#fff", "A white that leans nowhere, value 10.0."),
        ("#000", "A black that leans nowhere, value 0.0."),
        ("10YR 4/0.5", "A middle grey that leans clearly to orange: warm, value 4.0."),
        ("5B 3/1", "A dark grey that leans clearly to blue: cool, value 3.0."),
    ],
)
def test_greys_say_where_they_lean(text: str, sentence: str) -> None:
    reading = read(text)
    assert reading.neutral
    assert reading.chroma_word == "grey"
    assert reading.sentence() == sentence


def test_a_hueless_grey_leans_nowhere() -> None:
    reading = read("N 4")
    assert reading.hueless
    assert reading.lean is None
    assert reading.temperature == "neither"


def test_lean_names_the_neighbour_on_the_right_side() -> None:
    for hue in np.arange(0, 100, 1.7):
        lab = coordinates_to_lab(hue, 5, 8)
        reading = read_colour(lab)
        if reading.lean is None:
            assert float(wheel_steps(reading.position, FAMILIES.index(reading.family))) < 0.1
            continue
        own, neighbour = FAMILIES.index(reading.family), FAMILIES.index(reading.lean)
        assert wheel_steps(own, neighbour) == 1
        assert wheel_steps(reading.position, neighbour) < 1


def test_lean_grows_from_squarely_to_strongly() -> None:
    order = ["squarely", "slightly", "clearly", "strongly"]
    given_steps = np.linspace(0, 0.5, 26)
    ranks = [order.index(words.lean_strength(float(steps))) for steps in given_steps]
    assert ranks == sorted(ranks)
    assert set(ranks) == {0, 1, 2, 3}


def test_warm_and_cool_lie_opposite_and_the_hinges_are_neither() -> None:
    """Common practice, no source."""
    warmth = [words.temperature(i) for i in range(12)]
    assert warmth[:5] == ["warm"] * 5
    assert warmth[6:11] == ["cool"] * 5
    assert {FAMILIES[i] for i, word in enumerate(warmth) if word == "neither"} == {
        "red-violet",
        "yellow-green",
    }


def test_value_words_follow_munsell_value() -> None:
    read_values = [read(f"N {value}") for value in range(11)]
    assert [reading.value_word for reading in read_values] == (
        ["dark"] * 4 + ["middle"] * 3 + ["light"] * 4
    )
    assert [round(reading.value, 6) for reading in read_values] == list(range(11))


def test_chroma_words_rise_with_munsell_chroma() -> None:
    order = ["grey", "greyed", "dull", "moderate", "bright", "very bright"]
    ranks = [order.index(read(f"5R 5/{chroma}").chroma_word) for chroma in range(0, 17)]
    assert ranks == sorted(ranks)
    assert set(ranks) == set(range(6))


def real_colours() -> tuple[np.ndarray, np.ndarray]:
    """Lab and Munsell chroma of the renotation inside the screen, values 3–8."""
    grid = munsell_grid()
    spokes, levels, rings = np.nonzero(~np.isnan(grid[:, 6:12, :8, 0]))
    chroma = MUNSELL_CHROMAS[rings]
    labs = coordinates_to_lab((spokes + 1) * 2.5 % 100, levels + 3.0, chroma)
    return labs, chroma


def test_strength_is_about_munsell_chroma() -> None:
    labs, chroma = real_colours()
    ratio = words.strength(labs) / chroma
    assert np.median(ratio) == pytest.approx(1, abs=0.03)
    assert np.mean(np.abs(ratio - 1) < 0.1) > 2 / 3


@pytest.mark.parametrize("place", range(len(words._LIGHTNESS)))
def test_strength_s_table_is_the_renotation_s_median(place: int) -> None:
    """At each of its values: colours of chroma 2 to 10 on every second hue."""
    value = (0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 9.7)[place]
    given = [
        (hue, value, chroma)
        for hue in np.arange(0.0, 100.0, 2.5)
        for chroma in (2.0, 4.0, 6.0, 8.0, 10.0)
        if chroma <= max_chroma(hue, value)
    ]
    labs = coordinates_to_lab(*np.array(given).T)
    assert np.median(labs[:, 0]) == pytest.approx(words._LIGHTNESS[place], abs=0.1)
    cab, chroma, families = lab_to_lch(labs)[:, 1], np.array(given)[:, 2], family_index(labs)
    medians = [float(np.median((cab / chroma)[families == i])) for i in range(12)]
    np.testing.assert_allclose(words._CAB_PER_CHROMA[place], medians, rtol=0.18)


@pytest.mark.parametrize("value", [1.0, 2.0, 9.0, 9.5])
def test_chroma_words_hold_at_the_ends_of_value(value: float) -> None:
    """Pastels once read 10 to 27 % too low, and colours below value 2 too high by 19 to 39 %."""
    given = [
        (hue, value, float(chroma))
        for hue in np.arange(0.0, 100.0, 2.5)
        for chroma in range(2, 11)
        if chroma <= max_chroma(hue, value)
    ]
    chroma = np.array(given)[:, 2]
    about = words.strength(coordinates_to_lab(*np.array(given).T))
    assert np.median(about / chroma) == pytest.approx(1.0, abs=0.06)
    pairs = zip(about, chroma, strict=True)
    assert np.mean([words.chroma_word(a) == words.chroma_word(b) for a, b in pairs]) >= 0.78


def test_the_note_never_contradicts_the_reading() -> None:
    """Over a grid of the screen's colours: no word for value or chroma but the reading's own."""
    level = np.linspace(0.0, 1.0, 28)
    grid = np.stack(np.meshgrid(level, level, level), axis=-1).reshape(-1, 3)
    assert len(grid) > 20_000
    every = {"dark", "light", "grey", "greyed", "dull", "moderate", "bright", "very"}
    named = 0
    for reading in read_colours(srgb_to_lab(grid)):
        note = set(re.findall("[a-z]+", reading.everyday_note.lower()))
        own = {reading.value_word, *reading.chroma_word.split()}
        assert not note & (every - own), reading.sentence()
        named += bool(note)
        if note:
            assert reading.family is not None
            assert reading.everyday_note.endswith(f"look for the {reading.family} in it")
    assert named > 5_000


def test_families_are_those_that_people_name() -> None:
    """Single colours named by a crowd (see the file): exact, and never two families off."""
    path = Path(__file__).parents[1] / "data" / "named_colours.csv"
    rows = list(csv.reader(line for line in path.read_text().splitlines() if line[:2] != "# "))[1:]
    assert len(rows) > 120
    off = []
    for text, _, family in rows:
        reading = read_colour(parse_colour(text))
        apart = FAMILIES.index(reading.family or reading.lean or "") - FAMILIES.index(family)
        off.append(abs((apart + 6) % 12 - 6))
    assert max(off) <= 1
    assert np.mean(np.array(off) == 0) >= 0.77


def test_a_gold_is_a_yellow_orange_and_a_lemon_a_yellow() -> None:
    assert read_colour(parse_colour("#dcab1b")).family == "yellow-orange"
    assert read_colour(parse_colour("#fdff38")).family == "yellow"


def test_munsell_is_worked_out_only_when_asked() -> None:
    reading = read("5R 4/10")
    assert "munsell" not in vars(reading)
    assert reading.munsell == "5R 4/10"
    assert read_colours([reading.lab], with_munsell=True)[0].munsell == "5R 4/10"


@given(st.lists(rgbs, min_size=1, max_size=8))
@example([(0.0, 0.0, 0.0), (1.0, 1.0, 1.0)])
def test_many_are_read_as_each_alone(many: list[tuple[float, float, float]]) -> None:
    labs = srgb_to_lab(many)
    together = read_colours(labs, with_munsell=True)
    assert [reading.munsell for reading in together] == lab_to_munsell(labs)
    for lab, reading in zip(labs, together, strict=True):
        assert read_colour(lab) == reading
        assert (reading.family is None) == (reading.complement is None) == reading.neutral
        assert reading.neutral or reading.family in FAMILIES
        assert reading.lean is None or reading.lean in FAMILIES
        assert reading.sentence().isprintable()
        assert reading.chroma == reading.lch[1]


def test_no_bit_of_a_reading_hangs_on_what_is_read_with_it() -> None:
    greys = np.repeat(np.arange(256) / 255, 3).reshape(-1, 3)
    labs = srgb_to_lab(np.vstack([greys, np.random.default_rng(3).uniform(0, 1, (256, 3))]))
    assert [read_colour(lab) for lab in labs] == read_colours(labs)


@pytest.mark.parametrize("text", ["#fff", "#808080", "#000", "10YR 4/0.5", "5B 3/1"])
def test_a_neutral_has_no_family_and_no_complement(text: str) -> None:
    reading = read(text)
    assert reading.neutral
    assert (reading.family, reading.complement) == (None, None)


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ((50, 20, 30), (50.2, 20.1, 30), "the same to the eye"),
        ((50, 20, 30), (46.5, 20, 30), "darker"),
        ((50, 20, 30), (48.5, 20, 30), "a touch darker"),
        ((50, 20, 30), (80, 20, 30), "much lighter"),
        ((50, 40, 30), (50, 32, 24), "duller"),
        ((50, 32, 24), (50, 40, 30), "brighter"),
        ((50, 32, 24), (47, 27.5, 20.5), "a touch darker and duller"),
        ((50, 40, 0), (50, 2, 0), "much greyer"),
        ((50, 0, 0), (50, -15, -30), "much brighter, toward blue"),
    ],
)
def test_differences_are_told_as_a_change(
    before: tuple[float, ...], after: tuple[float, ...], said: str
) -> None:
    assert describe_difference(before, after) == said


@pytest.mark.parametrize(
    ("first", "second", "there", "back"),
    [
        ("5Y 6/8", "5GY 6/8", "greener", "yellower"),
        ("5R 5/8", "5YR 5/8", "more orange", "redder"),
        ("5G 5/6", "5BG 5/6", "bluer", "greener"),
        ("5B 5/6", "7.5PB 5/6", "more violet", "bluer"),
        ("5P 5/8", "5RP 5/8", "redder", "more violet"),
    ],
)
def test_a_turn_of_hue_is_named_by_where_it_goes(
    first: str, second: str, there: str, back: str
) -> None:
    """Neighbouring Munsell hues of one value and chroma: only hue is spoken of."""
    one, other = parse_colour(first), parse_colour(second)
    assert describe_difference(one, other).endswith(there)
    assert "leaning" in describe_difference(one, other)
    assert describe_difference(other, one).endswith(back)


@given(rgbs, rgbs)
def test_every_difference_can_be_told(a: tuple[float, ...], b: tuple[float, ...]) -> None:
    said = describe_difference(srgb_to_lab(a), srgb_to_lab(b))
    assert said
    assert said.isprintable()
    assert not said.startswith(",")


def test_positions_agree_with_the_wheel() -> None:
    reading = read("5G 5/8")
    assert reading.position == float(wheel_position(reading.lab))
