"""Slides as PDF: one page a moment for whoever teaches from them, or one page a scene for whoever looks back."""

from __future__ import annotations

from collections.abc import Sequence

from boardproof.caution import Caution
from boardproof.picture.drawing import Frame
from boardproof.publish.document import Document, Stamp
from boardproof.publish.sheet import Sheet, Value
from boardproof.publish.svg import frame_svg
from boardproof.publish.typeset import Typesetter

__all__ = ["slides"]


def slides(
    document: Document,
    frames: Sequence[Frame],
    *,
    cautions: tuple[Caution, ...],
    stamp: Stamp,
    typesetter: Typesetter,
) -> bytes:
    """A title page with author, licence, date and cautions, then one page a board.

    Parameters
    ----------
    document : Document
        The lesson.
    frames : sequence of Frame
        Wide boards, in order.
    cautions : tuple of Caution
        All that its circuits ask for.
    stamp : Stamp
        Version, date, draft.
    typesetter : Typesetter
        Sets it.

    Returns
    -------
    bytes
        PDF/UA-1, pages of 16 to 9.

    Examples
    --------
    >>> from datetime import date
    >>> stamp = Stamp("2", date(2026, 11, 25), draft=False, statements=0)
    >>> lesson = Document("Cells", "Lesson 1", "en-GB", (), ())
    >>> slides(lesson, [], cautions=(), stamp=stamp, typesetter=Typesetter())[:8]
    b'%PDF-1.7'
    """
    boards: list[Value] = [
        {
            "svg": frame_svg(each, typesetter, "paper", captions=True),
            "words": f"{each.title}. {each.alternative}".strip(),
        }
        for each in frames
    ]
    head = Sheet(typesetter, document).head(cautions=cautions, above=cautions, stamp=stamp, paper="a4")
    return typesetter.pdf("slides", head | {"boards": boards})
