"""What the planner does, what the drills say and what the handling bank teaches never disagree.

Every rule of the craft is walked through all three. A rule that the bank asks about has its best
choice and a bad one written here as moves: the planner must find no fault with the one, and that
very fault with the other; and those words must still stand in the bank.
"""

from __future__ import annotations

from typing import Any

import pytest

from drills.colour.parse import parse_colour
from drills.kinds import draw, handling, make_the_match, mute_with_complement
from drills.layering import craft_faults
from drills.layering.craft_faults import broken_rules as broken_on_paper
from drills.layering.moves import pressure_word
from drills.planning import rules, teaching
from drills.planning.plan import LikelyMiss
from drills.planning.planner import plan, taught_plan
from drills.planning.rules import broken_rules
from drills.planning.ways import WAYS as PLANNED_WAYS
from drills.questions.muting import WAYS
from tests.bench.teaching import EVERYDAY
from tests.palettes import palette_of
from tests.planning.test_each_rule import EXAMPLES, ON_PAPER, moves, words_of

DEMO = palette_of("demo")
TAUGHT = ("BEGIN_NEAR", "LIGHT_FIRST", "HOME")

# A question of the bank; how its best choice and a bad one begin; the rule that tells them apart.
# "Flagloft Red" stands for the main colour, "Eelgrass Hard" for its complement.
BANK: dict[str, tuple[tuple[str, str, str, str, str], ...]] = {
    "FIRM_FIRST": (
        ("first-layer", "Lightly, little more", "Flagloft Red light; Flagloft Red middle",
         "Firmly, to cover", "Flagloft Red firm; Flagloft Red firm"),
    ),
    "MUTER_HEAVY": (
        ("muting-pressure", "Lightly, one even layer",
         "Flagloft Red middle; Eelgrass Hard light; Flagloft Red middle",
         "At middle pressure", "Flagloft Red middle; Eelgrass Hard middle; Flagloft Red middle"),
    ),
    "MUTER_BARE": (
        ("muting-place", "Between two layers",
         "Flagloft Red middle; Eelgrass Hard light; Flagloft Red middle",
         "Last, on top", "Flagloft Red middle; Eelgrass Hard light"),
    ),
    "NOT_NEAR": (
        ("muting-place", "Between two layers",
         "Flagloft Red middle; Eelgrass Hard light; Flagloft Red middle",
         "First, under everything", "Eelgrass Hard light; Flagloft Red middle"),
    ),
    "BLEND_EARLY": (
        ("enough-to-blend", "Two layers or more",
         "Flagloft Red light; Flagloft Red middle; blend light; Flagloft Red middle",
         "One layer, if it was firm", "Flagloft Red light; blend light; Flagloft Red middle"),
    ),
    "BLEND_LAST": (
        ("after-the-blender", "A last layer of the main colour",
         "Flagloft Red light; Flagloft Red middle; blend light; Flagloft Red middle",
         "Leave it", "Flagloft Red light; Flagloft Red middle; blend light"),
    ),
    "BLEND_TWICE": (
        ("after-the-blender", "A last layer of the main colour",
         "Flagloft Red light; Flagloft Red middle; blend light; Flagloft Red middle",
         "Blend once more, harder",
         "Flagloft Red light; Flagloft Red middle; blend light; blend light; Flagloft Red middle"),
    ),
    "BURNISH_HAZE": (
        ("finish-after-blending", "Layers, blender, last colour, burnisher",
         "Flagloft Red light; Flagloft Red middle; blend light; Flagloft Red middle; burnish",
         "Layers, last colour, blender",
         "Flagloft Red light; Flagloft Red middle; blend light; burnish"),
    ),
    "BLEND_BARE": (
        ("enough-to-blend", "Two layers or more", "Flagloft Red light; Flagloft Red middle",
         "None: it goes on first", "blend light; Flagloft Red light"),
    ),
    "AFTER_BURNISH": (
        ("when-to-burnish", "Last, when colour and value",
         "Flagloft Red light; Flagloft Red middle; burnish",
         "Before the darkest accents",
         "Flagloft Red light; Flagloft Red middle; burnish; Flagloft Red middle"),
    ),
    "BURNISH_EARLY": (
        ("when-to-burnish", "Last, when colour and value",
         "Flagloft Red light; Flagloft Red middle; burnish",
         "After the first layer", "Flagloft Red middle; burnish"),
    ),
    "OVERFULL": (
        ("full-and-wrong", "Dab colour off", "Flagloft Red firm; Flagloft Red firm",
         "Press as hard as you can", "; ".join(["Flagloft Red firm"] * 7)),
    ),
    "PALE_OVER_DARK": (
        ("pale-over-dark", "The blue, hardly changed", "Pilotcoat Navy light; Pilotcoat Navy firm",
         "The yellow, a little dirtied", "Pilotcoat Navy light; Pilotcoat Navy firm;"
         " Gorsewick Dawn firm"),
    ),
    "BLACK_HEAVY": (
        ("too-pale", "A second light layer", "Flagloft Red light; Flagloft Red light",
         "A thin layer of black", "Flagloft Red light; Coalhulk firm"),
    ),
    "LIGHTER_LATE": (
        ("cost-of-firm", "Tooth: whatever you lay after it", "Flagloft Red light;"
         " Flagloft Red middle", "Nothing at all", "Flagloft Red firm; Flagloft Red light"),
    ),
}  # fmt: skip
NOT_ASKED = {
    "THREE_FIRM", "IDLE", "MUTED_TWICE", "STRAY", "WHITE_AND_BLACK", "THREE_RUNNING", "BLEND_HARD",
    "BLEND_THEN_MUTE", "BLEND_MUTER",
}  # fmt: skip
"""Rules that only the planner's reveals name: the bank asks about no such thing."""


def every_rule() -> set[str]:
    return {
        name
        for module in (rules, craft_faults)
        for name, value in vars(module).items()
        if name.isupper() and isinstance(value, str) and not name.startswith("_")
    }


def said_of(words: str) -> set[str]:
    """All faults found with moves on the way to the red they are about, dulled a little."""
    made = moves(words)
    target = (44.0, 40.0, 20.0) if "Flagloft" in words else (28.0, 2.0, -28.0)
    return {*broken_rules(DEMO, made, target), *broken_on_paper(DEMO, made)}


def test_every_rule_has_its_place_here() -> None:
    assert set(BANK) | NOT_ASKED == every_rule()
    assert not set(BANK) & NOT_ASKED
    taught = {
        name
        for name, value in vars(teaching).items()
        if name.isupper() and isinstance(value, str) and not name.startswith("_")
    }
    assert taught == set(TAUGHT)


@pytest.mark.parametrize(
    ("rule", "asked"), [(rule, asked) for rule, some in BANK.items() for asked in some]
)
def test_what_the_bank_calls_best_keeps_the_rule_and_what_it_calls_bad_breaks_it(
    rule: str, asked: tuple[str, str, str, str, str]
) -> None:
    name, best, keeps, bad, breaks = asked
    entry = next(one for one in handling.bank() if one.id == name)
    assert entry.best.text.startswith(best)
    worse = next(way for way in entry.ways if way.text.startswith(bad))
    assert worse.score <= handling.NEARLY
    assert words_of(rule) in said_of(breaks)
    assert words_of(rule) not in said_of(keeps)


IN_NO_DRILL = {"AFTER_BURNISH", "BURNISH_EARLY", "BURNISH_HAZE", "THREE_RUNNING"}
"""Their examples burnish, and the drill of building a match has no burnishing."""


def drilled(target: Any, words: str) -> str:
    """What "make the match" says of these moves when they are laid in it."""
    made = moves(words)
    best, off = (made[0],), LikelyMiss(2.0, 1.0, 4.0)
    tray, paper = tuple(range(len(DEMO))), (97.0, 0.0, 2.0)
    data = make_the_match.ColourToMatch(DEMO, tray, target, paper, best, off, 3.0)
    question = make_the_match.KIND.question(data, "red", 3.0, target)
    answers: list[tuple[str, ...]] = []
    for move in made:
        pencil = DEMO.blender if move.action == "blend" else move.pencil
        answers += [(str(pencil),), (pressure_word(move.pressure),)]
    shown = make_the_match.KIND.reveal(question, (*answers, (make_the_match.DONE,)))
    return " ".join(shown.because)


@pytest.mark.parametrize("rule", sorted(every_rule() - IN_NO_DRILL - {"OVERFULL"}))
def test_the_drill_names_the_fault_that_the_planner_finds(rule: str) -> None:
    if rule == "BLEND_BARE":
        assert words_of(rule) in drilled((44.0, 40.0, 20.0), ON_PAPER[0][1])
        return
    target, breaks, keeps = next(row[1:] for row in EXAMPLES if row[0] == rule)
    assert words_of(rule) in drilled(target, breaks)
    assert words_of(rule) not in drilled(target, keeps)


def test_no_plan_shown_or_drilled_breaks_a_rule_that_is_taught() -> None:
    for text in EVERYDAY[::3]:
        target = parse_colour(text)
        answer = plan(DEMO, target)
        for one in (answer.recipe, *(other.moves for other in answer.alternatives)):
            assert broken_rules(DEMO, one, target) == ()
        tray = DEMO.colour_indices[::4].tolist()
        drill, _ = taught_plan(DEMO, target, tray)
        assert broken_rules(DEMO, drill, target, tray) == ()


def test_rules_set_aside_are_those_a_teacher_would_keep_and_are_named_alike() -> None:
    named = {getattr(teaching, name) for name in TAUGHT}
    plans = [plan(DEMO, parse_colour(text)) for text in EVERYDAY[::5]]
    printed = [one for each in plans for one in (each, *each.alternatives)]
    seen = {aside.rule for one in printed for aside in one.rules_set_aside}
    assert seen
    assert seen <= named


def test_both_ways_of_muting_are_drilled_as_the_planner_calls_them() -> None:
    asked = {
        draw(mute_with_complement.KIND, DEMO, "red", 3.0, seed).facts["way"] for seed in range(12)
    }
    assert asked == set(WAYS) < set(PLANNED_WAYS)
