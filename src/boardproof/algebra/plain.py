"""Writing maths as plain text that can be read again; the rules for brackets that every other writer uses too."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from itertools import pairwise
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
    Statement,
    Sum,
    SumOver,
)
from boardproof.algebra.notation import Notation
from boardproof.algebra.tokens import POWERS, UNIT
from boardproof.quantities import NARROW_SPACE, PURE, Style, shown

__all__ = [
    "CONDITION_WORDS",
    "MULTIPLIED",
    "ONE",
    "SIGNED",
    "Tree",
    "bracketed",
    "name_parts",
    "number_text",
    "plain",
    "strength",
]

Tree = Expression | Statement | Line | Condition
RAISED: Final = {digit: sign for sign, digit in POWERS.items()}
# How tightly each kind holds together; a part that binds less than its place asks for gets brackets.
ADDED, SIGNED, MULTIPLIED, ONE = 1, 2, 3, 5


def strength(tree: Expression) -> int:
    """How tightly a tree holds together when written on one line.

    Parameters
    ----------
    tree : Expression
        The part to be written.

    Examples
    --------
    A sum holds less tightly than a product:

    >>> from boardproof.algebra.expression import Name
    >>> strength(Sum((Name("r"), Name("R")))) < strength(Product((Name("I"), Name("r"))))
    True
    """
    match tree:
        case Parallel():
            return 0
        case Sum():
            return ADDED
        case Negative():
            return SIGNED
        case Product() | Quotient() | SumOver():
            return MULTIPLIED
        case _:
            return ONE


def bracketed(text: str, tree: Expression, at_least: int) -> str:
    """The text, in brackets if the tree binds less tightly than its place asks for.

    Parameters
    ----------
    text : str
        The part as written.
    tree : Expression
        The part.
    at_least : int
        How tightly its place holds.

    Examples
    --------
    >>> from boardproof.algebra.expression import Name
    >>> bracketed("r + R", Sum((Name("r"), Name("R"))), MULTIPLIED)
    '(r + R)'
    """
    return text if strength(tree) >= at_least else f"({text})"


def name_parts(name: str, notation: Notation) -> tuple[str, str]:
    """Stem and subscript as shown in a notation.

    Parameters
    ----------
    name : str
        In normal form.
    notation : Notation
        Which letters to show.

    Examples
    --------
    >>> name_parts("E_1", Notation(emf="ε")), name_parts("E_1", Notation(emf="U_q")), name_parts("r_p", Notation())
    (('ε', '1'), ('U', 'q,1'), ('r', 'p'))
    """
    stem, _, subscript = name.partition("_")
    written = {"E": notation.emf, "V": notation.pd, "r": notation.inside}.get(stem, stem)
    stem, _, own = written.partition("_")
    return stem, ",".join(each for each in (own, subscript) if each)


def number_text(number: Number, notation: Notation) -> tuple[str, str]:
    """Digits and unit of a number as shown: as typed where it was typed, else exact.

    Parameters
    ----------
    number : Number
        What was typed.
    notation : Notation
        Decimal mark and sign for the ohm.
    """
    scale = number.unit.scale if number.unit else 1
    typed = number.typed
    if not typed:
        value = number.value / scale
        style = Style(figures=15, decimal=".")
        typed = str(value) if number.unit else shown(value, PURE, style, figures=None)
        if "/" not in typed or value.denominator == 1:
            typed = typed.replace(NARROW_SPACE, "")
    if notation.decimal == ",":
        typed = re.sub(r"(?<=[0-9])\.(?=[0-9])", ",", typed)
    symbol = number.unit.symbol.replace("Ω", notation.ohm) if number.unit else ""
    return typed, symbol


# Plain text


def plain(tree: Tree, notation: Notation | None = None) -> str:
    r"""Maths on one line, as a person would type it with a good keyboard; it reads as the same tree.

    Parameters
    ----------
    tree : Expression, Statement, Line or Condition
        What to write.
    notation : Notation, optional
        Which letters and signs to show.

    Examples
    --------
    >>> from boardproof.algebra.written import read_line
    >>> from boardproof.source import Source
    >>> line, _ = read_line(Source("x", r"E_p = \frac{E_1 r_2 - E_2*2}{r_1 + r_2} if I^2 > 0").slice(), known=())
    >>> plain(line)
    'E_p = (E_1 r_2 − E_2 · 2)/(r_1 + r_2) if I² > 0'
    """
    notation = notation or Notation()
    match tree:
        case Line():
            return _line(tree, lambda part: plain(part, notation))
        case Condition():
            return _condition(tree, lambda part: plain(part, notation))
        case Relation(left=left, sign=sign, right=right):
            return f"{plain(left, notation)} {sign} {plain(right, notation)}"
        case Limit(of=of, to=to, letter=letter, end=end):
            return f"{plain(of, notation)} → {plain(to, notation)} as {letter} → {plain(end, notation)}"
        case _:
            return _Plain(notation).write(tree)


def _chains(statements: Sequence[Statement], write: Callable[[Expression | Statement], str]) -> list[str]:
    """Statements, with the relations of one chain joined again."""
    pieces: list[str] = []
    for statement in statements:
        if isinstance(statement, Relation) and statement.chain and pieces:
            pieces[-1] += f" {statement.sign} {write(statement.right)}"
        else:
            pieces.append(write(statement))
    return pieces


def _line(line: Line, write: Callable[[Expression | Statement | Condition], str]) -> str:
    text = ", ".join([*_chains(line.statements, write), *(write(bare) for bare in line.bare)])
    if line.condition:
        text += f" {write(line.condition)}"
    return text + (rf" \tag{{{line.tag}}}" if line.tag else "")


CONDITION_WORDS: Final = {
    "every load": "for every load",
    "no load": "with no load",
    "with load": "with the load connected",
}


def _condition(condition: Condition, write: Callable[[Expression | Statement], str]) -> str:
    words = CONDITION_WORDS.get(condition.word, condition.word)
    pieces = _chains(condition.statements, write)
    return f"{words} {' and '.join(pieces)}" if pieces else words


class _Plain:
    """Writes one expression on one line."""

    def __init__(self, notation: Notation) -> None:
        self.notation = notation

    def at(self, tree: Expression, at_least: int) -> str:
        return bracketed(self.write(tree), tree, at_least)

    def write(self, tree: Expression) -> str:
        match tree:
            case Number():
                digits, symbol = number_text(tree, self.notation)
                return digits + (NARROW_SPACE + symbol if symbol else "")
            case Name(text=text):
                return self.name(text)
            case Negative(of=inner):
                return "−" + self.at(inner, MULTIPLIED)
            case Sum(terms=terms):
                return self.sum(terms)
            case Product(factors=factors):
                return self.product(factors)
            case Quotient(over=over, under=under):
                return self.quotient(over, under)
            case Power(base=base, exponent=exponent):
                raised = "".join(RAISED[each] for each in str(exponent))
                return self.base(base) + raised
            case Parallel(branches=branches):
                return f" {self.notation.parallel} ".join(self.at(branch, ONE) for branch in branches)
            case Call(function=function, of=inner):
                return f"{function}({self.write(inner)})"
            case SumOver(index=index, first=first, last=last, term=term):
                return f"∑_{{{index}={first}}}^{{{self.write(last)}}} {self.at(term, MULTIPLIED)}"
            case Infinity():
                return "∞"
            case Ellipsis():
                return "…"

    def name(self, text: str) -> str:
        stem, subscript = name_parts(text, self.notation)
        easy = re.fullmatch(r"[A-Za-z]+[0-9]*(\.[0-9]+)*|[0-9]+", subscript)
        return stem + (f"_{subscript}" if easy else f"_{{{subscript}}}" if subscript else "")

    def sum(self, terms: Sequence[Expression]) -> str:
        text = self.at(terms[0], SIGNED)
        for term in terms[1:]:
            minus = isinstance(term, Negative)
            text += (" − " if minus else " + ") + self.at(
                term.of if isinstance(term, Negative) else term, MULTIPLIED
            )
        return text

    def product(self, factors: Sequence[Expression]) -> str:
        text = self.at(factors[0], ONE)
        for left, right in pairwise(factors):
            next_text = self.at(right, ONE)
            text += self.sign_between(left, next_text) + next_text
        return text

    @staticmethod
    def sign_between(left: Expression, right: str) -> str:
        """A dot where side by side would be read as something else, a number or a unit."""
        unclear = right[0].isdigit() or (
            isinstance(left, Number) and (left.unit is not None or UNIT.match(right))
        )
        return " · " if unclear else " "

    def quotient(self, over: Expression, under: Expression) -> str:
        above = f"({self.write(over)})" if isinstance(over, Quotient | SumOver) else self.at(over, MULTIPLIED)
        below = self.at(under, ONE)
        mixed = above[-1].isdigit() and isinstance(under, Number) and under.unit is not None
        return f"{above}/({below})" if mixed else f"{above}/{below}"

    def base(self, base: Expression) -> str:
        simple = isinstance(base, Name | Call) or (isinstance(base, Number) and self.write(base).isdigit())
        return self.write(base) if simple else f"({self.write(base)})"
