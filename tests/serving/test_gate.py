"""Who is let in: the key, the Host and the Origin of a request, all three."""

from __future__ import annotations

import pytest

from coach.serving.gate import Gate, new_key

KEY = "a-key"
HERE = Gate(KEY, 8123)
NETWORK = Gate(KEY, 8123, network=True, names=("table", "table.local"))
PAGE, SOCKET = f"/{KEY}/", f"/{KEY}/ws"


def test_no_two_keys_are_alike_and_none_can_be_guessed() -> None:
    keys = {new_key() for _ in range(100)}
    assert len(keys) == 100
    assert min(map(len, keys)) >= 32


@pytest.mark.parametrize("host", ["127.0.0.1:8123", "localhost:8123", "LOCALHOST:8123"])
def test_the_page_and_its_socket_are_let_in(host: str) -> None:
    assert HERE.refusal(PAGE, [host], [], socket=False) == ""
    assert HERE.refusal(PAGE, [host], [f"http://{host}"], socket=False) == ""
    assert HERE.refusal(SOCKET, [host], [f"http://{host}"], socket=True) == ""


@pytest.mark.parametrize(
    "path", ["/", "", "/ws", "/b-key/", f"/{KEY}x/", "//", f"/x/{KEY}/", "/é/"]
)
def test_without_the_key_nothing_is_answered(path: str) -> None:
    assert "key" in HERE.refusal(path, ["127.0.0.1:8123"], [], socket=False)


@pytest.mark.parametrize(
    "hosts",
    [
        [],
        [""],
        ["127.0.0.1"],
        ["127.0.0.1:8124"],
        ["elsewhere.example:8123"],
        ["127.0.0.1.elsewhere.example:8123"],
        ["192.168.1.7:8123"],
        ["127.0.0.1:8123", "elsewhere.example:8123"],
    ],
)
def test_another_host_is_refused_though_the_key_is_right(hosts: list[str]) -> None:
    origins = [f"http://{host}" for host in hosts[:1]]
    assert "not the address" in HERE.refusal(SOCKET, hosts, origins, socket=True)


@pytest.mark.parametrize(
    "origins",
    [
        ["http://elsewhere.example"],
        ["null"],
        ["https://127.0.0.1:8123"],
        ["http://127.0.0.1:8124"],
        ["http://localhost:8123"],
        ["http://127.0.0.1:8123", "http://elsewhere.example"],
    ],
)
def test_another_origin_is_refused_though_the_key_is_right(origins: list[str]) -> None:
    for path, socket in ((PAGE, False), (SOCKET, True)):
        assert "Another page" in HERE.refusal(path, ["127.0.0.1:8123"], origins, socket)


def test_a_socket_that_says_no_origin_is_refused() -> None:
    assert "Another page" in HERE.refusal(SOCKET, ["127.0.0.1:8123"], [], socket=True)


def test_on_the_network_numbers_and_this_machines_names_are_let_in_and_no_others() -> None:
    for host in ("192.168.1.7:8123", "table:8123", "table.local:8123", "localhost:8123"):
        assert NETWORK.refusal(PAGE, [host], [], socket=False) == ""
    assert NETWORK.refusal(PAGE, ["elsewhere.example:8123"], [], socket=False)
    assert NETWORK.refusal("/", ["192.168.1.7:8123"], [], socket=False)
    assert HERE.refusal(PAGE, ["table:8123"], [], socket=False)
