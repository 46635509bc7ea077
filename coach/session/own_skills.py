"""Practice of the learner's own skills: the day's plan, and its questions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from coach.session.feed import Feed, TellsAll
from coach.session.helping import help_given
from coach.session.question import ask_about, ask_for
from coach.session.today_plan import allowed, kept_offers, plan_rng, work_out_offers
from drills.basics.days import practice_day
from scores.record.queries import reading_seconds
from scores.record.record import Record
from scores.skill.skill_words import region_words
from scores.today.day_plan import OWN, Aims, Item, aims_of, minutes_of, plan_session, too_slow
from scores.today.examples import with_examples
from scores.today.offers import Offers
from scores.today.shares import SURE
from scores.today.wishes import Wish, wish_of, wishes_in

if TYPE_CHECKING:
    from coach.session.assigned.deck_questions import DeckReady
    from coach.session.feed import SoFar
    from drills.layering.palette import Palette
    from drills.questions.protocol import Kind, Question


ABOUT = ("hue-and-lean", "set-the-colour", "make-the-match")
"""The drills that one colour wished for is asked in."""
AGAIN = 2
"""How often a step of the match that went wrong is asked again."""


@dataclass(frozen=True, eq=False)
class OwnSkills(TellsAll):
    """Asks each of the learner's own skills at its step: a ``feed.Source``."""

    palette: Palette
    offers: Offers
    times: Mapping[str, float]
    aims: Aims
    reveal_s: float
    wishes: tuple[Wish, ...] = ()
    sure: bool = False
    """Whether all is asked as sure things are: a first day back."""
    one_colour: bool = False
    """Whether nothing is asked but the colour wished for."""

    def ask(self, item: Item, kind: Kind, so_far: SoFar) -> Question | None:
        """The question at the step where the learner stands; see ``question.ask_for``."""
        step, name = so_far.step(kind, item.skill, item.aim), f"{so_far.seed}/{so_far.number}"
        wish = None
        if item.part == "match" or self.one_colour:
            wish = wish_of(self.wishes, item.region, practice_day(so_far.now).toordinal())
        wished = wish and ask_about(kind, self.palette, wish.lab, step, name)
        return wished or ask_for(kind, self.palette, item.region, step, name)

    def after(self, item: Item, right: bool) -> tuple[Item, ...]:
        """The step of a match that went wrong is drilled twice more."""
        if right or item.part != "match":
            return ()
        why = f"{region_words(item.region)} again: this step of the match went wrong"
        alone = item.seconds - item.example_s
        again = replace(item, part="mixed", why=why, reason="practice", seconds=alone, example_s=0)
        return (again,) * AGAIN

    def help(self, item: Item, so_far: SoFar) -> str:
        """Help where a step of the match is new."""
        return help_given(item.kind, so_far.skills) if item.source == OWN else ""

    def more(self, so_far: SoFar) -> tuple[Item, ...]:
        """A plan for the time left, what was asked already asked least."""
        slow = too_slow(self.offers, self.times, so_far.seconds_left, self.reveal_s)
        plan = plan_session(
            so_far.skills,
            self.offers.only(without_skills=so_far.refused, without_kinds=slow),
            self.times,
            so_far.now,
            so_far.seconds_left / 60.0,
            plan_rng(so_far.seed, so_far.number),
            recent=so_far.kinds[-2:],
            asked=so_far.asked,
            aims=self.aims,
            reveal_s=self.reveal_s,
        )
        plan = with_examples(
            *(plan, so_far.skills, so_far.examples, so_far.now),
            *(so_far.seconds_left / 60.0, self.reveal_s),
        )
        return tuple(replace(item, aim=SURE) for item in plan) if self.sure else plan

    def regions(self, kind: str) -> tuple[str, ...]:
        """Those in which a kind can be asked."""
        return tuple(region for name, region in self.offers.pairs if name == kind)


def daily(
    record: Record,
    palette: Palette,
    kinds: Mapping[str, Kind],
    minutes: float | None = None,
    colour: bool = True,
    plan: Sequence[Item] = (),
    decks: Sequence[DeckReady] = (),
    drill: str = "",
) -> Feed:
    """The day's practice: ``plan``, the one shown, and then the learner's own skills.

    ``decks`` are those that ``plan`` names. ``minutes`` goes before the setting; ``colour``
    False withholds kinds that need 24-bit colour. With a ``drill`` nothing else is asked: its
    name, or a family or a wish as ``only`` has it.
    """
    settings = record.settings()
    every = kept_offers(settings, palette.set.fingerprint) or work_out_offers(palette, kinds)
    offers = allowed(every, settings, colour)
    wishes = wishes_in(settings)
    asked, wish = only(offers, drill, wishes)
    mine = [item for item in plan if item.source == OWN]
    own = OwnSkills(
        palette,
        asked,
        record.kind_times(),
        aims_of(settings),
        reading_seconds(record),
        wishes if wish is None else (wish,),
        one_colour=wish is not None,
        sure=bool(mine) and all(item.aim >= SURE for item in mine),
    )
    return Feed(
        plan=tuple(plan),
        sources={OWN: own, **{deck.fingerprint: deck for deck in decks}},
        minutes=minutes_of(settings if minutes is None else {"minutes": minutes}),
        more=own.more,
        after=own.after,
        help=own.help,
    )


def wish_for(colour: str) -> Wish:
    """The colour as written, as if it were wished for. Raises InputError."""
    from drills.colour.parse import parse_colour
    from drills.questions.given_colour import region_of

    lab = parse_colour(colour)
    return Wish(lab, colour, region_of(lab))


def _about(offers: Offers, wish: Wish) -> tuple[Offers, Wish]:
    kinds = {kind for kind, _ in offers.pairs}
    return Offers(offers.kinds, tuple((k, wish.region) for k in ABOUT if k in kinds)), wish


def only(offers: Offers, drill: str, wishes: Sequence[Wish]) -> tuple[Offers, Wish | None]:
    """What is left to ask: of one drill by its name, of "family:red", of "wish:1", the first
    of the ``wishes``, or of "colour:#a05040"; everything where ``drill`` names nothing."""
    what, _, name = drill.partition(":")
    if what == "family" and name:
        regions = {region for _, region in offers.pairs}
        return offers.only(without_regions=regions - {name}), None
    if what == "wish" and name.isdigit() and 1 <= int(name) <= len(wishes):
        return _about(offers, wishes[int(name) - 1])
    if what == "colour":
        return _about(offers, wish_for(name))
    if drill in offers.kinds:
        return offers.only(without_kinds=set(offers.kinds) - {drill}), None
    return offers, None
