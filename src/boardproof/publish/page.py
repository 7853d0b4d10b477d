"""The lesson as one web page: readable by eye, by ear, by keyboard, on paper and on a phone, without the network."""

from __future__ import annotations

from boardproof.caution import Caution
from boardproof.publish.document import Document, Stamp
from boardproof.publish.typeset import Typesetter
from boardproof.publish.walk import cautions_first
from boardproof.publish.web import WebPage

__all__ = ["page"]


def page(document: Document, *, cautions: tuple[Caution, ...], stamp: Stamp, typesetter: Typesetter) -> str:
    """The lesson's page.

    Parameters
    ----------
    document : Document
        A lesson, proven or a draft.
    cautions : tuple of Caution
        All that its circuits ask for; each stands in full at its place, or else under the title.
    stamp : Stamp
        Version, date, draft.
    typesetter : Typesetter
        Sets maths and pictures.

    Returns
    -------
    str
        HTML in one piece.

    Examples
    --------
    >>> from datetime import date
    >>> stamp = Stamp("2", date(2026, 11, 25), draft=False, statements=0)
    >>> lesson = Document("Cells", "Lesson 1", "en-GB", (), ())
    >>> page(lesson, cautions=(), stamp=stamp, typesetter=Typesetter())[:15]
    '<!doctype html>'
    """
    made = WebPage(typesetter, document)
    above = cautions_first(document, cautions)
    return made.render("page", cautions=cautions, above=above, stamp=stamp, title=document.title)
