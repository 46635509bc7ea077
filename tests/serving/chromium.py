"""A headless Chromium, driven by its remote debugging protocol; nothing of it is kept."""

from __future__ import annotations

import asyncio
import base64
import io
import os
import re
import shutil
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl, urlsplit

import aiohttp
from PIL import Image

from tests.pseudo_terminal import WAIT_S
from tests.serving.served import AGAIN_S, Screen

PROGRAM = shutil.which("chromium") or shutil.which("chromium-browser")
OPTIONS = (
    *("--headless", "--no-sandbox", "--no-first-run", "--disable-gpu", "--disable-dev-shm-usage"),
    *("--force-color-profile=srgb", "--hide-scrollbars", "--remote-debugging-port=0"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)
NAMED_KEYS = {"Enter": (13, "\r"), "Escape": (27, "")}


class Tab:
    """One tab: its page, what it asked for, and what its sockets received."""

    def __init__(self, socket: aiohttp.ClientWebSocketResponse) -> None:
        self.asked: list[str] = []
        """Every address that the page asked for."""
        self.complaints: list[str] = []
        """What its console told of as an error."""
        self.screen = Screen(80, 24)
        """What the app has drawn, read from what the page's socket received."""
        self._socket = socket
        self._number = 0
        self._answers: dict[int, asyncio.Future[dict[str, Any]]] = {}
        self._heard = asyncio.Event()

    async def listen(self) -> None:
        async for message in self._socket:
            said = message.json()
            if "id" in said:
                self._answers.pop(said["id"]).set_result(said)
                continue
            told = said.get("params", {})
            match said["method"]:
                case "Network.requestWillBeSent":
                    self.asked.append(told["request"]["url"])
                case "Network.webSocketCreated":
                    self.asked.append(told["url"])
                    size = dict(parse_qsl(urlsplit(told["url"]).query))
                    self.screen = Screen(int(size.get("width", 80)), int(size.get("height", 24)))
                case "Network.webSocketFrameReceived" if told["response"]["opcode"] == 2:
                    self.screen.feed(base64.b64decode(told["response"]["payloadData"]))
                case "Log.entryAdded" if told["entry"]["level"] == "error":
                    self.complaints.append(told["entry"]["text"])
                case "Runtime.exceptionThrown":
                    self.complaints.append(str(told["exceptionDetails"]))
            self._heard.set()

    async def call(self, method: str, **params: Any) -> dict[str, Any]:
        self._number += 1
        answer = self._answers[self._number] = asyncio.get_running_loop().create_future()
        await self._socket.send_json({"id": self._number, "method": method, "params": params})
        said = await asyncio.wait_for(answer, WAIT_S)
        assert "error" not in said, said
        result: dict[str, Any] = said["result"]
        return result

    async def value(self, expression: str) -> Any:
        """What an expression is in the page; a promise's once it is kept."""
        said = await self.call(
            "Runtime.evaluate", expression=expression, returnByValue=True, awaitPromise=True
        )
        assert "exceptionDetails" not in said, said
        return said["result"].get("value")

    async def press(self, key: str) -> None:
        """One key, as from a keyboard: pressed and let go."""
        code, text = NAMED_KEYS[key] if key in NAMED_KEYS else (ord(key.upper()), key)
        named = {"key": key, "windowsVirtualKeyCode": code}
        await self.call("Input.dispatchKeyEvent", type="keyDown", text=text, **named)
        await self.call("Input.dispatchKeyEvent", type="keyUp", **named)

    async def until(self, *words: str, key: str = "") -> None:
        """Wait until any of these words is drawn, pressing ``key`` whenever nothing comes."""

        def drawn() -> bool:
            return any(these in self.screen.text for these in words)

        await self.until_seen(drawn, repr(words), key)

    async def until_seen(self, seen: Callable[[], bool], what: str, key: str = "") -> None:
        """Wait until ``seen()``, looking whenever the page receives something."""
        try:
            async with asyncio.timeout(WAIT_S):
                while not seen():
                    self._heard.clear()
                    try:
                        await asyncio.wait_for(self._heard.wait(), AGAIN_S)
                    except TimeoutError:
                        if key:
                            await self.press(key)
        except TimeoutError:
            raise AssertionError(f"no {what} in:\n{self.screen.text}") from None

    async def picture(self) -> Image.Image:
        """What the tab shows, pixel by pixel, once all that was received is painted."""
        frames = "new Promise(r => requestAnimationFrame(() => requestAnimationFrame(r)))"
        await self.value(f"{frames}.then(() => 0)")
        shot = await self.call("Page.captureScreenshot", format="png")
        return Image.open(io.BytesIO(base64.b64decode(shot["data"]))).convert("RGB")


@asynccontextmanager
async def chromium(folder: Path, width: int = 1000, height: int = 700) -> AsyncIterator[Tab]:
    """A browser with one empty tab, its profile in ``folder``."""
    assert PROGRAM is not None
    process = await asyncio.create_subprocess_exec(
        *(PROGRAM, *OPTIONS, f"--user-data-dir={folder / 'profile'}"),
        *(f"--window-size={width},{height}", "about:blank"),
        stdout=asyncio.subprocess.DEVNULL,
        stderr=asyncio.subprocess.PIPE,
        env={**os.environ, "HOME": str(folder)},
    )
    try:
        assert process.stderr is not None
        found = None
        while found is None:
            line = (await asyncio.wait_for(process.stderr.readline(), WAIT_S)).decode()
            assert line, "the browser ended at once"
            found = re.search(r"listening on ws://([\d.:]+)/", line)
        async with aiohttp.ClientSession() as session:
            async with session.get(f"http://{found[1]}/json/list") as answer:
                (tab,) = [tab for tab in await answer.json() if tab["type"] == "page"]
            url = tab["webSocketDebuggerUrl"]
            async with session.ws_connect(url, max_msg_size=0) as socket:
                driven = Tab(socket)
                listening = asyncio.create_task(driven.listen())
                for domain in ("Network", "Page", "Log", "Runtime"):
                    await driven.call(f"{domain}.enable")
                yield driven
                listening.cancel()
    finally:
        process.terminate()
        await process.wait()
