"""Today's words: what the day is for, its parts with their minutes, each question and why."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.cells import set_cell_size

from coach.design.measures import MEASURE, columns
from drills.basics.counted import counted
from drills.basics.days import date_text
from scores.skill.skill_words import region_words
from scores.today.examples import HUE_UNITS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from coach.session.assigned.deck_progress import DeckStanding
    from coach.session.today_plan import Today
    from scores.today.day_plan import Item

BAR = 10
"""Cells of a bar as long as the whole day."""


def figures(plan: Today, pencils: str, key: str = "", large: bool = False) -> str:
    """The day at a glance: where it begins from, and its parts with their minutes.

    ``key`` is the one that measures this screen. ``large``: fewer figures, and the parts set
    apart.
    """
    skills = len(plan.offers.pairs)
    due = "nothing is due" if not plan.due else f"{plan.due} due"
    # After weeks away nearly everything is: no figure to come back to.
    met = f"{plan.met} of {skills} skills met"
    alone = plan.away or (large and plan.due)
    first = f"{pencils}: {met}." if alone else f"{pencils}: {met}, {due}."
    lines = [first, *assigned_lines(plan.standings), *waiting_lines(plan, key)]
    if not plan.plan:
        return "\n".join([*lines, "There is nothing to ask now."])
    if large:
        return "\n".join([*lines, f"{plan.minutes:g} minutes:", "\n\n".join(large_parts(plan))])
    solved = sum(item.example_s > 0 for item in plan.plan)
    examples = f" and {counted(solved, 'example')}" if solved else ""
    lines.append(f"{plan.minutes:g} minutes, about {len(plan.plan)} questions{examples}:")
    return "\n".join([*lines, *part_lines(plan)])


def assigned_lines(standings: Sequence[DeckStanding]) -> list[str]:
    """A line on each deck assigned, and one on each course."""
    lines = [assigned_line(one) for one in standings if one.course is None]
    if len(lines) < len(standings):
        from coach.session.assigned.course_work import course_words, courses

        found = courses(standings)
        lines += [course_words(course, named=len(found) > 1) for course in found]
    return lines


def waits_for_screen(plan: Today) -> list[DeckStanding]:
    """The decks of today of which some colours wait for this screen to be known."""
    return [one for one in plan.standings if one.waiting and one.state == "to do"]


def waiting_lines(plan: Today, key: str) -> list[str]:
    """A line on each of them: how many colours wait, why, and what brings them."""
    found = waits_for_screen(plan)
    if not found:
        return []
    from decks.waiting import waiting_words

    by_eye = plan.screen_known == "by eye"
    return [
        f"“{one.deck.title}”: {waiting_words(one.waiting, len(one.deck.targets), by_eye, key)}"
        for one in found
    ]


def assigned_line(one: DeckStanding) -> str:
    """What a deck asks of the day, until when, and whether it has lessons to read."""
    until = f", until {one.deck.due:%A} {date_text(one.deck.due)}" if one.deck.due else ""
    read = " l: its lessons." if one.deck.steps else ""
    return f"Assigned{until}: “{one.deck.title}”: {one.words}.{read}"


FIRST = "Today: a first match"
SOON = 2
"""How many questions come before the first match of a first session."""
FIRST_WHY = "It comes early, after two short questions, easy and with help."
BACK = "Today: a short day to come back with"
BACK_WHY = "Sure things first, then one match; what waits comes in on other days."
NO_FOCUS = "Today: one match, and what has waited"
NO_FOCUS_WHY = "New drills, and ones left out for days, take the focus's time."
WHY_NOW = {
    "weak": "you see less finely there than elsewhere",
    "due": "it is likely to slip by now",
    "unsure": "it is not yet known how fine you see there",
    "new": "you have not practised it with these colours yet",
    "practice": "it does most for your matches now",
}
"""Why a focus was chosen, by what called for its first question."""


def headline(plan: Today) -> tuple[str, str]:
    """What today is for, and why; why is nothing where a short day begins with its match."""
    items = [item for item in plan.plan if item.part == "focus" and not item.source]
    if not items:
        if plan.away:
            return BACK, f"You were away for {away_words(plan.away)}. {BACK_WHY}"
        matches = [at for at, item in enumerate(plan.plan) if item.part == "match"]
        if not matches:
            return "Today", ""
        if plan.met:
            return NO_FOCUS, NO_FOCUS_WHY if matches[0] else ""
        return FIRST, FIRST_WHY if matches[0] == SOON else ""
    title = plan.offers.kinds[items[0].kind].title.rstrip("?")
    why = WHY_NOW[items[0].reason]
    return f"Today: {title}, {focus_regions(items, plan)}", f"{why[:1].upper()}{why[1:]}."


def away_words(days: int) -> str:
    """So many days, in weeks or months where they are many: "15 days", "6 months"."""
    if days < 28:
        return f"{days} days"
    return f"{days // 7} weeks" if days < 61 else f"{round(days / 30.44)} months"


def part_lines(plan: Today) -> list[str]:
    """One line a part of the day: its name, its minutes, and what it holds."""
    return [f"  {line}" for line in columns(_parts(plan), "<><<")]


def large_parts(plan: Today) -> list[str]:
    """The same without lengths, and what it holds only where that is no figure."""
    from coach.design.large import figures_in

    rows = [
        (name, minutes, "" if minutes and figures_in(about) else about)
        for name, minutes, _, about in _parts(plan)
    ]
    return [f"  {line}" for line in columns(rows, "<><")]


def _parts(plan: Today) -> list[tuple[str, str, str, str]]:
    """Of each part of the day its name, minutes, length and what it holds."""
    rows = []
    total = sum(item.seconds for item in plan.plan)
    for part, words in _PARTS.items():
        items = [item for item in plan.plan if item.part == part and not item.source]
        if items:
            rows.append((words, _minutes(items), _bar(items, total), _about(part, items, plan)))
    assigned = [item for item in plan.plan if item.source]
    if assigned:
        rows.append(("assigned", _minutes(assigned), _bar(assigned, total), _count(assigned)))
    if plan.paper_due:
        rows.append(("on paper", "", "", "one colour with real pencils this week (m)"))
    return rows


_PARTS = {
    "warm-up": "warm-up",
    "focus": "focus",
    "mixed": "mixed",
    "match": "a match",
    "": "practice",
}


def _minutes(items: Sequence[Item]) -> str:
    return f"{max(1, round(sum(item.seconds for item in items) / 60))} min"


def _bar(items: Sequence[Item], total: float) -> str:
    """How much of the day's time this part takes, as a length."""
    return "━" * max(1, round(BAR * sum(item.seconds for item in items) / total))


def _count(items: Sequence[Item]) -> str:
    return counted(len(items), "question")


def _about(part: str, items: Sequence[Item], plan: Today) -> str:
    if part == "warm-up":
        return "sure things"
    titles = list(dict.fromkeys(plan.offers.kinds[item.kind].title.rstrip("?") for item in items))
    if part == "focus":
        return f"{titles[0]}: {focus_regions(items, plan)}"
    if part == "match":
        if len(items) < 4:
            return ", then ".join(titles)
        # Not which: that would give away its family.
        matches = sum(item.kind == items[-1].kind for item in items)
        colours = "one colour" if matches == 1 else f"{matches} colours"
        return f"{colours}, from the hue to the laid pencils"
    drills = counted(len(titles), "drill")
    return f"{_count(items)} in {drills}"


def focus_regions(items: Sequence[Item], plan: Today) -> str:
    """What stands beside what: "blues beside violets and greens"; not where that is asked."""
    if plan.offers.kinds[items[0].kind].unit in HUE_UNITS:
        return "neighbours side by side"
    regions = [region_words(region) for region in dict.fromkeys(item.region for item in items)]
    return " beside ".join(regions[:2])


def item_lines(plan: Today, width: int) -> str:
    """One line an item: why it comes, and the drill it comes in."""
    title_width = max(len(facts.title) for facts in plan.offers.kinds.values())
    why_width = max(20, width - title_width - 3)
    # A skill asked several times is listed once, with what first called for it.
    firsts = {item.skill: item for item in reversed(plan.plan)}.values()
    lines = (
        f"{set_cell_size(plan.offers.kinds[item.kind].title, title_width)}   "
        f"{set_cell_size(item.why, why_width).rstrip()}"
        for item in firsts
    )
    # Not in the order they are asked: that would tell a question's family beforehand.
    return "\n".join(sorted(lines))


def large_items(plan: Today) -> str:
    """The same where large things are wanted: set apart, and one figure each."""
    from coach.design.large import one_figure
    from coach.widgets.paint import wrapped

    firsts = {item.skill: item for item in reversed(plan.plan)}.values()
    lines = (
        one_figure(f"{plan.offers.kinds[item.kind].title} · {item.why}").rstrip() for item in firsts
    )
    return "\n\n".join("\n".join(wrapped(line, MEASURE)) for line in sorted(lines))
