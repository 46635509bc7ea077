"""What came on paper: kept as no drill's answer, told by periods, asked for once a week."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from coach.learned import patches_of
from coach.reports.progress_figures import figures
from coach.reports.progress_json import figures_json
from coach.reports.progress_page import page as html
from coach.reports.progress_words import page
from coach.session.on_paper import Given, Laid, keep, paper_attempt, patch_of
from coach.session.unsaved import Unsaved
from drills.hand.patch import MOST_MOVES
from drills.layering import constants as c
from drills.layering.moves import FIRM, LIGHT, Move
from drills.layering.palette import prepare
from drills.pencils.sets import pocket_set
from drills.planning.plan import LikelyMiss
from scores.progress.on_paper import RIGHT_WITHIN, due, finished, graded, periods, results, words
from scores.record.journal.file import Journal
from scores.record.journal.reading import Place
from scores.record.record import Record
from tests.answers import answer

PALETTE = prepare(pocket_set())
DAY = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
TARGET = (40.0, 20.0, 10.0)
MOVES = (Move("lay", 0, LIGHT), Move("lay", 2, FIRM))


@pytest.fixture
def record(tmp_path: Path) -> Record:
    return Record.open(tmp_path / "record.db")


def put(record: Record, off: float, days: float = 0, swatch: str = "", mended: int = 0) -> None:
    """A swatch that came out about ``off`` lighter than the target, ``days`` after ``DAY``."""
    name = swatch or f"s{days}-{off}"
    laid = Laid(TARGET, MOVES, TARGET, LikelyMiss(2.0, 1.0, 5.0), name, mended)
    got = Given((TARGET[0] + off, *TARGET[1:]), 1.5, "by eye")
    record.save(paper_attempt(PALETTE, laid, got, DAY + timedelta(days=days)))


def test_it_is_counted_but_teaches_the_memory_and_the_usual_times_nothing(record: Record) -> None:
    put(record, 5.0)
    record.save(answer(1))
    assert record.count() == 2
    assert not any(skill.startswith("on_paper") for skill in record.skills())
    assert "on_paper" not in record.kind_times()
    before = record.skills()
    assert record.replay() == before
    assert record.rebuild_skills() == before
    assert "on_paper" not in record.kind_times()


def test_what_is_read_back_is_what_was_kept(record: Record) -> None:
    put(record, 5.0)
    (one,) = results(record)
    assert one.target == TARGET
    assert one.got == (45.0, 20.0, 10.0)
    assert one.moves == tuple((m.action, m.pencil, m.pressure) for m in MOVES)
    assert (one.expected, one.doubt, one.how, one.mended) == (2.0, 1.5, "by eye", 0)
    assert one.miss == pytest.approx(4.9, abs=0.8)


def test_a_swatch_that_was_mended_counts_as_it_ended(record: Record) -> None:
    put(record, 12.0, swatch="one")
    put(record, 2.0, swatch="one", mended=1)
    put(record, 12.0, days=0.1, swatch="two")
    assert len(results(record)) == 3
    assert [one.mended for one in finished(results(record))] == [1, 0]
    (told,) = periods(results(record), DAY.date())
    assert told.swatches == 2


def test_the_same_look_kept_twice_counts_once(record: Record) -> None:
    put(record, 5.0, swatch="one")
    put(record, 5.0, swatch="one")
    assert len(results(record)) == 1


def test_a_near_miss_scores_more_than_a_wild_one() -> None:
    scores = [graded(miss)[0] for miss in (0.0, 3.0, 9.0, 25.0)]
    assert scores == sorted(scores, reverse=True)
    assert (scores[0], scores[-1]) == (1.0, 0.0)
    assert [graded(miss)[1] for miss in (RIGHT_WITHIN, RIGHT_WITHIN + 0.1)] == [True, False]


def test_the_last_four_weeks_are_told_beside_the_four_before(record: Record) -> None:
    for day in (0, 1, 2):
        put(record, 9.0, days=day)
    for day in (30, 31):
        put(record, 3.0, days=day)
    today = (DAY + timedelta(days=32)).date()
    told = words(results(record), today)
    now, before = periods(results(record), today)[::-1]
    assert f"about {now.miss:.1f} from the target (2 swatches)" in told
    assert f"up to 6 March about {before.miss:.1f} (3)" in told
    for claim in ("better", "nearer", "improved", "sharper"):
        assert claim not in told


def test_nothing_is_said_of_nothing(record: Record) -> None:
    assert words(results(record), DAY.date()) == ""


def test_paper_is_asked_for_a_week_after_the_first_day_and_then_weekly(record: Record) -> None:
    day = DAY.date()
    assert not due(record, day)
    record.save(answer(1))
    first = record.days()[0].day
    assert not due(record, first + timedelta(days=6))
    assert due(record, first + timedelta(days=7))
    put(record, 5.0, days=10)
    assert not due(record, day + timedelta(days=16))
    assert due(record, day + timedelta(days=17))


def test_progress_shows_it_in_words_json_and_on_the_page(record: Record) -> None:
    put(record, 5.0)
    made = figures(record, DAY + timedelta(days=1))
    said = "\n".join(page(made))
    (one,) = results(record)
    assert "On paper your matches land about" in said
    assert f"{one.miss:4.1f} off; to be expected 2" in said
    (row,) = figures_json(made)["on_paper"]  # type: ignore[misc]
    assert row["miss_delta_e00"] == round(one.miss, 3)  # type: ignore[index]
    assert "<h2>On paper</h2>" in html(made)


@pytest.mark.parametrize(
    "facts", [None, [], {"predicted": "x"}, {"predicted": [1, 2, float("1e400")]}]
)
def test_facts_that_say_nothing_are_left_out(record: Record, facts: object) -> None:
    from dataclasses import replace

    laid = Laid(TARGET, MOVES, TARGET, LikelyMiss(2.0, 1.0, 5.0), "odd")
    made = paper_attempt(PALETTE, laid, Given(TARGET, 1.5, "typed"), DAY)
    try:
        record.save(replace(made, facts=facts))  # type: ignore[arg-type]
    except (ValueError, TypeError):
        return
    assert results(record) == ()


def test_a_patch_is_made_of_layers_that_one_can_learn_from() -> None:
    got = Given(TARGET, 0.0, "typed")
    made = patch_of(MOVES, got)
    assert made is not None
    assert made.sd == c.PATCH_SD, "no reading is surer than a measured patch"
    assert patch_of(MOVES, Given(TARGET, 4.0, "in words")).sd == 4.0  # type: ignore[union-attr]
    assert patch_of((*MOVES, Move("burnish", -1)), got) is None
    assert patch_of(MOVES * (MOST_MOVES // 2 + 1), got) is None
    assert patch_of((), got) is None


def desk(record: Record) -> Any:
    """As much of the app's state as keeping asks for."""
    return SimpleNamespace(
        record=record,
        ready_for=SimpleNamespace(palette=PALETTE),
        clock=lambda: DAY,
        unsaved=Unsaved(record),
    )


def laid() -> Laid:
    return Laid(TARGET, MOVES, TARGET, LikelyMiss(2.0, 1.0, 5.0), "one")


def test_match_and_patch_are_one_write(record: Record, monkeypatch: pytest.MonkeyPatch) -> None:
    """Cut off before it, neither is there; after it, both are, in database and journal."""
    written: list[int] = []
    append = Journal.append

    def counted(journal: Journal, bodies: Sequence[str]) -> Place:
        written.append(len(bodies))
        return append(journal, bodies)

    monkeypatch.setattr(Journal, "append", counted)
    said = keep(desk(record), laid(), Given(TARGET, 1.5, "by eye"), finished=True)
    assert said == "Kept, on paper and for your hand."
    assert written == [2]
    assert len(results(record)) == len(patches_of(record, PALETTE.set)) == 1
    record.close()
    record.path.unlink()
    again, _ = Record.open_mended(record.path, DAY)
    assert len(results(again)) == len(patches_of(again, PALETTE.set)) == 1


def test_where_the_patch_can_t_be_written_the_match_waits_with_it(
    record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    put(record, 1.0)

    def full(*_: object) -> None:
        raise OSError("disk full")

    with monkeypatch.context() as broken:
        broken.setattr(Journal, "append", full)
        state = desk(record)
        said = keep(state, laid(), Given(TARGET, 1.5, "by eye"), finished=True)
    assert said.startswith("Not saved yet")
    # The match is tried again; the patch is not, and that is said.
    assert said.endswith("What it tells of your hand was not kept.")
    assert len(results(record)) == 1
    assert patches_of(record, PALETTE.set) == ()
    assert state.unsaved.save() == ""
    assert len(results(record)) == 2


def test_a_swatch_half_laid_tells_of_the_hand_alone(record: Record) -> None:
    said = keep(desk(record), laid(), Given(TARGET, 1.5, "by eye"), finished=False)
    assert said == "Kept for your hand."
    assert results(record) == ()
    assert len(patches_of(record, PALETTE.set)) == 1
