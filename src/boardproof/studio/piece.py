"""The words and pictures of a lesson as pieces of a page, each with its place in the text."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape
from typing import Any

from boardproof.algebra.expression import Line
from boardproof.kit.proof import Proof
from boardproof.lesson.model import Block, BoardBlock, CircuitBlock, Leave
from boardproof.picture.drawing import Frame
from boardproof.publish.document import Item
from boardproof.publish.marks import MARKS
from boardproof.publish.svg import inline_picture
from boardproof.publish.typeset import curled
from boardproof.publish.web import Html, WebPage
from boardproof.studio.pages import environment
from boardproof.studio.slip import Slip
from boardproof.studio.units import Units

__all__ = ["Pieces"]


class Pieces(WebPage):
    """Like a page, but in pieces; what its formulas need is told at the end."""

    def scene(
        self, blocks: Sequence[tuple[Block, Sequence[Item]]], slips: Sequence[Slip], units: Units
    ) -> str:
        """The words of one scene.

        Parameters
        ----------
        blocks : sequence of (Block, sequence of Item)
            In reading order.
        slips : sequence of Slip
            Of the whole lesson.
        units : Units
            Of its text.
        """
        block_macro: Any = vars(environment().get_template("block.html").module)["block"]
        parts = []
        for block, items in blocks:
            span = getattr(block, "span", None) or block.text.span  # type: ignore[union-attr]  # an Unread has its text's
            mine = [each for each in slips if each.span.within(span)]
            start, end = units.span(span)
            source = self._source(block)
            parts.append(
                block_macro(
                    page=self, start=start, end=end, kind=_kind(block), items=items, source=source, slips=mine
                )
            )
        return curled("".join(parts))

    def _source(self, block: Block) -> str:
        """What is shown of a block that prints nothing."""
        match block:
            case CircuitBlock(body=body):
                return body.text.strip("\n")
            case BoardBlock(moves=moves):
                return "Board: " + "; ".join(
                    f"{move.word} {', '.join(n.text.strip() for n in move.of)}" for move in moves
                )
            case Leave(code=code, reason=reason):
                return f"Left as it is ({code}), because: {reason}"
            case _:
                return ""

    def figure(self, frame: Frame, prefix: str) -> str:
        """A picture with identifiers of its own.

        Parameters
        ----------
        frame : Frame
            What to draw.
        prefix : str
            Of its identifiers.
        """
        made = inline_picture(frame, self.typesetter, prefix)
        self.need(made.glyphs)
        return made.svg

    def maths(self, line: Line) -> Html:
        """A line of maths within words.

        Parameters
        ----------
        line : Line
            The maths.
        """
        return self.display(line)

    def summary(self, counts: Mapping[str, int | str]) -> str:
        """How many statements have which verdict, in marks and words.

        Parameters
        ----------
        counts : mapping
            As in the report.
        """
        number = counts["statements"]
        parts = [f"<span>{number} statement{'' if number == 1 else 's'}</span>"]
        parts += [
            f"<span>{self.mark(kind, f'{counts[kind]} {MARKS[kind].word}')}</span>"
            for kind in MARKS
            if counts.get(kind)
        ]
        if counts["traps"]:
            parts.append(f"<span>{counts['traps']} wrong, as it should be</span>")
        return "".join(parts)

    def glyph_sheet(self) -> str:
        """The glyphs that all pieces use."""
        return self.typesetter.glyph_sheet(self._glyphs)

    def depths(self) -> list[int]:
        """How far formulas reach below the line, in hundredths of their size."""
        return sorted(self._depths)

    def loose(self, proof: Proof, units: Units) -> list[dict[str, Any]]:
        """Findings that stand in no block: of the settings, of other files, of the whole lesson.

        Parameters
        ----------
        proof : Proof
            The lesson.
        units : Units
            Of its text.
        """
        name = proof.lesson.source.name
        blocks = [
            block.span for scene in proof.lesson.scenes for block in scene.blocks if hasattr(block, "span")
        ]
        return [
            {
                "words": f"{each.message} {each.help}".strip(), "severity": each.severity,
                "at": units.at(each.span.start) if each.span.source == name else -1,
                "file": "" if each.span.source == name else escape(each.span.source),
            }
            for each in proof.report.diagnostics
            if each.span.source != name or not any(each.span.within(block) for block in blocks)
        ]  # fmt: skip


def _kind(block: Block) -> str:
    return type(block).__name__.lower()
