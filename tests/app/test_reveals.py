"""What is told after an answer: a plain sentence first, and all of it in view at 80 × 24."""

from __future__ import annotations

from pathlib import Path

import pytest

from drills.pencils.pencil import PencilSet
from drills.pencils.sets import demo_set, pocket_set
from tests.pilots import KINDS, ready_once
from tests.reveals import SYMBOLS, all_answered, all_shown

TO_COME = {
    *("evenly-between", "make-the-match", "mute-with-complement", "nearest-start"),
    *("order-of-layers", "through-the-cast", "what-is-off"),
}
"""Kinds whose words are still to be made shorter; none may be added."""
PLAIN = [kind for kind in KINDS if kind not in TO_COME]
SETS = pytest.mark.parametrize("pencils", [demo_set(), pocket_set()], ids=["demo", "pocket"])


@SETS
def test_a_verdict_is_a_sentence_without_figures_or_symbols(pencils: PencilSet) -> None:
    for answered in all_answered(ready_once(pencils).palette, range(6), PLAIN):
        verdict = answered.grade.verdict
        assert not SYMBOLS.search(verdict), (answered.kind, verdict)
        assert verdict[0].isupper(), (answered.kind, verdict)
        assert verdict.endswith("."), (answered.kind, verdict)


@SETS
async def test_at_80_by_24_nearly_every_reveal_is_whole_and_what_is_marked_always_in_view(
    tmp_path: Path, pencils: PencilSet
) -> None:
    shown = [one async for one in all_shown(tmp_path, pencils, range(6))]
    assert all(one.marked_in_view for one in shown)
    plain = [one for one in shown if one.answered.kind in PLAIN]
    assert sum(one.whole for one in plain) >= 0.9 * len(plain)
