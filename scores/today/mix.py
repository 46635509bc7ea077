"""How questions are mixed: need first, but no blocks, and kindred colours placed on purpose.

- One kind is never asked three times running, as long as two kinds can be asked at
  all; twice running counts against it.
- The same skill does not come back within ``GAP`` questions (an enforced delay, as
  in Mettler & Kellman 2014), and each time it was asked today counts against it.
- Regions change from one question to the next. Neighbours on the wheel are put
  close on purpose where hue itself is judged, since like things are best told apart
  one after the other (Kang & Pashler 2012, on painters' styles), and kept apart
  elsewhere, where the last colour would prompt the next answer.
- New skills are spread over kinds and regions.
- No kind is left out for long: one not asked for ``WAITS`` days comes once before the
  rest. Quick drills of the eye earn more for their time than slow ones of the hand,
  and would else crowd them out; but an artist needs both.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from datetime import datetime, timedelta

from drills.basics.days import practice_day
from scores.skill.memory import SkillState
from scores.skill.skill_words import WHEEL
from scores.today.need import Need
from scores.today.offers import Offers

AGAIN = 0.6
"""What each time a skill was asked today leaves of its need (tuned, see ``scores.today.need``)."""
GAP = 3
"""Questions before the same skill may come again, as long as others can."""
SAME_KIND, SAME_REGION, APART, CLOSE = 0.85, 0.5, 0.85, 1.1
"""What following its own kind, its own region or a neighbour does to a need: neighbours are
kept apart, or close where hue is judged (our estimates)."""
NEW_KIND, NEW_REGION = 0.9, 0.95
"""What each new skill begun today, beyond the least begun, leaves of the need of others of
its kind, or region."""
HUE_UNIT = "wheel steps"
"""The unit of the kinds that judge hue itself."""
WAITS = 6
"""Practice days after which a kind is owed a question: none goes unseen for a week."""
OWED = 8.0
"""What being owed does to a need: more than any difference in time and weakness."""
UNEVEN = 0.05
"""How much chance may tip a need (standard deviation), so that no two days are alike."""


def kinds_owed(
    skills: Mapping[str, SkillState], offers: Offers, now: datetime, waits: int = WAITS
) -> frozenset[str]:
    """The kinds that can be asked and were not for so many days, or ever."""
    today = practice_day(now)
    since = today - timedelta(days=waits)
    # What a wrong clock dated ahead doesn't count as lately.
    lately = {
        state.kind
        for state in skills.values()
        if state.last_tried is not None
        and since < practice_day(state.last_tried.astimezone(now.tzinfo)) <= today
    }
    return frozenset(kind for kind, _ in offers.pairs) - lately


class Mix:
    """Takes needs one after another. ``recent`` are the kinds just asked, the last one last,
    ``asked`` how often each skill was asked today, and ``kind_again`` what each time a kind was
    asked today leaves of a need."""

    def __init__(
        self,
        needs: Sequence[Need],
        offers: Offers,
        rng: random.Random,
        recent: Sequence[str],
        asked: Mapping[str, int],
        owed: Collection[str] = (),
        kind_again: float = 1.0,
    ) -> None:
        tipped = [
            need._replace(value=need.value * rng.lognormvariate(0.0, UNEVEN)) for need in needs
        ]
        self._needs = sorted(tipped, key=lambda need: -need.value)
        self._hue = {name for name, facts in offers.kinds.items() if facts.unit == HUE_UNIT}
        self._kinds = list(recent[-2:])
        self._region = ""
        self._skills: list[str] = []
        new = [need for need in needs if need.reason == "new"]
        self._begun = Counter(dict.fromkeys(sorted({need.kind for need in new}), 0))
        self._begun_regions = Counter(dict.fromkeys(sorted({n.region for n in new}), 0))
        self.asked: Counter[str] = Counter(asked)
        self._owed = set(owed)
        self._kind_again = kind_again
        self._asked_of = Counter[str]()
        for skill, times in asked.items():
            self._asked_of[skill.partition(":")[0]] += times

    def take(self, need: Need) -> None:
        """The need is met by the next question."""
        if need.reason == "new" and not self.asked[need.skill]:
            self._begun[need.kind] += 1
            self._begun_regions[need.region] += 1
        self.asked[need.skill] += 1
        self._owed.discard(need.kind)
        self._asked_of[need.kind] += 1
        self._kinds = [*self._kinds, need.kind][-2:]
        self._region = need.region
        self._skills = [*self._skills, need.skill][-GAP:]

    def best(self, new: bool, kinds: Collection[str] | None = None) -> Need | None:
        """The need to meet next, ``new`` saying whether it may be a new skill, of ``kinds``
        where they are given; None when there is none at all. The rules are loosened one by
        one where they leave nothing."""
        for gap, quota, blocks in (
            (True, not new, True),
            (False, not new, True),
            (False, False, True),
            (False, False, False),
        ):
            found = self._best(gap, quota, blocks, kinds)
            if found is not None:
                return found
        return None

    def _best(
        self, gap: bool, quota: bool, blocks: bool, kinds: Collection[str] | None
    ) -> Need | None:
        best, most = None, -1.0
        highest = CLOSE * (OWED if self._owed else 1.0)
        for need in self._needs:
            if need.value * highest <= most:
                break
            if kinds is not None and need.kind not in kinds:
                continue
            new = need.reason == "new" and not self.asked[need.skill]
            third = len(self._kinds) == 2 and set(self._kinds) == {need.kind}
            if (blocks and third) or (quota and new) or (gap and need.skill in self._skills):
                continue
            value = need.value * self._fit(need)
            if value > most:
                best, most = need, value
        return best

    def _fit(self, need: Need) -> float:
        fit = AGAIN ** self.asked[need.skill] * (OWED if need.kind in self._owed else 1.0)
        fit *= self._kind_again ** self._asked_of[need.kind]
        if need.reason == "new" and not self.asked[need.skill]:
            ahead = self._begun[need.kind] - min(self._begun.values())
            about = self._begun_regions[need.region] - min(self._begun_regions.values())
            fit *= NEW_KIND**ahead * NEW_REGION**about
        if self._kinds and self._kinds[-1] == need.kind:
            fit *= SAME_KIND
        if need.region == self._region:
            return fit * SAME_REGION
        if need.region in WHEEL and self._region in WHEEL:
            apart = abs(WHEEL.index(need.region) - WHEEL.index(self._region))
            if apart in (1, len(WHEEL) - 1):
                hue = need.kind in self._hue and self._kinds[-1] in self._hue
                fit *= CLOSE if hue else APART
        return fit
