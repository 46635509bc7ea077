"""Which item of a plan comes next, as the session runs: parts in order, the match kept whole."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from scores.today.day_plan import LATE_S, Item

IN_ORDER = ("warm-up", "focus", "match")
"""Parts whose items are asked as planned, one kind several times running where it is planned so."""


def next_item(
    plan: Sequence[Item],
    kinds: Sequence[str],
    strictly: bool = True,
    left_s: float = float("inf"),
) -> Item | None:
    """The item to ask, ``kinds`` being those asked so far.

    Outside the parts that keep their order no kind comes a third time running: where
    nothing else is left it does, or with ``strictly`` None is given. One that would end after
    the ``left_s`` seconds left gives way to the one that ends nearest to time, but the match.
    """
    if not plan:
        return None
    running = kinds[-2:]

    def fits(item: Item) -> bool:
        return item.part in IN_ORDER or len(running) < 2 or set(running) != {item.kind}

    found = next((item for item in plan if fits(item)), None)
    if found is not None and found.seconds > left_s and found.part != "match":
        others = [item for item in plan if fits(item) and item.part != "match"]
        found = min(others, key=lambda item: abs(item.seconds - left_s))
        if strictly and found.seconds > left_s + LATE_S:
            return None
    return found or (None if strictly else plan[0])


def taken(
    plan: Sequence[Item],
    kinds: Sequence[str],
    left_s: float,
    more: Callable[[], Sequence[Item]],
) -> tuple[Item | None, list[Item]]:
    """The item to ask now, and the plan left after it; ``more`` gives a new plan where this one
    has nothing to ask.

    ``kinds`` are those asked so far. None where less than half of it would fit, but for the
    first question, which always comes; and where there is nothing.
    """
    left = with_room_for_the_match(plan, left_s)
    item = next_item(left, kinds, left_s=left_s)
    if item is None:
        # A new plan keeps kinds mixed by itself; where it can't, one kind alone is left.
        left = list(more()) or left
        item = next_item(left, kinds, False, left_s)
    if item is None or (kinds and left_s < item.seconds / 2):
        return None, left
    left.remove(item)
    return item, left


def with_room_for_the_match(plan: Sequence[Item], seconds: float) -> list[Item]:
    """The plan without the mixed and focused items for which a match to come leaves no time.

    ``seconds`` are left. What a match has added after itself stays: the time ends it.
    """
    places = [at for at, item in enumerate(plan) if item.part == "match"]
    if not places:
        return list(plan)
    first, rest = list(plan[: places[-1] + 1]), plan[places[-1] + 1 :]
    over = sum(item.seconds for item in first) - seconds
    for part in ("mixed", "focus", "warm-up"):
        for at in range(len(first) - 1, -1, -1):
            item = first[at]
            if item.part == part and not item.source and over > item.seconds / 2:
                over -= item.seconds
                del first[at]
    return [*first, *rest]
