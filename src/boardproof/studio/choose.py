"""The stop Choose: the course with the state of each lesson, and a new lesson from a sentence or a small form."""

from __future__ import annotations

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from boardproof.derive.routes import ROUTES
from boardproof.studio.desk import answered, body, desk_of
from boardproof.studio.pages import render
from boardproof.studio.stops import Page, Stop

__all__ = ["STOP"]


async def _course(request: Request) -> Response:
    desk = desk_of(request)
    course = await answered(desk, "boardproof.studio.course:course", str(desk.workspace.root), seconds=10)
    return render(
        request, "choose.html", stop="choose", course=course, routes=tuple(ROUTES),
        next=f"{len(course['lessons']) + 1}-new-lesson",
    )  # fmt: skip


async def _new(request: Request) -> Response:
    desk = desk_of(request)
    told = await body(
        request,
        name=str,
        sentence=str,
        how=str,
        one=str,
        two=str,
        load=str,
        route=str,
        numbers=str,
        draft=bool,
    )
    name = "-".join(told["name"].split())
    path = desk.workspace.path_of(name)
    if path.exists():
        raise HTTPException(409, f"There is a lesson {name} already. Choose another name.")
    made = await answered(
        desk, "boardproof.studio.begin:begin", {**told, "name": name}, seconds=20, line="long"
    )
    if made["refused"]:
        raise HTTPException(422, made["refused"])
    await run_in_threadpool(desk.workspace.save, name, made["text"], base="")
    return JSONResponse({"lesson": name})


STOP = Stop(
    "choose", "Choose", "Before the class",
    (Page("/choose", "GET", _course), Page("/choose/new", "POST", _new)),
)  # fmt: skip
