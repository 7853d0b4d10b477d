"""The lesson on paper: tagged PDF for A4 or Letter; the answers to its pauses stand on the last sheet."""

from __future__ import annotations

from boardproof.caution import Caution
from boardproof.publish.document import Document, Stamp
from boardproof.publish.sheet import Paper, Sheet
from boardproof.publish.typeset import Typesetter

__all__ = ["handout"]


def handout(
    document: Document,
    *,
    cautions: tuple[Caution, ...],
    stamp: Stamp,
    typesetter: Typesetter,
    paper: Paper = "a4",
) -> bytes:
    """The handout.

    Parameters
    ----------
    document : Document
        A lesson, proven or a draft.
    cautions : tuple of Caution
        All that its circuits ask for; each stands in full at its place, or else under the title.
    stamp : Stamp
        Version, date, draft.
    typesetter : Typesetter
        Sets it.
    paper : {"a4", "us-letter"}
        Size of the sheets.

    Returns
    -------
    bytes
        PDF/UA-1.

    Examples
    --------
    >>> from datetime import date
    >>> stamp = Stamp("2", date(2026, 11, 25), draft=False, statements=0)
    >>> lesson = Document("Cells", "Lesson 1", "en-GB", (), ())
    >>> handout(lesson, cautions=(), stamp=stamp, typesetter=Typesetter())[:8]
    b'%PDF-1.7'
    """
    values = Sheet(typesetter, document).values(cautions=cautions, stamp=stamp, paper=paper)
    return typesetter.pdf("handout", values)
