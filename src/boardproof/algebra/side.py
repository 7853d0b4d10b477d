"""One side of a line of maths: sums, products, fractions, powers and what stands in brackets."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from boardproof.algebra.cursor import Cursor
from boardproof.algebra.expression import (
    Call,
    Ellipsis,
    Expression,
    Name,
    Negative,
    Number,
    Parallel,
    Power,
    Product,
    Quotient,
    Sum,
    SumOver,
    names_in,
)
from boardproof.algebra.latex import ADDED, FRACTION, LEFT_BAR, RIGHT_BAR, ROOT
from boardproof.algebra.name import normal_name
from boardproof.algebra.refusal import Stopped, stop
from boardproof.algebra.tokens import Token
from boardproof.source import Span

__all__ = ["COMPARISONS", "POWER_AT_MOST", "SideReader"]

POWER_AT_MOST: Final = 8
COMPARISONS: Final = frozenset("=≈<>≤≥≠")


@dataclass(slots=True)
class SideReader(Cursor):
    """Reads expressions, each method one form, from where the cursor stands."""

    single: bool = False  # the product just read was one factor

    def sum(self) -> Expression:
        """Terms with plus and minus between them, or branches side by side."""
        start = self.next
        self.deeper(start)
        terms = [self.term(first=True)]
        if self.is_sign("∥"):
            return self.side_by_side(terms[0], start)
        while self.is_sign("+", "-"):
            terms.append(self.term(first=False))
            if self.is_sign("∥"):
                raise stop("unclear-grouping", self.next.span, first="+")
        self.depth -= 1
        if len(terms) == 1:
            return terms[0]
        if isinstance(terms[0], Ellipsis) or isinstance(terms[-1], Ellipsis):
            raise self.unread("three dots stand between the first and the last term", start)
        return Sum(tuple(terms), self.since(start.span))

    def term(self, *, first: bool) -> Expression:
        """One term with its sign, or three dots."""
        sign = self.take() if self.is_sign("+", "-") else None
        if self.is_sign("…") and not first:
            if sign is not None and sign.text == "-":
                raise self.unread("three dots stand between plus signs", hint="Put the minus into the terms.")
            return Ellipsis(self.take().span)
        inner = self.product()
        if sign is None or sign.text == "+":
            return inner
        return Negative(inner, self.since(sign.span))

    def side_by_side(self, first: Expression, start: Token) -> Expression:
        """Branches in parallel, alone on their level."""
        if not self.single or start.text == "-":
            kind = {Negative: "-", Quotient: "/"}.get(type(first), "·")
            raise stop("unclear-grouping", self.next.span, first=kind)
        branches = [first]
        while self.is_sign("∥"):
            self.take()
            branches.append(Ellipsis(self.take().span) if self.is_sign("…") else self.factor())
        if not (
            self.next.kind in {"end", "word"} or self.is_sign(")", "}", ",", "→", RIGHT_BAR, *COMPARISONS)
        ):
            raise stop("unclear-grouping", self.next.span, first=self.next.text or "a factor")
        if isinstance(branches[-1], Ellipsis):
            raise self.unread("three dots stand between the first and the last branch", start)
        self.depth -= 1
        return Parallel(tuple(branches), self.since(start.span))

    def starts_factor(self) -> bool:
        """Whether what is next can stand beside a factor without a sign."""
        token = self.next
        return (
            token.kind in {"name", "number", "unit"}
            or self.is_sign("(", "{", FRACTION, ROOT, ADDED, LEFT_BAR)
            or self.is_word("sqrt", "abs")
        )

    def product(self) -> Expression:
        """Factors with times signs, without signs, and fractions with a slash."""
        start, began, slash = self.next.span, self.at, self.at
        result = self.factor()
        factors = [result]
        divided = False  # the last thing read was a denominator
        while True:
            if (whole := self.compound(factors, start)) is not None:
                factors, divided = [whole], False
            elif self.is_sign("*"):
                self.take()
                factors.append(self.factor())
                divided = False
            elif self.is_sign("/"):
                if divided:
                    raise self.unclear(began, slash)
                slash = self.at
                self.take()
                over = self.joined(factors, start)
                under = self.factor()
                factors, divided = [Quotient(over, under, self.since(start))], True
            elif self.next.kind == "unit" and not any(True for each in factors for _ in names_in(each)):
                factors, divided = (
                    [_measured(self.joined(factors, start), self.take(), self.since(start))],
                    False,
                )
            elif self.starts_factor():
                if divided:
                    raise self.unclear(began, slash)
                if self.next.kind == "number":
                    raise self.unread(
                        "a number stands beside another factor without a sign",
                        hint="Write a times sign before it.",
                    )
                factors.append(self.factor())
            else:
                self.single = factors == [result]
                return self.joined(factors, start)

    def compound(self, factors: list[Expression], start: Span) -> Number | None:
        """A number whose unit goes on: ``3.5 V*ohm``, ``1 J/C``; None if what is next is none."""
        number = factors[0]
        ahead = self.is_sign("*", "/")
        after = self.signs[min(self.at + ahead, len(self.signs) - 1)]
        if len(factors) != 1 or not isinstance(number, Number) or not number.unit or after.kind != "unit":
            return None
        sign = self.take().text if ahead else "*"
        more = self.take().unit
        assert more is not None
        unit, scale = (
            number.unit.joined(more, over=sign == "/"),
            more.scale if sign == "*" else 1 / more.scale,
        )
        value, last = number.value * scale, number.place * scale
        return Number(value, unit, number.figures, last, number.typed, self.since(start))

    def joined(self, factors: list[Expression], start: Span) -> Expression:
        """The factors as one expression."""
        return factors[0] if len(factors) == 1 else Product(tuple(factors), self.since(start))

    def unclear(self, began: int, slash: int) -> Stopped:
        """``a/b c`` and ``a/b/c``: both readings."""
        over, under = self.typed(began, slash), self.typed(slash + 1, self.at)
        sign = "/" if self.is_sign("/") else " "
        if sign == "/":
            self.take()
        mark = self.at
        self.factor()
        last = self.typed(mark, self.at)
        span = self.since(self.signs[began].span)
        first, second = f"{over}/({under}{sign}{last})", f"({over}/{under}){sign}{last}"
        return stop("unclear-fraction", span, first=first, second=second)

    def factor(self) -> Expression:
        """A base and its power."""
        start, is_number = self.next.span, self.next.kind == "number"
        base = self.base()
        if self.next.kind == "power":
            power = self.take()
            return self.raised(base, power.text, power, start, is_number=is_number)
        if self.is_sign("^"):
            self.take()
            return self.raised(base, self.exponent(), self.signs[self.at - 1], start, is_number=is_number)
        return base

    def exponent(self) -> str:
        """A whole number after ``^``."""
        opened = self.take() if self.is_sign("{", "(") else None
        sign = "-" if self.is_sign("-") else ""
        if sign:
            self.take()
        number = self.take()
        if number.kind != "number" or number.unit or number.value.denominator != 1:
            raise stop("unread-power", number.span, power=number.text or "nothing")
        if opened:
            self.expect({"{": "}", "(": ")"}[opened.text], opened)
        return sign + number.text

    def raised(
        self, base: Expression, power: str, place: Token, start: Span, *, is_number: bool
    ) -> Expression:
        """The base with its power; right behind a number's unit it is the unit's: 36 V² is 36 times a volt squared."""
        if not re.fullmatch(r"-?[0-9]{1,15}", power) or abs(int(power)) > POWER_AT_MOST:
            raise stop("unread-power", place.span, power=power)
        if self.is_sign("^") or self.next.kind == "power":
            raise self.unread("one power stands on another")
        if is_number and isinstance(base, Number) and base.unit and int(power) > 0:
            unit, more = base.unit.to_power(int(power)), base.unit.scale ** (int(power) - 1)
            value, last = base.value * more, base.place * more
            return Number(value, unit, base.figures, last, base.typed, self.since(start))
        return Power(base, int(power), self.since(start))

    def base(self) -> Expression:
        """A number, a name, a bracket, a fraction, a root, a size or a sum over an index."""
        token = self.take()
        match token.kind, token.text:
            case "number", _:
                return Number(token.value, token.unit, token.figures, token.place, token.text, token.span)
            case (("name" | "unit"), _):
                return Name(normal_name(token.text), token.span)
            case "sign", "(" | "{":
                inner = self.sum()
                self.expect(")" if token.text == "(" else "}", token)
                return inner
            case "sign", text if text == FRACTION:
                return Quotient(self.group(), self.group(), self.since(token.span))
            case (("sign" | "word"), ("sqrt" | "abs" | "\ue001" | "\ue003")):
                return self.call(token)
            case "sign", text if text == ADDED:
                return self.sum_over(token)
        shown = token.text if token.kind != "end" else ""
        raise self.unread(f"{shown} cannot stand here" if shown else "something is missing at the end", token)

    def call(self, token: Token) -> Expression:
        """A root or a size."""
        if token.text == LEFT_BAR:
            inner = self.sum()
            if not self.is_sign(RIGHT_BAR):
                raise self.unread("the size bars are not closed", token)
            self.take()
            return Call("abs", inner, self.since(token.span))
        opening = "{" if token.text == ROOT and self.is_sign("{") else "("
        if not self.is_sign(opening):
            raise self.unread("brackets are missing here", hint="Write sqrt(...).")
        inner = self.group(opening)
        return Call("abs" if token.text == "abs" else "sqrt", inner, self.since(token.span))

    def group(self, opening: str = "{") -> Expression:
        """What stands in braces or brackets."""
        if not self.is_sign(opening):
            raise self.unread("braces are missing here")
        opened = self.take()
        inner = self.sum()
        self.expect({"{": "}", "(": ")"}[opening], opened)
        return inner

    def sum_over(self, token: Token) -> Expression:
        r"""``\sum_{k=1}^{n} term``; the term goes as far as the product."""
        if not self.is_sign("_"):
            raise self.unread("a sum says over what", hint=r"Write \sum_{k=1}^{n} E_k/r_k.")
        self.take()
        opened = self.take()
        index, equals, first = self.take(), self.take(), self.take()
        whole = first.kind == "number" and not first.unit and first.value.denominator == 1
        if (
            opened.text != "{"
            or index.kind != "name"
            or equals.text != "="
            or not whole
            or not self.is_sign("}")
        ):
            raise self.unread("a sum starts like _{k=1}", opened)
        self.take()
        if not self.is_sign("^"):
            raise self.unread("a sum says where it ends", hint=r"Write \sum_{k=1}^{n} E_k/r_k.")
        self.take()
        last = self.group() if self.is_sign("{") else self.base()
        term = self.product()
        return SumOver(index.text, int(first.value), last, term, self.since(token.span))


def _measured(working: Expression, unit: Token, span: Span) -> Expression:
    """A unit behind a fraction or a bracket: one number where it is a fraction of whole numbers."""
    one = Number(unit.value, unit.unit, None, Fraction(0), "1", unit.span)
    match working:
        case Quotient(over=Number(unit=None) as over, under=Number(unit=None) as under) if under.value:
            value = over.value / under.value * unit.value
            return Number(value, unit.unit, None, Fraction(0), f"{over.typed}/{under.typed}", span)
        case _:
            return Product((working, one), span)
