"""The light taken off: by points of paper, and by a chart."""

from __future__ import annotations

import warnings

import numpy as np
import pytest

from coach.session.on_paper import UNLIT_PHOTO_SD, photo_sd
from drills.basics.errors import InputError
from drills.colour.data.tables import FloatArray, white
from drills.colour.difference import delta_e00
from drills.colour.spaces import (
    lab_to_xyz,
    reflectance_to_xyz,
    xyz_to_lab,
    xyz_to_linear,
)
from drills.layering.constants import READ_SD, WARM_SD
from drills.pictures.chart import chart_lab, patch_centres, read_chart, root_polynomial
from drills.pictures.light import DOUBT_BY_WHITE, light_of
from drills.pictures.picture import Picture
from drills.pictures.spot import Spot, read_sd, read_spot
from drills.pictures.white import GREY_CARD, TrueWhite, paper_lab, true_white
from tests.bench.whites import met
from tests.photos.made import Levels, opened

SQUARE = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour


def point(xyz: np.ndarray, x: float, y: float) -> Spot:
    X, Y, Z = xyz.tolist()
    return Spot(x, y, 5.0, (X, Y, Z), 60, ())


def test_one_point_is_the_cat16_of_colour_science() -> None:
    """CAT16 as von Kries, wholly adapted, from the point's white to the paper's."""
    seen = reflectance_to_xyz(np.full(31, 0.7), "A")
    found = true_white([point(seen, 10, 10)])
    rng = np.random.default_rng(3)
    xyz = rng.uniform(2, 60, (20, 3))
    known = lab_to_xyz(paper_lab())
    wanted = colour.adaptation.chromatic_adaptation_VonKries(
        xyz / 100, seen / 100, known / 100, transform="CAT16"
    )
    assert np.allclose(found.corrected(xyz, np.zeros((20, 2))), wanted * 100, atol=1e-6)
    assert found.residual < 1e-9


def test_the_cast_of_a_lamp_goes() -> None:
    """Rendered: reflectances under lamp A at a third of the exposure, and D50 as the truth."""
    rng = np.random.default_rng(8)
    shapes = np.cumsum(rng.normal(0, 0.05, (40, 31)), axis=1)
    reflectance = np.clip(0.4 + shapes - shapes.mean(1, keepdims=True), 0.03, 0.95)
    paper = lab_to_xyz(paper_lab())
    seen = reflectance_to_xyz(reflectance, "A") * 0.3
    light = white("A") * paper[1] / 100 * 0.3
    found = true_white([point(light, 5, 5)])
    truth = xyz_to_lab(reflectance_to_xyz(reflectance))
    off = delta_e00(xyz_to_lab(found.corrected(seen, np.zeros((40, 2)))), truth)
    before = delta_e00(xyz_to_lab(seen), truth)
    assert np.median(before) > 15
    assert np.median(off) < 2.5


def test_a_grey_card_serves_as_well() -> None:
    seen = lab_to_xyz(np.array(GREY_CARD)) * [1.2, 1.0, 0.6]
    found = true_white([point(seen, 0, 0)], GREY_CARD)
    at = np.zeros(2)
    assert float(delta_e00(xyz_to_lab(found.corrected(seen, at)), GREY_CARD)) < 1e-9


PLACES = np.array([[0, 0], [600, 0], [0, 400], [600, 400], [300, 200], [150, 200], [450, 50.0]])


def falling(at: np.ndarray, curve: float = 0.0) -> np.ndarray:
    """A warm light from the left that falls off to the right by half."""
    share = np.exp(-0.7 * at[:, 0] / 600 - curve * ((at[:, 1] - 200) / 200) ** 2)
    return share[:, None] * lab_to_xyz(paper_lab()) * [0.9, 0.8, 0.5]


@pytest.mark.parametrize(("count", "curve"), [(2, 0.0), (3, 0.0), (4, 0.0), (7, 0.4)])
def test_uneven_light_goes_by_several_points(count: int, curve: float) -> None:
    places = PLACES[:count]
    seen = zip(falling(places, curve), places, strict=True)
    found = true_white([point(xyz, x, y) for xyz, (x, y) in seen])
    others = np.array([[100.0, 120.0], [300.0, 350.0], [580.0, 30.0]])
    grey = 0.4 * lab_to_xyz(paper_lab())
    seen = found.corrected(0.4 * falling(others, curve), others)
    assert delta_e00(xyz_to_lab(seen), xyz_to_lab(grey)).max() < 0.01
    assert found.residual < 0.01
    one = true_white([point(falling(PLACES)[0], 0, 0)])
    seen = one.corrected(0.4 * falling(others), others)
    assert delta_e00(xyz_to_lab(seen), xyz_to_lab(grey)).max() > 8


def test_points_that_disagree_are_told_by_what_is_left() -> None:
    xyz = falling(PLACES[:5])
    xyz[3] *= 0.5
    found = true_white([point(p, x, y) for p, (x, y) in zip(xyz, PLACES[:5], strict=True)])
    assert found.residual > 4


@pytest.mark.parametrize("count", [4, 5, 6, 7])
def test_a_point_on_something_else_shows_however_many_there_are(count: int) -> None:
    """Six points settle a paraboloid: it meets them all, whatever they lie on."""
    places = PLACES[:count]
    right, wrong = falling(places), falling(places)
    wrong[3] *= 0.5

    def found(xyz: np.ndarray) -> TrueWhite:
        return true_white([point(one, x, y) for one, (x, y) in zip(xyz, places, strict=True)])

    good, bad = found(right).left_out, found(wrong).left_out
    assert good is not None
    assert bad is not None
    assert good < 0.01
    assert bad > 4
    if count == 6:
        assert found(wrong).residual < 0.01


@pytest.mark.parametrize("count", [2, 3])
def test_points_too_few_to_disagree_claim_nothing(count: int) -> None:
    """A plane goes through any three: that they are met says nothing."""
    picture = photo_of((90, 120, 200))
    places = [(60.0, 10.0), (70.0, 30.0), (50.0, 30.0)][:count]
    _, words = light_of(picture, places, radius=4.0)
    assert "at worst" not in words
    assert "4 or more would show how far they agree" in words
    _, words = light_of(picture, [*places, (55.0, 8.0), (75.0, 20.0)], radius=4.0)
    assert "at worst" in words


def test_a_white_that_much_of_the_picture_outshines_is_doubted() -> None:
    """Blue paint taken for paper: half the picture would be brighter than white."""
    picture = photo_of((90, 120, 200))
    _, words = light_of(picture, [(20.0, 20.0)], radius=5.0)
    assert "50% of the picture is then brighter than white" in words
    assert DOUBT_BY_WHITE not in words
    _, words = light_of(picture, [(60.0, 20.0)], radius=5.0)
    assert "brighter than white" not in words


def test_points_by_which_light_would_differ_beyond_belief_are_refused() -> None:
    """One on paint beside one on paper: the fall between them would go on over the picture."""
    picture = photo_of((90, 120, 200))
    with pytest.raises(InputError, match=r"differ .* times over the picture"):
        light_of(picture, [(35.0, 20.0), (45.0, 20.0)], radius=2.0)
    light, _ = light_of(picture, [(45.0, 5.0), (75.0, 35.0)], radius=2.0)
    assert light is not None


def test_a_white_on_an_edge_is_refused() -> None:
    with pytest.raises(InputError, match="white at 40,20: uneven"):
        light_of(photo_of((90, 120, 200)), [(40.0, 20.0)], radius=6.0)


def test_a_white_too_dark_or_overexposed_is_refused() -> None:
    with pytest.raises(InputError, match="too dark"):
        true_white([point(np.array([1.0, 1.0, 0.8]), 3, 4)])
    burnt = Spot(3, 4, 5, (96.0, 100.0, 82.0), 60, ("clipped",))
    with pytest.raises(InputError, match="white at 3,4: overexposed"):
        true_white([burnt])
    with pytest.raises(InputError, match="no point"):
        true_white([])


# The chart


def published() -> colour.characterisation.ColourChecker:
    """The chart of 1976 in colour-science, whose key there is a product's name."""
    charts = colour.CCS_COLOURCHECKERS
    return next(chart for key, chart in charts.items() if key.endswith(" 1976"))


def test_the_chart_is_the_published_one() -> None:
    data = published()
    xyY = np.array(list(data.data.values()))
    xyz = colour.xyY_to_XYZ(xyY)
    d50 = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D50"]
    adapted = colour.chromatic_adaptation(
        xyz, colour.xy_to_XYZ(data.illuminant), colour.xy_to_XYZ(d50), transform="Bradford"
    )
    assert delta_e00(chart_lab(), colour.XYZ_to_Lab(adapted, d50)).max() < 0.1


def test_the_correction_is_colour_sciences() -> None:
    rng = np.random.default_rng(4)
    linear = rng.uniform(0.02, 0.9, (24, 3))
    wanted = colour.characterisation.polynomial_expansion_Finlayson2015(linear, 2, True)
    assert np.allclose(np.sort(root_polynomial(linear)), np.sort(wanted))
    picture, corners = photo_of_chart()
    found = read_chart(picture, corners)
    centres, radius = patch_centres(corners)
    spots = [read_spot(picture, x, y, radius) for x, y in centres]
    mine = xyz_to_linear(np.array([spot.xyz for spot in spots]))
    theirs = colour.characterisation.colour_correction_Finlayson2015(
        mine, mine, lab_to_xyz(chart_lab()) / 100, 2, True
    )
    at = np.zeros((24, 2))
    xyz = found.corrected(np.array([spot.xyz for spot in spots]), at)
    assert np.allclose(xyz / 100, theirs, atol=1e-6)


def photo_of_chart(
    turn: int = 0, flip: bool = False, exposure: float = 0.8
) -> tuple[object, tuple[tuple[float, float], ...]]:
    """A chart on grey seen at a slant, by a camera whose channels mix and see a warm light."""
    mix = np.array([[0.85, 0.2, -0.05], [0.1, 0.75, 0.15], [0.02, 0.25, 0.6]])
    linear = np.clip(xyz_to_linear(lab_to_xyz(chart_lab())), 0, 1) @ mix.T * exposure
    curve = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)
    patches = np.rint(np.clip(curve, 0, 1) * 255).astype(np.uint8).reshape(4, 6, 3)
    corners = np.array([[40.0, 60.0], [520.0, 20.0], [560.0, 380.0], [70.0, 330.0]])
    levels: Levels = np.full((420, 600, 3), 110, np.uint8)
    rows, columns = np.mgrid[:420, :600]
    from drills.sheets.homography import fitted

    back = np.linalg.inv(fitted(SQUARE, np.array(corners)))
    place = np.stack([columns + 0.5, rows + 0.5, np.ones_like(rows)], -1) @ back.T
    u, v = place[..., 0] / place[..., 2], place[..., 1] / place[..., 2]
    inside = (u >= 0) & (u < 1) & (v >= 0) & (v < 1)
    levels[inside] = patches[(v[inside] * 4).astype(int), (u[inside] * 6).astype(int)]
    given = np.roll(corners[::-1] if flip else corners, turn, axis=0)
    return opened(levels), tuple((float(x), float(y)) for x, y in given)


@pytest.mark.parametrize("turn", range(4))
@pytest.mark.parametrize("flip", [False, True])
def test_the_corners_may_begin_anywhere_and_go_either_way(turn: int, flip: bool) -> None:
    picture, corners = photo_of_chart(turn, flip)
    found = read_chart(picture, corners)
    # What 8 bits and the mixing leave; a chart read the wrong way round leaves ΔE00 20 and more.
    assert np.median(found.residual) < 1.0
    assert np.median(found.left_out) >= np.median(found.residual)


def test_it_holds_at_another_exposure() -> None:
    """What a root polynomial is for: the same colours at half the light keep their hue."""
    picture, corners = photo_of_chart()
    found = read_chart(picture, corners)
    xyz = np.array([30.0, 25.0, 12.0])
    whole, half = (found.corrected(x, np.zeros(2)) for x in (xyz, xyz / 2))
    assert np.allclose(half * 2, whole)


def test_what_is_no_chart_is_refused() -> None:
    picture, corners = photo_of_chart()
    shifted = tuple((x * 0.5 + 20, y * 0.5 + 20) for x, y in corners)
    with pytest.raises(InputError, match="no chart is found"):
        read_chart(picture, shifted)
    crossed = (corners[0], corners[2], corners[1], corners[3])
    with pytest.raises(InputError, match="no flat sheet"):
        read_chart(picture, crossed)
    tiny = tuple((x * 0.01 + 20, y * 0.01 + 20) for x, y in corners)
    with pytest.raises(InputError, match=r"no flat sheet|smaller than"):
        read_chart(picture, tiny)


def photo_of(level: tuple[int, int, int]) -> Picture:
    """A colour at the left, bare paper at the right."""
    levels = np.full((40, 80, 3), 200, np.uint8)
    levels[:, :40] = level
    return opened(levels)


@pytest.mark.parametrize(
    ("level", "warm"),
    [((200, 60, 30), True), ((190, 120, 40), True), ((120, 95, 90), False), ((40, 90, 190), False)],
)
def test_a_strong_red_or_orange_is_told_of_unless_a_chart_knows_the_camera(
    level: tuple[int, int, int], warm: bool
) -> None:
    """Cameras differ most in these: tests.bench pictures."""
    picture = photo_of(level)
    light, words = light_of(picture, [(60.0, 20.0)], radius=5.0)
    spot = read_spot(picture, 20.0, 20.0, 5.0, light)
    assert ("strong_warm" in spot.warnings) is warm
    assert ("strong_warm" in read_spot(picture, 20.0, 20.0, 5.0).warnings) is warm
    assert DOUBT_BY_WHITE in words
    assert read_sd(spot.lab) == (WARM_SD if warm else READ_SD)
    assert photo_sd(light, spot) == (WARM_SD if warm else READ_SD)
    assert photo_sd(None, spot) == UNLIT_PHOTO_SD > WARM_SD > READ_SD

    class Known:
        even, of_camera = True, True

        def corrected(self, xyz: FloatArray, at: FloatArray) -> FloatArray:
            return xyz

    known = read_spot(picture, 20.0, 20.0, 5.0, Known())
    assert "strong_warm" not in known.warnings
    assert photo_sd(Known(), known) == READ_SD


def test_no_adaptation_brings_strong_reds_nearer_than_ours_does() -> None:
    """Were the light taken off without a fault, in the camera's own channels, they'd be as far
    off: it is the camera's matrix. The bench has it for all cameras."""
    runs = [met("D50", seed) for seed in range(2)]
    warm = np.array(["strong_warm" in spot.warnings for run in runs for spot in run[1]])
    off, best = (np.concatenate([run[at] for run in runs]) for at in (0, 2))
    assert warm.any()
    assert np.median(off[warm]) > 2 * np.median(off[~warm])
    assert abs(np.median(off[warm]) - np.median(best[warm])) < 1.0
    by_chart = [met("D50", seed, how="chart") for seed in range(2)]
    assert np.percentile(np.concatenate([run[0] for run in by_chart]), 95) < 6.0
