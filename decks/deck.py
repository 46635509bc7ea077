"""What a deck is, once it has been read and found sound."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from decks.fields import (
    Base64,
    Day,
    Key,
    Several,
    Share,
    Spectrum,
    Table,
    Text,
    Whole,
    Word,
    keys_of,
)
from drills.basics.json_values import JSON, as_json, json_text
from scores.classes.passing import Growth, items_on

FORMAT = 1
"""The version of the format that this program reads and writes."""
Lab = tuple[float, float, float]
"""CIE 1976 L*a*b* under D50 for the CIE 1931 2° observer."""
TEXT_KEYS = ("name", "code", "hex", "lab", "opacity", "on_black", "lightfastness", "notes")
SPECTRUM_KEYS = ("reflectance", "on_black_reflectance")
PENCIL = Table(
    {key: Key(Text(300, empty=True)) for key in TEXT_KEYS}
    | {key: Key(Spectrum()) for key in SPECTRUM_KEYS}
)
"""A pencil of a set inside a deck: the columns of a pencils file, looked into when it is read."""


@dataclass(frozen=True)
class Target:
    """A named colour to be asked about.

    ``colour`` is as the teacher wrote it, ``lab`` what that means, ``region``
    the hue family it reads as, or for a grey its value band, such as "dark greys".
    """

    name: Annotated[str, Text(60), "The colour's name, given once."]
    colour: Annotated[str, Text(100), "#rrggbb, CSS rgb() or lab(), or Munsell notation."]
    lab: Lab
    region: str


TARGET = Table(keys_of(Target), 'Write name = "…" and colour = "#c06030" under [[targets]].')


PICTURE = Base64(40_000)
"""A picture inside a deck: some 30 KB of JPEG or PNG."""


@dataclass(frozen=True)
class Step:
    """A step of a deck: what is said before its first question, and from when it is asked.

    ``kinds`` are those of the deck it is about, empty for all. A kind named in steps is asked
    from the first of their days on; ``hardest`` holds, for its kinds, until the next step's,
    and ``items_a_day``, for the whole deck, until the next step that names one.
    ``picture`` is a JPEG or PNG in base64.
    """

    title: Annotated[str, Text(80), "What the step is about."]
    word: Annotated[
        str,
        Text(2_000, lines=True, empty=True),
        "What to know before its first question; may have line breaks.",
    ] = ""
    on_paper: Annotated[
        str, Text(500, lines=True, empty=True), "What the hand should try on paper."
    ] = ""
    kinds: Annotated[
        tuple[str, ...],
        Several(Word(), "drill kinds", 30, unique=True),
        "Those of the deck's kinds that it is about; left out, all of them.",
    ] = ()
    day: Annotated[int, Whole(1, 366), "The day of practice on which it begins."] = 1
    hardest: Annotated[
        float, Share(), "How hard its questions may be, as long as no later step says otherwise."
    ] = 1.0
    items_a_day: Annotated[
        int | None, Whole(1, 100), "From its day on, so many questions a day."
    ] = None
    picture: Annotated[
        str, PICTURE, "JPEG or PNG in base64, put in by: coach deck pack --picture"
    ] = ""


STEP = Table(keys_of(Step), 'Write title = "…" under [[steps]].')


@dataclass(frozen=True)
class Deck:
    """Assigned practice; each field with what a file may say of it, and what it is for.

    ``families`` are the regions drilled, empty for all that the pencils offer
    (or, with ``targets``, for those the targets lie in). ``pencils`` is the
    canonical CSV of a set inside the deck, empty when the student's own serve.
    ``easiest`` and ``hardest`` bound the difficulty as levels between a kind's
    easiest step (0) and its hardest (1). ``pass_level`` is a mean grade, 0–1.
    ``due`` is the last day, in the student's own calendar.
    """

    title: Annotated[str, Text(80), "The deck's name."]
    author: Annotated[str, Text(80), "Who the student sees it is from."]
    kinds: Annotated[
        tuple[str, ...],
        Several(Word(), "drill kinds", 30, least=1, unique=True),
        "Drill kinds by name: coach deck kinds lists them.",
    ]
    purpose: Annotated[str, Text(300, empty=True), "What it is for, in one line."] = ""
    note: Annotated[
        str,
        Text(2_000, lines=True, empty=True),
        "A word to the student; may have line breaks.",
    ] = ""
    families: Annotated[
        tuple[str, ...],
        Several(Word(), "families", 30, unique=True),
        'Hue families, or other regions that drills have, such as "dark greys".'
        " Left out: all that the pencils offer, or with targets those they lie in.",
    ] = ()
    targets: Annotated[
        tuple[Target, ...],
        Several(TARGET, "target colours", 60),
        "Named colours to be asked about.",
    ] = ()
    steps: Annotated[
        tuple[Step, ...],
        Several(STEP, "steps", 30),
        "Lessons: each a word and a picture before its first question.",
    ] = ()
    pencils: Annotated[
        str,
        Several(PENCIL, "pencils", 500, least=1),
        "A set inside the deck; left out, the student's own serve."
        " The keys are the columns of a pencils file.",
    ] = ""
    easiest: Annotated[float, Share()] = 0.0
    hardest: Annotated[float, Share()] = 1.0
    items_a_day: Annotated[int, Whole(1, 100)] = 10
    days: Annotated[int, Whole(1, 366), "Days of practice."] = 7
    due: Annotated[date | None, Day(2025, 2199), "The last day; in TOML a date without quotes."] = (
        None
    )
    pass_level: Annotated[float, Share(0.1, 1.0), "Mean grade to reach."] = 0.7

    @property
    def growth(self) -> Growth:
        """From which days on it wants how many questions a day, as its steps say."""
        return tuple((one.day, one.items_a_day) for one in self.steps if one.items_a_day)

    def items_on(self, day: int) -> int:
        """How many questions a day of practice, from 1, wants."""
        return items_on(self.items_a_day, self.growth, day)

    @property
    def fingerprint(self) -> str:
        """The deck's name among all decks: sha256 of its canonical content, in hexadecimal."""
        return hashlib.sha256(canonical(self).encode()).hexdigest()

    @property
    def questions(self) -> str:
        """sha256 of what it asks: kinds, families, target colours, pencils and bounds.

        It stays when words and pictures of the deck are changed, or its days and dates, and when
        kinds or families are put in another order: the app asks whichever was asked least. What
        steps hold back, by a later day or an easier bound, belongs to what is asked.
        """
        return self._asked(sorted)

    @property
    def questions_in_order(self) -> str:
        """sha256 of the same, kinds and families as written: their order is a worksheet's."""
        return self._asked(list)

    def _asked(self, ordered: Callable[[Iterable[str]], list[str]]) -> str:
        asked: dict[str, JSON] = {
            "kinds": [*ordered(self.kinds)],
            "families": [*ordered(self.families)],
            "targets": [target.colour for target in self.targets],
            "pencils": self.pencils,
            "bounds": [float(self.easiest), float(self.hardest)],
        }
        growth: list[JSON] = [
            [step.day, step.hardest, [*ordered(step.kinds)]]
            for step in self.steps
            if step.day > 1 or step.hardest < 1.0
        ]
        if growth:
            asked["growth"] = growth
        return hashlib.sha256(json_text(asked, in_order=True).encode()).hexdigest()


def canonical(deck: Deck) -> str:
    """The deck's content as JSON with sorted keys and no spaces.

    Two files that mean the same (comments, order of keys, defaults written out)
    have the same text. What follows from a colour's text is left out, so that a
    better table of colours changes no fingerprint; so are keys of steps, and steps, where there
    are none, which decks of before had not.
    """
    targets = [{"name": target.name, "colour": target.colour} for target in deck.targets]
    content = {"format": FORMAT, **as_json(deck), "targets": targets}
    for step in content["steps"]:
        if step["items_a_day"] is None:
            del step["items_a_day"]
    if not deck.steps:
        del content["steps"]
    return json_text(content, in_order=True)
