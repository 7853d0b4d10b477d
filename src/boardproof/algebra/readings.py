"""Every sensible grouping of a spoken formula.

Readings are told apart by their value at one random point modulo a large prime, so that the many bracketings that mean
the same cost nothing. Where there are too many, the result says that it is not complete; then nobody may call the
speaker wrong.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from typing import Final

from boardproof.algebra.expression import (
    Call,
    Expression,
    Name,
    Negative,
    Number,
    Parallel,
    Power,
    Product,
    Quotient,
    Sum,
)
from boardproof.algebra.spoken import Token

__all__ = ["Readings", "readings"]

PRIME: Final = (1 << 61) - 1
MOST_TOKENS: Final = 40
MOST_EACH: Final = 40
MOST_WORK: Final = 40_000


@dataclass(frozen=True, slots=True)
class Readings:
    """What a spoken expression may mean.

    Parameters
    ----------
    trees : tuple of Expression
        One for each value.
    twins : tuple of Expression
        For each of them the same grouping of the twin tokens; the trees again if there are none.
    is_complete : bool
        Whether no reading was left out.
    """

    trees: tuple[Expression, ...]
    twins: tuple[Expression, ...]
    is_complete: bool


@dataclass(frozen=True, slots=True)
class _Read:
    tree: Expression
    level: int  # 0 a sum, 1 a product or quotient, 2 an atom
    value: int
    twin: Expression
    other: int  # the twin's value


def readings(tokens: Sequence[Token], twins: Sequence[Token] | None = None) -> Readings:
    """All readings of numbers, letters and signs in a row.

    Parameters
    ----------
    tokens : sequence of Token
        What was said.
    twins : sequence of Token, optional
        As many tokens of the same kinds, which are grouped alike: what was said in place of the first.

    Examples
    --------
    >>> from boardproof.algebra.ear import hear_tokens
    >>> from boardproof.algebra.spoken import Alphabet
    >>> words = "e over big r plus little r".split()
    >>> tokens = hear_tokens(words, words, Alphabet(["E", "R", "r"], keeps_case=False))
    >>> len(readings(tokens).trees)  # E/(R + r) and E/R + r
    2
    """
    if not tokens or len(tokens) > MOST_TOKENS:
        return Readings((), (), not tokens)
    chart = _Chart(tokens, twins or tokens)
    found = chart.span(0, len(tokens)).values()
    return Readings(tuple(each.tree for each in found), tuple(each.twin for each in found), chart.is_complete)


class _Chart:
    def __init__(self, tokens: Sequence[Token], twins: Sequence[Token]) -> None:
        self.tokens, self.twins = tokens, twins
        self.is_complete = True
        self.work = 0
        self.known: dict[tuple[int, int], dict[_Mark, _Read]] = {}

    def span(self, start: int, end: int) -> dict[_Mark, _Read]:
        """Readings of a stretch, by value and by whether it is a bare sum."""
        key = (start, end)
        if key not in self.known:
            found: dict[_Mark, _Read] = {}
            for each in self.read(start, end):
                mark = (each.value, each.other, each.level == 0)
                if mark not in found and len(found) >= MOST_EACH:
                    self.is_complete = False
                    break
                found.setdefault(mark, each)
            self.known[key] = found
        return self.known[key]

    def read(self, start: int, end: int) -> list[_Read]:
        if start >= end:
            return []
        hard = [n for n in range(start + 1, end - 1) if self.sign(n) == "all/"]
        if hard:
            return [made for n in hard for made in self.joined(start, n, n + 1, end, "/", "/")]
        if end - start == 1:
            pairs = _paired(self.tokens[start].expressions(), self.twins[start].expressions())
            return [_atom(each, other) for each, other in pairs]
        return [*self.wrapped(start, end), *self.split(start, end)]

    def sign(self, place: int) -> str:
        token = self.tokens[place]
        return token.text if token.kind == "sign" else ""

    def wrapped(self, start: int, end: int) -> list[_Read]:
        """Brackets, powers and what stands ahead of an operand."""
        found: list[_Read] = []
        first, last = self.sign(start), self.sign(end - 1)
        if last in {"²", "³"}:
            power = 2 if last == "²" else 3
            found += [
                _Read(
                    Power(each.tree, power),
                    2,
                    pow(each.value, power, PRIME),
                    Power(each.twin, power),
                    pow(each.other, power, PRIME),
                )
                for each in self.span(start, end - 1).values()
            ]
        if first == "(":
            ends = {end, end - 1} if last == ")" else {end}
            found += [replace(each, level=2) for stop in ends for each in self.span(start + 1, stop).values()]
        if first == "1/":
            one = _Read(_ONE, 2, 1, _ONE, 1)
            found += [
                made for each in self.span(start + 1, end).values() if (made := _made(one, each, "/", "/"))
            ]
        if first == "-":
            found += [
                _Read(
                    Negative(each.tree),
                    0,
                    -each.value % PRIME,
                    _turned(each.twin, self.twins[start].text),
                    each.other * (-1 if self.twins[start].text == "-" else 1) % PRIME,
                )
                for each in self.span(start + 1, end).values()
                if each.level > 0
            ]
        if first == "√":
            found += [
                _Read(
                    Call("sqrt", each.tree),
                    2,
                    _mixed("root", each.value),
                    Call("sqrt", each.twin),
                    _mixed("root", each.other),
                )
                for each in self.span(start + 1, end).values()
            ]
        return found

    def split(self, start: int, end: int) -> list[_Read]:
        found: list[_Read] = []
        for n in range(start + 1, end):
            sign = self.sign(n)
            if sign in {"+", "-", "*", "/", "||"} and n < end - 1:
                found += self.joined(start, n, n + 1, end, sign, self.twins[n].text)
            elif (not sign or sign in {"(", "√"}) and self.sign(n - 1) in {"", ")", "²", "³"}:
                found += self.joined(start, n, n, end, "", "")
        return found

    def joined(self, start: int, middle: int, again: int, end: int, sign: str, twin: str) -> list[_Read]:
        left, right = self.span(start, middle).values(), self.span(again, end).values()
        self.work += len(left) * len(right)
        if self.work > MOST_WORK:
            self.is_complete = False
            return []
        pairs = [(a, b) for a in left for b in right]
        return [made for a, b in pairs if (made := _made(a, b, sign, twin)) is not None]


_Mark = tuple[int, int, bool]
_ONE: Final = Number(Fraction(1), typed="1")


def _paired(some: Sequence[Expression], others: Sequence[Expression]) -> list[tuple[Expression, Expression]]:
    """Pairs; the shorter side's last one serves for the rest."""
    many = max(len(some), len(others))
    return [(some[min(n, len(some) - 1)], others[min(n, len(others) - 1)]) for n in range(many)]


def _atom(tree: Expression, twin: Expression) -> _Read:
    return _Read(tree, 2, _worth(tree), twin, _worth(twin))


def _worth(tree: Expression) -> int:
    match tree:
        case Number(value=value):
            over, under = value.numerator, value.denominator
            # A value with a unit is another thing than the plain number.
            factor = 1 if tree.unit is None else _mixed(repr(tree.unit.dimension), 0)
            return over * pow(under, -1, PRIME) * factor % PRIME
        case Name(text=text):
            return _mixed(text, 1)
        case Product(factors=factors):
            product = 1
            for each in factors:
                product = product * _worth(each) % PRIME
            return product
        case _:
            raise TypeError(tree)


@cache
def _mixed(word: str, number: int) -> int:
    return int.from_bytes(hashlib.blake2b(f"{word}{number}".encode(), digest_size=7).digest(), "big") or 1


def _turned(tree: Expression, sign: str) -> Expression:
    return Negative(tree) if sign == "-" else tree


def _made(a: _Read, b: _Read, sign: str, twin: str) -> _Read | None:
    """Two readings joined, if people group like that; the twins are joined by their own sign."""
    if sign in {"+", "-", ""} and (
        b.level == 0 or (not sign and (a.level == 0 or isinstance(b.tree, Number)))
    ):
        return None
    one, other = _done(a.tree, a.value, b.tree, b.value, sign), _done(a.twin, a.other, b.twin, b.other, twin)
    if one is None or other is None:
        return None
    return _Read(one[0], LEVELS[sign], one[1], other[0], other[1])


LEVELS: Final = {"+": 0, "-": 0, "*": 1, "": 1, "/": 1, "||": 2}


def _done(a: Expression, x: int, b: Expression, y: int, sign: str) -> tuple[Expression, int] | None:
    match sign:
        case "+":
            return Sum((*_terms(a), b)), (x + y) % PRIME
        case "-":
            return Sum((*_terms(a), Negative(b))), (x - y) % PRIME
        case "*" | "":
            return Product((a, b)), x * y % PRIME
        case "/" | "all/" if y:
            return Quotient(a, b), x * pow(y, -1, PRIME) % PRIME
        case "||" if x and y and (x + y) % PRIME:
            return Parallel((a, b)), x * y * pow(x + y, -1, PRIME) % PRIME
        case _:
            return None


def _terms(a: Expression) -> tuple[Expression, ...]:
    return a.terms if isinstance(a, Sum) else (a,)
