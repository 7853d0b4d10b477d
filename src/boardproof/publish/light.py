"""A lesson for slow lines: one page of stills and words, and a voice at a low rate, about 0.2 MB a minute in all."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from boardproof.caution import Caution
from boardproof.publish.by_line import by_line
from boardproof.publish.document import Document, Stamp
from boardproof.publish.palette import custom_properties
from boardproof.publish.walk import PAPER_ONLY
from boardproof.publish.web import clock
from boardproof.record import record

__all__ = ["Still", "light_page"]

POLICY: Final = (
    "default-src 'none'; img-src 'self'; media-src 'self'; style-src 'unsafe-inline'; base-uri 'none'"
)


@record
class Still:
    """One moment of the light page.

    Parameters
    ----------
    ms : int
        When it comes in the recording.
    scene : str
        Title of the scene that begins here; empty within one.
    picture : str
        Name of its still; empty if the board is the one before.
    told, said : str
        The board in words; what is said.
    is_answer : bool
        The answer to a pause: shown only on demand, its board too.
    """

    ms: int
    scene: str
    picture: str
    told: str
    said: str
    is_answer: bool = False


def light_page(
    document: Document,
    stills: Sequence[Still],
    *,
    cautions: tuple[Caution, ...],
    stamp: Stamp,
    voice: str = "",
) -> str:
    """The page.

    Parameters
    ----------
    document : Document
        The lesson.
    stills : sequence of Still
        Its moments, in order.
    cautions : tuple of Caution
        All that its circuits ask for, in full at the head.
    stamp : Stamp
        Version, date, draft.
    voice : str
        Name of the sound file beside it; empty if there is none.

    Examples
    --------
    >>> from datetime import date
    >>> stamp = Stamp("2", date(2026, 11, 25), draft=False, statements=0)
    >>> lesson = Document("Cells", "Lesson 1", "en-GB", (), ())
    >>> light_page(lesson, [], cautions=(), stamp=stamp)[:15]
    '<!doctype html>'
    """
    from jinja2 import Environment, PackageLoader  # as for the other pages: a check needs none

    shown = Environment(loader=PackageLoader("boardproof.publish", "templates"), autoescape=True)
    return shown.get_template("light.html").render(
        document=document,
        stills=stills,
        cautions=[each.full for each in cautions],
        paper_only=PAPER_ONLY if any(each.tier == "paper" for each in cautions) else "",
        stamp=stamp,
        by=by_line(document),
        voice=voice,
        policy=POLICY,
        colours=custom_properties("paper"),
        clock=lambda ms: clock(ms / 1000),
    )
