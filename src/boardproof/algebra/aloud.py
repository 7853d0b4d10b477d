"""Maths as it is read aloud in English: for the script of a recording and for text alternatives."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from boardproof.algebra.expression import (
    Call,
    Condition,
    Ellipsis,
    Expression,
    Infinity,
    Limit,
    Line,
    Name,
    Negative,
    Number,
    Parallel,
    Power,
    Product,
    Quotient,
    Relation,
    Sum,
    SumOver,
)
from boardproof.algebra.plain import CONDITION_WORDS, MULTIPLIED, ONE, Tree, strength
from boardproof.quantities import PURE, Style, speech

__all__ = ["spoken"]

COMPARED: Final = {
    "=": "equals",
    "≈": "is about",
    "<": "is less than",
    ">": "is greater than",
    "≤": "is at most",
    "≥": "is at least",
    "≠": "is not equal to",
}
POWERS: Final = {2: "squared", 3: "cubed"}
LETTERS: Final = {"ε": "epsilon", "η": "eta", "τ": "tau", "ρ": "rho", "Δ": "delta", "Σ": "sigma", "µ": "mu"}


def spoken(tree: Tree) -> str:
    """Maths in words.

    Parameters
    ----------
    tree : Expression, Statement, Line or Condition
        What to say.

    Examples
    --------
    >>> top = Sum((Product((Name("E_1"), Name("r_2"))), Product((Name("E_2"), Name("r_1")))))
    >>> spoken(Relation(Name("E_p"), "=", Quotient(top, Sum((Name("r_1"), Name("r_2"))))))
    'E p equals E one r two plus E two r one, all over r one plus r two'
    """
    match tree:
        case Line(statements=statements, bare=bare, condition=condition):
            pieces: list[str] = []
            for statement in statements:
                if isinstance(statement, Relation) and statement.chain and pieces:
                    pieces[-1] += f", which {COMPARED[statement.sign]} {spoken(statement.right)}"
                else:
                    pieces.append(spoken(statement))
            text = ", and ".join([*pieces, *(spoken(each) for each in bare)])
            return f"{text}, {spoken(condition)}" if condition else text
        case Condition(word=word, statements=statements):
            words = CONDITION_WORDS.get(word, word)
            said = " and ".join(spoken(statement) for statement in statements)
            return f"{words} {said}" if said else words
        case Relation(left=left, sign=sign, right=right):
            return f"{_said(left)} {COMPARED[sign]} {_said(right)}"
        case Limit(of=of, to=to, letter=letter, end=end):
            return f"{_said(of)} goes to {_said(to)} as {_name(letter)} goes to {_said(end)}"
        case _:
            return _said(tree)


def _name(text: str) -> str:
    """A letter and its subscript, digits as words: ``E_12`` is "E one two"."""
    stem, _, subscript = text.partition("_")
    pieces = [LETTERS.get(stem, stem)]
    pieces += [
        _digit(piece) if piece.isdigit() else piece for piece in re.findall(r"[0-9]|[^\W\d_]+", subscript)
    ]
    return " ".join(pieces)


def _digit(digit: str) -> str:
    """A digit as a word."""
    return speech(Fraction(digit), PURE)


def _number(number: Number) -> str:
    figures = max(number.figures or 0, 6)
    dimension = number.unit.dimension if number.unit else PURE
    return speech(number.value, dimension, Style(figures=figures))


def _grouped(tree: Expression, at_least: int) -> str:
    """A part that would stand in brackets is said "the quantity ...", ended by a comma."""
    return _said(tree) if strength(tree) >= at_least else f"the quantity {_said(tree)},"


def _said(tree: Expression) -> str:
    match tree:
        case Number():
            return _number(tree)
        case Name(text=text):
            return _name(text)
        case Negative(of=inner):
            return f"minus {_grouped(inner, MULTIPLIED)}"
        case Sum(terms=terms):
            text = _said(terms[0])
            for term in terms[1:]:
                minus = isinstance(term, Negative)
                part = term.of if isinstance(term, Negative) else term
                text += (" minus " if minus else " plus ") + _grouped(part, MULTIPLIED)
            return text
        case Product(factors=factors):
            return _product(factors)
        case Quotient(over=over, under=under):
            return _said(over) + (", all over " if _long(over) else " over ") + _said(under)
        case Power(base=base, exponent=exponent):
            number = "minus " * (exponent < 0) + speech(Fraction(str(abs(exponent))), PURE)
            return f"{_grouped(base, ONE)} {POWERS.get(exponent, f'to the power {number}')}"
        case Parallel(branches=branches):
            return " in parallel with ".join(_grouped(branch, ONE) for branch in branches)
        case Call(function=function, of=inner):
            return ("the square root of " if function == "sqrt" else "the size of ") + _said(inner)
        case SumOver(index=index, first=first, last=last, term=term):
            low = speech(Fraction(str(first)), PURE)
            return f"the sum, from {_name(index)} equals {low} to {_said(last)}, of {_said(term)}"
        case Infinity():
            return "infinity"
        case Ellipsis():
            return "and so on"


def _product(factors: tuple[Expression, ...]) -> str:
    text = _grouped(factors[0], ONE)
    for factor in factors[1:]:
        times = not isinstance(factor, Name | Power) or isinstance(factor, Number)
        text += (" times " if times else " ") + _grouped(factor, ONE)
    return text


def _long(tree: Expression) -> bool:
    """Whether "all over" is needed to hear what stands above the bar."""
    return isinstance(tree, Sum | Negative | Parallel | Quotient)
