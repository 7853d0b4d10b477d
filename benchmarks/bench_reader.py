"""The reader of typed maths beside sympy's parser, on the same formulas of our own.

sympy's runs what it reads, so it is shown nothing else; ours also keeps the place of every sign.
"""

from __future__ import annotations

from timing import call, tell

from boardproof.algebra.written import read_line
from boardproof.source import Source

import sympy  # isort: skip
from sympy.parsing.sympy_parser import parse_expr

PEER = "sympy's parse_expr"
FORMULAS = (
    "(E_1*r_2 + E_2*r_1)/(r_1 + r_2)",
    "r_1*r_2/(r_1 + r_2)",
    "E_1 - I*r_1",
    "6/(4 + 1/2)",
    "(E_1 + E_2 + E_3)/(R + r_1 + r_2 + r_3)",
    "V**2/R",
    "n*E_1/(R + n*r_1)",
    "0.5*R + 0.25",
)
LETTERS = ("E_1", "E_2", "E_3", "r_1", "r_2", "r_3", "R", "I", "V", "n")
ROUNDS = 50


def ours(texts):
    for text in texts:
        line, _ = read_line(Source("answer", text).slice(), known=LETTERS)
        assert line is not None, text


def theirs(texts, meaning):
    for text in texts:
        parse_expr(text, local_dict=meaning, evaluate=False)


def main():
    texts = [each.replace("**", "^") for each in FORMULAS] * ROUNDS
    mine = call(ours, texts) / len(texts)
    peer = call(theirs, list(FORMULAS) * 5, {name: sympy.Symbol(name) for name in LETTERS}) / (
        len(FORMULAS) * 5
    )
    tell("a formula read", mine, PEER, peer)
    print(
        f"{1000 / mine:,.0f} a second; goal 50,000 a second, by the reader of students' answers that is to come"
    )


if __name__ == "__main__":
    main()
