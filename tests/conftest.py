"""What every test stands on."""

from __future__ import annotations

import os

import pytest


@pytest.fixture(autouse=True)
def quick_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave out waiting for the disk: only a power cut could tell, and no test makes one.

    Processes that tests start wait as the coach does.
    """
    monkeypatch.setattr(os, "fsync", lambda _: None)
