"""What every test stands on."""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, settings

# How long an example takes hangs on what else the machine does, so nothing is judged by it.
settings.register_profile(
    "same",
    derandomize=True,
    database=None,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile(
    "explore", deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=True
)
# pytest's --hypothesis-profile goes before this: it is read once this file has been.
settings.load_profile("same")


@pytest.fixture(autouse=True)
def quick_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave out waiting for the disk: only a power cut could tell, and no test makes one.

    Processes that tests start wait as the coach does.
    """
    monkeypatch.setattr(os, "fsync", lambda _: None)
