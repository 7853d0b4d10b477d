"""Pages for rehearsing and recording: the board's window, the speaker's window, and what they ask of the machine."""

from __future__ import annotations

import json
from collections.abc import Awaitable, Callable
from datetime import date
from importlib.resources import files
from typing import Any, Final

from jinja2 import Environment, PackageLoader
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response

from boardproof.kit.corrections import with_correction
from boardproof.kit.files import save_source
from boardproof.kit.hearing import heard_on
from boardproof.kit.rehearsal import Rehearsal, rehearsal
from boardproof.lesson.captions import read_captions
from boardproof.lesson.edit import apply
from boardproof.publish.palette import custom_properties
from boardproof.publish.web import Html
from boardproof.source import Source
from boardproof.studio.lessons import Lessons
from boardproof.studio.recordings import Refused, Shelf

__all__ = ["Answer", "RecordPages", "record_answers"]

Answer = Callable[[Request], Awaitable[Response]]

LARGEST: Final = 4_000_000
SCRIPTS: Final = {"record.js": "text/javascript", "speaker.js": "text/javascript", "record.css": "text/css"}


class RecordPages:
    """What each address gives; work that takes time is done beside the server's own loop.

    Parameters
    ----------
    lessons : Lessons
        The course.
    shelf : Shelf
        Its recordings.
    """

    def __init__(self, lessons: Lessons, shelf: Shelf) -> None:
        """Make nothing yet."""
        self.lessons, self.shelf = lessons, shelf
        self._made: dict[str, Rehearsal] = {}

    def rehearsal(self, lesson: str) -> Rehearsal:
        """A lesson as the pages show it; kept until its text changes."""
        proof = self.lessons.proof(lesson)
        sha256 = proof.lesson.source.sha256
        if lesson not in self._made or self._made[lesson].sha256 != sha256:
            self._made[lesson] = rehearsal(proof)
        return self._made[lesson]

    def page(self, lesson: str, template: str, mode: str) -> str:
        """One of the pages."""
        made = self.rehearsal(lesson)
        shown = Environment(loader=PackageLoader("boardproof.studio", "camera"), autoescape=True)
        verb = "Record" if mode == "record" else "Rehearse"
        return shown.get_template(template).render(
            lesson=lesson,
            title=made.title,
            verb=verb,
            mode=mode,
            caution=made.caution,
            glyphs=Html(made.glyphs),
        )

    def steps(self, lesson: str) -> dict[str, Any]:
        """Everything that a page must know of a lesson."""
        made = self.rehearsal(lesson)
        return {"title": made.title, "sha256": made.sha256, "steps": [step.as_json() for step in made.steps]}

    def hear(self, lesson: str, name: str, captions: str) -> dict[str, Any]:
        """What was said wrong in a recording, by its captions."""
        recording = next((each for each in self.shelf.list(lesson) if each["id"] == name), None)
        if recording is None:
            raise Refused("There is no recording yet that these captions could belong to.")
        cues, unread = read_captions(Source("captions.vtt", captions))
        if not cues:
            raise Refused("There are no captions in this file that I can read.")
        heard = heard_on(self.lessons.proof(lesson), cues, recording["steps"])
        return {"heard": [each.as_json() for each in heard], "unread": len(unread)}

    def correct(self, lesson: str, what: str, where: str) -> dict[str, Any]:
        """Add to the lesson's list of corrections, unless its file was changed meanwhile."""
        if not what.strip():
            raise Refused("A correction needs words.")
        proof = self.lessons.proof(lesson)
        source = proof.lesson.source
        today = date.today().isoformat()  # noqa: DTZ011 - the teacher's own day
        new = apply(source, with_correction(proof.lesson, what, where, today))
        if save_source(self.lessons.path(lesson), new, base=self.lessons.bytes_hash(lesson)):
            raise Refused("The lesson was changed meanwhile; load this page again.")
        return {"corrections": len(proof.lesson.settings.corrections) + 1}


def _style() -> str:
    """The pages' style sheet, in the reader's own theme."""
    rules = (files("boardproof.studio") / "camera" / "record.css").read_text(encoding="utf-8")
    paper, slate = custom_properties("paper"), custom_properties("slate")
    return f":root{{{paper}}}@media (prefers-color-scheme:dark){{:root{{{slate}}}}}{rules}"


def _file(name: str) -> Response:
    text = _style() if name == "record.css" else None
    folder = files("boardproof.studio") / "camera"
    return Response(text or (folder / name).read_text(encoding="utf-8"), media_type=SCRIPTS[name])


def record_answers(pages_of: Callable[[Request], RecordPages]) -> list[tuple[str, str, Answer]]:
    """Everything these pages need (method, address, answer), for a server that guards its hosts and origins.

    Parameters
    ----------
    pages_of : callable
        Gives the pages of the course that a request came to.
    """

    def answering(work: Callable[[Request, bytes], Any]) -> Callable[[Request], Awaitable[Response]]:
        async def answer(request: Request) -> Response:
            body = await _body(request)
            if body is None:
                return JSONResponse({"error": "That is too large."}, 413)
            try:
                made = await run_in_threadpool(work, request, body)
            except (Refused, KeyError, TypeError, ValueError) as fault:
                said = str(fault) if isinstance(fault, Refused) else "That can't be read."
                return JSONResponse({"error": said}, 409)
            return made if isinstance(made, Response) else JSONResponse(made)

        return answer

    def of(request: Request) -> tuple[str, str, str]:
        path = request.path_params
        return path.get("lesson", ""), path.get("name", ""), path.get("take", "")

    def html(template: str, mode: str) -> Callable[[Request, bytes], Response]:
        return lambda request, _: HTMLResponse(pages_of(request).page(of(request)[0], template, mode))

    def begin(request: Request, body: bytes) -> Any:
        lesson = of(request)[0]
        today = date.today()  # noqa: DTZ011 - the teacher's own day
        consent = str(_json(body).get("consent", ""))
        return pages_of(request).shelf.begin(
            lesson, pages_of(request).rehearsal(lesson).sha256, consent, today
        )

    def keep(request: Request, body: bytes) -> Any:
        number, ms = int(request.path_params["number"]), int(request.query_params["ms"])
        return pages_of(request).shelf.keep(*of(request), number, ms, body)

    def delete(request: Request, _: bytes) -> Any:
        pages_of(request).shelf.delete(*of(request)[:2])
        return {}

    def correct(request: Request, body: bytes) -> Any:
        told = _json(body)
        return pages_of(request).correct(of(request)[0], str(told["what"]), str(told.get("where", "")))

    one = "/lessons/{lesson}"
    made = f"{one}/recordings/{{name}}"
    take = f"{made}/takes/{{take}}"
    table: list[tuple[str, str, Callable[[Request, bytes], Any]]] = [
        ("GET", f"{one}/rehearse", html("record.html", "rehearse")),
        ("GET", f"{one}/record", html("record.html", "record")),
        ("GET", f"{one}/speaker", html("speaker.html", "speaker")),
        ("GET", f"{one}/steps.json", lambda request, _: pages_of(request).steps(of(request)[0])),
        (
            "GET",
            f"{one}/recordings",
            lambda request, _: {"recordings": pages_of(request).shelf.list(of(request)[0])},
        ),
        ("POST", f"{one}/recordings", begin),
        ("POST", f"{made}/delete", delete),
        (
            "POST",
            f"{made}/takes",
            lambda request, body: pages_of(request).shelf.take(*of(request)[:2], str(_json(body)["moment"])),
        ),
        ("POST", f"{take}/pieces/{{number:int}}", keep),
        (
            "POST",
            f"{take}/notes",
            lambda request, body: pages_of(request).shelf.note(*of(request), _json(body)),
        ),
        (
            "GET",
            f"{take}/sound",
            lambda request, _: Response(pages_of(request).shelf.sound(*of(request)), media_type="audio/webm"),
        ),
        (
            "POST",
            f"{made}/captions",
            lambda request, body: pages_of(request).hear(*of(request)[:2], body.decode("utf-8")),
        ),
        ("POST", f"{one}/corrections", correct),
    ]
    scripts = [("GET", f"/{name}", lambda request, _: _file(request.url.path.strip("/"))) for name in SCRIPTS]
    return [(method, path, answering(work)) for method, path, work in (*scripts, *table)]


def _json(body: bytes) -> dict[str, Any]:
    told = json.loads(body)
    if not isinstance(told, dict):
        raise Refused("That can't be read.")
    return told


async def _body(request: Request) -> bytes | None:
    """What was sent; None as soon as it is too much."""
    got = bytearray()
    async for part in request.stream():
        got += part
        if len(got) > LARGEST:
            return None
    return bytes(got)
