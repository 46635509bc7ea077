"""``coach serve``, asked as strangers and pages would ask it."""

from __future__ import annotations

import asyncio
import json
import socket
from collections.abc import Iterator
from pathlib import Path

import aiohttp
import pytest
from click.testing import CliRunner

from coach.cli import cli
from scores.record.record import Record
from tests.pseudo_terminal import WAIT_S
from tests.serving.served import Server, alive, furnish, page, serving

NO_MESSAGES = (
    *("", "[", "1", "null", "[" * 5000, '["stdin", 1]', '["resize"]'),
    '["resize", {"width": 1e999, "height": "x"}]',
    '["stdin", "\\ud800\\u001b[1114112u"]',
)


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("home")
    furnish(folder)
    return folder


@pytest.fixture(scope="module")
def server(home: Path) -> Iterator[Server]:
    with serving(home) as running:
        yield running


async def status(server: Server, path: str, **headers: str) -> int:
    async with (
        aiohttp.ClientSession() as session,
        session.get(f"http://{server.host}{path}", headers=headers) as answer,
    ):
        return answer.status


async def test_page_and_socket_want_key_host_and_origin(server: Server) -> None:
    here, ours = f"/{server.key}/", f"http://{server.host}"
    assert await status(server, here) == 200
    assert await status(server, "/") == 403
    assert await status(server, "/static/js/textual.js") == 403
    assert await status(server, here, Host="elsewhere.example") == 403
    assert await status(server, here, Origin="http://elsewhere.example") == 403
    for headers in ({}, {"Origin": "http://elsewhere.example"}, {"Origin": ours, "Host": "a.b"}):
        with pytest.raises(aiohttp.WSServerHandshakeError, match="403"):
            async with (
                aiohttp.ClientSession() as session,
                session.ws_connect(f"ws://{server.host}{here}ws", headers=headers),
            ):
                pass
    assert server.apps() == []


async def test_the_page_may_fetch_from_here_alone_and_stand_in_no_other(server: Server) -> None:
    async with aiohttp.ClientSession() as session, session.get(server.address) as answer:
        policy = answer.headers["Content-Security-Policy"]
        text = await answer.text()
    allowed = {word for rule in policy.split(";") for word in rule.split()[1:]}
    ours = {f"http://{server.host}", f"ws://{server.host}"}
    assert allowed - {"'none'", "'unsafe-inline'", "data:"} == ours
    assert "default-src 'none'" in policy
    assert "frame-ancestors 'none'" in policy
    assert {word for word in text.split('"') if "//" in word} == {
        f"ws://{server.host}/{server.key}/ws"
    }


async def test_it_listens_on_this_machine_alone(server: Server) -> None:
    lines = Path("/proc/net/tcp").read_text().splitlines()[1:]
    listening = [line.split()[1] for line in lines if line.split()[3] == "0A"]
    assert f"0100007F:{server.port:04X}" in listening
    assert f"00000000:{server.port:04X}" not in listening


async def test_what_is_no_message_of_a_page_does_no_harm(server: Server) -> None:
    async with page(server) as tab:
        await tab.until("skills met")
        for said in NO_MESSAGES:
            await tab.socket.send_str(said)
        await tab.socket.send_bytes(b"\xff\x00")
        await tab.press("?")
        await tab.until("choose; in an ordering")


async def test_two_tabs_answer_into_one_record(server: Server, home: Path) -> None:
    async with page(server) as one, page(server) as two:
        for tab in (one, two):
            await tab.until("skills met")
            await tab.until("· question 1 ", "\r")
        for number in (2, 3):
            for tab in (one, two):
                await tab.until("Enter next", "1")
            for tab in (one, two):
                await tab.until(f"· question {number} ", "\r")
    record = Record.open(home / "record.db")
    try:
        assert record.count() == 4
        assert record.replay() == record.skills()
    finally:
        record.close()


async def test_a_page_that_goes_takes_its_app_with_it(server: Server) -> None:
    async with page(server) as tab:
        await tab.until("skills met")
        apps = server.apps()
    async with asyncio.timeout(WAIT_S):
        while any(map(alive, apps)):
            assert await status(server, "/") == 403


async def test_several_learners_are_asked_who_they_are(tmp_path: Path) -> None:
    furnish(tmp_path)
    furnish(tmp_path / "learners" / "Wren")
    with serving(tmp_path) as server:
        async with page(server) as tab:
            await tab.until("Wren")
            await tab.press("\r")
            await tab.until("skills met")
            await tab.until("choose; in an ordering", "?")


async def test_leaving_the_app_closes_the_page(server: Server) -> None:
    async with page(server) as tab:
        await tab.until("skills met")
        await tab.press("q")
        async with asyncio.timeout(WAIT_S):
            while not tab.socket.closed:
                await tab.socket.receive()


async def test_ctrl_c_ends_the_server_and_every_app(tmp_path: Path) -> None:
    furnish(tmp_path)
    with serving(tmp_path) as server:
        async with page(server) as tab:
            await tab.until("skills met")
            apps = server.apps()
            assert len(apps) == 1
            assert await asyncio.to_thread(server.end) == 0
        assert not any(map(alive, apps))


async def test_a_server_that_is_killed_takes_its_apps_with_it(tmp_path: Path) -> None:
    furnish(tmp_path)
    with serving(tmp_path) as server:
        async with page(server) as tab:
            await tab.until("skills met")
            (app,) = server.apps()
            server.process.kill()
            server.process.wait()
        async with asyncio.timeout(WAIT_S):
            while alive(app):
                await asyncio.to_thread(json.dumps, 0)


def test_a_port_that_is_taken_is_one_line(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        done = CliRunner().invoke(cli, ["serve", "--port", port])
    assert f"port {port}" in str(done.exception)
    assert "Take another" in str(done.exception)


def test_the_network_is_let_in_only_after_what_it_means_is_agreed_to() -> None:
    done = CliRunner().invoke(cli, ["serve", "--network"], input="n\n")
    assert done.exit_code == 1
    assert "unencrypted" in done.output
    assert "http://" not in done.output
