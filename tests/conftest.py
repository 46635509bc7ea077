"""What holds for every test: how random examples are drawn, and from what; the surroundings.

``steady``, which holds unless another is named, draws the same examples each time and
asks no clock: what passes once passes always. ``explore`` draws new ones at each run:

    python -m pytest -m hypothesis --hypothesis-profile=explore
"""

from __future__ import annotations

import importlib
import os
import pkgutil
import sqlite3
import sys
import time

import pytest
from hypothesis import HealthCheck, settings

# Tests begin in the same surroundings whatever those of the person who runs them; a test
# of others sets its own. Set here, for some of these are read once, when first imported.
_ONE_S_OWN = (
    "COLUMNS",
    "LINES",
    "NO_COLOR",
    "FORCE_COLOR",
    "COLORTERM",
    "COACH_HOME",
    "COACH_LEARNER",
    "TMUX",
    "STY",
    "PYTHONDONTWRITEBYTECODE",
)
for name in tuple(os.environ):
    if name in _ONE_S_OWN or name.startswith(("TEXTUAL", "SSH_", "PYTHONWARN", "LC_")):
        del os.environ[name]
os.environ.update({"TERM": "xterm-256color", "LANG": "C.UTF-8", "TZ": "UTC"})
# Some hundred processes begin here: an installed coach isn't compiled anew each time either.
sys.dont_write_bytecode = False
# A second thread for matrices this small takes a processor from another test.
os.environ.update({"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"})
if hasattr(time, "tzset"):
    time.tzset()

# Of the health checks, too_slow alone is a matter of how busy the machine is.
settings.register_profile(
    "steady",
    derandomize=True,
    database=None,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile(
    "explore",
    derandomize=False,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    print_blob=True,
)
settings.load_profile("steady")


def pytest_collection_finish(session: pytest.Session) -> None:
    """Import the project whole, for hypothesis draws from the constants in what is imported.

    Which modules those are would else hang on which tests came before.
    """
    if not any(item.get_closest_marker("hypothesis") for item in session.items):
        return
    for floor in ("coach", "decks", "scores", "drills"):
        package = importlib.import_module(floor)
        for module in pkgutil.walk_packages(package.__path__, f"{floor}."):
            if not module.name.endswith("__main__"):
                importlib.import_module(module.name)


@pytest.fixture(autouse=True)
def quick_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave out waiting for the disk: only a power cut could tell, and no test makes one.

    Processes that tests start wait as the coach does.
    """
    monkeypatch.setattr(os, "fsync", lambda _: None)


@pytest.fixture(autouse=True)
def empty_record_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each worker makes the tables of an empty record once, and copies them from then on.

    Every migration runs for the first, and always for a record that has tables.
    """
    from scores.record import storage

    monkeypatch.setattr(storage, "migrate", _migrated)


_EMPTY = sqlite3.connect(":memory:", check_same_thread=False)


def _migrated(connection: sqlite3.Connection) -> None:
    from scores.record.migrations import migrate

    tables = "SELECT count(*) FROM sqlite_master"
    if connection.execute(tables).fetchone()[0]:
        migrate(connection)
        return
    if not _EMPTY.execute(tables).fetchone()[0]:
        migrate(connection)
        connection.backup(_EMPTY)
        return
    _EMPTY.backup(connection)
