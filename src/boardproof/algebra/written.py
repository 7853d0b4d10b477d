"""The safe reader of typed maths and LaTeX spelling: one grammar, precedence climbing, never an exception.

What two careful readers could read in two ways is refused with both readings. Every part of the tree carries its
exact place. The grammar is that of the lesson language, section 8.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass
from typing import Final, Literal, cast

from boardproof.algebra.expression import (
    Comparison,
    Condition,
    Expression,
    Infinity,
    Limit,
    Line,
    Quotient,
    Relation,
    Statement,
)
from boardproof.algebra.refusal import Stopped, stop
from boardproof.algebra.side import COMPARISONS, SideReader
from boardproof.algebra.tokens import LENGTH_AT_MOST, tokens
from boardproof.findings import Finding
from boardproof.source import Slice, Span

__all__ = ["read_line", "read_lines"]

ConditionWord = Literal["if", "every load", "no load", "with load", "only when", "exactly when", "here"]
TAG: Final = re.compile(r"\\tag\s*\{([^{}]*)\}")
ROWS: Final = re.compile(r"\\\\(?:\[[^\]]*\])?|\r\n|\r|\n")
AROUND: Final = re.compile(r"&|\\(?:begin|end)\s*\{(?:aligned|align\*?|gathered)\}")
GOES_ON: Final = re.compile(r"\s*(?:[=≈<>≤≥≠]|\\(?:leq?|geq?|neq?|approx|lt|gt)\b)")
ROWS_AT_MOST: Final = 12
CONDITIONS: Final = frozenset({"if", "when", "for", "only", "exactly", "here", "with"})
LOADS: Final = {"load", "loads", "R"}


def read_line(
    whole: Slice, *, known: Collection[str], decimal: str = ".", rows: int = 1
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
    rows : int
        On how many rows of a display the line stands.

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
        most = LENGTH_AT_MOST * min(rows, ROWS_AT_MOST)
        if len(whole.text) > most:
            raise stop("overlong-maths", whole.span, length=str(len(whole.text)), most=str(most))
        tag, body = _tag(_uncommented(whole))
        signs = tokens(body, known, decimal)
        return _Reader(signs, body).line(tag), ()
    except Stopped as stopped:
        return None, (stopped.finding,)


def read_lines(
    whole: Slice, *, known: Collection[str], decimal: str = "."
) -> tuple[tuple[Line, ...], tuple[Finding, ...]]:
    r"""Every line of a display block: parted by ``\\`` and line ends, ``&`` and ``aligned`` left out.

    A row that begins with a comparison goes on with the line above it.

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
    for row, rows in _rows(whole):
        line, found = read_line(row, known=known, decimal=decimal, rows=rows)
        findings += found
        if line:
            lines.append(line)
    return tuple(lines), tuple(findings)


def _rows(whole: Slice) -> list[tuple[Slice, int]]:
    """The lines of a display, each with the number of rows that it stands on."""
    found: list[tuple[int, int, int]] = []  # start, end, rows
    start = 0
    ends = [(match.start(), match.end()) for match in ROWS.finditer(whole.text)]
    for end, after in (*ends, (len(whole.text), len(whole.text))):
        row = _blanked(AROUND, whole.text[start:end])
        if found and GOES_ON.match(row):
            first, _, rows = found.pop()
            found.append((first, end, rows + 1))
        elif row.strip():
            found.append((start, end, 1))
        start = after
    blank = _blanked(AROUND, _blanked(ROWS, whole.text))
    return [(Slice(blank[first:last], whole.part(first, last).span), rows) for first, last, rows in found]


def _blanked(pattern: re.Pattern[str], text: str) -> str:
    return pattern.sub(lambda match: " " * len(match[0]), text)


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
class _Reader(SideReader):
    """Reads a line: statements and what they are said under."""

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
        members = [self.ratio()]
        signs: list[str] = []
        while self.next.kind == "sign" and self.next.text in COMPARISONS:
            signs.append(self.take().text)
            members.append(self.ratio())
        if self.is_sign("→") and not signs:
            return (self.limit(members[0], start),)
        if not signs:
            return members[0]
        return tuple(
            Relation(left, cast(Comparison, sign), right, place, _join(left, right))
            for place, (left, sign, right) in enumerate(zip(members, signs, members[1:], strict=False))
        )

    def ratio(self) -> Expression:
        """A side, or two in a ratio: ``I_1 : I_2``."""
        start = self.next.span
        first = self.sum()
        if not self.is_sign(":"):
            return first
        self.take()
        return Quotient(first, self.sum(), self.since(start))

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


def _join(left: Expression, right: Expression) -> Span | None:
    return left.span.to(right.span) if left.span and right.span else None
