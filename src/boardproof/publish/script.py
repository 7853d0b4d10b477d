"""What the teacher holds while recording: the script word by word, and cue cards of a few words a moment."""

from __future__ import annotations

from boardproof.caution import Caution
from boardproof.publish.document import Document, Stamp
from boardproof.publish.typeset import Typesetter
from boardproof.publish.web import WebPage

__all__ = ["cue_cards", "script"]


def script(document: Document, *, cautions: tuple[Caution, ...], stamp: Stamp, typesetter: Typesetter) -> str:
    """What is said, what the board does and when, with the time of each scene.

    Parameters
    ----------
    document : Document
        A lesson with its cues.
    cautions : tuple of Caution
        All that its circuits ask for.
    stamp : Stamp
        Version, date, draft.
    typesetter : Typesetter
        Sets maths.

    Returns
    -------
    str
        HTML in one piece.
    """
    made = WebPage(typesetter, document)
    return made.render(
        "script", cautions=cautions, above=cautions, stamp=stamp, title=f"Script: {document.title}"
    )


def cue_cards(
    document: Document, *, cautions: tuple[Caution, ...], stamp: Stamp, typesetter: Typesetter
) -> str:
    """One card a scene: three to six words a moment, and the time at which it comes.

    Parameters
    ----------
    document : Document
        A lesson with its cues.
    cautions : tuple of Caution
        All that its circuits ask for.
    stamp : Stamp
        Version, date, draft.
    typesetter : Typesetter
        Sets maths.

    Returns
    -------
    str
        HTML in one piece; one card fills a sheet when printed.
    """
    made = WebPage(typesetter, document)
    return made.render(
        "cue-cards", cautions=cautions, above=cautions, stamp=stamp, title=f"Cue cards: {document.title}"
    )
