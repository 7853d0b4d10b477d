"""Formulas in typed answers: made from tokens, worked out at exact points, compared as functions.

Two formulas are equal if their exact values agree at several random points wherever both are defined. Rational
functions of so low a degree that agree at eight points with denominators of three digits are the same but for odds
below one in 10^12; roots, logarithms and broken powers are compared to nine digits.
"""

from __future__ import annotations

import math
import random
from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Any, Final

from boardproof.algebra.answered_numbers import check_size
from boardproof.algebra.answered_text import Unclear
from boardproof.algebra.answered_units import KINDS_OF_LETTERS, Kind, times_kind
from boardproof.algebra.answered_value import Number, power_of, size_of

__all__ = ["Formula", "factor_between", "formula_of", "kind_of", "token"]

Formula = tuple[Any, ...]  # ("number", value), ("symbol", name), ("+", left, right), ("exp", inner), ...
Token = tuple[str, object]
POINTS: Final = 8
DEEPEST: Final = 60
STARTS: Final = frozenset({"number", "symbol", "function", "("})


def token(kind: str, value: object = None) -> Token:
    """A token: a sign, or a number, symbol or function with its value.

    Parameters
    ----------
    kind : str
        The sign itself, or what it is.
    value : object
        Of a number, symbol or function.
    """
    return kind, value


def formula_of(tokens: Sequence[Token], *, tight: bool | tuple[bool, ...] = True) -> Formula:
    """The formula that tokens are.

    Parameters
    ----------
    tokens : sequence of tokens
        In order.
    tight : bool or tuple of bool
        Whether what follows a division without a sign between belongs below it, for all or for each division.

    Raises
    ------
    Unclear
        If they are none.

    Examples
    --------
    >>> formula_of([token("number", 2), token("symbol", "R")])
    ('*', ('number', 2), ('symbol', 'R'))
    """
    return _Reader(tokens, tight).whole()


class _Reader:
    def __init__(self, tokens: Sequence[Token], tight: bool | tuple[bool, ...]) -> None:  # noqa: FBT001 - a policy
        self.tokens = tokens
        self.tight = tight
        self.at = 0
        self.depth = 0
        self.divisions = 0

    def kind(self) -> str:
        return self.tokens[self.at][0] if self.at < len(self.tokens) else ""

    def whole(self) -> Formula:
        found = self.sum()
        if self.at != len(self.tokens):
            raise Unclear("something behind it has no meaning")
        return found

    def sum(self) -> Formula:
        self.depth += 1
        if self.depth > DEEPEST:
            raise Unclear("it is nested too deeply")
        found = self.product(signed=True)
        while (sign := self.kind()) in {"+", "-"}:
            self.at += 1
            found = (sign, found, self.product(signed=False))
        self.depth -= 1
        return found

    def product(self, *, signed: bool) -> Formula:
        found = self.chain(self.beside(signed=signed))
        while (sign := self.kind()) in {"*", "/"}:
            self.at += 1
            first = self.beside(signed=True)
            if sign == "*":
                found = ("*", found, self.chain(first))
                continue
            tight = self.tight if isinstance(self.tight, bool) else self.tight[self.divisions]
            self.divisions += 1
            found = ("/", found, self.chain(first)) if tight else self.chain(("/", found, first))
        return found

    def chain(self, found: Formula) -> Formula:
        """Factors that follow without a sign."""
        while self.kind() in STARTS:
            if self.kind() == "number":
                raise Unclear("a number stands behind a factor without a sign")
            found = ("*", found, self.beside(signed=False))
        return found

    def beside(self, *, signed: bool) -> Formula:
        found = self.signed(signed=signed)
        while self.kind() == "||":
            self.at += 1
            found = ("||", found, self.signed(signed=True))
        return found

    def signed(self, *, signed: bool) -> Formula:
        if self.kind() in {"+", "-"}:
            negative = self.kind() == "-"
            self.at += 1
            if not signed or self.kind() in {"+", "-"}:
                raise Unclear("two signs stand in a row")
            found = self.power()
            return ("neg", found) if negative else found
        return self.power()

    def power(self) -> Formula:
        self.depth += 1
        if self.depth > DEEPEST:
            raise Unclear("it is nested too deeply")
        found = self.primary()
        if self.kind() == "^":
            self.at += 1
            found = ("^", found, self.signed(signed=True))
        self.depth -= 1
        return found

    def primary(self) -> Formula:
        if self.at == len(self.tokens):
            raise Unclear("it ends where a letter or number should stand")
        kind, value = self.tokens[self.at]
        self.at += 1
        if kind in {"number", "symbol"}:
            return kind, value
        if kind == "function":
            return ("exp" if value == "e^" else str(value), self.signed(signed=value == "e^"))
        if kind == "(":
            found = self.sum()
            if self.kind() != ")":
                raise Unclear("a bracket is not closed")
            self.at += 1
            return found
        raise Unclear("a sign stands where a letter or number should")


def _worked_out(formula: Formula, point: Mapping[str, Fraction]) -> Number:
    """The value at a point; ZeroDivisionError and ValueError where it is not defined."""
    match formula:
        case ("number", value):
            return value  # type: ignore[no-any-return]  # what `token` put there
        case ("symbol", name):
            return point[name]
        case ("neg", inner):
            return -_worked_out(inner, point)
        case (("sqrt" | "ln" | "exp") as name, inner):
            return _function(name, _worked_out(inner, point))
    sign, left, right = formula
    one, other = _worked_out(left, point), _worked_out(right, point)
    match sign:
        case "+":
            found = one + other
        case "-":
            found = one - other
        case "*":
            found = one * other
        case "/":
            found = one / other
        case "||":
            found = one * other / (one + other)
        case _:
            if one < 0 and Fraction(other).denominator != 1:
                raise ValueError("not defined")
            if not one and other < 0:
                raise ZeroDivisionError
            found = power_of(one, other)
    check_size(found)
    return found


def _function(name: str, inner: Number) -> Number:
    if name == "sqrt":
        if inner < 0:
            raise ValueError("not defined")
        return power_of(inner, Fraction(1, 2)) if inner else Fraction(0)
    if name == "ln":
        return math.log(inner)
    if size_of(inner) > 230:
        raise Unclear("a number on the way is too large or too small")
    return math.exp(inner)


@lru_cache(maxsize=4096)
def _value_of(name: str, at: int) -> Fraction:
    """A positive value for a letter, the same whenever the tool runs."""
    return Fraction(random.Random(f"{name}|{at}").randint(250, 2999), 997)  # noqa: S311 - no secret


def _letters(formula: Formula) -> set[str]:
    found: set[str] = set()
    waiting = [formula]
    while waiting:
        each = waiting.pop()
        if each[0] == "symbol":
            found.add(each[1])
        elif each[0] != "number":
            waiting += each[1:]
    return found


def factor_between(typed: Formula, asked: Formula) -> Fraction | float | None:
    """The number by which one formula is the other, for all values; None if there is none.

    Parameters
    ----------
    typed, asked : Formula
        As made by `formula_of`.

    Raises
    ------
    Unclear
        If what was typed is defined nowhere.

    Examples
    --------
    >>> R = ("symbol", "R")
    >>> factor_between(("*", R, ("number", Fraction(2))), ("+", R, R))
    Fraction(1, 1)
    """
    letters = sorted(_letters(typed) | _letters(asked))
    found: Fraction | float | None = None
    tried = 0
    for at in range(POINTS):
        point = {name: _value_of(name, at) for name in letters}
        try:
            one = _worked_out(typed, point)
        except (ZeroDivisionError, ValueError):
            continue
        try:
            other = _worked_out(asked, point)
        except (ZeroDivisionError, ValueError):
            continue
        tried += 1
        if not other:
            return None
        ratio = one / other
        if found is None:
            found = ratio
        elif not _same(found, ratio):
            return None
    if not tried:
        raise Unclear("it divides by nought, or is defined nowhere")
    return found


def _same(one: Number, other: Number) -> bool:
    if isinstance(one, float) or isinstance(other, float):
        return math.isclose(one, other, rel_tol=1e-9)
    return one == other


def kind_of(formula: Formula) -> Kind | None:
    """The kind that a formula's letters give it, None if a letter is not of the trade's or the kinds don't fit.

    Parameters
    ----------
    formula : Formula
        As made by `formula_of`.
    """
    match formula:
        case ("number", _) | ("exp" | "ln", _):
            return (0, 0, 0, 0, 0)
        case ("symbol", name):
            return KINDS_OF_LETTERS.get(name[0])
        case ("neg", inner):
            return kind_of(inner)
        case ("sqrt", inner):
            kind = kind_of(inner)
            return None if kind is None or any(each % 2 for each in kind) else _halved(kind)
    sign, left, right = formula
    one, other = kind_of(left), kind_of(right)
    if sign == "^":
        return _raised(one, right)
    if one is None or other is None:
        return None
    if sign in {"+", "-", "||"}:
        return one if one == other else other if left[0] == "number" else one
    return times_kind(one, other, -1 if sign == "/" else 1)


def _raised(kind: Kind | None, power: Formula) -> Kind | None:
    if kind is None or power[0] != "number" or power[1] != int(power[1]):
        return None
    return times_kind((0, 0, 0, 0, 0), kind, int(power[1]))


def _halved(kind: Kind) -> Kind:
    volt, ampere, second, metre, degree = kind
    return volt // 2, ampere // 2, second // 2, metre // 2, degree // 2
