"""The stop *Record*: the pages for rehearsing and recording, and what they ask of the machine."""

from __future__ import annotations

from typing import Final, Literal, cast

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from boardproof.studio.desk import desk_of
from boardproof.studio.lessons import Lessons
from boardproof.studio.record_pages import RecordPages, record_answers
from boardproof.studio.recordings import Shelf
from boardproof.studio.stops import Page, Stop

__all__ = ["STOP"]

LARGEST_PIECE: Final = 4_000_000


def _pages_of(request: Request) -> RecordPages:
    """The pages of the studio's folder, made with the first request."""
    state = request.app.state
    if not hasattr(state, "record_pages"):
        root = desk_of(request).workspace.root
        state.record_pages = RecordPages(Lessons(root), Shelf(root))
    return cast(RecordPages, state.record_pages)


async def _to(request: Request) -> Response:
    return RedirectResponse(f"/lessons/{request.path_params['lesson']}/record", 303)


async def _choose(_: Request) -> Response:
    return RedirectResponse("/choose", 303)


STOP = Stop(
    "record",
    "Record",
    "On camera",
    (
        Page("/record", "GET", _choose),
        Page("/record/{lesson}", "GET", _to),
        *(
            Page(
                path,
                cast(Literal["GET", "POST"], method),
                answer,
                LARGEST_PIECE if method == "POST" else 0,
                ("microphone",) if path.endswith("/record") else (),
            )
            for method, path, answer in record_answers(_pages_of)
        ),
    ),
)
