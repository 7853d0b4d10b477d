"""Writing maths for the typesetter and for screens: typst markup and MathML.

Markup is built from safe pieces only: whatever came from a person stands between quotation marks, or is escaped.
"""

from __future__ import annotations

import html
import re
from collections.abc import Sequence
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
from boardproof.algebra.plain import (
    CONDITION_WORDS,
    MULTIPLIED,
    ONE,
    SIGNED,
    Tree,
    name_parts,
    number_text,
    strength,
)
from boardproof.quantities import NARROW_SPACE

__all__ = ["mathml", "typst"]

TYPST_SIGNS: Final = {"≤": "<=", "≥": ">=", "≠": "!=", "≈": "approx", "=": "=", "<": "<", ">": ">"}


def typst(tree: Tree, notation: Notation | None = None, *, display: bool = True) -> str:
    r"""Maths in the typesetter's markup, without the dollar signs around it.

    Parameters
    ----------
    tree : Expression, Statement, Line or Condition
        What to set.
    notation : Notation, optional
        Which letters and signs to show.
    display : bool
        Fractions stacked (on the board), or with a slash (in a line of text).

    Examples
    --------
    >>> typst(Quotient(Name("E_p"), Name("r_2"))), typst(Quotient(Name("E"), Name("r")), display=False)
    ('frac(E_(upright("p")), r_(2))', 'E\\/r')
    """
    writer = _Typst(notation or Notation(), display=display)
    match tree:
        case Line():
            return writer.line(tree)
        case Condition():
            return writer.condition(tree)
        case Relation() | Limit():
            return writer.statement(tree)
        case _:
            return writer.write(tree)


def _quoted(text: str) -> str:
    """A string literal of the typesetter: nothing in it is markup."""
    clean = "".join(char for char in text if char.isprintable())
    return '"' + clean.replace("\\", "\\\\").replace('"', '\\"') + '"'


class _Typst:
    """Writes markup; every piece is a known word, a single letter or a quoted string."""

    def __init__(self, notation: Notation, *, display: bool) -> None:
        self.notation = notation
        self.display = display

    def at(self, tree: Expression, at_least: int) -> str:
        holds = ONE if self.display and isinstance(tree, Quotient) else strength(tree)
        return self.write(tree) if holds >= at_least else f"({self.write(tree)})"

    def line(self, line: Line) -> str:
        pieces: list[str] = []
        for statement in line.statements:
            if isinstance(statement, Relation) and statement.chain:
                # A line that begins inside a chain goes on from the row above it.
                further = f"{TYPST_SIGNS[statement.sign]} {self.write(statement.right)}"
                pieces[-1:] = [f"{pieces[-1]} {further}" if pieces else further]
            else:
                pieces.append(self.statement(statement))
        text = '"," quad '.join([*pieces, *(self.write(bare) for bare in line.bare)])
        return f"{text} quad {self.condition(line.condition)}" if line.condition else text

    def condition(self, condition: Condition) -> str:
        words = _quoted(CONDITION_WORDS.get(condition.word, condition.word))
        statements = ' quad "and" quad '.join(self.statement(each) for each in condition.statements)
        return f"{words} quad {statements}" if statements else words

    def statement(self, statement: Statement) -> str:
        if isinstance(statement, Relation):
            return f"{self.write(statement.left)} {TYPST_SIGNS[statement.sign]} {self.write(statement.right)}"
        ends = f"{self.name(statement.letter)} -> {self.write(statement.end)}"
        return f'{self.write(statement.of)} -> {self.write(statement.to)} quad "as" quad {ends}'

    def name(self, text: str) -> str:
        stem, subscript = name_parts(text, self.notation)
        base = {"ℰ": "cal(E)"}.get(
            stem, stem if len(stem) == 1 and stem.isalpha() else f"upright({_quoted(stem)})"
        )
        if not subscript:
            return base
        if re.fullmatch("[0-9]+|[kmn]", subscript):  # a number or a count
            return f"{base}_({subscript})"
        return f"{base}_(upright({_quoted(subscript)}))"

    def write(self, tree: Expression) -> str:
        match tree:
            case Number():
                digits, symbol = number_text(tree, self.notation)
                return self.number(digits) + (f" thin upright({_quoted(symbol)})" if symbol else "")
            case Name(text=text):
                return self.name(text)
            case Negative(of=inner):
                return "-" + self.at(inner, MULTIPLIED)
            case Sum(terms=terms):
                return self.sum(terms)
            case Product(factors=factors):
                return self.product(factors)
            case Quotient(over=over, under=under):
                if self.display:
                    return f"frac({self.write(over)}, {self.write(under)})"
                above = (
                    f"({self.write(over)})"
                    if isinstance(over, Quotient | SumOver)
                    else self.at(over, MULTIPLIED)
                )
                return above + "\\/" + self.at(under, ONE)
            case Power(base=base, exponent=exponent):
                return f"{self.base(base)}^({exponent})"
            case Parallel(branches=branches):
                sign = " parallel " if self.notation.parallel == "∥" else f' "{self.notation.parallel}" '
                return sign.join(self.at(branch, ONE) for branch in branches)
            case Call(function=function, of=inner):
                return f"{function}({self.write(inner)})"
            case SumOver(index=index, first=first, last=last, term=term):
                return f"sum_({self.name(index)} = {first})^({self.write(last)}) {self.at(term, MULTIPLIED)}"
            case Infinity():
                return "infinity"
            case Ellipsis():
                return "dots.c"

    @staticmethod
    def number(digits: str) -> str:
        over, slash, under = digits.partition("/")
        if slash:
            return f"{_quoted(over.strip())}\\/{_quoted(under.strip())}"
        mantissa, times, power = digits.partition("×")
        if times:
            return f"{_quoted(mantissa.strip())} times 10^({_quoted(power.partition('^')[2].strip('{} '))})"
        return _quoted(digits)

    def sum(self, terms: Sequence[Expression]) -> str:
        text = self.at(terms[0], SIGNED)
        for term in terms[1:]:
            minus = isinstance(term, Negative)
            text += (" - " if minus else " + ") + self.at(
                term.of if isinstance(term, Negative) else term, MULTIPLIED
            )
        return text

    def product(self, factors: Sequence[Expression]) -> str:
        text = self.at(factors[0], ONE)
        for left, right in pairwise(factors):
            dot = _starts_with_number(right) or (isinstance(left, Number) and left.unit is not None)
            text += (" dot.c " if dot else " ") + self.at(right, ONE)
        return text

    def base(self, base: Expression) -> str:
        simple = isinstance(base, Name | Call) or (isinstance(base, Number) and not base.unit)
        return self.write(base) if simple else f"({self.write(base)})"


def _starts_with_number(tree: Expression) -> bool:
    match tree:
        case Number():
            return True
        case Power(base=first):
            return _starts_with_number(first)
        case _:
            return False


def mathml(tree: Tree, notation: Notation | None = None) -> str:
    """Maths as MathML, for screen readers and pages.

    Parameters
    ----------
    tree : Expression, Statement, Line or Condition
        What to write.
    notation : Notation, optional
        Which letters and signs to show.

    Examples
    --------
    >>> mathml(Quotient(Name("E"), Name("r_2")))
    '<math><mfrac><mi>E</mi><msub><mi>r</mi><mn>2</mn></msub></mfrac></math>'
    """
    return f"<math>{_MathML(notation or Notation()).any(tree)}</math>"


def _operator(sign: str) -> str:
    return f"<mo>{html.escape(sign)}</mo>"


def _row(inner: str) -> str:
    return f"<mrow>{inner}</mrow>"


def _text(words: str) -> str:
    return f"<mtext>\u00a0{html.escape(words)}\u00a0</mtext>"


class _MathML:
    """Writes elements; text of people is escaped."""

    def __init__(self, notation: Notation) -> None:
        self.notation = notation

    def at(self, tree: Expression, at_least: int) -> str:
        holds = ONE if isinstance(tree, Quotient) else strength(tree)
        inner = self.write(tree)
        return inner if holds >= at_least else _row(_operator("(") + inner + _operator(")"))

    def any(self, tree: Tree) -> str:
        match tree:
            case Line(statements=statements, bare=bare, condition=condition):
                groups: list[str] = []
                for statement in statements:
                    if isinstance(statement, Relation) and statement.chain and groups:
                        groups[-1] += _operator(statement.sign) + self.write(statement.right)
                    else:
                        groups.append(self.any(statement))
                groups += [self.write(each) for each in bare]
                return _operator(",").join(groups) + (self.any(condition) if condition else "")
            case Condition(word=word, statements=statements):
                words = _text(CONDITION_WORDS.get(word, word))
                return words + _text("and").join(self.any(statement) for statement in statements)
            case Relation(left=left, sign=sign, right=right):
                return self.write(left) + _operator(sign) + self.write(right)
            case Limit(of=of, to=to, letter=letter, end=end):
                goes = self.write(of) + _operator("→") + self.write(to)
                return goes + _text("as") + self.name(letter) + _operator("→") + self.write(end)
            case _:
                return self.write(tree)

    def name(self, text: str) -> str:
        stem, subscript = (html.escape(part) for part in name_parts(text, self.notation))
        if not subscript:
            return f"<mi>{stem}</mi>"
        small = (
            f"<mn>{subscript}</mn>" if subscript.isdigit() else f'<mi mathvariant="normal">{subscript}</mi>'
        )
        return f"<msub><mi>{stem}</mi>{small}</msub>"

    def write(self, tree: Expression) -> str:
        match tree:
            case Number():
                digits, symbol = number_text(tree, self.notation)
                number = f"<mn>{html.escape(digits)}</mn>"
                unit = f'<mi mathvariant="normal">{html.escape(symbol)}</mi>'
                return _row(f"{number}<mtext>{NARROW_SPACE}</mtext>{unit}") if symbol else number
            case Name(text=text):
                return self.name(text)
            case Negative(of=inner):
                return _row(_operator("−") + self.at(inner, MULTIPLIED))
            case Sum(terms=terms):
                return _row(self.sum(terms))
            case Product(factors=factors):
                return _row(self.product(factors))
            case Quotient(over=over, under=under):
                return f"<mfrac>{self.write(over)}{self.write(under)}</mfrac>"
            case Power(base=base, exponent=exponent):
                raised = (
                    f"<mn>{exponent}</mn>"
                    if exponent >= 0
                    else _row(_operator("−") + f"<mn>{-exponent}</mn>")
                )
                simple = isinstance(base, Name | Call) or (isinstance(base, Number) and not base.unit)
                below = self.write(base)
                below = below if simple else _row(_operator("(") + below + _operator(")"))
                return f"<msup>{below}{raised}</msup>"
            case Parallel(branches=branches):
                sign = _operator(self.notation.parallel)
                return _row(sign.join(self.at(branch, ONE) for branch in branches))
            case Call(function="sqrt", of=inner):
                return f"<msqrt>{self.write(inner)}</msqrt>"
            case Call(of=inner):
                return _row(_operator("|") + self.write(inner) + _operator("|"))
            case SumOver(index=index, first=first, last=last, term=term):
                low = _row(self.name(index) + _operator("=") + f"<mn>{first}</mn>")
                sign = f"<munderover>{_operator('∑')}{low}{self.write(last)}</munderover>"
                return _row(sign + self.at(term, MULTIPLIED))
            case Infinity():
                return "<mn>∞</mn>"
            case Ellipsis():
                return _operator("…")

    def sum(self, terms: Sequence[Expression]) -> str:
        text = self.at(terms[0], SIGNED)
        for term in terms[1:]:
            minus = isinstance(term, Negative)
            inner = self.at(term.of if isinstance(term, Negative) else term, MULTIPLIED)
            text += _operator("−" if minus else "+") + inner
        return text

    def product(self, factors: Sequence[Expression]) -> str:
        text = self.at(factors[0], ONE)
        for left, right in pairwise(factors):
            dot = _starts_with_number(right) or (isinstance(left, Number) and left.unit is not None)
            text += _operator("·" if dot else "\u2062") + self.at(right, ONE)
        return text
