"""The safe reader of typed maths and LaTeX spelling: one grammar, precedence climbing, never an exception.

What two careful readers could read in two ways is refused with both readings. Every part of the tree carries its
exact place. The grammar is that of the lesson language, section 8.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal, cast

from boardproof.algebra.expression import (
    Call,
    Comparison,
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
    names_in,
)
from boardproof.algebra.tokens import (
    ADDED,
    FRACTION,
    LEFT_BAR,
    LENGTH_AT_MOST,
    RIGHT_BAR,
    ROOT,
    Stopped,
    Token,
    normal_name,
    stop,
    tokens,
)
from boardproof.findings import Finding
from boardproof.source import Slice, Span

__all__ = ["DEPTH_AT_MOST", "POWER_AT_MOST", "read_line", "read_lines"]

DEPTH_AT_MOST: Final = 40
POWER_AT_MOST: Final = 8
ConditionWord = Literal["if", "every load", "no load", "with load", "only when", "exactly when", "here"]
COMPARISONS: Final = frozenset("=≈<>≤≥≠")
TAG: Final = re.compile(r"\\tag\s*\{([^{}]*)\}")
ROWS: Final = re.compile(r"\\\\(?:\[[^\]]*\])?|\r\n|\r|\n")
AROUND: Final = re.compile(r"&|\\(?:begin|end)\s*\{(?:aligned|align\*?|gathered)\}")
CONDITIONS: Final = frozenset({"if", "when", "for", "only", "exactly", "here", "with"})
LOADS: Final = {"load", "loads", "R"}


def read_line(
    whole: Slice, *, known: Collection[str], decimal: str = "."
) -> tuple[Line | None, tuple[Finding, ...]]:
    """One line of maths as a tree, or the reason why it cannot be read.

    Parameters
    ----------
    whole : Slice
        The line, without the dollar signs around it.
    known : collection of str
        Names in normal form that letters written without a space may be cut into.
    decimal : str
        The course's decimal mark.

    Returns
    -------
    tuple of (Line or None, tuple of Finding)
        None exactly if there is an error among the findings.

    Examples
    --------
    >>> from boardproof.source import Source
    >>> line, found = read_line(Source("x", "I = E/(R + r)").slice(), known=())
    >>> line.statements[0].sign, found
    ('=', ())
    >>> read_line(Source("x", "V/R r").slice(), known=())[1][0].facts["second"]
    '(V/R) r'
    """
    try:
        if len(whole.text) > LENGTH_AT_MOST:
            raise stop("overlong-maths", whole.span, length=str(len(whole.text)), most=str(LENGTH_AT_MOST))
        tag, body = _tag(_uncommented(whole))
        signs = tokens(body, known, decimal)
        return _Reader(signs, body).line(tag), ()
    except Stopped as stopped:
        return None, (stopped.finding,)


def read_lines(
    whole: Slice, *, known: Collection[str], decimal: str = "."
) -> tuple[tuple[Line, ...], tuple[Finding, ...]]:
    r"""Every line of a display block: parted by ``\\`` and line ends, ``&`` and ``aligned`` left out.

    Parameters
    ----------
    whole : Slice
        The block, without the dollar signs around it.
    known : collection of str
        As for `read_line`.
    decimal : str
        The course's decimal mark.

    Examples
    --------
    >>> from boardproof.source import Source
    >>> lines, found = read_lines(Source("x", "V &= E - I r \\\\ I &= V/R").slice(), known=())
    >>> len(lines), found
    (2, ())
    """
    lines: list[Line] = []
    findings: list[Finding] = []
    start = 0
    ends = [(match.start(), match.end()) for match in ROWS.finditer(whole.text)]
    for end, after in (*ends, (len(whole.text), len(whole.text))):
        row = whole.part(start, end)
        blank = AROUND.sub(lambda match: " " * len(match[0]), row.text)
        start = after
        if not blank.strip():
            continue
        line, found = read_line(Slice(blank, row.span), known=known, decimal=decimal)
        findings += found
        if line:
            lines.append(line)
    return tuple(lines), tuple(findings)


def _uncommented(whole: Slice) -> Slice:
    comment = re.search(r"(?:^|\s)#", whole.text)
    return whole.part(0, comment.start()) if comment else whole


def _tag(whole: Slice) -> tuple[str | None, Slice]:
    match = TAG.search(whole.text)
    if not match:
        return None, whole
    if whole.text[match.end() :].strip(" .,;"):
        raise stop(
            "unread-maths", whole.part(match.end(), len(whole.text)).span, reason="a tag stands at the end"
        )
    return " ".join(match[1].split()), whole.part(0, match.start())


@dataclass(slots=True)
class _Reader:
    """Reads a list of signs from left to right."""

    signs: list[Token]
    whole: Slice
    at: int = 0
    depth: int = 0
    single: bool = False  # the product just read was one factor

    # Signs

    @property
    def next(self) -> Token:
        return self.signs[self.at]

    def ended(self) -> bool:
        return self.signs[self.at].kind == "end"

    def take(self) -> Token:
        token = self.signs[self.at]
        self.at = min(self.at + 1, len(self.signs) - 1)
        return token

    def is_sign(self, *texts: str) -> bool:
        token = self.signs[self.at]
        return token.kind == "sign" and token.text in texts

    def is_word(self, *texts: str) -> bool:
        token = self.signs[self.at]
        return token.kind == "word" and token.text in texts

    def expect(self, text: str, opened: Token) -> Token:
        if not self.is_sign(text):
            raise self.unread(
                f"the bracket {opened.text} is not closed" if text in ")}" else f"{text} is missing"
            )
        return self.take()

    def unread(self, reason: str, token: Token | None = None, hint: str = "") -> Stopped:
        span = (token or self.next).span
        return stop("unread-maths", span, reason=reason, hint=hint)

    def since(self, start: Span) -> Span:
        """The place from a sign's start to the end of the last sign taken."""
        return Span(start.source, start.start, max(start.end, self.signs[self.at - 1].span.end))

    def typed(self, first: int, after: int) -> str:
        """What was typed from one sign up to, but not including, another."""
        base = self.whole.span.start
        start, end = self.signs[first].span.start - base, self.signs[after - 1].span.end - base
        return " ".join(self.whole.text[start:end].split())

    def deeper(self, token: Token) -> None:
        self.depth += 1
        if self.depth > DEPTH_AT_MOST:
            raise stop("deep-maths", token.span, most=str(DEPTH_AT_MOST))

    # Lines

    def line(self, tag: str | None) -> Line:
        statements: list[Statement] = []
        bare: list[Expression] = []
        start = self.next.span
        if self.ended():
            raise self.unread("nothing stands here")
        self.several(statements, bare)
        condition = self.condition() if self.next.kind == "word" else None
        if not self.ended():
            raise self.unread(f"{self.next.text} does not belong here")
        return Line(tuple(statements), tuple(bare), condition, tag, self.since(start))

    def several(self, statements: list[Statement], bare: list[Expression] | None) -> None:
        """Statements parted by commas or "and"."""
        while True:
            first = self.next
            found = self.statement()
            if isinstance(found, tuple):
                statements += found
            elif bare is None:
                raise self.unread("a comparison is missing", first, "Write something like R > r.")
            else:
                bare.append(found)
            if not (self.is_sign(",") or self.is_word("and")):
                return
            self.take()
            if self.is_sign("…") or self.next.kind == "end" or self.is_word(*CONDITIONS):
                return

    def statement(self) -> tuple[Statement, ...] | Expression:
        start = self.next.span
        members = [self.sum()]
        signs: list[str] = []
        while self.next.kind == "sign" and self.next.text in COMPARISONS:
            signs.append(self.take().text)
            members.append(self.sum())
        if self.is_sign("→") and not signs:
            return (self.limit(members[0], start),)
        if not signs:
            return members[0]
        return tuple(
            Relation(left, cast(Comparison, sign), right, place, _join(left, right))
            for place, (left, sign, right) in enumerate(zip(members, signs, members[1:], strict=False))
        )

    def limit(self, of: Expression, start: Span) -> Limit:
        self.take()
        to = self.end_of_limit()
        if not self.is_word("as"):
            raise self.unread("a limit says what changes", hint="Write I -> E/r as n -> infinity.")
        self.take()
        letter = self.take()
        if letter.kind != "name" or not self.is_sign("→"):
            raise self.unread("a limit names one letter and an arrow after “as”", letter)
        self.take()
        return Limit(of, to, letter.text, self.end_of_limit(), self.since(start))

    def end_of_limit(self) -> Expression:
        if self.is_sign("∞") or self.is_word("infinity"):
            return Infinity(self.take().span)
        return self.sum()

    def condition(self) -> Condition:
        """What stands after the statements: if, when, for, only when, exactly when, here, with."""
        opened = self.take()
        start = opened.span
        match opened.text:
            case "here":
                return Condition("here", (), start)
            case "with":
                return self.with_load(start)
            case "only" | "exactly":
                if not self.is_word("when", "if"):
                    raise self.unread(f"“{opened.text}” needs “when”", opened)
                self.take()
                return self.conditioned("only when" if opened.text == "only" else "exactly when", start)
            case "if" | "when":
                return self.conditioned("if", start)
            case "for":
                return self.for_all(start)
        raise self.unread(f"“{opened.text}” does not belong here", opened)

    def conditioned(self, word: str, start: Span) -> Condition:
        statements: list[Statement] = []
        self.several(statements, None)
        return Condition(cast(ConditionWord, word), tuple(statements), self.since(start))

    def with_load(self, start: Span) -> Condition:
        words = self.rest_of_words()
        if words == ["no", "load"]:
            return Condition("no load", (), self.since(start))
        if words in (["the", "load"], ["the", "load", "connected"]):
            return Condition("with load", (), self.since(start))
        raise self.unread("after “with” I read “no load” and “the load connected”")

    def rest_of_words(self) -> list[str]:
        words = []
        while self.next.kind in {"name", "word"}:
            words.append(self.take().text)
        return words

    def for_all(self, start: Span) -> Condition:
        every = self.is_word("all") or (self.next.kind == "name" and self.next.text == "every")
        if every:
            self.take()
            mark = self.at
            words = self.rest_of_words()
            if words and set(words) <= LOADS and self.next.kind == "end":
                return Condition("every load", (), self.since(start))
            self.at = mark + (1 if words[:1] == ["loads"] else 0)
        return self.conditioned("if", start)

    # Expressions

    def sum(self) -> Expression:
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
        if not self.single or start.text == "-":
            kind = {Negative: "-", Quotient: "/"}.get(type(first), "·")
            raise stop("unclear-grouping", self.next.span, first=kind)
        branches = [first]
        while self.is_sign("∥"):
            self.take()
            branches.append(self.factor())
        if not (
            self.next.kind in {"end", "word"} or self.is_sign(")", "}", ",", "→", RIGHT_BAR, *COMPARISONS)
        ):
            raise stop("unclear-grouping", self.next.span, first=self.next.text or "a factor")
        self.depth -= 1
        return Parallel(tuple(branches), self.since(start.span))

    def starts_factor(self) -> bool:
        token = self.next
        return (
            token.kind in {"name", "number", "unit"}
            or self.is_sign("(", "{", FRACTION, ROOT, ADDED, LEFT_BAR)
            or self.is_word("sqrt", "abs")
        )

    def product(self) -> Expression:
        start, began, slash = self.next.span, self.at, self.at
        result = self.factor()
        factors = [result]
        divided = False  # the last thing read was a denominator
        while True:
            if self.is_sign("*"):
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

    def joined(self, factors: list[Expression], start: Span) -> Expression:
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
        start = self.next.span
        base = self.base()
        if self.next.kind == "power":
            power = self.take()
            return self.raised(base, power.text, power, start)
        if self.is_sign("^"):
            self.take()
            return self.raised(base, self.exponent(), self.signs[self.at - 1], start)
        return base

    def exponent(self) -> str:
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

    def raised(self, base: Expression, power: str, place: Token, start: Span) -> Expression:
        if not re.fullmatch(r"-?[0-9]{1,15}", power) or abs(int(power)) > POWER_AT_MOST:
            raise stop("unread-power", place.span, power=power)
        if self.is_sign("^") or self.next.kind == "power":
            raise self.unread("one power stands on another")
        return Power(base, int(power), self.since(start))

    def base(self) -> Expression:
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


def _join(left: Expression, right: Expression) -> Span | None:
    return left.span.to(right.span) if left.span and right.span else None
