"""The `studio` job: start it, say where it is, end it cleanly."""

from __future__ import annotations

import asyncio
import ipaddress
import secrets
import socket
import sys
import webbrowser
from argparse import Namespace
from pathlib import Path
from typing import Final

import uvicorn

from boardproof.studio.app import make_app
from boardproof.studio.desk import Desk
from boardproof.studio.guard import Door
from boardproof.studio.live import Live
from boardproof.studio.worker import Workers
from boardproof.studio.workspace import Workspace

__all__ = ["hosts", "run"]

LOOPBACK: Final = "127.0.0.1"


def hosts(port: int, *, is_open: bool) -> frozenset[str]:
    """What may stand in a request's Host.

    Parameters
    ----------
    port : int
        Where the studio listens.
    is_open : bool
        Whether to a network, too: then this machine's own names and addresses.

    Examples
    --------
    >>> sorted(hosts(8000, is_open=False))
    ['127.0.0.1:8000', 'localhost:8000']
    """
    names = {LOOPBACK, "localhost"}
    if is_open:
        names |= {socket.gethostname().lower(), f"{socket.gethostname().lower()}.local", *_addresses()}
    return frozenset(f"{name}:{port}" for name in names)


def _addresses() -> set[str]:
    try:
        found = {str(each[4][0]) for each in socket.getaddrinfo(socket.gethostname(), None)}
    except OSError:
        found = set()
    return {
        f"[{each}]" if ipaddress.ip_address(each).version == 6 else each for each in found if "%" not in each
    }


class _Server(uvicorn.Server):
    """Lets open pages go before it waits for them."""

    def __init__(self, config: uvicorn.Config, live: Live) -> None:
        super().__init__(config)
        self.live = live

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        self.live.close()
        await super().shutdown(sockets)


def run(options: Namespace) -> int:
    """Start the studio and stay until it is stopped.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        Exit status: 0, or 2 if it could not start.
    """
    root = Path(options.folder)
    if not root.is_dir():
        sys.stderr.write(f"There is no folder {root}. The studio works in a folder of lessons.\n")
        return 2
    with socket.socket() as listening:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind(("0.0.0.0" if options.open_to_network else LOOPBACK, options.port))  # noqa: S104 - asked for
        except (OSError, OverflowError):
            sys.stderr.write(f"Port {options.port} is taken. Choose another with --port, or 0 for any.\n")
            return 2
        listening.listen(
            100
        )  # whoever follows the link at once waits for the first answer, and is not refused
        port = listening.getsockname()[1]
        length = 6 if options.open_to_network else 24  # a password is typed by a person, and each try waits
        door = Door(
            secrets.token_urlsafe(length + 6), secrets.token_urlsafe(length),
            hosts(port, is_open=options.open_to_network), options.view_only,
        )  # fmt: skip
        _tell(options, port, door)
        asyncio.run(_serve(root, door, listening))
    return 0


async def _serve(root: Path, door: Door, listening: socket.socket) -> None:
    desk = Desk(Workspace(root), Workers(), Live(), asyncio.Lock())
    config = uvicorn.Config(
        make_app(desk, door), log_level="error", access_log=False, timeout_graceful_shutdown=2, limit_concurrency=300,
        h11_max_incomplete_event_size=32_000, timeout_keep_alive=5, server_header=False,
    )  # fmt: skip
    await _Server(config, desk.live).serve(sockets=[listening])


def _tell(options: Namespace, port: int, door: Door) -> None:
    link = f"http://{LOOPBACK}:{port}/start?token={door.write}"
    sys.stdout.write(f"The studio is open: {link}\nStop it with Ctrl+C.\n")
    if options.open_to_network:
        name = socket.gethostname()
        sys.stdout.write(f"From other devices: http://{name}:{port}/enter\n")
        if not options.view_only:
            sys.stdout.write(f"Password to write: {door.write}\n")
        sys.stdout.write(f"Password to look only, for a class: {door.look}\n")
    sys.stdout.flush()
    if not options.quiet and sys.stdout.isatty():
        webbrowser.open(link)
