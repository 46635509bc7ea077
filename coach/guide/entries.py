"""What each word means, in an artist's words.

Usage is the trade's (common practice, no source) unless an entry names a source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Chapter = Literal["Seeing", "Laying down", "Measuring"]


@dataclass(frozen=True)
class GuideEntry:
    """One word: what it says in a sentence or three, and what its swatches are.

    ``also`` are other words by which it is looked for; ``look`` says what to see in
    the swatches. ``layered`` is True where they come from the demo pencils on the
    model's paper. ``practise`` is the drill that asks for it.
    """

    word: str
    chapter: Chapter
    says: tuple[str, ...]
    look: str
    also: tuple[str, ...] = ()
    layered: bool = False
    source: str = ""
    practise: str = ""


ENTRIES: tuple[GuideEntry, ...] = (
    GuideEntry(
        "hue family",
        "Seeing",
        (
            "One of twelve round the wheel, from yellow through red, violet, blue and green.",
            "A dull or dark colour has one too: brown is a dark orange, olive a dark yellow-green.",
        ),
        "A bright orange, and a brown of the same family.",
        ("hue", "family", "colour wheel"),
        source="Itten 1961, the twelve-part wheel",
        practise="hue-and-lean",
    ),
    GuideEntry(
        "lean",
        "Seeing",
        (
            "The neighbour on the wheel that a colour leans to.",
            "Two reds laid side by side show it at once: one leans to orange, one to violet.",
        ),
        "Three red pencils, from the one nearest orange to the one nearest violet.",
        ("bias", "leaning"),
        practise="hue-and-lean",
    ),
    GuideEntry(
        "value",
        "Seeing",
        (
            "How light or dark a colour is, whatever its hue: 0 is black, 10 is white.",
            "Values matter most in a drawing. Half close your eyes to see them.",
        ),
        "One green at three values; hue and chroma stay.",
        ("lightness", "tone", "light and dark"),
        source="Munsell value, ASTM D1535",
        practise="lighter-or-darker",
    ),
    GuideEntry(
        "chroma",
        "Seeing",
        (
            "How bright or dull a colour is: how far it lies from the grey of the same value.",
            "A dull colour is not a dark one. Judge the two apart.",
        ),
        "One hue at one value, from bright to grey.",
        ("brightness", "saturation", "dullness", "intensity"),
        source="CIE 15, C*ab",
        practise="brighter-or-duller",
    ),
    GuideEntry(
        "warm and cool",
        "Seeing",
        (
            "Colours near orange are called warm, those near blue cool.",
            "The words compare neighbours too: one of two greys is the warmer.",
        ),
        "A warm grey pencil and a cool one, of about one value.",
        ("temperature", "warm", "cool"),
        practise="grey-lean",
    ),
    GuideEntry(
        "grey that leans",
        "Seeing",
        (
            "Few greys are quite neutral: nearly all lean to a family.",
            "Put a grey beside a neutral one and its lean shows.",
        ),
        "A neutral grey between two that lean.",
        ("neutral", "near-neutral", "grey"),
        practise="grey-lean",
    ),
    GuideEntry(
        "undertone",
        "Seeing",
        (
            "The hue that shows when a colour is laid thin and the paper shines through.",
            "A dark pencil may look nearly black when laid firmly; its undertone decides what it"
            " mixes to.",
        ),
        "One dark pencil laid thin, and laid firmly.",
        ("mass tone", "thin layer"),
        layered=True,
        practise="predict-the-mix",
    ),
    GuideEntry(
        "surround",
        "Seeing",
        (
            "What surrounds a colour changes how it looks: on dark it looks lighter, on light"
            " darker.",
            "Cover the surround with your hands to see the colour itself.",
        ),
        "The same grey twice.",
        ("simultaneous contrast", "ground"),
        source="Chevreul 1839",
        practise="surround-lies",
    ),
    GuideEntry(
        "complement",
        "Seeing",
        (
            "The family opposite on the wheel.",
            "Side by side the two look brighter; one laid over the other dulls it.",
        ),
        "A red, the green that lies opposite, and the red with a light layer of that green.",
        ("opposite", "complementary"),
        layered=True,
        source="Itten 1961, the six pairs",
        practise="mute-with-complement",
    ),
    GuideEntry(
        "mute",
        "Laying down",
        (
            "To dull a colour that is too bright, most often with a light layer of its complement.",
            "Between two layers of the main colour it dulls without taking over.",
        ),
        "A red alone; with green held inside; with the same green laid on top.",
        ("dull", "quiet", "grey down"),
        layered=True,
        practise="mute-with-complement",
    ),
    GuideEntry(
        "tooth",
        "Laying down",
        (
            "The roughness of the paper. Light pressure colours only the peaks and leaves the"
            " valleys white.",
            "Each layer fills some of it; when it is full, no more colour sticks.",
        ),
        "A light layer: its peaks, its valleys, and the two together from arm's length.",
        ("grain", "texture", "paper"),
        layered=True,
        practise="handling",
    ),
    GuideEntry(
        "pressure",
        "Laying down",
        (
            "How hard the pencil is pressed: light, middle or firm.",
            "Begin light. What is laid firmly fills the tooth, and can hardly be changed.",
        ),
        "One pencil at light, middle and firm pressure.",
        ("weight of hand", "light", "firm"),
        layered=True,
        practise="predict-the-mix",
    ),
    GuideEntry(
        "blender",
        "Laying down",
        (
            "A colourless pencil that rubs the layers together and carries them into the valleys.",
            "It evens the grain and deepens the colour a little. The faint haze it leaves comes"
            " off with a last layer of colour.",
        ),
        "Two layers; after the blender; after one more layer of colour.",
        ("blending", "colourless blender"),
        layered=True,
        practise="handling",
    ),
    GuideEntry(
        "burnish",
        "Laying down",
        (
            "To press the surface flat and shiny with firm pressure.",
            "It fills the tooth for good, so it comes last: a layer after it hardly sticks.",
        ),
        "Two layers; burnished; and the same after one more layer of red: hardly a change.",
        ("burnishing", "polish"),
        layered=True,
        practise="order-of-layers",
    ),
    GuideEntry(
        "ΔE00",
        "Measuring",
        (
            "The size of a colour difference. About 1 is just visible side by side.",
            "Up to 3 passes for a good match across a table; 10 is clearly another colour.",
        ),
        "A colour, and others that lie 1, 3 and 10 from it.",
        ("delta e", "ciede2000", "colour difference", "difference"),
        source="CIE 142:2001; what passes is common practice, no source",
        practise="set-the-colour",
    ),
    GuideEntry(
        "your hand",
        "Measuring",
        (
            "Patches that you paint tell how you press and how paper fills (pencils, then h).",
            "They can't tell of another day or paper, nor of blending and burnishing.",
            "Until they predict each other better than our estimates do, those stay in use.",
        ),
        "One blue, two middle layers: as supposed, and by a hand whose middle pressure is harder.",
        ("hand", "patch", "patches"),
        layered=True,
        practise="make-the-match",
    ),
    GuideEntry(
        "threshold",
        "Measuring",
        (
            "The smallest difference that you see four times in five. Smaller is better.",
            "The coach updates it with every answer, and asks near it.",
        ),
        "Pairs that differ in value alone, by ΔL* 12, 6 and 3.",
        ("just-noticeable difference", "jnd", "limit"),
        practise="lighter-or-darker",
    ),
)


def look_up(text: str) -> tuple[GuideEntry, ...]:
    """The entries a text may mean, the likeliest first; all of them for no text."""
    wanted = text.strip().casefold()
    if not wanted:
        return ENTRIES

    def rank(entry: GuideEntry) -> int:
        names = [entry.word.casefold(), *entry.also]
        if wanted in names:
            return 0
        if any(name.startswith(wanted) for name in names):
            return 1
        if any(wanted in name for name in names):
            return 2
        return 3 if any(wanted in said.casefold() for said in entry.says) else 4

    found = sorted((rank(entry), place) for place, entry in enumerate(ENTRIES))
    return tuple(ENTRIES[place] for order, place in found if order < 4)
