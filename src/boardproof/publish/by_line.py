"""Who made a lesson and how it may be used, in one line."""

from __future__ import annotations

from boardproof.publish.document import Document

__all__ = ["by_line"]


def by_line(document: Document) -> str:
    """Author and licence, with a point between them; empty if the course names neither.

    Parameters
    ----------
    document : Document
        The lesson.

    Examples
    --------
    >>> by_line(Document("Cells", "", "en-GB", (), (), author="The physics department", licence="CC BY 4.0"))
    'The physics department · CC BY 4.0'
    """
    return " · ".join(each for each in (document.author, document.licence) if each)
