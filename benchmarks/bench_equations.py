"""From the text of an equation to its verdict, on the labelled set, beside sympy.simplify of the same sides.

sympy gets the sides of those that are plain formulas, with the answers of the circuit already filled in for it, and
has only to say whether the difference is nought.
"""

from __future__ import annotations

import json
import sys

from course import ROOT
from timing import calls, percentile, tell

sys.path.insert(0, str(ROOT / "tests"))

import sympy  # after the path

from boardproof.algebra.expression import Name, Negative, Number, Power, Product, Quotient, Sum, names_in
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.written import read_line
from boardproof.source import Source
from outside.equations import verdict_of, world_of

PEER = "sympy.simplify"
SAMPLE = 12
GOAL = "2 ms median, 20 ms at 95 %"


def in_sympy(tree, meaning):
    """A tree of maths as sympy's."""

    def of(part):
        return in_sympy(part, meaning)

    match tree:
        case Number(value=exact):
            return sympy.Rational(exact.numerator, exact.denominator)
        case Name(text=name):
            return meaning(name)
        case Negative(of=inner):
            return -of(inner)
        case Sum(terms=terms):
            return sympy.Add(*map(of, terms))
        case Product(factors=factors):
            return sympy.Mul(*map(of, factors))
        case Quotient(over=over, under=under):
            return of(over) / of(under)
        case Power(base=base, exponent=exponent):
            return of(base) ** exponent
    raise ValueError(tree)


def formula_in_sympy(formula):
    """An exact ratio of letters as sympy's."""

    def joined(polynomial):
        return sympy.Add(
            *(
                number * sympy.Mul(*(sympy.Symbol(letter) ** power for letter, power in powers.items()))
                for powers, number in polynomial.terms()
            )
        )

    return joined(formula.numerator) / joined(formula.denominator)


def differences(cases):
    """What sympy has to simplify: left less right, names replaced by the circuit's formulas."""
    found = []
    for case in cases:
        world = world_of(case)
        line, _ = read_line(Source("x", case["statement"]).slice(), known=tuple(case["symbols"]))
        if line is None or line.condition or any(each.sign != "=" for each in line.statements):
            continue
        names = {
            name.text for each in line.statements for name in (*names_in(each.left), *names_in(each.right))
        }
        formulas = {name: world.in_letters(name) for name in names}
        if any(isinstance(each, Unknown) for each in formulas.values()):
            continue
        meaning = {name: formula_in_sympy(each) for name, each in formulas.items()}
        found += [
            in_sympy(each.left, meaning.get) - in_sympy(each.right, meaning.get) for each in line.statements
        ]
    return found


def main():
    path = ROOT / "tests" / "outside" / "data" / "equations.jsonl"
    cases = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    calls(verdict_of, [(each,) for each in cases])  # warm
    ours = calls(verdict_of, [(each,) for each in cases])
    asked = differences(cases)[:SAMPLE]
    theirs = calls(sympy.simplify, [(each,) for each in asked])
    print(
        f"{len(ours)} equations, {len(theirs)} of them for {PEER}, with the circuit solved for it beforehand"
    )
    for percent in (50, 95):
        tell(f"text to verdict, {percent} % under", percentile(ours, percent), PEER,
             percentile(theirs, percent), GOAL)  # fmt: skip


if __name__ == "__main__":
    main()
