"""How we know, for a teacher to be convinced: verdict, ground, evidence, and what decided it."""

from __future__ import annotations

from html import escape

from boardproof.kit.proof import Proof
from boardproof.prove.verdict import GROUND, Judged
from boardproof.publish.marks import MARKS
from boardproof.publish.web import Html
from boardproof.studio.proving import proved

__all__ = ["of_statement", "rows"]

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


def rows(root: str, name: str, text: str) -> list[dict[str, str | int]]:
    """Every statement of a lesson with its verdict and its proof.

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
    source = proof.lesson.source
    return [
        {
            "line": source.position(each.said.span.start)[0],
            "text": " ".join(each.said.text.split()),
            "kind": each.verdict.kind,
            "word": "wrong, as it should be"
            if each.expected == "wrong" and each.met
            else MARKS[each.verdict.kind].word,
            "proof": Html(of_statement(proof, each)),
        }
        for each in proof.checked.judged
    ]
