"""Opening the app: is there a terminal, is the record sound, then the first screen."""

from __future__ import annotations

import asyncio
import gc
import os
import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING

from coach.running.faults import said
from coach.terminal import colour_depth, has_terminal, in_browser

if TYPE_CHECKING:
    from coach.app import CoachApp
    from scores.record.record import Record

GRACE_S = 1.0
"""How long an orderly end may take once the system has asked for it."""
STEP_S = 0.2
"""How long each last step may take after that."""


def open_app(drill: str = "") -> None:
    """Run the app and exit with its status; without a terminal say so in one line, status 2.

    ``drill`` is the name of a drill to begin with, alone.
    """
    if not (in_browser() or has_terminal()):
        sys.exit(
            said("this needs a terminal to draw in; run it there, or try: coach read '#c33935'")
        )
    if not in_browser() and os.environ.get("TERM") == "dumb":
        sys.exit(
            said(
                "this terminal (TERM=dumb) can't place words on a screen; take another, or try:"
                " coach serve"
            )
        )
    depth = colour_depth()
    # What is made until the first screen stands stays; going through it for garbage meanwhile
    # takes one part in fifteen of the start. ``CoachApp.make_ready`` begins it.
    gc.disable()
    import tempfile
    from pathlib import Path

    from coach.home import data_dir
    from coach.learners import chosen, known_learners

    if not chosen() and len(learners := known_learners(data_dir())) > 1:
        from coach.running.who import ask_who

        if not ask_who(learners):
            return

    from coach.app import CoachApp
    from coach.app_state import AppState
    from coach.clock import local_now
    from coach.home import record_path
    from scores.record.record import Record

    record, notice = Record.open_mended(record_path(), local_now())
    folders = (record.path.parent, Path(tempfile.gettempdir()))
    app = CoachApp(
        AppState(record, depth, notice=notice.text if notice else "", draft_folders=folders),
        drill,
    )
    try:
        with told_to_end(app, record):
            asyncio.run(_run(app, record))
    finally:
        record.close()


async def _run(app: CoachApp, record: Record) -> None:
    """Run the app, then end the process without waiting for its threads.

    What they work out is wanted no more, and they may need seconds; nothing but this
    loop writes to the record.
    """
    await app.run_async()
    await asyncio.to_thread(app.let_go, GRACE_S)
    record.close()
    status = app.return_code or 0
    if app.fault is not None:
        from coach.running.faults import tell_fault

        status = tell_fault(app.fault)
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError):
            stream.flush()
    os._exit(status)


@contextmanager
def told_to_end(app: CoachApp, record: Record) -> Iterator[None]:
    """While it runs: told to end (a closed window, a shutdown), the app gives the terminal back.

    Where that takes longer than ``GRACE_S`` (a thread is at work, the terminal takes no
    output) the process ends all the same, its record closed.
    """

    def end(number: int, _: object) -> None:
        if app._loop is not None:
            app._loop.call_soon_threadsafe(app.exit, None, 128 + number)
        last = threading.Timer(GRACE_S, end_at_once, (app, record, 128 + number))
        last.daemon = True
        last.start()

    before = {}
    for name in ("SIGHUP", "SIGTERM"):
        number = getattr(signal, name, None)
        if number is not None:
            before[number] = signal.signal(number, end)
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def end_at_once(app: CoachApp, record: Record, status: int) -> None:
    """End the process now; give back the terminal and close the record if that is quick."""
    driver = app._driver
    app.let_go(STEP_S)
    for last_step in (record.close, *([driver.stop_application_mode] if driver else [])):
        step = threading.Thread(target=last_step, daemon=True)
        step.start()
        step.join(STEP_S)
    os._exit(status)
