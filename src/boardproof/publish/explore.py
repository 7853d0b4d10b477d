"""A circuit whose values the reader moves: what the page needs to know, and the page of its own.

All numbers come from programs that the proven algebra yields; the page's script only follows them.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from boardproof.algebra.expression import Name
from boardproof.caution import Caution
from boardproof.picture.drawing import Box, Drawn, Frame
from boardproof.publish.document import Document, Maths, Stamp
from boardproof.publish.player_board import Things
from boardproof.publish.svg import labels_in
from boardproof.publish.typeset import Typesetter
from boardproof.publish.web import WebPage
from boardproof.record import record
from boardproof.solve.closed_form import ClosedForm

__all__ = ["Boxes", "Live", "LivePart", "LivePicture", "explore", "live_values"]

HEADINGS = ("rule:", "words:", "caution")


@record
class LivePart:
    """A part in the circuit.

    Parameters
    ----------
    path, kind : str
        Its place, and what it is.
    current : str
        Name of the current in it.
    letters : tuple of str
        Those of its letters that may be moved.
    """

    path: str
    kind: str
    current: str
    letters: tuple[str, ...]


@record
class LivePicture:
    """The circuit's picture and its variations in one shape.

    Parameters
    ----------
    plain : Frame
        As the lesson has it, every current along its own direction.
    turned : tuple of (str, Frame)
        Path of a cell, and the picture with that cell turned.
    against : Frame
        Every current the other way.
    shorted : Frame
        With the terminals joined in thought.
    """

    plain: Frame
    turned: tuple[tuple[str, Frame], ...]
    against: Frame
    shorted: Frame


@record
class Boxes:
    """Two closed boxes: a group and the one cell that does the same.

    Parameters
    ----------
    one : ClosedForm
        The single cell with the same load as the circuit's.
    group, single : Frame
        What is under the lids.
    cells : int
        In the group.
    """

    one: ClosedForm
    group: Frame
    single: Frame
    cells: int


@record
class Live:
    """A circuit to play with.

    Parameters
    ----------
    form : ClosedForm
        Its outputs: ``I:PATH`` and ``V:PATH`` for each part, ``heat:PATH`` for each cell, ``resistance`` of
        the source, ``I``, ``V`` and ``P`` at the load.
    parts : tuple of LivePart
        In order.
    load : str
        Path of the load.
    ohms : Fraction
        The load's resistance to begin with.
    letter : str
        The load's letter.
    loop : tuple of str
        Paths of one way through the source, from minus to plus.
    wide, near : LivePicture
        Pictures.
    caution : Caution or None
        For the circuit with its terminals shorted in thought.
    boxes : Boxes or None
        Where there is a group to hide.
    """

    form: ClosedForm
    parts: tuple[LivePart, ...]
    load: str
    ohms: Fraction
    letter: str
    loop: tuple[str, ...]
    wide: LivePicture
    near: LivePicture
    caution: Caution | None
    boxes: Boxes | None = None


def explore(
    document: Document,
    live: Live,
    *,
    cautions: tuple[Caution, ...],
    stamp: Stamp,
    typesetter: Typesetter,
) -> str:
    """The circuit as a page of its own.

    Parameters
    ----------
    document : Document
        The lesson.
    live : Live
        Its circuit.
    cautions : tuple of Caution
        All that its circuits ask for.
    stamp : Stamp
        Version, date, draft.
    typesetter : Typesetter
        Sets maths and pictures.
    """
    page = WebPage(typesetter, document)
    things = Things(typesetter)
    values: dict[str, Any] = {"live": live_values(live, page, things)}
    values["things"] = things.all()
    page.need(things.glyphs)
    return page.render(
        "explore-page", cautions=cautions, above=cautions, stamp=stamp, title=f"Explore: {document.title}",
        data=values, scripts=("player", "explore"), live=live,
    )  # fmt: skip


def live_values(live: Live, page: WebPage, things: Things) -> dict[str, Any]:
    """What the page's script is told.

    Parameters
    ----------
    live : Live
        The circuit.
    page : WebPage
        Sets the letters.
    things : Things
        Gathers the drawings.
    """
    letters = [each.name for each in live.form.inputs if each.kind == "value"]
    names = dict.fromkeys([*letters, live.letter, *(part.current for part in live.parts)])
    return {
        "form": _form(live.form),
        "parts": [
            {"path": p.path, "kind": p.kind, "current": p.current, "letters": list(p.letters)}
            for p in live.parts
        ],
        "load": live.load,
        "ohms": float(live.ohms),
        "letter": live.letter,
        "loop": list(live.loop),
        "letters": {name: page.runs((Maths(Name(name)),)) for name in names if name},
        "wide": _picture(live.wide, things),
        "near": _picture(live.near, things),
        "tier": live.caution.tier if live.caution else "small",
        "caution": live.caution.full if live.caution else "",
        "boxes": _boxes(live.boxes, things) if live.boxes else None,
    }


def _form(form: ClosedForm) -> dict[str, Any]:
    return {
        "inputs": [
            [each.name, each.unit, float(each.least), float(each.most), float(each.start), each.kind]
            for each in form.inputs
        ],
        "program": [list(line) for line in form.program],
        "outputs": dict(form.outputs),
        "nonzero": list(form.nonzero),
    }


def _picture(picture: LivePicture, things: Things) -> dict[str, Any]:
    """The plain picture by number, and for each variation what stands in place of what."""
    frames = [picture.plain, picture.against, picture.shorted, *(frame for _, frame in picture.turned)]
    things.typesetter.prepare(labels_in(frames))
    near = picture.plain.shape == "near"
    plain = _circuit(picture.plain)
    places = {each.id: place for place, each in enumerate(plain)}
    box = _round([each for frame in frames for each in _circuit(frame)]).grown(1.0)
    return {
        "box": [round(box.left, 2), round(box.top, 2), round(box.right - box.left, 2), round(box.bottom - box.top, 2)],
        "words": picture.plain.alternative,
        "board": [things.number(each, near=near) for each in plain],
        "turned": {
            path: [places[each.id], things.number(each, near=near)]
            for path, frame in picture.turned
            for each in _circuit(frame)
            if each.id == f"part:{path}" and each.id in places
        },
        "against": {
            each.id.removeprefix("arrow:"): [places[each.id], things.number(each, near=near)]
            for each in _circuit(picture.against)
            if each.id.startswith("arrow:") and each.id in places
        },
        "short": [
            things.number(each, near=near)
            for each in _circuit(picture.shorted)
            if each.kind == "imagined short"
        ],
    }  # fmt: skip


def _circuit(frame: Frame) -> list[Drawn]:
    return [each for each in frame.drawn if each.state != "hidden" and not each.id.startswith(HEADINGS)]


def _round(drawn: Sequence[Drawn]) -> Box:
    boxes = [each.box for each in drawn]
    return Box(
        min(box.left for box in boxes), min(box.top for box in boxes),
        max(box.right for box in boxes), max(box.bottom for box in boxes),
    )  # fmt: skip


def _boxes(boxes: Boxes, things: Things) -> dict[str, Any]:
    things.typesetter.prepare(labels_in([boxes.group, boxes.single]))
    return {
        "one": _form(boxes.one),
        "cells": boxes.cells,
        "lids": [
            {
                "width": frame.width,
                "height": frame.height,
                "board": things.board(frame),
                "words": frame.alternative,
            }
            for frame in (boxes.group, boxes.single)
        ],
    }
