"""The pages in a real browser's PDF: as many sheets, and every word inside them."""

from __future__ import annotations

import re
import shutil
import subprocess
from html import unescape
from pathlib import Path

import pytest

from coach.reports.printed import document
from coach.reports.printed.flow import MARGIN
from drills.sheets.layout import LETTER
from tests.printed.test_plan_page import ODD, page_of, said

BROWSER = next(
    filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None
)
READER = shutil.which("pdftotext")
MM = 25.4 / 72.0


@pytest.mark.skipif(not (BROWSER and READER), reason="no browser or no PDF reader is installed")
def test_nothing_is_cut_when_it_is_printed(tmp_path: Path) -> None:
    assert BROWSER
    assert READER
    pages = page_of(LETTER, *ODD, odd=True)
    source, printed = tmp_path / "page.html", tmp_path / "page.pdf"
    source.write_text(document.html("plans", LETTER, pages), encoding="utf-8")
    subprocess.run(
        [BROWSER, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
         f"--user-data-dir={tmp_path / 'browser'}", f"--print-to-pdf={printed}", source.as_uri()],
        check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    boxes = subprocess.run(
        [READER, "-bbox", str(printed), "-"], check=True, capture_output=True, text=True
    ).stdout
    sheets = re.findall(r'<page width="([\d.]+)" height="([\d.]+)">', boxes)
    assert len(sheets) == len(pages)
    assert {(round(float(w) * MM), round(float(h) * MM)) for w, h in sheets} == {(216, 279)}
    words = re.findall(
        r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">([^<]*)', boxes
    )
    for left, top, right, foot, _ in words:
        assert float(left) * MM > MARGIN - 1.0
        assert float(right) * MM < LETTER.width - MARGIN + 1.0
        assert float(top) * MM > MARGIN - 1.0
        assert float(foot) * MM < LETTER.height - MARGIN + 2.0
    # The reader takes lines beside each other in an order of its own, and knows no letter that
    # this machine has no font for.
    read = "".join(unescape(word) for *_, word in words)
    assert sorted(filter(str.isascii, read)) == sorted(filter(str.isascii, said(pages)))
