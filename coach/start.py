"""Opening the app: is there a terminal, is the record sound, then the first screen."""

from __future__ import annotations

import asyncio
import signal
import sys
from contextlib import suppress
from typing import TYPE_CHECKING

import click

from coach.terminal import colour_depth, has_terminal

if TYPE_CHECKING:
    from coach.app import CoachApp


def open_app() -> None:
    """Run the app and exit with its status; without a terminal say so in one line, status 2."""
    if not has_terminal():
        click.echo(
            "coach: this needs a terminal to draw in; run it there, or try: coach read '#c33935'",
            err=True,
        )
        sys.exit(2)
    depth = colour_depth()
    import tempfile
    from pathlib import Path

    from coach.app import CoachApp
    from coach.app_state import AppState, local_now
    from coach.home import record_path
    from scores.record.record import Record

    record, notice = Record.open_mended(record_path(), local_now())
    folders = (record.path.parent, Path(tempfile.gettempdir()))
    app = CoachApp(
        AppState(record, depth, notice=notice.text if notice else "", draft_folders=folders)
    )
    try:
        asyncio.run(_run(app))
    finally:
        record.close()
    sys.exit(app.return_code or 0)


async def _run(app: CoachApp) -> None:
    """Run the app; told to end (a closed window, a shutdown), it gives the terminal back first."""
    loop = asyncio.get_running_loop()
    for name in ("SIGHUP", "SIGTERM"):
        number = getattr(signal, name, None)
        if number is not None:
            # Where the loop can't be told of signals, the system's own ending stays.
            with suppress(NotImplementedError):
                loop.add_signal_handler(number, app.exit, None, 128 + number)
    await app.run_async()
