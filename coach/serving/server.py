"""The server: one page, what it is made of, and the socket that drives the app."""

from __future__ import annotations

import asyncio
import json
import logging
from collections.abc import Awaitable, Callable
from contextlib import suppress
from importlib.resources import files
from pathlib import Path
from string import Template

import textual_serve
from aiohttp import WSMessage, WSMsgType, web

from coach.room import MIDDLE, grey
from coach.serving.app_process import GRACE_S, AppProcess
from coach.serving.gate import Gate

MOST_PAGES = 8
"""Pages open at once; each is an app of its own."""
MOST_BYTES = 1 << 20
"""The longest message from a page: more is no typing and no paste of ours."""
LETTERS_PX = 16
SIDES = (2, 500)
"""The fewest and most cells a side that a page may say it has."""
Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]


def application(gate: Gate) -> web.Application:
    """The page and its socket behind ``gate``; what it is made of comes from this machine."""
    # What a stranger sends is answered, not told of in the terminal.
    logging.getLogger("aiohttp").propagate = False
    logging.getLogger("aiohttp").addHandler(logging.NullHandler())

    @web.middleware
    async def guarded(request: web.Request, handler: Handler) -> web.StreamResponse:
        refusal = gate.refusal(
            request.path,
            request.headers.getall("Host", []),
            request.headers.getall("Origin", []),
            socket=request.path.endswith("/ws"),
        )
        if refusal:
            return web.Response(status=403, text=refusal)
        return await handler(request)

    served = web.Application(middlewares=[guarded])
    open_pages: set[web.WebSocketResponse] = set()

    async def page(request: web.Request) -> web.Response:
        words = Template(_own("page.html")).substitute(
            wall=grey(MIDDLE.wall), ink=grey(MIDDLE.ink), letters=LETTERS_PX,
            socket=f"ws://{request.host}/{gate.key}/ws",
        )  # fmt: skip
        return web.Response(text=words, content_type="text/html")

    async def script(_: web.Request) -> web.Response:
        return web.Response(text=_own("page.js"), content_type="text/javascript")

    async def socket(request: web.Request) -> web.StreamResponse:
        if len(open_pages) >= MOST_PAGES:
            return web.Response(status=503, text="Too many pages are open. Close one first.")
        return await _drive(request, open_pages)

    async def close_pages(_: web.Application) -> None:
        await asyncio.gather(*(socket.close(code=1001) for socket in tuple(open_pages)))

    async def headers(request: web.Request, response: web.StreamResponse) -> None:
        here = f"http://{request.host}"
        socket = f"ws://{request.host}"
        response.headers.update(
            {
                "Content-Security-Policy": (
                    f"default-src 'none'; script-src {here}; style-src {here} 'unsafe-inline';"
                    f" font-src {here}; connect-src {here} {socket}; img-src {here} data:;"
                    " base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
                ),
                "Referrer-Policy": "no-referrer",
                "X-Content-Type-Options": "nosniff",
                "Cross-Origin-Opener-Policy": "same-origin",
                "Cross-Origin-Resource-Policy": "same-origin",
                "Cache-Control": "no-store",
            }
        )

    served.router.add_get(f"/{gate.key}/", page)
    served.router.add_get(f"/{gate.key}/page.js", script)
    served.router.add_get(f"/{gate.key}/ws", socket)
    served.router.add_static(f"/{gate.key}/static", Path(textual_serve.__file__).parent / "static")
    served.on_response_prepare.append(headers)
    served.on_shutdown.append(close_pages)
    return served


def _own(name: str) -> str:
    return files("coach.serving").joinpath(name).read_text(encoding="utf-8")


async def _drive(
    request: web.Request, open_pages: set[web.WebSocketResponse]
) -> web.StreamResponse:
    """Run one app for one page, until either goes."""
    socket = web.WebSocketResponse(heartbeat=15, max_msg_size=MOST_BYTES)
    await socket.prepare(request)
    open_pages.add(socket)
    app = AppProcess(socket)
    try:
        await app.start(
            _side(request.query.get("width"), 80), _side(request.query.get("height"), 24)
        )
        async for message in socket:
            await _hand_on(message, app, socket)
    finally:
        open_pages.discard(socket)
        await app.stop()
    return socket


async def _hand_on(message: WSMessage, app: AppProcess, socket: web.WebSocketResponse) -> None:
    """Hand the app what the page says; what is not of the page's own making is dropped."""
    if message.type != WSMsgType.TEXT:
        return
    try:
        said = json.loads(message.data)
    except (ValueError, RecursionError):
        return
    match said:
        case ["stdin", str(typed)]:
            await app.send_bytes(typed.encode(errors="replace"))
        case ["resize", {"width": width, "height": height}]:
            await app.set_terminal_size(_side(width, 80), _side(height, 24))
        case ["ping", str(when)]:
            with suppress(ConnectionError):
                await socket.send_json(["pong", when[:40]])
        case ["focus"]:
            await app.focus()
        case ["blur"]:
            await app.blur()


def _side(said: object, otherwise: int) -> int:
    """A count of cells that a page says, within reason."""
    try:
        cells = int(said) if isinstance(said, int | str) else otherwise
    except ValueError:
        return otherwise
    return max(SIDES[0], min(SIDES[1], cells))


async def serve(
    make_gate: Callable[[int], Gate],
    host: str,
    port: int,
    told: Callable[[Gate], None],
    ended: asyncio.Event,
) -> None:
    """Serve until ``ended``, then end every page and its app.

    ``port`` 0 takes a free one; ``told`` is called once requests are answered. Raises OSError
    where the port can't be had.
    """
    import socket

    listening = socket.create_server((host, port))
    gate = make_gate(listening.getsockname()[1])
    runner = web.AppRunner(application(gate), access_log=None, shutdown_timeout=GRACE_S + 2)
    await runner.setup()
    try:
        await web.SockSite(runner, listening).start()
        told(gate)
        await ended.wait()
    finally:
        await runner.cleanup()
