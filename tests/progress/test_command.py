"""coach progress: the same figures as words, JSON, a page that prints, and a picture."""

from __future__ import annotations

import json
import random
import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner, Result

from coach.cli import cli
from coach.reports.progress_chart import even_ticks, ticks
from coach.reports.progress_figures import Figures, figures
from coach.reports.progress_json import figures_json
from coach.reports.progress_page import page
from coach.reports.progress_words import page as words
from drills.basics.errors import InputError
from scores.progress.answers import MATCH_KIND
from scores.record.record import Record
from scores.record.trials import RETEST
from scores.today.offers import KindFacts, Offers
from tests.answers import START, answer

DAYS = 70
NOW = START + timedelta(days=DAYS)
KINDS = {
    "lighter-or-darker": ((20.0, 0.8), 0.5, "ΔL*", "Lighter or darker"),
    "hue-and-lean": ((0.5, 0.04), 0.25, "wheel steps", "Hue family and lean"),
    MATCH_KIND: ((8.0, 1.5), 0.02, "ΔE00", "Make <the> match & more"),
}
FAMILIES = ("red", "violet", "green")
OFFERS = Offers(
    {k: KindFacts(k, 1, t, 9.0, u, s, c, True) for k, (s, c, u, t) in KINDS.items()},
    tuple((kind, family) for kind in KINDS for family in (*FAMILIES, "yellow")),
)


def practise(record: Record, until: int = DAYS, a_day: int = 12) -> None:
    """Ten weeks in which every threshold falls to a third, with re-tests and matches."""
    rng = random.Random(5)
    record.set_setting("offers", {"pencils": "", "stamp": "", "offers": OFFERS.as_json()})
    for number in range(until * a_day):
        day = number // a_day
        kind = list(KINDS)[number % len(KINDS)]
        steps, chance, unit, _ = KINDS[kind]
        moved = (1 / 3) ** (day / DAYS)
        step = max(steps[1], steps[0] * 0.4 * moved * rng.uniform(0.7, 1.4))
        record.save(
            answer(
                number,
                session=f"{day}",
                kind=kind,
                region=FAMILIES[number // 3 % 3],
                days=day + number % a_day / 500,
                steps=steps,
                chance=chance,
                unit=unit,
                step=step,
                right=rng.random() < 0.82,
                error=6.0 * moved * rng.uniform(0.5, 1.5),
                response_s=8.0,
                deck=RETEST if day % 14 == 10 and number % 2 else "",
            )
        )


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Figures:
    record = Record.open(tmp_path_factory.mktemp("made") / "record.db")
    practise(record)
    found = figures(record, NOW, "3 months")
    record.close()
    return found


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A learner's own folder, with a record of a few days up to now."""
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    record = Record.open(tmp_path / "record.db")
    now = datetime.now(UTC)
    for number in range(90):
        at = now - timedelta(days=number // 10, seconds=number)
        record.save(replace(answer(number), at_utc=at))
    offers = Offers({"value": KindFacts("value", 1, "Value", 5, "ΔL*", (20.0, 1.0), 0.5, True)}, ())
    record.set_setting("offers", {"offers": offers.as_json()})
    record.close()
    return tmp_path


def progress(*given: str) -> Result:
    return CliRunner().invoke(cli, ["progress", *given])


# -- the figures -----------------------------------------------------------------------------


def test_an_eye_that_improved_is_told_so_with_its_interval(made: Figures) -> None:
    course = made.course
    assert course.change is not None
    assert course.change.direction == "finer"
    assert course.change.low < course.change.change < course.change.high < 0
    assert "Your eye sees smaller differences than on 2 March 2026" in "\n".join(words(made))
    assert len(course.retests) == 5


def test_words_json_and_page_tell_the_same_figures(made: Figures) -> None:
    said = figures_json(made)
    text, html = "\n".join(words(made)), page(made)
    assert json.loads(json.dumps(said, allow_nan=False)) == said
    for line in (made.course.eye, *made.course.kinds):
        assert line is not None
        newest = line.points[-1].value
        shown = f"{newest:.2f}" if newest < 1 or line.unit == "× now" else f"{newest:.1f}"
        assert shown in text
        assert shown in html
    assert said["answers"] == DAYS * 12
    told = said["change"]["words"]  # type: ignore[index,call-overload]
    assert " ".join(text.split()).count(str(told)) == 1
    assert told in html
    assert [p["median"] for p in said["matches"]["points"]] == [  # type: ignore[index]
        round(point.median, 3) for point in made.course.matches.points
    ]


def test_every_axis_says_that_smaller_is_better(made: Figures) -> None:
    html = page(made)
    charts = html.count("<polyline")
    assert charts >= 5
    assert html.count("← smaller is better") == charts
    assert "smaller is better" in "\n".join(words(made))


def test_the_words_fit_eighty_columns(made: Figures) -> None:
    assert max(map(len, words(made))) <= 80


def test_a_longer_history_still_fits(tmp_path: Path) -> None:
    record = Record.open(tmp_path / "record.db")
    practise(record, until=30)
    for name in ("2 weeks", "year", "all"):
        found = figures(record, NOW + timedelta(days=300), name)  # type: ignore[arg-type]
        assert max(map(len, words(found))) <= 80
        assert ElementTree.fromstring(_svg(page(found))) is not None


def _svg(html: str) -> str:
    """The page's charts as one XML document."""
    return "<all>" + "".join(re.findall(r"<svg.*?</svg>", html, flags=re.DOTALL)) + "</all>"


# -- the page --------------------------------------------------------------------------------------


def test_the_page_is_whole_by_itself(made: Figures) -> None:
    html = page(made)
    assert "<script" not in html
    assert not re.findall(r"(?:src|href)\s*=", html)
    assert not re.findall(r"https?://(?!www\.w3\.org/2000/svg)", html)
    assert "url(" not in html
    assert "default-src 'none'" in html
    assert "@page" in html


def test_every_element_of_the_page_is_closed(made: Figures) -> None:
    class Balance(HTMLParser):
        def __init__(self) -> None:
            super().__init__()
            self.open: list[str] = []

        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            if tag != "meta":
                self.open.append(tag)

        def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            pass

        def handle_endtag(self, tag: str) -> None:
            assert self.open.pop() == tag

    balance = Balance()
    balance.feed(page(made))
    balance.close()
    assert balance.open == []


def test_the_page_is_in_greys_alone_but_for_what_is_judged(made: Figures) -> None:
    whole = page(made)
    html = re.sub(r'<rect class="judged" fill="#[0-9a-f]{6}"', "", whole)
    assert html != whole
    for red, green, blue in re.findall(r"rgb\((\d+),(\d+),(\d+)\)", html):
        assert red == green == blue
    for value in re.findall(r"#([0-9a-f]{6})\b", html):
        assert value[:2] == value[2:4] == value[4:]
    for value in re.findall(r"#([0-9a-f]{3})\b(?![0-9a-f])", html):
        assert len(set(value)) == 1


def test_names_are_escaped(made: Figures) -> None:
    html = page(made)
    assert "<the>" not in html
    assert "Make &lt;the&gt; match &amp; more" in html


def test_the_picture_is_one_well_formed_svg(home: Path) -> None:
    out = home / "progress.svg"
    result = progress("--svg", str(out))
    assert result.exit_code == 0
    root = ElementTree.parse(out).getroot()
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert not list(root.iter("{http://www.w3.org/2000/svg}script"))


@pytest.mark.parametrize(("low", "high"), [(0.04, 0.5), (0.9, 1.1), (2.0, 21.0), (3.3, 3.31)])
def test_ticks_are_round_and_within(low: float, high: float) -> None:
    found = ticks(low, high)
    assert len(found) >= 2
    assert all(low <= tick <= high for tick in found)


@pytest.mark.parametrize("high", [0.4, 1.0, 7.3, 12.0, 99.0])
def test_even_ticks_begin_at_nought(high: float) -> None:
    found = even_ticks(high)
    assert found[0] == 0.0
    assert 2 <= len(found) <= 5
    assert found[-1] <= high


# -- the command --------------------------------------------------------------------------------


def test_without_options_it_prints_a_page_of_words(home: Path) -> None:
    result = progress()
    assert result.exit_code == 0
    assert result.stdout.startswith("Progress from ")
    assert "90 answers" in result.stdout


def test_the_json_names_its_schema_and_range(home: Path) -> None:
    for name in ("2 weeks", "3 months", "year", "all"):
        said = json.loads(progress("--json", "--range", name).stdout)
        assert (said["schema"], said["range"], said["answers"]) == (2, name, 90)


def test_since_a_day_counts_from_it(home: Path) -> None:
    day = (datetime.now(UTC) - timedelta(days=4)).date().isoformat()
    said = json.loads(progress("--json", "--since", day).stdout)
    assert said["since"] == day
    assert 0 < said["answers"] < 90


@pytest.mark.parametrize("day", ["yesterday", "2026-02-30", "", "\x1b[31m", "9999-01-01"])
def test_a_day_that_is_none_is_one_line(day: str, home: Path) -> None:
    result = progress("--since", day)
    assert isinstance(result.exception, InputError)
    assert "\n" not in str(result.exception)
    assert "\x1b" not in str(result.exception)


def test_a_page_that_can_not_be_written_is_one_line(home: Path) -> None:
    result = progress("--html", str(home / "no" / "such" / "folder.html"))
    assert isinstance(result.exception, InputError)


def test_nothing_is_changed(home: Path) -> None:
    before = (home / "record.db").read_bytes()
    assert progress("--json").exit_code == 0
    assert (home / "record.db").read_bytes() == before


def test_no_record_is_one_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "none"))
    assert isinstance(progress().exception, InputError)
    assert not (tmp_path / "none").exists()


def test_a_new_record_has_nothing_to_show_and_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    record = Record.open(tmp_path / "record.db")
    record.set_setting("minutes", 10)
    record.close()
    result = progress()
    assert result.exit_code == 0
    assert "Nothing has been measured yet" in result.stdout
    assert (
        progress("--html", str(tmp_path / "p.html"), "--svg", str(tmp_path / "p.svg")).exit_code
        == 0
    )
    assert ElementTree.parse(tmp_path / "p.svg") is not None


def test_a_record_damaged_where_progress_looks_is_mended_and_said(home: Path) -> None:
    import sqlite3
    from contextlib import closing

    with closing(sqlite3.connect(home / "record.db")) as db:
        (root,) = db.execute("SELECT rootpage FROM sqlite_master WHERE name = 'trials'").fetchone()
    data = bytearray((home / "record.db").read_bytes())
    data[(root - 1) * 4096 : root * 4096] = random.Random(1).randbytes(4096)
    (home / "record.db").write_bytes(data)
    before = progress("--json")
    assert before.exit_code == 0, before.exception
    assert before.stderr.count("\n") == 1
    assert "made again with" in before.stderr
    after = progress("--json")
    assert after.stderr == ""
    assert after.stdout == before.stdout
