"""The stop Publish: build the kit with its progress told, and show what was made."""

from __future__ import annotations

import asyncio

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from boardproof.kit.files import read_ledger
from boardproof.kit.outputs import OUTPUTS
from boardproof.studio.desk import Desk, answered, body, desk_of
from boardproof.studio.pages import render
from boardproof.studio.stops import Page, Stop

__all__ = ["STOP"]

SECONDS_EACH = 60.0
_BUILDING: set[str] = set()


async def _first(request: Request) -> Response:
    names = await run_in_threadpool(desk_of(request).workspace.lessons)
    return RedirectResponse(f"/publish/{names[0]}" if names else "/choose", 303)


async def _kit(request: Request) -> Response:
    desk, lesson = desk_of(request), request.path_params["lesson"]
    await run_in_threadpool(desk.workspace.read, lesson)
    ledger = await run_in_threadpool(read_ledger, desk.workspace.inside("kits", lesson))
    files = sorted(ledger.files) if ledger else []
    pages = [name for name in files if "/" not in name]
    return render(
        request,
        "publish.html",
        stop="publish",
        lesson=lesson,
        files=pages,
        ledger=ledger,
        more=len(files) - len(pages),
    )


async def _build(request: Request) -> Response:
    """Build output by output, so that each has its own limit and its own progress."""
    desk, lesson = desk_of(request), request.path_params["lesson"]
    told = await body(request, draft=bool)
    await run_in_threadpool(desk.workspace.read, lesson)
    if lesson in _BUILDING:
        raise HTTPException(409, "It is being built already.")
    _BUILDING.add(lesson)
    try:
        return JSONResponse(await _built(desk, lesson, is_draft=told["draft"]))
    finally:
        _BUILDING.discard(lesson)


async def _built(desk: Desk, lesson: str, *, is_draft: bool) -> dict[str, object]:
    made: list[str] = []
    for number, output in enumerate(OUTPUTS):
        desk.live.push("build", {"lesson": lesson, "output": output, "done": number, "of": len(OUTPUTS)})
        found = await answered(
            desk, "boardproof.studio.building:build", str(desk.workspace.path_of(lesson)), output, is_draft,
            seconds=SECONDS_EACH, line="long",
        )  # fmt: skip
        if found["status"]:
            return {"refused": found["said"], "made": made}
        made.append(output)
        await asyncio.sleep(0)
    desk.live.push("build", {"lesson": lesson, "output": "", "done": len(OUTPUTS), "of": len(OUTPUTS)})
    return {"refused": "", "made": made}


STOP = Stop(
    "publish", "Publish", "On camera",
    (
        Page("/publish", "GET", _first),
        Page("/publish/{lesson}", "GET", _kit),
        Page("/publish/{lesson}/build", "POST", _build),
    ),
)  # fmt: skip
