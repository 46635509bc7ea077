"""Eyes whose cones differ: Machado et al. (2009), checked against colour-science."""

import numpy as np
import pytest
from colour.blindness import matrix_cvd_Machado2009

from drills.colour.hue import FAMILIES
from drills.colour.vision import _MATRICES, as_seen, lost_families

NAMES = {"red-weak": "Protanomaly", "green-weak": "Deuteranomaly", "blue-weak": "Tritanomaly"}


@pytest.mark.parametrize("vision", NAMES)
def test_the_matrices_are_the_published_ones(vision: str) -> None:
    """Machado, Oliveira & Fernandes (2009), as colour-science holds them at severity 1."""
    theirs = matrix_cvd_Machado2009(NAMES[vision], 1.0)
    np.testing.assert_allclose(_MATRICES[vision], theirs, atol=1e-6)


@pytest.mark.parametrize("vision", NAMES)
def test_greys_stay_grey(vision) -> None:
    greys = np.array([[L, 0.0, 0.0] for L in range(10, 100, 10)], dtype=float)
    np.testing.assert_allclose(as_seen(greys, vision), greys, atol=0.2)


def test_usual_vision_loses_nothing() -> None:
    assert lost_families("usual") == ()


@pytest.mark.parametrize("vision", ["red-weak", "green-weak"])
def test_red_green_weakness_loses_families_between_red_and_green_but_not_all(vision) -> None:
    lost = set(lost_families(vision))
    assert lost & {"red-orange", "orange", "yellow-orange", "yellow", "yellow-green", "green"}
    assert lost < set(FAMILIES)


def test_blue_weakness_keeps_what_red_green_weakness_loses() -> None:
    """Their lines of confusion cross the wheel in other directions."""
    blue, green = set(lost_families("blue-weak")), set(lost_families("green-weak"))
    assert green - blue
