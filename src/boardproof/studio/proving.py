"""A lesson proved with the text that stands on the page, which may not be the one on disk."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from boardproof.kit.proof import Proof, open_course, prove_lessons
from boardproof.source import Source

__all__ = ["proved"]


def proved(root: str, name: str, text: str) -> Proof:
    """A lesson's proof with the text as it is on the page.

    Parameters
    ----------
    root : str
        The folder.
    name : str
        The lesson's file.
    text : str
        Its text.
    """
    folder, findings, only = open_course(Path(root) / name)
    source = Source(name, text)
    lessons = tuple(source if each.name == name else each for each in folder.lessons)
    if not any(each.name == name for each in lessons):
        lessons = (*lessons, source)
    folder = replace(folder, lessons=lessons)
    return next(iter(prove_lessons(folder, findings, only=only or name)))
