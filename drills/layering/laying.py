"""How a hand lays pencils: what is learned of it, or the defaults of ``constants``."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from drills.layering import constants as c
from drills.layering.films import FloatArray


@dataclass(frozen=True, eq=False)
class Laying:
    """What a stroke leaves: each number is one for all, or (B, 1) from sheet to sheet.

    ``capacity`` in firm films fills the tooth by 1 − 1/e; a stroke sheds pressure to the
    ``power``; ``light`` and ``middle`` are how much harder than meant those are pressed (1: as
    meant; between them, and up to firm, straight lines).
    """

    capacity: FloatArray | float = c.CAPACITY
    power: FloatArray | float = c.LOAD_POWER
    light: FloatArray | float = 1.0
    middle: FloatArray | float = 1.0

    def pressed(self, pressure: FloatArray) -> FloatArray:
        """The pressure (B, 1) that meaning ``pressure`` (B, 1) comes to."""
        if self is USUAL:
            return pressure
        light = np.clip((c.MIDDLE - pressure) / (c.MIDDLE - c.LIGHT), 0.0, 1.0)
        firm = np.clip((pressure - c.MIDDLE) / (c.FIRM - c.MIDDLE), 0.0, 1.0)
        by = light * self.light + (1.0 - light - firm) * self.middle + firm
        harder: FloatArray = pressure * by
        return harder


USUAL = Laying()


@dataclass(frozen=True)
class LearnedHand:
    """What patches say of one hand, its paper and its pencils (``drills.hand``).

    ``tooth`` and ``shine`` times the default's depth of tooth and matt look; ``scales`` times
    each pencil's usual scattering, 1 for a blender; ``patches``, how many it was learned from.
    ``pressed`` is how hard each pencil's swatch was laid in truth, 1 being firm, and
    ``pressed_sd`` what is still in doubt of its log: as many as ``scales``, or none where no
    swatch was painted.
    """

    scales: tuple[float, ...]
    tooth: float = 1.0
    capacity: float = c.CAPACITY
    power: float = c.LOAD_POWER
    light: float = 1.0
    middle: float = 1.0
    scatter_power: float = c.SCATTER_POWER
    shine: float = 1.0
    patches: int = field(default=0)
    pressed: tuple[float, ...] = ()
    pressed_sd: tuple[float, ...] = ()

    @property
    def laying(self) -> Laying:
        return Laying(self.capacity, self.power, self.light, self.middle)
