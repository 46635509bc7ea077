"""``coach serve``: the same app in a browser."""

from __future__ import annotations

import asyncio
import signal
import socket
from contextlib import suppress
from typing import TYPE_CHECKING

import click

from drills.basics.errors import InputError

if TYPE_CHECKING:
    from coach.serving.gate import Gate

MEANS = """\
With --network, other machines can reach the coach:
- whoever has the address can use it as you, and read what it keeps of you
- the address and all you see and type go over the network unencrypted
Do this only on a network whose users you trust."""
ELSEWHERE = ("192.0.2.1", 9)
"""An address kept for documentation (RFC 5737): asking the way to it sends nothing."""


@click.command("serve")
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="The port (a free one).")
@click.option("--network", is_flag=True, help="Let other machines in; says first what it means.")
@click.option("--yes", is_flag=True, help="With --network: agree to what it means.")
def command(port: int, network: bool, yes: bool) -> None:
    """Open the coach in a browser on this machine.

    There colours are shown in full, whatever your terminal can do. Open the
    address that it prints; Ctrl+C here ends it, and every page with it.
    Your record stays on this machine, and nothing is fetched from elsewhere.
    """
    if network:
        click.echo(MEANS)
        if not yes:
            click.confirm("Let other machines in?", abort=True)
    try:
        asyncio.run(_serve(port, network))
    except OSError as error:
        reason = (error.strerror or "it can't be had").lower()
        raise InputError(f"port {port}", reason, "Take another, or leave --port out.") from error
    except KeyboardInterrupt:
        # Where the system has no handlers for signals that a loop could use.
        pass
    click.echo("Ended.")


async def _serve(port: int, network: bool) -> None:
    from coach.serving.gate import Gate, new_key
    from coach.serving.server import serve

    name = socket.gethostname().lower()
    names = (name, f"{name}.local")
    ended = asyncio.Event()
    loop = asyncio.get_running_loop()
    for signal_name in ("SIGINT", "SIGTERM", "SIGHUP"):
        with suppress(NotImplementedError, AttributeError):
            loop.add_signal_handler(getattr(signal, signal_name), ended.set)
    await serve(
        lambda free: Gate(new_key(), free, network, names),
        "0.0.0.0" if network else "127.0.0.1",
        port,
        _say_where,
        ended,
    )


def _say_where(gate: Gate) -> None:
    click.echo("Open this address in a browser on this machine:")
    click.echo(f"  http://127.0.0.1:{gate.port}/{gate.key}/")
    if gate.network and (here := _own_address()):
        click.echo("or on another:")
        click.echo(f"  http://{here}:{gate.port}/{gate.key}/")
    click.echo("It holds a new key each time: give it to nobody. Ctrl+C here ends the coach.")


def _own_address() -> str:
    """The number by which others on the network reach this machine; empty where there is none."""
    with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        asked.connect(ELSEWHERE)
        return str(asked.getsockname()[0])
    return ""
