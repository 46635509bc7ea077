"""The class report: one page, nothing fetched, nothing run, every stranger's text escaped."""

from __future__ import annotations

import re
import shutil
import subprocess
from dataclasses import replace
from datetime import UTC, datetime
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.reports.classes.heat import GREYS, heat
from coach.reports.classes.page import page, report_of
from scores.classes.standing_lines import SkillLevel, Standing
from scores.classes.store import ClassBook
from tests.classes import DECK, attempts, class_of, read, results_file

MADE = datetime(2026, 4, 1, 12, tzinfo=UTC)
TITLES = {"value": "Lighter or darker", "hue-and-lean": "Hue family and lean"}
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
HOSTILE = (
    "<script>alert(1)</script>",
    '"><img src=x onerror=a>',
    "</style><b>bold</b>",
    "&lt;b&gt; &amp; '",
    "]]><!-- --> {{7*7}}",
    "=HYPERLINK(1)",
)
VOID = {"meta", "path", "br"}
ALLOWED = {
    *("html", "head", "meta", "title", "style", "body", "h1", "h2", "p", "ul", "li", "table"),
    *("thead", "tbody", "tr", "th", "td", "figure", "figcaption", "svg", "path", "text"),
}


class Looks(HTMLParser):
    """Reads a page strictly: known elements alone, each closed, nothing that fetches or runs."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert tag in ALLOWED, tag
        for name, value in attrs:
            assert not name.startswith("on"), name
            assert name not in {"src", "href", "xlink:href", "action", "style"}, name
            assert "url(" not in (value or "")
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag not in VOID:
            assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def look(text: str) -> str:
    """The page's text, after a strict reading."""
    looks = Looks()
    looks.feed(text)
    looks.close()
    assert looks.open == []
    return "\n".join(looks.text)


def named_class(path: Path, *names: str) -> ClassBook:
    """A class whose three students, deck and target have names of strangers."""
    deck = replace(DECK, title=names[0], author=names[-1])
    mine = attempts(
        "Wren",
        range(30),
        facts={"named": names[-1], "key": ["violet", "squarely"]},
        answers=(("blue",), ("squarely",)),
    )
    book = class_of(path, results_file("Wren", mine, deck, name=names[0][:40]))
    for student, name in (("Rail", names[-1]), ("Teal", "Teal")):
        data = results_file(student, attempts(student, range(12)), deck, name=name[:40])
        book.add(read(data), "f")
    book.expect(["Dipper", *(name[:40] for name in names)])
    return book


def report(book: ClassBook, deck: str = "") -> str:
    return page(report_of(book, {}, deck), MADE, TITLES, "0.1.0")


@pytest.mark.parametrize("name", HOSTILE)
def test_strangers_texts_are_shown_as_text(name: str, tmp_path: Path):
    text = report(named_class(tmp_path / "class.db", name, name[::-1]), DECK.fingerprint)
    seen = look(text)
    assert name[:28] in seen.replace("…", "")
    assert name in seen
    assert "alert(1)</script" not in text


words = st.text(
    st.characters(exclude_categories=("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")), min_size=1
).filter(lambda text: " ".join(text.split()) == text and len(text) <= 40)


@settings(max_examples=25, deadline=None)
@given(st.lists(words | st.sampled_from(HOSTILE), min_size=2, max_size=2))
def test_whatever_the_names_the_page_is_sound(names: list[str]):
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        book = named_class(Path(folder) / "class.db", *names)
        look(report(book))
        book.close()


def test_it_says_who_needs_what_and_what_the_figures_are(tmp_path: Path):
    seen = look(report(named_class(tmp_path / "class.db", "Greens", "Moss"), DECK.fingerprint))
    for part in (
        "Greens",
        "6 a day for 3 days, due 9 March 2026",
        "3 students, 54 answers",
        "Not begun (1)",
        "Dipper",
        "the students’ own word",
        "find damage, not cheating",
        "Nothing beyond what neighbouring families are always confused by.",
        "not known yet; ask next: Lighter or darker, violet",
        "Lighter or darker, violet",
        "no test of colour vision",
    ):
        assert part in seen, part
    # Moss is a student with answers, so not among those who have not begun.
    assert "Moss" not in seen[seen.index("Not begun") : seen.index("Who stands where")]


def test_an_empty_class_makes_a_page_too(tmp_path: Path):
    assert "0 students, 0 answers" in look(report(ClassBook.open(tmp_path / "class.db")))


def test_greys_are_neutral_and_the_shades_differ_without_them():
    assert all(re.fullmatch(r"#(..)\1\1", grey) for grey in GREYS)
    lines = []
    for place in range(5):
        known = {("value", "red"): SkillLevel(0.1 + 0.2 * place, 0.05)}
        numbers = (0.5, 0.5, 0.5, 0.4, 0.6, 9)
        lines.append(Standing(str(place), "x", "on track", *numbers, (), (), (), None, known))
    drawn = ElementTree.fromstring("".join(heat("value", ["red"], lines, "name")))
    fills = [path.get("fill") for path in drawn.iter("path") if path.get("fill") in GREYS]
    assert fills == list(GREYS)
    hatched = [path.get("d") for path in drawn.iter("path") if path.get("stroke-width") == ".8"]
    assert len(hatched) == 4  # the lightest has none
    marks = [len(re.findall("l", str(lines))) for lines in hatched[:3]]
    assert marks == sorted(marks, reverse=True)
    assert [text.text for text in drawn.iter("text")][-5:] == ["10", "30", "50", "70", "90"]


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here")
def test_a_browser_shows_it_prints_it_on_a4_and_runs_nothing(tmp_path: Path):
    text = report(named_class(tmp_path / "class.db", *HOSTILE[:2]), DECK.fingerprint)
    (tmp_path / "report.html").write_text(text, encoding="utf-8")
    address = (tmp_path / "report.html").as_uri()
    base = [str(CHROMIUM), "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run"]
    base.append(f"--user-data-dir={tmp_path / 'browser'}")

    def browse(*words: str) -> str:
        done = subprocess.run(
            [*base, *words, address], capture_output=True, text=True, timeout=120, check=True
        )
        return done.stdout

    shown = browse("--dump-dom")
    assert shown.count("<svg") == text.count("<svg")
    assert "<img" not in shown
    assert "<script" not in shown
    assert "Who stands where" in shown
    browse(f"--print-to-pdf={tmp_path / 'report.pdf'}", "--no-pdf-header-footer")
    boxes = re.findall(
        rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", (tmp_path / "report.pdf").read_bytes()
    )
    # A4 (ISO 216), 210 × 297 mm, in points of 1/72 inch.
    assert boxes
    for width, height in boxes:
        assert float(width) == pytest.approx(210 / 25.4 * 72, abs=1)
        assert float(height) == pytest.approx(297 / 25.4 * 72, abs=1)
    browse(f"--screenshot={tmp_path / 'report.png'}", "--window-size=1000,1400")
    assert (tmp_path / "report.png").stat().st_size > 20_000
