"""A web quiz in one file that works without a network: for practice, key inside; or to be marked, no key inside.

The page's script and style are ours and named in its policy by their hashes; what a teacher wrote arrives as data.
"""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Mapping, Sequence
from fractions import Fraction
from importlib.resources import files
from typing import Any, Final, Literal

from boardproof.algebra.polynomial import RationalFunction
from boardproof.belief.catalogue import BELIEFS
from boardproof.practice.draws import Pool
from boardproof.practice.filled import circuit_given, filled
from boardproof.practice.papers import Paper
from boardproof.practice.records import Asked, Key, Solved
from boardproof.publish.palette import custom_properties
from boardproof.publish.question_figure import question_frame
from boardproof.publish.svg import frame_svg
from boardproof.publish.typeset import Typesetter
from boardproof.publish.web import Html
from boardproof.quantities import si_unit

__all__ = ["QuizKind", "quiz_page"]

QuizKind = Literal["practice", "marked"]
WAYS: Final = (("along", "out of its plus end, or from the supply's plus"), ("against", "the other way"))
PRIMES: Final = (2, 3, 5, 7, 11, 13, 17, 19, 23, 29)


def quiz_page(
    title: str, pools: Sequence[Pool], paper: Paper, kind: QuizKind, typesetter: Typesetter, *, caution: str
) -> str:
    """A quiz of one paper as HTML.

    Parameters
    ----------
    title : str
        At the head.
    pools : sequence of Pool
        Its questions.
    paper : Paper
        With its numbers.
    kind : {"practice", "marked"}
        With the key and feedback at once; or without, handing back an answer file or a code.
    typesetter : Typesetter
        Sets labels of figures.
    caution : str
        Full caution; empty where nothing can hurt.
    """
    from jinja2 import Environment  # slow to load; only pages need it

    folder = files("boardproof.publish") / "templates"
    style = f":root{{{custom_properties('paper')}}}" + (folder / "quiz.css").read_text(encoding="utf-8")
    script = (folder / "quiz.js").read_text(encoding="utf-8")
    shell = (folder / "quiz.html").read_text(encoding="utf-8")
    page = Environment(autoescape=True, trim_blocks=True, lstrip_blocks=True).from_string(shell)
    facts = _facts(pools, paper, kind)
    return page.render(
        title=title,
        paper=paper.code,
        marked=kind == "marked",
        caution=caution,
        policy=_policy(style, script),
        style=Html(style),
        script=Html(script),
        facts=Html(_in_script(facts)),
        questions=[_question(n, pool, paper, typesetter) for n, pool in enumerate(pools, 1)],
    )


def _policy(style: str, script: str) -> str:
    hashes = [base64.b64encode(hashlib.sha256(each.encode()).digest()).decode() for each in (style, script)]
    return (
        f"default-src 'none'; img-src data:; style-src 'sha256-{hashes[0]}'; script-src 'sha256-{hashes[1]}'; "
        "base-uri 'none'; form-action 'none'"
    )


def _in_script(facts: Mapping[str, Any]) -> str:
    """JSON that ends no script and begins no comment."""
    text = json.dumps(facts, ensure_ascii=False)
    return text.replace("&", "\\u0026").replace("<", "\\u003c").replace(">", "\\u003e")


def _question(number: int, pool: Pool, paper: Paper, typesetter: Typesetter) -> dict[str, Any]:
    prepared, variant = pool.prepared, paper.variants[number - 1]
    circuit, figure = circuit_given(prepared, variant.draw), None
    if circuit is not None:
        made = question_frame(circuit, typesetter, prepared.question.topic or "Circuit")
        svg = base64.b64encode(frame_svg(made, typesetter, "paper").encode()).decode()
        figure = {
            "source": f"data:image/svg+xml;base64,{svg}",
            "words": made.alternative or "Circuit",
            "width": round(made.width * 10),
            "height": round(made.height * 10),
        }
    return {
        "number": number,
        "name": prepared.question.name[:1].upper() + prepared.question.name[1:],
        "stem": filled(prepared.question.stem, prepared, variant.draw).replace("$", ""),
        "figure": figure,
        "parts": [
            {
                "label": part.asked.label,
                "form": part.asked.form,
                "words": filled(part.asked.words, prepared, variant.draw).replace("$", ""),
                "marks": part.asked.marks,
                "unit": part.asked.unit,
                "options": _options(part.asked, solved),
                "names": _names(part.asked),
            }
            for part, solved in zip(prepared.parts, variant.parts, strict=True)
        ],
    }


def _options(asked: Asked, solved: Solved) -> list[tuple[str, str]]:
    if asked.form == "arrow":
        return list(WAYS)
    return [(option.letter, option.text) for option in solved.options]


def _names(asked: Asked) -> list[str]:
    return [each.strip() for each in asked.name.split(",")]


def _facts(pools: Sequence[Pool], paper: Paper, kind: QuizKind) -> dict[str, Any]:
    facts: dict[str, Any] = {
        "schema": 1,
        "paper": paper.code,
        "student": "",
        "versions": [pool.prepared.question.version for pool in pools],
    }
    if kind == "practice":
        rows = enumerate(zip(pools, paper.variants, strict=True), 1)
        facts["keys"] = {
            f"{number}|{solved.label}": _answer(part.asked, solved)
            for number, (pool, variant) in rows
            for part, solved in zip(pool.prepared.parts, variant.parts, strict=True)
        }
    return facts


def _answer(asked: Asked, solved: Solved) -> dict[str, Any]:
    """What the page needs to judge an answer and to say why it is wrong."""
    unit = si_unit(asked.dimension)
    symbol = unit.symbol if unit is not None else ""
    made: dict[str, Any] = {
        "form": asked.form,
        "shown": solved.shown,
        "symbol": symbol,
        "unit": asked.unit,
        "like": f"2.5 {symbol}".strip(),
        "hint": "Which rule holds here, and why?",
        "wrong": [],
    }
    points = _points(asked, solved) if isinstance(solved.key, RationalFunction) else []
    if isinstance(solved.key, RationalFunction):
        made["points"] = [{letter: float(value) for letter, value in point.items()} for point in points]
        made["values"] = [float(solved.key.evaluate(point)) for point in points]
    else:
        made["value"] = _plain(solved.key)
    for belief, value in solved.wrong.items():
        words = BELIEFS[belief].words
        if isinstance(value, RationalFunction):
            values = [float(value.evaluate(point)) for point in points]
            made["wrong"].append({"words": words, "values": values})
        else:
            made["wrong"].append({"words": words, "value": _plain(value)})
    return made


def _points(asked: Asked, solved: Solved) -> list[dict[str, Fraction]]:
    formulas = [
        value for value in (solved.key, *solved.wrong.values()) if isinstance(value, RationalFunction)
    ]
    letters = sorted(frozenset().union(*(each.letters for each in formulas)) | set(asked.letters))
    size = len(PRIMES)
    return [
        {
            letter: Fraction(PRIMES[(at * (turn + 1) + turn) % size], turn + 2)
            for at, letter in enumerate(letters)
        }
        for turn in range(3)
    ]


def _plain(value: Key) -> float | str:
    match value:
        case Fraction():
            return float(value)
        case tuple():
            return " > ".join(value)
        case _:
            return str(value)
