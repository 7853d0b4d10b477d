"""Two changes of one text put together, line by line; None where both touched the same place."""

from __future__ import annotations

from difflib import SequenceMatcher

__all__ = ["merged"]

Change = tuple[int, int, list[str]]


def merged(base: str, ours: str, theirs: str) -> str | None:
    r"""One text with both changes in it.

    Parameters
    ----------
    base : str
        What both started from.
    ours, theirs : str
        What became of it.

    Returns
    -------
    str or None
        None if both changed the same lines, or lines that touch.

    Examples
    --------
    >>> merged("a\nb\nc\n", "A\nb\nc\n", "a\nb\nC\n")
    'A\nb\nC\n'
    >>> merged("a\n", "b\n", "c\n") is None
    True
    """
    if ours in (base, theirs):
        return theirs
    if theirs == base:
        return ours
    lines = base.splitlines(keepends=True)
    changes = sorted(_changes(lines, ours) + _changes(lines, theirs), key=lambda each: each[:2])
    made: list[str] = []
    done, last = 0, None
    for change in changes:
        start, end, new = change
        if change == last:
            continue
        if last is not None and start <= done:
            return None
        made += [*lines[done:start], *new]
        done, last = end, change
    return "".join([*made, *lines[done:]])


def _changes(lines: list[str], text: str) -> list[Change]:
    new = text.splitlines(keepends=True)
    codes = SequenceMatcher(None, lines, new, autojunk=False).get_opcodes()
    return [(i, j, new[k:m]) for tag, i, j, k, m in codes if tag != "equal"]
