"""The pages for rehearsing and recording, served alone and to this machine only."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.responses import PlainTextResponse
from starlette.routing import Route
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from boardproof.studio.lessons import Lessons
from boardproof.studio.record_pages import RecordPages, record_answers
from boardproof.studio.recordings import Shelf

__all__ = ["recording_app"]

HERE: Final = frozenset({"localhost", "127.0.0.1", "[::1]"})
POLICY: Final = (
    "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self' data:; "
    "media-src 'self' blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
HEADERS: Final = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cache-control", b"no-store"),
    (b"permissions-policy", b"microphone=(self), camera=(), geolocation=()"),
)


class _Guard:
    """Only this machine's own pages are answered: a page from elsewhere has another host or origin."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = {name.decode("latin-1"): value.decode("latin-1") for name, value in scope["headers"]}
        host, origin = headers.get("host", ""), headers.get("origin")
        is_ours = host.rpartition(":")[0] in HERE or host in HERE
        if not is_ours or (origin is not None and origin != f"http://{host}"):
            await PlainTextResponse("Not from here.", 403)(scope, receive, send)
            return

        async def guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message.get("headers", ()), *HEADERS]
            await send(message)

        await self.app(scope, receive, guarded)


def recording_app(root: Path) -> Starlette:
    """A server for one course folder.

    Parameters
    ----------
    root : Path
        The folder.
    """
    pages = RecordPages(Lessons(root), Shelf(root))
    routes = [
        Route(path, answer, methods=[method]) for method, path, answer in record_answers(lambda _: pages)
    ]
    return Starlette(routes=routes, middleware=[Middleware(_Guard)])
