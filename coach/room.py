"""The neutral room: greys only, so that nothing on screen pulls the eye's adaptation.

ISO 3664 asks for a neutral, matt surround of middle reflectance around what is
judged. The middle room is #777777: luminance factor 18 %, L* 50, with black
lettering at 4.7:1 contrast (over the 4.5:1 of WCAG 2.2, 1.4.3).
"""

from __future__ import annotations

from dataclasses import dataclass

from textual.theme import Theme


@dataclass(frozen=True)
class Room:
    """A surround of one grey and the lettering that reads on it (8-bit grey levels)."""

    name: str
    wall: int
    ink: int
    faint: int
    raised: int
    sunk: int

    @property
    def dark(self) -> bool:
        return self.ink > self.wall

    def theme(self) -> Theme:
        """The Textual theme: every colour it defines or derives is a grey."""
        wall, ink, faint = grey(self.wall), grey(self.ink), grey(self.faint)
        raised, sunk = grey(self.raised), grey(self.sunk)
        return Theme(
            name=self.name,
            primary=ink,
            secondary=ink,
            accent=ink,
            warning=ink,
            error=ink,
            success=ink,
            foreground=ink,
            background=wall,
            surface=wall,
            panel=raised,
            boost=raised,
            dark=self.dark,
            luminosity_spread=0.05,
            text_alpha=1.0,
            variables={
                "faint": faint,
                "raised": raised,
                "sunk": sunk,
                "text": ink,
                "text-muted": faint,
                "text-disabled": faint,
                "block-cursor-foreground": wall,
                "block-cursor-background": ink,
                "block-hover-background": raised,
                "border": ink,
                "border-blurred": faint,
                "scrollbar": faint,
                "scrollbar-hover": ink,
                "scrollbar-active": ink,
                "scrollbar-background": raised,
                "scrollbar-background-hover": raised,
                "scrollbar-background-active": raised,
                "scrollbar-corner-color": raised,
                "footer-foreground": ink,
                "footer-background": raised,
                "footer-key-foreground": ink,
                "footer-key-background": raised,
                "footer-description-foreground": ink,
                "footer-description-background": raised,
                "footer-item-background": raised,
                "input-cursor-background": ink,
                "input-cursor-foreground": wall,
                "input-selection-background": faint,
                "screen-selection-background": faint,
                "screen-selection-foreground": wall,
                "link-color": ink,
                "link-background-hover": raised,
                "link-color-hover": ink,
                "button-foreground": ink,
                "button-color-foreground": wall,
            },
        )


def grey(level: int) -> str:
    """The achromatic colour of an 8-bit level, as ``#rrggbb``."""
    return f"#{level:02x}{level:02x}{level:02x}"


MIDDLE = Room("middle grey", wall=0x77, ink=0x00, faint=0x20, raised=0x85, sunk=0x69)
LIGHT = Room("light grey", wall=0xC8, ink=0x00, faint=0x40, raised=0xD6, sunk=0xB8)
DARK = Room("dark grey", wall=0x3A, ink=0xF0, faint=0xC4, raised=0x48, sunk=0x2E)
ROOMS = (MIDDLE, LIGHT, DARK)
