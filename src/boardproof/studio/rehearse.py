"""The stop *Rehearse*: the way from the week to the page on which a lesson is played through."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from boardproof.studio.stops import Page, Stop

__all__ = ["STOP"]


async def _to(request: Request) -> Response:
    return RedirectResponse(f"/lessons/{request.path_params['lesson']}/rehearse", 303)


async def _choose(_: Request) -> Response:
    return RedirectResponse("/choose", 303)


STOP = Stop(
    "rehearse",
    "Rehearse",
    "On camera",
    (Page("/rehearse", "GET", _choose), Page("/rehearse/{lesson}", "GET", _to)),
)
