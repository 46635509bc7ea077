"""Named colours of a deck that a drill leaves out on this screen, and what would bring them.

Where a screen is not known, or by eye alone, drills that name or set a colour leave out those
whose name its likely faults turn (``drills.questions.steady``). Which wait for the screen, and not
for other pencils, is found by asking as if it were known.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from decks.tasks import DeckTask, can_ask
from drills.basics.counted import counted

if TYPE_CHECKING:
    from decks.deck import Deck
    from drills.layering.palette import Palette
    from drills.questions.protocol import Kind
    from drills.screen.known import ScreenKnown


@dataclass(frozen=True)
class Waiting:
    """A target colour that a drill leaves out; ``by_eye`` whether a match by eye brings it, or
    only the screen's profile."""

    kind: str
    target: str
    by_eye: bool


def waiting_for_screen(
    deck: Deck, tasks: Iterable[DeckTask], palette: Palette, kinds: Mapping[str, Kind]
) -> tuple[Waiting, ...]:
    """What of a deck waits for the screen to be known; ``tasks`` is what it asks as it is."""
    from drills.questions.given_colour import asks_about_given

    asked = {(task.kind, task.target) for task in tasks}
    known: tuple[ScreenKnown, ...] = ()
    if palette.screen_known is not True:
        known = ("by eye", True) if palette.screen_known is False else (True,)
    # Made once: each works out anew what its pencils make.
    better = [replace(palette, screen_known=one) for one in known]
    found = []
    for name in deck.kinds:
        if name not in kinds or not asks_about_given(kinds[name]):
            continue
        for target in deck.targets:
            task = DeckTask(name, target.region, target.name)
            if (name, target.name) in asked:
                continue
            for there in better:
                if can_ask(deck, task, there, kinds):
                    found.append(Waiting(name, target.name, there.screen_known == "by eye"))
                    break
    return tuple(found)


def waiting_words(waiting: Sequence[Waiting], colours: int, by_eye: bool, key: str = "") -> str:
    """How many of a deck's ``colours`` wait, why, and what brings them; nothing where none do.

    ``by_eye``: the screen was measured by eye. ``key`` is the one that leads to measuring it.
    """
    names = {one.target for one in waiting}
    if not names:
        return ""
    drills = counted(len({one.kind for one in waiting}), "drill")
    verb = "waits" if len(names) == 1 else "wait"
    head = f"{len(names)} of its {colours} colours {verb} in {drills}"
    with_key = f" ({key})" if key else ""
    if by_eye:
        why = "measured by eye, this screen may still turn their hue"
        return f"{head}: {why}. Its profile brings them{with_key}."
    why = "a screen that isn't measured may turn their hue"
    all_of = "it" if len(names) == 1 else f"all {len(names)}"
    # A colour is there once every drill has it.
    brought = len(names - {one.target for one in waiting if not one.by_eye})
    brings = f"Two minutes of measuring bring {brought}, its profile {all_of}"
    if brought == len(names):
        brings = f"Two minutes of measuring bring {all_of}"
    elif not brought:
        brings = f"Measuring by eye is not enough; its profile brings {all_of}"
    return f"{head}: {why}. {brings}{with_key}."
