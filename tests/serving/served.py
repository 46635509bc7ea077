"""``coach serve`` in a process of its own, and a page's socket without a browser."""

from __future__ import annotations

import asyncio
import os
import re
import signal
import subprocess
import sys
from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager, contextmanager
from pathlib import Path

import aiohttp
import pyte

from coach.clock import local_now
from drills.pencils.file import to_csv
from drills.pencils.sets import pocket_set
from scores.record.record import Record
from tests.pilots import KINDS, MORNING, without_examples
from tests.pseudo_terminal import ROOT, WAIT_S, surroundings

DRILL = "lighter-or-darker"
AGAIN_S = 0.2
"""After so long without an answer a key is pressed again: it may have been typed ahead."""


def furnish(home: Path) -> None:
    """A home where the pocket set is in use and one quick drill is asked, for a minute."""
    home.mkdir(parents=True, exist_ok=True)
    pencils = pocket_set()
    record = Record.open(home / "record.db")
    record.put_pencils(pencils.fingerprint, pencils.name, to_csv(pencils), MORNING)
    record.set_setting("minutes", 1)
    record.set_setting("kinds_off", [kind for kind in KINDS if kind != DRILL])
    without_examples(record, local_now())
    record.close()


class Server:
    """A running ``coach serve`` and the address it printed."""

    def __init__(self, home: Path, *options: str) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "coach", "serve", *options],
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            cwd=ROOT,
            env=surroundings(home, TERM="dumb", COLORTERM=None, NO_COLOR="1"),
        )
        self.said = ""
        assert self.process.stdout is not None
        while not (found := re.search(r"http://127\.0\.0\.1:(\d+)/([\w-]+)/\n", self.said)):
            line = self.process.stdout.readline()
            assert line, self.said
            self.said += line
        self.port, self.key = int(found[1]), found[2]

    @property
    def host(self) -> str:
        return f"127.0.0.1:{self.port}"

    @property
    def address(self) -> str:
        return f"http://{self.host}/{self.key}/"

    def apps(self) -> list[int]:
        """The processes that the server has started and that still are."""
        task = Path(f"/proc/{self.process.pid}/task/{self.process.pid}/children")
        return [int(pid) for pid in task.read_text().split()]

    def end(self) -> int:
        """As Ctrl+C does; its exit status."""
        self.process.send_signal(signal.SIGINT)
        return self.process.wait(WAIT_S)


@contextmanager
def serving(home: Path, *options: str) -> Iterator[Server]:
    server = Server(home, *options)
    try:
        yield server
    finally:
        if server.process.poll() is None:
            server.process.kill()
        server.process.wait()
        assert server.process.stdout is not None
        server.process.stdout.close()


class Page:
    """What a page would show, read from its socket."""

    def __init__(self, socket: aiohttp.ClientWebSocketResponse) -> None:
        self.socket = socket
        self.screen = Screen(80, 24)

    async def press(self, keys: str) -> None:
        await self.socket.send_json(["stdin", keys])

    async def until(self, words: str, keys: str = "") -> None:
        """Read until these words stand there, pressing ``keys`` whenever nothing more comes."""
        async with asyncio.timeout(WAIT_S):
            while words not in self.screen.text:
                try:
                    message = await self.socket.receive(AGAIN_S)
                except TimeoutError:
                    if keys:
                        await self.press(keys)
                    continue
                assert message.type in (aiohttp.WSMsgType.BINARY, aiohttp.WSMsgType.TEXT), message
                if message.type == aiohttp.WSMsgType.BINARY:
                    self.screen.feed(message.data)


class Screen(pyte.Screen):
    """What an app has drawn, with its colours."""

    def __init__(self, columns: int, lines: int) -> None:
        super().__init__(columns, lines)
        self._stream = pyte.ByteStream(self)
        self._stream.use_utf8 = True

    def report_device_status(self, mode: int, **kwargs: object) -> None:
        super().report_device_status(mode)

    def feed(self, data: bytes) -> None:
        self._stream.feed(data.replace(b"\x1b[>", b"\x1b[?"))

    @property
    def text(self) -> str:
        return "\n".join(self.display)


@asynccontextmanager
async def page(server: Server) -> AsyncIterator[Page]:
    """A page's socket, opened as the page itself does."""
    url = f"ws://{server.host}/{server.key}/ws?width=80&height=24"
    origin = f"http://{server.host}"
    async with (
        aiohttp.ClientSession() as session,
        session.ws_connect(url, headers={"Origin": origin}) as socket,
    ):
        yield Page(socket)


def alive(pid: int) -> bool:
    """Whether a process runs."""
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True
