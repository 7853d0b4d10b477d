"""A correction after publishing goes into the lesson's own list, and from there onto page, handout and captions."""

from __future__ import annotations

import json
import re

from boardproof.lesson.model import Lesson
from boardproof.source import Edit, Span

__all__ = ["with_correction"]

LIST = re.compile(r"(?m)^[ \t]*corrections[ \t]*=[ \t]*\[")


def with_correction(lesson: Lesson, what: str, where: str, since: str) -> Edit:
    r"""The edit that adds a correction to a lesson's settings; other lines stay as they are.

    Parameters
    ----------
    lesson : Lesson
        As it stands.
    what, where, since : str
        What was wrong and is right now, where, and the day.

    Examples
    --------
    >>> from boardproof.lesson.edit import apply
    >>> from boardproof.lesson.read import read_lesson
    >>> from boardproof.source import Source
    >>> lesson, _ = read_lesson(Source("a.lesson.md", "# A cell\n"))
    >>> print(apply(lesson.source, with_correction(lesson, "over, not plus", "at 1:20", "2026-11-25")).text, end="")
    ```lesson
    corrections = [
      { what = "over, not plus", where = "at 1:20", since = "2026-11-25" },
    ]
    ```
    <BLANKLINE>
    # A cell
    """
    source = lesson.source
    row = f"{{ what = {_quoted(what)}, where = {_quoted(where)}, since = {_quoted(since)} }}"
    fence = re.match(r"\ufeff?\s*```+[ \t]*lesson[^\n]*\n", source.text)
    newline = "\r\n" if "\r\n" in source.text else "\n"
    if fence is None:
        at = 1 if source.text.startswith("\ufeff") else 0
        block = f"```lesson\ncorrections = [\n  {row},\n]\n```\n\n"
        return _insert(source.name, source.sha256, at, block.replace("\n", newline))
    end = source.text.find("```", fence.end())
    listed = LIST.search(source.text, fence.end(), end if end > 0 else len(source.text))
    if listed:
        return _insert(source.name, source.sha256, listed.end(), f"{newline}  {row},")
    table = re.compile(r"(?m)^[ \t]*\[").search(
        source.text, fence.end(), end if end > 0 else len(source.text)
    )
    at = table.start() if table else (end if end > 0 else len(source.text))
    return _insert(source.name, source.sha256, at, f"corrections = [\n  {row},\n]\n".replace("\n", newline))


def _insert(name: str, sha256: str, at: int, text: str) -> Edit:
    return Edit(((Span(name, at, at), text),), "ask", sha256)


def _quoted(text: str) -> str:
    """A basic string of TOML; JSON's escapes are among its own."""
    return json.dumps(" ".join(text.split())[:500], ensure_ascii=False).replace("\x7f", "")
