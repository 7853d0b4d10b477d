"""What a click asks for, as an edit of the text: the right line, a trap, a note that something is left as it is.

Each is an `Edit` on places of the text as it stands; the page makes it, so that undo works as for typing.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

from boardproof.kit.proof import Proof
from boardproof.lesson.edit import apply
from boardproof.lesson.model import Block
from boardproof.prove.verdict import Judged
from boardproof.record import record
from boardproof.source import Edit, Source, Span
from boardproof.studio.in_circuit import ACTS, alter
from boardproof.studio.proofs import of_statement
from boardproof.studio.proving import proved
from boardproof.studio.units import Units

__all__ = ["change"]

RELATION: Final = re.compile(r"<=|>=|!=|->|[=<>≈≤≥]")
NARROW_SPACE: Final = "\u202f"


@record
class _Asked:
    """A proved lesson and the place that was clicked."""

    proof: Proof
    span: Span
    given: str

    @property
    def source(self) -> Source:
        return self.proof.lesson.source

    @property
    def judged(self) -> Judged | None:
        return next((each for each in self.proof.checked.judged if each.said.span == self.span), None)

    @property
    def block(self) -> Block | None:
        blocks = (block for scene in self.proof.lesson.scenes for block in scene.blocks)
        return next((b for b in blocks if hasattr(b, "span") and self.span.within(b.span)), None)


def change(root: str, name: str, told: Mapping[str, Any]) -> dict[str, Any]:
    """The changes that a click asks for.

    Parameters
    ----------
    root : str
        The folder.
    name : str
        The lesson's file.
    told : mapping
        ``text``, ``act``, ``start`` and ``end`` in UTF-16 units, ``given``.

    Returns
    -------
    dict
        ``changes`` as start, end and text, and ``words``; or ``refused``; or ``html`` for a proof.
    """
    proof = proved(root, name, told["text"])
    units = Units(told["text"])
    span = Span(name, units.point(told["start"]), units.point(told["end"]))
    asked = _Asked(proof, span, told["given"])
    act = told["act"]
    if act == "proof":
        return {"html": of_statement(proof, asked.judged)}
    found = alter(proof, act, told["given"], span) if act in ACTS else _DONE.get(act, _unknown)(asked)
    if isinstance(found, str):
        return {"refused": found}
    edit, words = found
    apply(proof.lesson.source, edit)  # refuses what would not fit
    return {"changes": [[*units.span(at), put] for at, put in edit.changes], "words": words}


def _unknown(asked: _Asked) -> str:
    del asked
    return "The studio does not know how to do that."


def _right(asked: _Asked) -> tuple[Edit, str] | str:
    """The right line; or the right value, in the place of the last side of the line."""
    judged = asked.judged
    if judged is None or not judged.verdict.right:
        return "There is no other line to put here."
    right, span = judged.verdict.right.replace(NARROW_SPACE, " "), judged.said.span
    if not RELATION.search(right):
        sides = list(RELATION.finditer(judged.said.text))
        if not sides:
            return "There is no other line to put here."
        start = span.start + sides[-1].end()
        rest = judged.said.text[sides[-1].end() :]
        span = Span(span.source, start + len(rest) - len(rest.lstrip()), span.end)
    return _edit(asked.source, ((span, right),)), "The right one is in."


def _trap(asked: _Asked) -> tuple[Edit, str] | str:
    judged, block = asked.judged, asked.block
    if judged is None or block is None:
        return "This is no statement that could be a trap."
    span: Span = block.span  # type: ignore[union-attr]  # `block` only finds such as have one
    wrong = " ".join(judged.said.text.split())
    when = judged.verdict.condition
    why = f"It would be right only if ${when}$." if when else "The circuit says otherwise."
    return _edit(asked.source, ((span, f"```trap\nwrong: {wrong}\n{why}\n```"),)), "It is kept as a trap."


def _leave(asked: _Asked) -> tuple[Edit, str] | str:
    block, (code, _, reason) = asked.block, asked.given.partition(" ")
    reason = " ".join(reason.replace("--", "-").replace(">", "").split())
    if block is None or not reason or not code.replace("-", "").isalpha():
        return "Say why it is left as it is."
    start = Span(asked.source.name, block.span.start, block.span.start)  # type: ignore[union-attr]  # as above
    note = f"<!-- leave {code}, because: {reason} -->\n\n"
    return _edit(asked.source, ((start, note),)), "It is left as it is, with your reason beside it."


_DONE = {"right": _right, "trap": _trap, "leave": _leave}


def _edit(source: Source, changes: tuple[tuple[Span, str], ...]) -> Edit:
    return Edit(changes, "ask", source.sha256)
