"""One app behind one page: a process of its own that ends when the page or the server does."""

from __future__ import annotations

import asyncio
import os
import sys
from asyncio.subprocess import Process
from contextlib import suppress
from pathlib import Path

from aiohttp.web import WebSocketResponse
from textual_serve.app_service import AppService
from textual_serve.download_manager import DownloadManager

GRACE_S = 3.0
"""How long an app may take to end once it is told to; then it is ended. Answers are on disk."""
PROGRAM = """
import sys
if sys.argv[1] not in sys.path:
    sys.path.insert(0, sys.argv[1])
del sys.argv[1]
from coach.__main__ import main
main()
"""
"""These packages and no others, whatever folder the server was started in."""
NOT_HERE = ("NO_COLOR", "TMUX", "STY", "SSH_CONNECTION", "SSH_TTY", "TEXTUAL")
"""What is said of the terminal that the server runs in; the browser is none of it."""


class AppProcess(AppService):
    """The library's process of an app, started without a shell and ended for certain."""

    def __init__(self, socket: WebSocketResponse) -> None:
        async def write_bytes(data: bytes) -> None:
            # Once the page is gone output goes nowhere, so that the app can still end.
            with suppress(ConnectionError):
                await socket.send_bytes(data)

        async def write_str(text: str) -> None:
            with suppress(ConnectionError):
                await socket.send_str(text)

        async def close() -> None:
            await socket.close()

        super().__init__(
            "coach",
            write_bytes=write_bytes,
            write_str=write_str,
            close=close,
            download_manager=DownloadManager(),
        )

    def _build_environment(self, width: int = 80, height: int = 24) -> dict[str, str]:
        environ = super()._build_environment(width, height)
        for name in NOT_HERE:
            environ.pop(name, None)
        return environ | {"TERM": "xterm-256color", "COLORTERM": "truecolor"}

    async def _open_app_process(self, width: int = 80, height: int = 24) -> Process:
        root = Path(__file__).parents[2]
        self._process = process = await asyncio.create_subprocess_exec(
            *(sys.executable, "-P", "-c", PROGRAM, os.fspath(root)),
            stdin=asyncio.subprocess.PIPE,
            stdout=asyncio.subprocess.PIPE,
            stderr=asyncio.subprocess.PIPE,
            env=self._build_environment(width, height),
            # Ctrl+C on the server is the server's: it then tells its apps to end.
            start_new_session=True,
        )
        self._stdin = process.stdin
        return process

    async def on_meta(self, data: bytes) -> None:
        """Do nothing: an app of ours asks for nothing, and another may follow in its process."""

    async def run(self) -> None:
        """Hand on what the app writes until it ends; then close the page's socket."""
        await super().run()
        await self.remote_close()

    async def stop(self) -> None:
        """End the app, by force where it doesn't end by itself; does nothing once it ended."""
        process, task = self._process, self._task
        if process is None or task is None:
            return
        self._task = None
        try:
            async with asyncio.timeout(GRACE_S):
                await self.send_meta({"type": "quit"})
                await process.wait()
        except TimeoutError:
            with suppress(ProcessLookupError):
                process.kill()
            await process.wait()
        await task
