"""Lab or XYZ as measured, under D50 for the 2° observer as the coach has it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from drills.pencils.measured.sample import MeasuredError
from drills.pencils.pencil import Lab

_LIGHTS = ("D50", "D65", "A", "C")


@dataclass(frozen=True)
class Viewing:
    """What a file says its Lab and XYZ are for: illuminant and observer, empty where it doesn't."""

    illuminant: str = ""
    observer: str = ""

    @staticmethod
    def of(text: str) -> Viewing:
        """From words such as "ILLUMINANT,D50" and "OBSERVER,2degree"."""
        light = re.search(r"\b(D\d\d|A|C|F\d{1,2}|TL\d\d)\b", text.upper())
        degrees = re.search(r"\b(10|2)\s*[_°]?\s*DEG", text.upper())
        return Viewing(light[1] if light else "", degrees[1] if degrees else "")

    def notes(self) -> tuple[str, ...]:
        """What is taken for granted."""
        out = []
        if not self.illuminant:
            out.append("No illuminant is named: its Lab is taken as under D50.")
        elif self.illuminant != "D50":
            out.append(f"Its Lab is under {self.illuminant}; taken to D50 by Bradford.")
        if self.observer == "10":
            out.append("Its Lab is for the 10° observer, and is taken as if for the 2° one.")
        return tuple(out)

    def to_d50(self, lab: Lab) -> Lab:
        """Raises MeasuredError for a light that isn't known."""
        light = self.illuminant or "D50"
        if light == "D50":
            return lab
        if light not in _LIGHTS:
            raise MeasuredError(f"its Lab is under {light}", "Export it under D50.")
        from drills.colour.data.tables import white
        from drills.colour.spaces import bradford, lab_to_xyz, xyz_to_lab

        d50, there = white("D50"), white(light)
        xyz = lab_to_xyz(lab) / d50 * there
        L, a, b = xyz_to_lab(bradford(xyz, there, d50)).tolist()
        return (L, a, b)


def lab_of_xyz(xyz: tuple[float, float, float], light: str) -> Lab:
    """Lab under its own light of XYZ, Y being 100 for white. Raises MeasuredError."""
    from drills.colour.data.tables import white
    from drills.colour.spaces import xyz_to_lab

    if light and light not in _LIGHTS:
        raise MeasuredError(f"its XYZ is under {light}", "Export it under D50.")
    import numpy as np

    L, a, b = xyz_to_lab(np.array(xyz) / white(light or "D50") * white("D50")).tolist()
    return (L, a, b)
