"""Thresholds then and now as pairs of swatches: for the screen, a terminal's lines, and SVG."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from coach.reports.figure_words import day_words, number, short_day
from coach.reports.seen.drawn import TOO_FINE, Pair, Seen
from drills.basics.errors import plain
from drills.questions.apart import UNITS, pair_apart
from drills.questions.protocol import Lab
from scores.progress.then_now import ThenNow

MOST = 6
"""Drills shown: the most answered."""
WHOLE = "Worked out from the change of your whole eye; of one drill alone no change is known."
_WIDE, _HIGH, _LEFT, _ROW = 70, 36, 12, 84


def seen(of: Sequence[ThenNow], most: int = MOST) -> tuple[Seen, ...]:
    """The drills whose threshold is a difference between two colours."""
    return tuple(
        Seen(
            plain(one.title),
            _pair(f"on {short_day(one.since)}", one.then, one.unit),
            _pair("today", one.now, one.unit),
        )
        for one in [one for one in of if one.unit in UNITS][:most]
    )


def _pair(when: str, step: float, unit: str) -> Pair:
    apart = pair_apart(round(step, 3), unit)
    short = unit.rpartition(" ")[2]  # "wheel steps" has no room under a swatch.
    return Pair(f"{when}: {number(step)} {short}", apart)


def heading(of: Sequence[ThenNow]) -> str:
    """What the pairs show, in a sentence."""
    return f"As far apart as you could just tell on {day_words(of[0].since)}, and as you can today."


def lines(of: Sequence[ThenNow]) -> list[str]:
    """The same in words alone; none where no change is known."""
    shown = seen(of)
    if not shown:
        return []
    return [
        heading(of),
        *(f"  {one.title[:24]:24}  {one.then.words}; {one.now.words}" for one in shown),
    ]


def svg(of: Sequence[ThenNow]) -> str:
    """The pairs as one SVG for a page; nothing where no change is known."""
    shown = seen(of)
    return svg_of(shown, heading(of)) if shown else ""


def svg_of(shown: Sequence[Seen], title: str) -> str:
    """Pairs as one SVG with a title."""
    high = _ROW * len(shown)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 640 {high}" width="640" role="img">'
        f"<title>{escape(title)}</title>"
    ]
    for at, one in enumerate(shown):
        top = at * _ROW
        parts.append(f'<text class="name" x="{_LEFT}" y="{top + 14}">{escape(one.title)}</text>')
        for left, pair in ((_LEFT, one.then), (_LEFT + 320, one.now)):
            parts += _svg_pair(pair, left, top + 22)
    return "".join([*parts, "</svg>"])


def _svg_pair(pair: Pair, left: int, top: int) -> list[str]:
    words = pair.words if pair.apart else f"{pair.words}, {TOO_FINE}"
    found = [f'<text class="soft" x="{left}" y="{top + _HIGH + 15}">{escape(words)}</text>']
    if pair.apart is not None:
        # Told not to smooth the edge where they touch.
        found += [
            f'<rect class="judged" fill="{_hex(lab)}" x="{left + place * _WIDE}" y="{top}"'
            f' width="{_WIDE}" height="{_HIGH}" shape-rendering="crispEdges"/>'
            for place, lab in enumerate((pair.apart.first, pair.apart.second))
        ]
    return found


def _hex(lab: Lab) -> str:
    from drills.colour.spaces import screen_rgb

    red, green, blue = (int(level) for level in screen_rgb(lab))
    return f"#{red:02x}{green:02x}{blue:02x}"
