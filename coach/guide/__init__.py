"""The guide: the words of the craft, each with swatches that show it.

``entries`` needs nothing heavy; ``shown`` computes an entry's swatches, and so
loads numpy and makes the demo pencils ready at the first call.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from coach.guide.entries import ENTRIES, GuideEntry, look_up

if TYPE_CHECKING:
    from drills.questions.protocol import Swatch

__all__ = ["ENTRIES", "GuideEntry", "look_up", "shown"]


def shown(entry: GuideEntry) -> tuple[Swatch, ...]:
    """The swatches that show a word, with their labels; the same every time."""
    from coach.guide.pictures import PICTURES, demo_palette

    return PICTURES[entry.word](demo_palette())
