"""Walks through a document: every item, every piece of maths, and the cautions that no item shows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import fields, is_dataclass

from boardproof.algebra.expression import Line
from boardproof.caution import Caution
from boardproof.picture.drawing import Frame, Label
from boardproof.publish.document import (
    CautionItem,
    ClaimItem,
    Document,
    Figure,
    Item,
    Maths,
    PauseItem,
    QuestionItem,
    TrapItem,
)
from boardproof.publish.svg import labels_in

__all__ = ["PAPER_ONLY", "cautions_first", "labels", "walk"]

PAPER_ONLY = (
    "Paper exercise only: nothing here is to be built. "
    "Work on such a circuit is for qualified people under local rules."
)


def _inner(item: Item) -> Iterator[Item]:
    """An item and what stands inside it, answers to pauses included."""
    yield item
    match item:
        case PauseItem():
            yield from item.task
            yield from item.answer
        case TrapItem():
            yield from item.refutation
        case ClaimItem():
            yield from item.words
        case QuestionItem(figure=Figure() as figure):
            yield figure
        case _:
            return


def labels(thing: object, size: float = 1.0) -> Iterator[Label]:
    """Every piece of maths of a document or a part of it, as labels, to be set all at once.

    Parameters
    ----------
    thing : object
        A document, an item, or a tuple of such.
    size : float
        Of the maths, in em.

    Examples
    --------
    >>> from boardproof.algebra.expression import Name
    >>> from boardproof.publish.document import Words
    >>> [label.content.text for label in labels((Words("What is "), Maths(Name("E_p"))))]
    ['E_p']
    """
    match thing:
        case Maths(tree=tree):
            yield Label(tree, size)
        case Line():
            yield Label(thing, size, display=True)
        case Frame():
            yield from labels_in([thing])
        case tuple():
            for each in thing:
                yield from labels(each, size)
        case _ if is_dataclass(thing):
            for field in fields(thing):
                yield from labels(getattr(thing, field.name), size)
        case _:
            return


def walk(document: Document) -> Iterator[Item]:
    """Every item in reading order, those inside others included.

    Parameters
    ----------
    document : Document
        A lesson.

    Examples
    --------
    >>> from boardproof.publish.document import Prose, SceneDoc, Words
    >>> scene = SceneDoc("Start", (Prose((Words("Two cells."),)),))
    >>> [type(item).__name__ for item in walk(Document("Cells", "", "en-GB", (), (scene,)))]
    ['Prose']
    """
    for scene in document.scenes:
        for item in scene.items:
            yield from _inner(item)


def cautions_first(document: Document, cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """Cautions that no item of the document shows in full: they stand under its title.

    Parameters
    ----------
    document : Document
        A lesson.
    cautions : iterable of Caution
        All that its circuits ask for.

    Examples
    --------
    >>> caution = Caution("small", ("short",), "Never short a real cell.", "Never short it.")
    >>> cautions_first(Document("", "", "en-GB", (), ()), (caution,)) == (caution,)
    True
    """
    placed = {item.caution.full for item in walk(document) if isinstance(item, CautionItem) and item.in_full}
    return tuple(caution for caution in cautions if caution.full not in placed)
