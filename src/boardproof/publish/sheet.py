"""What the printed sheets share: a document's items as plain values for the typesetting templates.

A template gets text, maths markup made from trees, and pictures as SVG; each picture and formula carries its words, so
that the compiler can make a PDF that a screen reader reads.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Literal, TypeAlias

from boardproof.algebra.expression import Expression, Line
from boardproof.caution import Caution
from boardproof.picture.drawing import Frame
from boardproof.publish.by_line import by_line
from boardproof.publish.document import (
    CautionItem,
    ClaimItem,
    Document,
    Figure,
    Formula,
    Item,
    Judged,
    Maths,
    PauseItem,
    Prose,
    QuestionItem,
    Run,
    Stamp,
    StepItem,
    Steps,
    TrapItem,
    Words,
)
from boardproof.publish.marks import MARKS, mark_svg
from boardproof.publish.qr import qr_svg
from boardproof.publish.svg import frame_svg
from boardproof.publish.typeset import Typesetter
from boardproof.publish.walk import PAPER_ONLY, cautions_first

__all__ = ["Paper", "Sheet", "Value"]

Paper = Literal["a4", "us-letter"]
Value: TypeAlias = "str | int | float | bool | list[Value] | dict[str, Value] | None"


class Sheet:
    """Turns one document into values; keeps count of figures and pauses.

    Parameters
    ----------
    typesetter : Typesetter
        Writes maths markup, and the labels of pictures.
    document : Document
        The lesson.
    """

    def __init__(self, typesetter: Typesetter, document: Document) -> None:
        """Start counting."""
        self._typesetter, self._document = typesetter, document
        self._figures = 0
        self._answers: list[Value] = []

    def values(self, *, cautions: tuple[Caution, ...], stamp: Stamp, paper: Paper) -> dict[str, Value]:
        """Everything that a template reads, items of the scenes included.

        Parameters
        ----------
        cautions : tuple of Caution
            All that the lesson's circuits ask for.
        stamp : Stamp
            Version, date, draft.
        paper : Paper
            Size of the sheets.
        """
        above = cautions_first(self._document, cautions)
        scenes: list[Value] = [
            {"title": scene.title or self._document.title, "items": self._all(scene.items)}
            for scene in self._document.scenes
        ]
        return self.head(cautions=cautions, above=above, stamp=stamp, paper=paper) | {
            "scenes": scenes,
            "answers": self._answers,
        }

    def head(
        self, *, cautions: tuple[Caution, ...], above: tuple[Caution, ...], stamp: Stamp, paper: Paper
    ) -> dict[str, Value]:
        """What stands at the head and foot of each sheet.

        Parameters
        ----------
        cautions : tuple of Caution
            All that the lesson's circuits ask for.
        above : tuple of Caution
            Those that stand in full at the head.
        stamp : Stamp
            Version, date, draft.
        paper : Paper
            Size of the sheets.
        """
        language, region = _language(self._document.language)
        return {
            "title": self._document.title,
            "line": self._document.line,
            "language": language,
            "region": region,
            "stamp": stamp.words,
            "by": by_line(self._document),
            "address": self._document.address,
            "qr": qr_svg(self._document.address) if self._document.address else "",
            "draft": stamp.draft,
            "unproved": list(stamp.unproved),
            "statements": stamp.statements,
            "corrections": [
                each.what
                + (f" ({each.where})" if each.where else "")
                + (f", corrected {each.since}" if each.since else "")
                for each in self._document.corrections
            ],
            "cautions": [each.full for each in above],
            "paper_only": PAPER_ONLY if any(each.tier == "paper" for each in cautions) else "",
            "paper": paper,
            "marks": {kind: mark_svg(kind, "print") for kind in MARKS},
        }

    def runs(self, runs: Iterable[Run]) -> list[Value]:
        """Words and maths of a sentence.

        Parameters
        ----------
        runs : iterable of Run
            In order.
        """
        return [self._run(run) for run in runs]

    def picture(self, frame: Frame) -> dict[str, Value]:
        """A picture for print.

        Parameters
        ----------
        frame : Frame
            What to draw.
        """
        return {
            "svg": frame_svg(frame, self._typesetter, "print"),
            "width": frame.width,
            "words": frame.alternative or frame.title or "Circuit",
        }

    def _run(self, run: Run) -> Value:
        match run:
            case Words(text=text, style=style):
                return {"text": text, "style": style}
            case Maths(tree=tree):
                return self._maths(tree, display=False)

    def _maths(self, tree: Expression | Line, *, display: bool) -> dict[str, Value]:
        return {
            "maths": self._typesetter.markup(tree, display=display),
            "words": self._typesetter.spoken(tree),
            "display": display,
        }

    def _all(self, items: Iterable[Item]) -> list[Value]:
        return [self._item(item) for item in items]

    def _item(self, item: Item) -> dict[str, Value]:
        match item:
            case Prose(runs=runs, bullet=bullet, said=said):
                return {"kind": "prose", "runs": self.runs(runs), "bullet": bullet, "said": said}
            case Formula(line=line, tag=tag, verdict=verdict):
                made = {"line": self._maths(line, display=True), "verdict": self._verdict(verdict)}
                return {"kind": "formula", "tag": tag, **made}
            case Steps(sought=sought, steps=steps):
                rows: list[Value] = [
                    {
                        "number": step.number,
                        "reason": self.runs(_why(step)),
                        "line": self._maths(step.line, display=True),
                        "verdict": self._verdict(step.verdict),
                    }
                    for step in steps
                ]
                return {"kind": "steps", "sought": self.runs(sought), "steps": rows}
            case Figure():
                return self._figure(item)
            case PauseItem(seconds=seconds, task=task, answer=answer):
                self._answers.append(self._all(answer))
                number = len(self._answers)
                return {"kind": "pause", "number": number, "seconds": seconds, "task": self._all(task)}
            case TrapItem():
                return self._trap(item)
            case ClaimItem(name=name, words=words, means=means, verdict=verdict):
                lines: list[Value] = [self._maths(each, display=True) for each in means]
                told = {"words": self._all(words), "verdict": self._verdict(verdict, always=True)}
                return {"kind": "claim", "name": name, "means": lines, **told}
            case CautionItem(caution=caution, in_full=in_full):
                return {"kind": "caution", "text": caution.full if in_full else caution.short}
            case QuestionItem():
                return self._question(item)

    def _figure(self, figure: Figure) -> dict[str, Value]:
        self._figures += 1
        made = self.picture(figure.wide) | {"caption": self.runs(figure.caption)}
        return {"kind": "figure", "number": self._figures, **made}

    def _trap(self, trap: TrapItem) -> dict[str, Value]:
        return {
            "kind": "trap",
            "wrong": self._maths(trap.wrong, display=True),
            "right": self._maths(trap.right, display=True) if trap.right else None,
            "only_when": self.runs(trap.only_when),
            "belief": trap.belief,
            "refutation": self._all(trap.refutation),
        }

    def _question(self, question: QuestionItem) -> dict[str, Value]:
        parts: list[Value] = [
            {"label": each.label, "words": self._all(each.words), "marks": each.marks}
            for each in question.parts
        ]
        figure = self._figure(question.figure) if question.figure else None
        stem = {"stem": self._all(question.stem), "figure": figure}
        return {"kind": "question", "name": question.name, "parts": parts, **stem}

    def _verdict(self, verdict: Judged | None, *, always: bool = False) -> Value:
        if verdict is None or (verdict.kind == "true" and not always):
            return None
        return {"kind": verdict.kind, "word": MARKS[verdict.kind].word, "scope": self.runs(verdict.scope)}


def _language(tag: str) -> tuple[str, str | None]:
    """Language and region of a BCP 47 tag; the compiler knows only short ones, and a PDF must name a language."""
    found = re.match(r"([a-zA-Z]{2,3})(?:-[a-zA-Z]{4})?(?:-([a-zA-Z]{2}))?(?:-|$)", tag)
    if found is None:
        return "und", None
    return found[1].lower(), found[2].upper() if found[2] else None


def _why(step: StepItem) -> tuple[Run, ...]:
    """Why a step holds, for a reader who was not there: what was said, then the rule in brackets."""
    said: list[Run] = []
    for prose in step.words:
        said += [*prose.runs, Words(" ")]
    if not said:
        return step.reason
    return (*said, Words("("), *step.reason, Words(")")) if step.reason else tuple(said[:-1])
