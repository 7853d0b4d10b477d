"""The studio put together: its pages, its guard, its beginning and its end."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from importlib.resources import files
from typing import Final

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response, StreamingResponse
from starlette.routing import Route
from starlette.types import ASGIApp

from boardproof.studio.desk import Desk, desk_of
from boardproof.studio.guard import COOKIE, Door, Guard
from boardproof.studio.live import watch
from boardproof.studio.pages import render, themes
from boardproof.studio.stops import Page, stops
from boardproof.studio.workspace import NotHere

__all__ = ["make_app"]

KINDS: Final = {".css": "text/css", ".js": "text/javascript"}
KIT_KINDS: Final = {
    ".html": "text/html; charset=utf-8", ".pdf": "application/pdf", ".json": "application/json", ".vtt": "text/vtt",
    ".png": "image/png", ".svg": "image/svg+xml", ".mp4": "video/mp4", ".webm": "video/webm", ".txt": "text/plain",
}  # fmt: skip
PAUSE_AFTER_WRONG_PASSWORD: Final = 0.5


def make_app(desk: Desk, door: Door) -> ASGIApp:
    """The whole application.

    Parameters
    ----------
    desk : Desk
        The folder and the processes.
    door : Door
        Who is let in.
    """

    @asynccontextmanager
    async def life(_: Starlette) -> AsyncIterator[None]:
        stop = asyncio.Event()
        watching = asyncio.create_task(watch(desk.workspace.root, desk.live, stop))
        warming = asyncio.create_task(_warm(desk))
        try:
            yield
        finally:
            desk.live.close()
            stop.set()
            warming.cancel()
            desk.worker.close()
            await asyncio.gather(watching, warming, return_exceptions=True)

    pages = [page for stop in stops() for page in stop.routes]
    routes = [
        Route("/", _home),
        Route("/start", _start),
        Route("/enter", _enter, methods=["GET", "POST"]),
        Route("/static/themes.css", _themes),
        Route("/static/{name}", _static),
        Route("/events", _events),
        Route("/kits/{lesson}/{path:path}", _kit),
        *(Route(page.path, _allowed(page), methods=[page.method]) for page in pages),
    ]
    faults = {HTTPException: _refused, NotHere: _not_here, 404: _not_here}
    inner = Starlette(routes=routes, exception_handlers=faults, lifespan=life)
    inner.state.desk, inner.state.door = desk, door
    return Guard(inner, door, {page.path.partition("{")[0]: page.most_bytes for page in pages})


async def _warm(desk: Desk) -> None:
    await desk.worker.ask("boardproof.studio.spread:warm", seconds=60)


def _allowed(page: Page) -> Callable[[Request], Awaitable[Response]]:
    async def answer(request: Request) -> Response:
        request.scope["state"]["allow"] = page.allow
        return await page.answer(request)

    return answer


async def _home(_: Request) -> Response:
    return RedirectResponse(f"/{stops()[0].key}", 303)


async def _start(request: Request) -> Response:
    """The start link: its token becomes a cookie, and leaves the address."""
    door: Door = request.app.state.door
    token = request.query_params.get("token", "")
    if door.right(token) is None:
        await asyncio.sleep(PAUSE_AFTER_WRONG_PASSWORD)
        return RedirectResponse("/enter", 303)
    return _let_in(token)


def _let_in(token: str) -> Response:
    answer = RedirectResponse("/", 303)
    answer.set_cookie(COOKIE, token, httponly=True, samesite="strict", path="/")
    return answer


async def _enter(request: Request) -> Response:
    """The password, for a studio that is open to a network."""
    wrong = False
    if request.method == "POST":
        content = (await request.body())[:500].decode("utf-8", "replace")
        token = content.partition("password=")[2].partition("&")[0].strip()
        if request.app.state.door.right(token) is not None:
            return _let_in(token)
        await asyncio.sleep(PAUSE_AFTER_WRONG_PASSWORD)
        wrong = True
    return render(request, "enter.html", wrong=wrong, status=403 if wrong else 200)


async def _themes(_: Request) -> Response:
    return Response(themes(), media_type="text/css")


async def _static(request: Request) -> Response:
    name = request.path_params["name"]
    folder = files("boardproof.studio") / "static"
    if name not in {each.name for each in folder.iterdir()} or f".{name.rpartition('.')[2]}" not in KINDS:
        raise NotHere(name)
    return Response((folder / name).read_bytes(), media_type=KINDS[f".{name.rpartition('.')[2]}"])


async def _events(request: Request) -> Response:
    return StreamingResponse(desk_of(request).live.events(), media_type="text/event-stream")


async def _kit(request: Request) -> Response:
    """A file of a built kit, shown apart from the studio."""
    given = request.path_params
    path = desk_of(request).workspace.inside("kits", given["lesson"], *given["path"].split("/"))
    if path.suffix not in KIT_KINDS or not path.is_file():
        raise NotHere(path.name)
    content = await run_in_threadpool(path.read_bytes)
    return Response(content, media_type=KIT_KINDS[path.suffix])


async def _refused(request: Request, fault: Exception) -> Response:
    assert isinstance(fault, HTTPException)
    if request.method == "POST":
        return JSONResponse({"refused": fault.detail}, fault.status_code)
    return render(request, "refused.html", words=fault.detail, status=fault.status_code)


async def _not_here(request: Request, fault: Exception) -> Response:
    del fault
    return await _refused(request, HTTPException(404, "There is no such page or lesson here."))
