"""The teacher's week as pages: which stops there are, in which order; one that has no module is absent."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from importlib import import_module
from importlib.util import find_spec
from typing import Final, Literal

from starlette.requests import Request
from starlette.responses import Response

from boardproof.record import record

__all__ = ["MODULES", "Page", "Stop", "stops"]

Group = Literal["Before the class", "On camera", "With the class"]
MODULES: Final = (
    "choose", "write", "prove", "rehearse", "record", "publish", "practise", "mark", "measure", "design",
)  # fmt: skip


@record
class Page:
    """One address of a stop.

    Parameters
    ----------
    path : str
        With ``{lesson}`` where a lesson's name stands.
    method : {"GET", "POST"}
        How it is asked.
    answer : callable
        The page, given the request.
    most_bytes : int
        The largest body, if it is more than usual.
    allow : tuple of str
        What the page needs of the device, such as "microphone".
    """

    path: str
    method: Literal["GET", "POST"]
    answer: Callable[[Request], Awaitable[Response]]
    most_bytes: int = 0
    allow: tuple[str, ...] = ()


@record
class Stop:
    """One stop of the week; `key` is its address, `name` what the navigation says."""

    key: str
    name: str
    group: Group
    routes: tuple[Page, ...]


def stops() -> tuple[Stop, ...]:
    """The stops that are there, in the week's order."""
    there = [name for name in MODULES if find_spec(f"boardproof.studio.{name}")]
    return tuple(import_module(f"boardproof.studio.{name}").STOP for name in there)
