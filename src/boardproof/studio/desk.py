"""What pages share: the folder, the processes that compute, the open pages, and how a body is read."""

from __future__ import annotations

import asyncio
import json
from typing import Any

from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, Request

from boardproof.algebra.worker import TimeUp
from boardproof.record import record
from boardproof.studio.live import Live
from boardproof.studio.worker import Dropped, Line, Workers
from boardproof.studio.workspace import Workspace

__all__ = ["Desk", "answered", "body", "desk_of"]


@record
class Desk:
    """One studio's belongings.

    Parameters
    ----------
    workspace : Workspace
        The folder.
    worker : Workers
        Processes that compute.
    live : Live
        Open pages.
    saving : Lock
        Held while a text is saved, so that two tabs save one after the other.
    """

    workspace: Workspace
    worker: Workers
    live: Live
    saving: asyncio.Lock


def desk_of(request: Request) -> Desk:
    """The studio that a request came to.

    Parameters
    ----------
    request : Request
        Any.
    """
    found = request.app.state.desk
    assert isinstance(found, Desk)
    return found


async def body(request: Request, **kinds: type) -> dict[str, Any]:
    """The JSON object of a request, with the fields named; another shape is refused.

    Parameters
    ----------
    request : Request
        A POST.
    **kinds : type
        Field and its type.
    """
    try:
        told = json.loads(await request.body())
    except (ValueError, RecursionError, ClientDisconnect) as fault:
        raise HTTPException(400, "That was not understood.") from fault
    if not isinstance(told, dict) or any(type(told.get(name)) is not kind for name, kind in kinds.items()):
        raise HTTPException(400, "That was not understood.")
    return {name: told[name] for name in kinds}


async def answered(
    desk: Desk, job: str, *arguments: object, seconds: float, line: Line = "quick", about: str = ""
) -> Any:
    """A job's answer, or a plain refusal with its reason.

    Parameters
    ----------
    desk : Desk
        The studio.
    job : str
        ``module:function``.
    *arguments
        Plain values.
    seconds : float
        The limit.
    line : {"quick", "long"}
        Which process.
    about : str
        As in `Workers.ask`.
    """
    try:
        return await desk.worker.ask(job, *arguments, seconds=seconds, line=line, about=about)
    except TimeUp as fault:
        raise HTTPException(
            503, f"This took more than {seconds:g} seconds and was stopped. Nothing was lost."
        ) from fault
    except Dropped as fault:
        raise HTTPException(409, "A newer one came.") from fault
    except RuntimeError as fault:
        raise HTTPException(500, "The tool failed at this. Your text is safe; please report it.") from fault
