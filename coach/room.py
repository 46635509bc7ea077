"""The neutral room: greys only, so that nothing on screen pulls the eye's adaptation.

ISO 3664 asks for a neutral, matt surround of 10 to 60 % reflectance around what is
judged (from memory); every wall here lies within that. The middle room is Munsell
value 6 (luminance factor 29 %, ASTM D1535), for on a darker grey no second grey reads
beside black: all lettering has a contrast of 4.5:1 or more (WCAG 2.2, 1.4.3), also as a
terminal of 256 colours rounds it. Of 16, the middle and the light room keep that; what a
terminal makes of its bright black is its own affair, so the dark room may fall to 4:1.
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
    panel: int

    @property
    def dark(self) -> bool:
        return self.ink > self.wall

    def theme(self) -> Theme:
        """The Textual theme: every colour it defines or derives is a grey."""
        wall, ink, faint = grey(self.wall), grey(self.ink), grey(self.faint)
        panel = grey(self.panel)
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
            panel=panel,
            boost=panel,
            dark=self.dark,
            luminosity_spread=0.05,
            text_alpha=1.0,
            variables={
                "faint": faint,
                "text": ink,
                "text-muted": faint,
                "text-disabled": faint,
                "block-cursor-foreground": wall,
                "block-cursor-background": ink,
                "block-cursor-blurred-foreground": wall,
                "block-cursor-blurred-background": faint,
                "block-hover-background": panel,
                "border": ink,
                "border-blurred": faint,
                "scrollbar": faint,
                "scrollbar-hover": ink,
                "scrollbar-active": ink,
                "scrollbar-background": panel,
                "scrollbar-background-hover": panel,
                "scrollbar-background-active": panel,
                "scrollbar-corner-color": panel,
                "footer-foreground": ink,
                "footer-background": panel,
                "footer-key-foreground": ink,
                "footer-key-background": panel,
                "footer-description-foreground": ink,
                "footer-description-background": panel,
                "footer-item-background": panel,
                "input-cursor-background": ink,
                "input-cursor-foreground": wall,
                "input-selection-background": ink,
                "input-selection-foreground": wall,
                "screen-selection-background": faint,
                "screen-selection-foreground": wall,
                "link-color": ink,
                "link-background-hover": panel,
                "link-color-hover": ink,
                "button-foreground": ink,
                "button-color-foreground": wall,
            },
        )


def grey(level: int) -> str:
    """The achromatic colour of an 8-bit level, as ``#rrggbb``."""
    return f"#{level:02x}{level:02x}{level:02x}"


MIDDLE = Room("middle grey", wall=0x93, ink=0x00, faint=0x22, panel=0x9F)
LIGHT = Room("light grey", wall=0xC8, ink=0x00, faint=0x28, panel=0xD6)
DARK = Room("dark grey", wall=0x5A, ink=0xF2, faint=0xE0, panel=0x4E)
ROOMS = (MIDDLE, LIGHT, DARK)
