"""The stop Write: the sheet, what is on it for a text as typed, saving, earlier saves, and changes by one click."""

from __future__ import annotations

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from boardproof.studio.desk import answered, body, desk_of
from boardproof.studio.pages import render
from boardproof.studio.stops import Page, Stop
from boardproof.studio.workspace import NotHere

__all__ = ["STOP"]

CHECK_SECONDS, EDIT_SECONDS = 10.0, 5.0
MOST_TEXT, MOST_KNOWN = 200_000, 2_000


async def _first(request: Request) -> Response:
    """The stop without a lesson: the one first in the course."""
    names = await run_in_threadpool(desk_of(request).workspace.lessons)
    return Response(status_code=303, headers={"location": f"/write/{names[0]}" if names else "/choose"})


async def _sheet(request: Request) -> Response:
    lesson = request.path_params["lesson"]
    await run_in_threadpool(desk_of(request).workspace.read, lesson)
    return render(request, "write.html", stop="write", lesson=lesson)


async def _text(request: Request) -> Response:
    source = await run_in_threadpool(desk_of(request).workspace.read, request.path_params["lesson"])
    return JSONResponse({"text": source.text, "sha": source.sha256})


async def _look(request: Request) -> Response:
    """What is on the sheet, for whoever may only look: of the text on disk."""
    desk, lesson = desk_of(request), request.path_params["lesson"]
    source = await run_in_threadpool(desk.workspace.read, lesson)
    return JSONResponse(
        await answered(
            desk, "boardproof.studio.spread:spread", str(desk.workspace.root), source.name, source.text, [],
            seconds=CHECK_SECONDS,
        )
    )  # fmt: skip


async def _spread(request: Request) -> Response:
    """What is on the sheet for a text as typed; nothing is saved."""
    desk = desk_of(request)
    told = await body(request, text=str, known=list, version=int, tab=str)
    path = desk.workspace.path_of(request.path_params["lesson"])
    _sized(told["text"])
    known = [each for each in told["known"][:MOST_KNOWN] if isinstance(each, str)]
    found = await answered(
        desk, "boardproof.studio.spread:spread", str(desk.workspace.root), path.name, told["text"], known,
        seconds=CHECK_SECONDS, about=f"spread {told['tab'][:40]}",
    )  # fmt: skip
    return JSONResponse({**found, "version": told["version"]})


def _sized(text: str) -> None:
    if len(text) > MOST_TEXT:
        raise HTTPException(413, f"A lesson holds at most {MOST_TEXT // 1000},000 characters.")
    try:
        text.encode("utf-8")
    except UnicodeEncodeError as fault:
        raise HTTPException(400, "That is no text.") from fault


async def _save(request: Request) -> Response:
    desk, lesson = desk_of(request), request.path_params["lesson"]
    told = await body(request, text=str, base=str, tab=str)
    _sized(told["text"])
    async with desk.saving:
        saved = await run_in_threadpool(desk.workspace.save, lesson, told["text"], base=told["base"])
    if saved.kind != "conflict":
        desk.live.push("saved", {"lesson": lesson, "sha": saved.sha256, "tab": told["tab"][:40]})
    return JSONResponse({"kind": saved.kind, "text": saved.text, "sha": saved.sha256})


async def _saves(request: Request) -> Response:
    kept = await run_in_threadpool(desk_of(request).workspace.history.entries, _known(request))
    return JSONResponse([{"name": each.name, "at": each.at} for each in reversed(kept)])


async def _kept(request: Request) -> Response:
    text = await run_in_threadpool(
        desk_of(request).workspace.history.text, _known(request), request.path_params["name"]
    )
    if text is None:
        raise NotHere(request.path_params["name"])
    return JSONResponse({"text": text})


def _known(request: Request) -> str:
    lesson: str = request.path_params["lesson"]
    desk_of(request).workspace.path_of(lesson)
    return lesson


async def _change(request: Request) -> Response:
    """The edit that a click asks for; the page makes it, so that it can be undone there."""
    desk = desk_of(request)
    told = await body(request, text=str, act=str, start=int, end=int, given=str)
    path = desk.workspace.path_of(request.path_params["lesson"])
    _sized(told["text"])
    return JSONResponse(
        await answered(
            desk,
            "boardproof.studio.changes:change",
            str(desk.workspace.root),
            path.name,
            told,
            seconds=EDIT_SECONDS,
        )
    )


STOP = Stop(
    "write", "Write", "Before the class",
    (
        Page("/write", "GET", _first),
        Page("/write/{lesson}", "GET", _sheet),
        Page("/write/{lesson}/text", "GET", _text),
        Page("/write/{lesson}/look", "GET", _look),
        Page("/write/{lesson}/saves", "GET", _saves),
        Page("/write/{lesson}/saves/{name}", "GET", _kept),
        Page("/write/{lesson}/spread", "POST", _spread),
        Page("/write/{lesson}/save", "POST", _save),
        Page("/write/{lesson}/change", "POST", _change),
    ),
)  # fmt: skip
