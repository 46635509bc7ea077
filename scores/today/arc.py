"""The day's practice as the craft in small: warm-up, one focus, what is due, one whole match.

Ten minutes are a warm-up of sure things, one focus in which like stands beside like
(interleaving helps where alike things follow one another: Kang & Pashler 2012, on painters'
styles; Birnbaum, Kornell, Bjork & Bjork 2013), what else calls for practice, and one colour
family taken from its hue to the laid pencils. Shorter and longer sessions scale; of twenty
minutes the last part is two matches, and so on.

Where days are short, a match's steps are spread over the next ones, what matters most first.
``python -m tests.bench schedule`` holds the whole to simulated learners.
"""

from __future__ import annotations

import random
from collections.abc import Collection, Mapping, Sequence
from datetime import datetime

from scores.skill.memory import SkillState
from scores.skill.skill_words import WHEEL
from scores.today.back import days_away, seconds_back
from scores.today.match_part import Asked, MatchPart, Part
from scores.today.mix import WAITS, Mix, kinds_owed
from scores.today.need import Need, new_quota
from scores.today.offers import Offers
from scores.today.shares import (
    BACK_SURE,
    CRAFT,
    CRAFT_SHARE,
    FIRST_DAY,
    FIRST_OF_ALL,
    FIRST_RUN,
    FOCUS,
    KIND_AGAIN,
    LATE_AHEAD,
    LATE_SHARE,
    LEAST_RUN,
    MATCH_EVERY_S,
    MOST_FOCUS,
    NEW_KINDS,
    NEW_KINDS_SHORT,
    OWED_SHARE,
    SPARE,
    STEPS,
    SURE,
    USUAL,
    WARM_UP,
    WHOLE,
    WORTH,
)


def day_arc(
    skills: Mapping[str, SkillState],
    offers: Offers,
    calls: Sequence[Need],
    cost: Mapping[str, float],
    now: datetime,
    seconds: float,
    rng: random.Random,
    wished: Collection[str] = (),
) -> list[Asked]:
    """The day's questions in order; empty when nothing can be asked.

    ``calls`` are the needs of all that can be asked, ``cost`` seconds by kind, ``wished`` the
    families of colours the learner can't get.
    """
    if not calls:
        return []
    away = days_away(skills, now) > 0
    budget = seconds_back(seconds) if away else seconds
    arc = _Arc(skills, offers, calls, cost, now, budget, rng, wished)
    if all(state.last_tried is None for state in skills.values()):
        made = arc.first_day()
    elif away:
        made = arc.first_day_back()
    else:
        short = budget < WHOLE * MATCH_EVERY_S
        late = arc.late() if short else []
        match = arc.steps_owed(arc.taken(late)) if short else arc.match()
        again = arc.laid_again(match)
        left = budget * (1.0 - SPARE - (0.0 if short else WARM_UP)) - arc.taken([*match, *again])
        left -= arc.taken(late)
        owed = arc.owed([*match, *late, *again], left)
        left -= arc.taken(owed)
        focus = arc.focus(left * FOCUS, [*match, *again])
        mixed = arc.mixed(left - arc.taken(focus), [*match, *again, *late, *owed, *focus])
        made = [*arc.warm_up(), *focus, *owed, *mixed, *again, *match]
        if short:
            # Who has little time may stop at any question: what the day is for comes first.
            made = [*match, *late, *owed, *focus, *mixed]
    made = made or arc.mixed(budget, [])
    return [Asked(one.need, one.part, SURE) for one in made] if away else made


class _Arc(MatchPart):
    def late(self) -> list[Asked]:
        """On a short day, the drills that can wait no longer: the match gives way to them.

        Where more will be late on one of the days to come than it has room for, some come now.
        """
        room, to_come = LATE_SHARE * self.budget, LATE_AHEAD * self.budget
        due = sorted(self.by_kind.keys() - set(STEPS), key=self.waits_still)
        needed = so_far = 0.0
        for kind in due:
            so_far += self.cost[kind]
            needed = max(needed, so_far - to_come * max(0, self.waits_still(kind)[0]))
        made: list[Asked] = []
        for kind in [kind for kind in due if kind in self.open_kinds()]:
            taken = self.taken(made)
            if taken >= needed or (made and taken + self.cost[kind] > room):
                break
            made.append(Asked(max(self.by_kind[kind], key=lambda n: n.value), "mixed", USUAL))
        return made

    def waits_still(self, kind: str) -> tuple[int, float]:
        """Sorts kinds: days that one can still wait, of alike ones the quick first. Those never
        met wait for each other alone, so that all are begun as soon as a few a day are."""
        since = self.days_since(kind)
        if since is not None:
            return WAITS - since, self.cost[kind]
        before = self._unmet().index(kind) - self._begun_today()
        return max(0, 1 + before // NEW_KINDS_SHORT), self.cost[kind]

    def _begun_today(self) -> int:
        """How many drills never met may be begun; on a short day one more where there was no time
        for some on earlier days."""
        if self.budget >= WHOLE * MATCH_EVERY_S:
            return NEW_KINDS
        met = len(self.last.keys() & self.by_kind.keys() - set(STEPS))
        return min(NEW_KINDS, max(NEW_KINDS_SHORT, NEW_KINDS_SHORT * len(self.days) - met))

    def _unmet(self) -> list[str]:
        """The drills never met, but the steps of a match, in the order in which they begin."""
        new = [kind for kind in self.by_kind if kind not in self.last and kind not in STEPS]
        return sorted(new, key=lambda kind: (-WORTH.get(kind, 1.0), self.cost[kind]))

    def owed(self, planned: Sequence[Asked], seconds: float) -> list[Asked]:
        """One question of each drill left out for days, as far as its share of the time goes."""
        short = self.budget < WHOLE * MATCH_EVERY_S
        share, waits = (1.0, WAITS - 1) if short else (OWED_SHARE, WAITS)
        asked = {one.need.kind for one in planned}
        kinds = kinds_owed(self.skills, self.offers, self.now, waits) - asked
        kinds &= self.open_kinds()
        made: list[Asked] = []
        for kind in sorted(kinds & self.by_kind.keys(), key=self.waited):
            if self.taken(made) + self.cost[kind] > share * seconds and made:
                break
            made.append(Asked(max(self.by_kind[kind], key=lambda n: n.value), "mixed", USUAL))
        return made

    def open_kinds(self) -> frozenset[str]:
        """The drills met, the steps of a match, and a few more; all where that leaves none."""
        new = self._unmet()
        few = new[: self._begun_today()]
        return frozenset([*(self.by_kind.keys() - set(new)), *few]) or frozenset(new)

    def first_day_back(self) -> list[Asked]:
        """Sure things, a little of what calls for practice most, and a match; nothing is owed."""
        match = self.match()
        sure = self.warm_up(BACK_SURE)
        left = self.budget * (1.0 - SPARE) - self.taken([*match, *sure])
        return [*sure, *self.mixed(left, [*match, *sure], owing=False), *match]

    def focus(self, seconds: float, planned: Sequence[Asked] = ()) -> list[Asked]:
        """One drill in a run of neighbours on the wheel, or of its own regions."""
        room = dict.fromkeys(self.by_kind, seconds)
        craft = self.taken([one for one in planned if one.need.kind in CRAFT])
        for kind in CRAFT & room.keys():
            room[kind] = min(seconds, CRAFT_SHARE[1] * self.budget - craft)
        best: tuple[float, str] | None = None
        for kind, some in self.by_kind.items():
            if kind not in self.last and kind not in STEPS:
                continue
            facts = self.offers.kinds[kind]
            if not facts.of_the_eye or kind == STEPS[-1]:
                continue
            if self.cost[kind] * LEAST_RUN > room[kind]:
                continue
            top = sorted((need.value for need in some), reverse=True)[:3]
            gain = sum(top) / len(top) * self._per_answer(kind) * WORTH.get(kind, 1.0)
            gain *= self.rng.lognormvariate(0.0, 0.1)
            if best is None or gain > best[0]:
                best = gain, kind
        if best is None:
            return []
        kind = best[1]
        count = min(MOST_FOCUS, max(LEAST_RUN, int(room[kind] / self.cost[kind])))
        return [Asked(need, "focus", USUAL) for need in self._run(kind, count)]

    def _run(self, kind: str, count: int) -> list[Need]:
        """Runs of like beside like: a needy region, the one beside it, it again, its other side."""
        left = sorted(self.by_kind[kind], key=lambda need: -need.value)
        run: list[Need] = []
        while left and len(run) < count:
            first = left.pop(0)
            beside = self._beside(first, self.by_kind[kind])
            left = [need for need in left if need not in beside]
            some = [first, beside[0], first, beside[-1]] if beside else [first] * LEAST_RUN
            run += some
        return run[:count]

    def _beside(self, first: Need, some: Sequence[Need]) -> list[Need]:
        """The needs of the regions beside one; of two others where it is not on the wheel."""
        if first.region not in WHEEL:
            return sorted((n for n in some if n is not first), key=lambda n: -n.value)[:2]
        place = WHEEL.index(first.region)
        near = [WHEEL[(place + turn) % 12] for turn in (1, -1)]
        return [need for region in near for need in some if need.region == region]

    def mixed(self, seconds: float, planned: Sequence[Asked], owing: bool = True) -> list[Asked]:
        """What calls for practice most, the craft's own steps keeping their share.

        With ``owing`` False drills left out for days don't go before the rest.
        """
        asked = {one.need.skill: 0 for one in planned}
        for one in planned:
            asked[one.need.skill] += 1
        asked_already = {one.need.kind for one in planned}
        owed = kinds_owed(self.skills, self.offers, self.now) - asked_already if owing else ()
        now_open = self.open_kinds()
        calls = [
            need._replace(value=need.value * WORTH.get(need.kind, 1.0))
            for need in self.calls.values()
            if need.kind in now_open
        ]
        mix = Mix(calls, self.offers, self.rng, (), asked, owed, KIND_AGAIN)
        new = new_quota(self.skills, self.offers, self.cost, self.now, self.budget)
        craft = self.taken([one for one in planned if one.need.kind in CRAFT])
        others = frozenset(self.by_kind) - CRAFT
        made: list[Asked] = []
        used = 0.0
        while True:
            share = craft / self.budget
            kinds = CRAFT if share < CRAFT_SHARE[0] else None
            if share > CRAFT_SHARE[1]:
                kinds = others
            need = mix.best(new > 0, kinds) or mix.best(new > 0)
            if need is None or used + self.cost[need.kind] / 2 > seconds:
                return made
            new -= need.reason == "new" and not mix.asked[need.skill]
            mix.take(need)
            used += self.cost[need.kind]
            craft += self.cost[need.kind] if need.kind in CRAFT else 0.0
            made.append(Asked(need, "mixed", USUAL))

    def warm_up(self, share: float = WARM_UP) -> list[Asked]:
        """Quick things that are held best, for a ``share`` of the time."""
        quick = sorted({self.cost[need.kind] for need in self.calls.values()})
        bound = quick[len(quick) // 2] if quick else 0.0
        sure = [
            need
            for need in self.calls.values()
            if self.cost[need.kind] <= bound
            and (state := self.skills.get(need.skill)) is not None
            and state.threshold is not None
        ]
        sure.sort(key=lambda need: need.value)
        made: list[Asked] = []
        for need in sure:
            if any(one.need.kind == need.kind for one in made):
                continue
            if made and self.taken(made) + self.cost[need.kind] > share * self.budget:
                break
            made.append(Asked(need, "warm-up", SURE))
        return made

    def first_day(self) -> list[Asked]:
        """A first match within two minutes, four drills, and a match again at the end.

        Both matches, and what comes before the first, are easy.
        """
        kinds = [kind for kind in FIRST_DAY if kind in self.by_kind]
        if len(kinds) < 2:
            return []
        laying = kinds[-1]
        count = max(1, round(self.budget / MATCH_EVERY_S))
        early = self.budget >= WHOLE * MATCH_EVERY_S
        left = self.budget - (count + early) * self.cost[laying]
        queues = {kind: list(self.by_kind[kind]) for kind in (*kinds[:-1], laying)}
        for queue in queues.values():
            self.rng.shuffle(queue)
        first: list[Asked] = []
        for kind in FIRST_OF_ALL if early else ():
            if queues.get(kind):
                part: Part = "match" if kind == laying else "warm-up"
                first.append(Asked(queues[kind].pop(0), part, SURE))
                left -= self.cost[kind] if kind != laying else 0.0
        made: list[Asked] = []
        while left > 0 and any(queues[kind] for kind in kinds[:-1]):
            part = "mixed" if made else "warm-up"
            for kind in kinds[:-1]:
                many = FIRST_RUN if part == "warm-up" else LEAST_RUN
                some, queues[kind] = queues[kind][:many], queues[kind][many:]
                aim = SURE if part == "warm-up" else USUAL
                made += [Asked(need, part, aim) for need in some]
                left -= len(some) * self.cost[kind]
                part = "mixed"
                if left <= 0:
                    break
        last = [Asked(need, "match", SURE) for need in queues[laying][:count]]
        return [*first, *made, *last]
