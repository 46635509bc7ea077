"""Colours for a deck, taken one after another from a photo: each under the crosshair, and named."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coach.screens.look import LookScreen
from drills.basics.errors import InputError

if TYPE_CHECKING:
    from coach.teaching.photo.colours import Found
    from decks.deck import Deck
    from drills.pictures.picture import Picture

WHAT = "colours for the deck"


class PhotoSpotsScreen(LookScreen):
    """Left with Esc; what was taken stands in ``taken``, the photo in ``picture``."""

    def __init__(self, deck: Deck, path: str = "") -> None:
        super().__init__(path, picks=True, what=WHAT)
        self.deck = deck
        """The deck with what was taken so far."""
        self.taken: tuple[Found, ...] = ()

    @property
    def picture(self) -> Picture | None:
        return self._view.picture

    def action_take(self) -> None:
        """Ask what the colour under the crosshair is called."""
        from coach.teaching.photo.colours import colour_name

        if self.spot is None:
            return
        self._names = True
        self._ask("its name", colour_name(self.spot.lab, [one.name for one in self.deck.targets]))
        self._say("What is this colour called? Enter keeps the name, or type another.")

    def _keep(self, name: str) -> None:
        from coach.teaching.photo.colours import Found, with_colour

        picture = self.picture
        assert self.spot is not None
        assert picture is not None
        at = ((self.spot.x + 0.5) / picture.width, (self.spot.y + 0.5) / picture.height)
        found = Found(self.spot.lab, name, at)
        try:
            self.deck = with_colour(self.deck, found)
        except InputError as error:
            self._say(str(error))
            return
        kept = self.deck.targets[-1].name
        self.taken = (*self.taken, Found(found.lab, kept, at))
        self._back_to_photo()
        self._say(
            f"“{kept}” is taken, {len(self.taken)} in all. Go to the next one, or Esc: the photo"
            " goes into the deck, small, with the places ringed."
        )

    def action_open(self) -> None:
        """Ask for another photo, unless colours of this one were taken: one travels with them."""
        if self.taken:
            self._say("Colours of this photo are taken. Esc first; then another one.")
            return
        super().action_open()
