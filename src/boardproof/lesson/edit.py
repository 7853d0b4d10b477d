"""Changing a text so that the change can be undone to the byte; nothing outside the named places moves."""

from __future__ import annotations

from boardproof.source import Edit, Source, Span

__all__ = ["EditRefused", "apply", "inverse"]


class EditRefused(ValueError):
    """An edit does not fit its text.

    Parameters
    ----------
    reason : {"another text", "another file", "outside", "overlap"}
        The text has changed since; a place is in another file, beyond the end, or in two changes at once.
    span : Span or None
        The place, if it is about one.
    """

    def __init__(self, reason: str, span: Span | None = None) -> None:
        """Keep the facts."""
        super().__init__(f"edit refused: {reason}")
        self.reason = reason
        self.span = span


def _in_order(source: Source, edit: Edit) -> list[tuple[Span, str]]:
    if edit.base != source.sha256:
        raise EditRefused("another text")
    changes = sorted(edit.changes, key=lambda change: (change[0].start, change[0].end))
    done, last = 0, None
    for span, _ in changes:
        if span.source != source.name:
            raise EditRefused("another file", span)
        if not 0 <= span.start <= span.end <= len(source.text):
            raise EditRefused("outside", span)
        # Two insertions at one place would depend on which comes first.
        if span.start < done or (last is not None and span == last):
            raise EditRefused("overlap", span)
        done, last = span.end, span
    return changes


def apply(source: Source, edit: Edit) -> Source:
    """Make the changes of an edit.

    Parameters
    ----------
    source : Source
        The text that the edit was made for.
    edit : Edit
        Its changes, in any order.

    Returns
    -------
    Source
        The same name, the new text.

    Raises
    ------
    EditRefused
        If the text is another one, or the places overlap or lie outside.

    Examples
    --------
    >>> text = Source("a", "V = E")
    >>> apply(text, Edit(((Span("a", 4, 5), "E - I r"),), "safe", text.sha256)).text
    'V = E - I r'
    """
    pieces: list[str] = []
    done = 0
    for span, text in _in_order(source, edit):
        pieces += source.text[done : span.start], text
        done = span.end
    return Source(source.name, "".join((*pieces, source.text[done:])))


def inverse(source: Source, edit: Edit) -> Edit:
    """The edit that takes the changed text back to `source`.

    Parameters
    ----------
    source : Source
        The text before the change.
    edit : Edit
        The change.

    Raises
    ------
    EditRefused
        As `apply`.

    Examples
    --------
    >>> text = Source("a", "V = E")
    >>> edit = Edit(((Span("a", 0, 1), "V_A"),), "safe", text.sha256)
    >>> apply(apply(text, edit), inverse(text, edit)) == text
    True
    """
    back, shift = [], 0
    for span, text in _in_order(source, edit):
        start = span.start + shift
        back.append((Span(source.name, start, start + len(text)), source.text[span.start : span.end]))
        shift += len(text) - (span.end - span.start)
    return Edit(tuple(back), edit.promise, apply(source, edit).sha256)
