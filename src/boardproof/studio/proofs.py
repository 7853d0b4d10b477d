"""How we know, for a teacher to be convinced: verdict, ground, evidence, and what decided it."""

from __future__ import annotations

from html import escape
from typing import Any

from boardproof.kit.proof import Proof
from boardproof.prove.verdict import GROUND, Judged
from boardproof.publish.marks import MARKS, mark_shapes
from boardproof.publish.web import Html
from boardproof.studio.proving import proved

__all__ = ["of_statement", "rows", "verdict_symbols"]

DECIDED = {
    "identity": "both sides are the same expression", "factors": "what differs between the sides was factored",
    "grid": "tried at every combination", "squares": "written as a sum of squares", "order": "by order and sign",
    "z3": "a solver for inequalities decided it", "numbers": "worked out with this scene’s numbers",
    "dimensions": "by the units of both sides",
}  # fmt: skip


def of_statement(proof: Proof, judged: Judged | None) -> str:
    """The proof of one statement as HTML.

    Parameters
    ----------
    proof : Proof
        The lesson.
    judged : Judged or None
        The statement; None if it is gone.
    """
    del proof
    if judged is None:
        return "<p>This statement has changed. Look again in a moment.</p>"
    verdict = judged.verdict
    told = [f"{MARKS[verdict.kind].word}, {GROUND}"]
    told += [DECIDED.get(verdict.decided_by or "", verdict.decided_by or "")] if verdict.decided_by else []
    told += [f"only when {verdict.condition}"] if verdict.condition else []
    told += [f"right: {verdict.right}"] if verdict.right else []
    for each in verdict.evidence:
        values = ", ".join(f"{name} = {value}" for name, value in each.values.items())
        told.append(f"{each.text}{f' ({values})' if values else ''}")
    return f"<ul>{''.join(f'<li>{escape(each)}</li>' for each in dict.fromkeys(told))}</ul>"


def rows(root: str, name: str, text: str) -> dict[str, Any]:
    """Every statement of a lesson with its verdict and its proof, for the page.

    Parameters
    ----------
    root : str
        The folder.
    name : str
        The lesson's file.
    text : str
        Its text.
    """
    proof = proved(root, name, text)
    return {
        "title": proof.lesson.title,
        "counts": proof.report.counts_line(),
        "ground": GROUND,
        "marks": Html(verdict_symbols()),
        "rows": [_row(proof, each) for each in proof.checked.judged],
    }


def _row(proof: Proof, each: Judged) -> dict[str, str | int]:
    is_trap = each.expected == "wrong" and each.met
    return {
        "line": proof.lesson.source.position(each.said.span.start)[0],
        "text": " ".join(each.said.text.split()),
        "kind": each.verdict.kind,
        "word": "wrong, as it should be" if is_trap else MARKS[each.verdict.kind].word,
        "proof": Html(of_statement(proof, each)),
    }


def verdict_symbols() -> str:
    """The marks, to be used by name."""
    return "".join(
        f'<symbol id="v-{kind}" viewBox="0 0 20 20">{mark_shapes(kind, "css")}</symbol>' for kind in MARKS
    )
