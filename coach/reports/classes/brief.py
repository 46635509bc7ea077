"""A brief before class, on one page: what to demonstrate, whom to pair, whom to ask, how sure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from coach.reports.classes.words import (
    ALIKE,
    HARDER_TOLD,
    HOW_SURE,
    chance_words,
    head_words,
    paper_lines,
    place_words,
    skill_in_words,
    sure_words,
    title,
)
from drills.basics.counted import counted
from drills.questions.protocol import Lab
from scores.classes.class_lines import StudentLine
from scores.classes.standing_lines import ClassStanding, Standing

COLOURS, NAMED, PAIRS, ASKED, ON_PAPER = 3, 6, 4, 5, 4
"""How many of each: what fits a page, and a lesson."""

_BRIGHTEST = (85.0, 76.0, 66.0, 56.0, 48.0, 42.0, 38.0, 40.0, 48.0, 55.0, 55.0, 72.0)
"""L* at which each family from yellow on is shown: about where a screen has it brightest (ours)."""
_CHROMA = 62.0
_GREYS = {"light greys": 80.0, "middle greys": 55.0, "dark greys": 30.0}


@dataclass(frozen=True)
class Shown:
    """A colour to demonstrate, and what to lay beside it; ``swatches`` of those there are."""

    region: str
    beside: str
    why: str
    swatches: tuple[Lab, ...]


@dataclass(frozen=True)
class Brief:
    """What the page says, each line already in words."""

    title: str
    head: str
    colours: tuple[Shown, ...]
    named: tuple[tuple[str, str], ...]
    more_named: int
    pairs: tuple[tuple[str, str], ...]
    asked: tuple[tuple[str, str], ...]
    more_asked: int
    not_begun: tuple[str, ...]
    alike: str
    on_paper: tuple[tuple[str, str], ...] = ()


def brief_of(
    name: str,
    standing: ClassStanding,
    not_begun: Sequence[str],
    titles: Mapping[str, str],
    students: Sequence[StudentLine] = (),
) -> Brief:
    """Put a brief together."""
    needs = [line for line in standing.students if line.place in ("weak", "stuck")]
    unknown = sorted(standing.at("not known yet"), key=lambda line: line.tries)
    by_student = standing.by_student()
    pairs = [
        (
            f"{by_student[pair.learns].name} beside {by_student[pair.shows].name}",
            f"at {title(pair.kind, titles)}; {by_student[pair.shows].name} is ahead there,"
            f" {sure_words(pair.sure)}",
        )
        for pair in standing.pairs[:PAIRS]
    ]
    asked = [(line.name, _ask_words(line, titles)) for line in unknown[:ASKED]]
    return Brief(
        name,
        head_words(standing),
        tuple(_colours(standing)),
        tuple((line.name, place_words(line, titles)) for line in needs[:NAMED]),
        max(0, len(needs) - NAMED),
        tuple(pairs),
        tuple(asked),
        max(0, len(unknown) - ASKED),
        tuple(not_begun),
        ALIKE if standing.students and not standing.at("weak") else "",
        tuple(paper_lines(students)),
    )


def _ask_words(line: Standing, titles: Mapping[str, str]) -> str:
    if line.ask is None:
        return ""
    return f"{skill_in_words(line.ask, titles)} ({counted(line.tries, 'answer')} so far)"


def _colours(standing: ClassStanding) -> Iterable[Shown]:
    """First what the class confuses more than chance gives, then what is harder or likeliest.

    A subject of handling, such as the order of work, is no colour that could be shown.
    """
    used: set[str] = set()
    for pair in standing.confusions:
        if len(used) == COLOURS:
            return
        if pair.truth in used:
            continue
        used.add(pair.truth)
        why = (
            f"taken for {pair.said} {pair.tries} of {pair.asked} times, more than is usual,"
            f" {chance_words(pair)}"
        )
        yield Shown(pair.truth, pair.said, why, _swatches(pair.truth, pair.said))
    for one in standing.harder:
        if len(used) == COLOURS:
            return
        swatches = _swatches(one.region)
        if one.region in used or not swatches:
            continue
        used.add(one.region)
        why = f"{one.right} of {one.tries} right; "
        if one.sure >= HARDER_TOLD:
            why += f"harder for the class than the others, {sure_words(one.sure)}"
        else:
            why += "the next in line, but not known to be harder than the others"
        yield Shown(one.region, "", why, swatches)


def _swatches(*regions: str) -> tuple[Lab, ...]:
    """A bright colour of each family, its value's grey for a band of greys; else none."""
    from drills.colour.hue import FAMILIES
    from drills.colour.turn import turned_on_screen

    found: list[Lab] = []
    for region in regions:
        if region in FAMILIES:
            place = FAMILIES.index(region)
            made = turned_on_screen((_BRIGHTEST[place], _CHROMA, 0.0), [float(place)])[0]
            found.append((float(made[0]), float(made[1]), float(made[2])))
        elif region in _GREYS:
            found.append((_GREYS[region], 0.0, 0.0))
    return tuple(found)


def more_words(count: int) -> str:
    """ "and 3 more: coach class show"."""
    return f"and {count} more: coach class show" if count > 0 else ""


def sections(brief: Brief) -> Iterable[tuple[str, Sequence[tuple[str, str]], str]]:
    """Each section but the colours: heading, lines of a name and words, what is left out."""
    if brief.named:
        yield "Who needs you", brief.named, more_words(brief.more_named)
    if brief.pairs:
        yield "Whom to pair", brief.pairs, ""
    if brief.asked:
        yield "Whom to ask, and what", brief.asked, more_words(brief.more_asked)
    if brief.on_paper:
        more = more_words(len(brief.on_paper) - ON_PAPER)
        yield "On paper", brief.on_paper[:ON_PAPER], more
    if brief.not_begun:
        names = ", ".join(brief.not_begun[:12])
        left = len(brief.not_begun) - 12
        yield (
            f"Not begun ({len(brief.not_begun)})",
            (("", names),),
            (f"and {left} more" if left > 0 else ""),
        )


FOOT = f"{HOW_SURE} Results are the students’ own word. No test of colour vision."
