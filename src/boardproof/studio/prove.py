"""The stop Prove: every statement with its verdict and how we know."""

from __future__ import annotations

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from boardproof.studio.desk import answered, desk_of
from boardproof.studio.pages import render
from boardproof.studio.stops import Page, Stop

__all__ = ["STOP"]


async def _first(request: Request) -> Response:
    names = await run_in_threadpool(desk_of(request).workspace.lessons)
    return RedirectResponse(f"/prove/{names[0]}" if names else "/choose", 303)


async def _statements(request: Request) -> Response:
    desk, lesson = desk_of(request), request.path_params["lesson"]
    source = await run_in_threadpool(desk.workspace.read, lesson)
    found = await answered(
        desk, "boardproof.studio.proofs:rows", str(desk.workspace.root), source.name, source.text, seconds=10
    )
    return render(request, "prove.html", stop="prove", lesson=lesson, **found)


STOP = Stop(
    "prove", "Prove", "Before the class",
    (Page("/prove", "GET", _first), Page("/prove/{lesson}", "GET", _statements)),
)  # fmt: skip
