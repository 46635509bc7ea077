"""Who may open the coach in a browser: what a request must carry to be answered at all.

A page elsewhere can make a browser on this machine ask anything of a server on it. So the
key, which only who saw the address has, is asked of every request; the name of the server
as the browser knows it (Host), because a name elsewhere can be made to mean this machine;
and where the asking page came from (Origin), always for the socket that drives the app
(RFC 6454; RFC 6455, section 10.2).
"""

from __future__ import annotations

import hmac
import secrets
from dataclasses import dataclass
from ipaddress import ip_address

KEY_BYTES = 24
LOOPBACK_NAMES = ("127.0.0.1", "localhost")


def new_key() -> str:
    """A key that can't be guessed: 192 random bits, in letters that an address may hold."""
    return secrets.token_urlsafe(KEY_BYTES)


@dataclass(frozen=True)
class Gate:
    """What a request must carry. ``names`` are those of this machine; none while loopback only."""

    key: str
    port: int
    network: bool = False
    names: tuple[str, ...] = ()

    def refusal(self, path: str, hosts: list[str], origins: list[str], socket: bool) -> str:
        """Why a request is refused, in a line for who made it; empty where it is not.

        ``hosts`` and ``origins`` are all that its headers said, in their order.
        """
        if len(hosts) != 1 or not self._is_here(hosts[0]):
            return "This is not the address that the coach serves at."
        if (socket or origins) and origins != [f"http://{hosts[0]}"]:
            return "Another page asked for this, so it is refused."
        given = path.split("/")[1] if path.startswith("/") else ""
        if not hmac.compare_digest(given.encode(errors="replace"), self.key.encode()):
            return "The key is missing or old. Open the address that “coach serve” printed last."
        return ""

    def _is_here(self, host: str) -> bool:
        name, colon, port = host.rpartition(":")
        if not colon or port != str(self.port):
            return False
        if name.lower() in (*LOOPBACK_NAMES, *(self.names if self.network else ())):
            return True
        # A number can't be made to mean another machine, as a name can.
        return self.network and _is_number(name)


def _is_number(name: str) -> bool:
    try:
        ip_address(name)
    except ValueError:
        return False
    return True
