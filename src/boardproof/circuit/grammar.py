"""Circuit expressions as written, before names mean anything: the grammar of groups, copies and changes.

Reading goes on after a mistake in the next line; a line that can't be read gives one finding. What the names
stand for is `build`'s work.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final, Literal

from boardproof.circuit.kinds import finding
from boardproof.circuit.model import Count
from boardproof.circuit.spelling import (
    KINDS_OF_PART,
    LONGEST_NAME,
    RESERVED,
    Word,
    look_alikes,
    words,
)
from boardproof.circuit.written import (
    Act,
    Assign,
    Change,
    ChangeWord,
    Closed,
    Copied,
    Entry,
    Gap,
    Joined,
    Ref,
    Turned,
    UseSet,
    Varied,
    Written,
)
from boardproof.findings import Finding
from boardproof.quantities import Unit, read_decimal
from boardproof.source import Slice, Span

__all__ = ["CHANGE_WORDS", "Reader", "Unreadable"]

DEEPEST: Final = 40
LONGEST_LINE: Final = 2000
MOST_DIGITS: Final = 6
CHANGE_WORDS: Final[dict[str, ChangeWord]] = {
    "turn": "turn",
    "open": "open",
    "close": "close",
    "short": "short",
    "no": "no emf in",
    "remove": "remove",
}
STATES: Final = frozenset({"open", "closed", "rechargeable", "lithium", "lead-acid"})
MEMBER_WORDS: Final = frozenset({"row", "block", "cell", "member"})
FORMS: Final = "Write `{}`."


class Unreadable(Exception):  # it never leaves the room; the statement becomes `Unread`
    """A line that can't be read, with the finding that says why."""

    def __init__(self, found: Finding) -> None:
        """Keep the finding."""
        super().__init__(found.kind.code)
        self.finding = found


class Reader:
    """A place in the words of one line, and the rules of the grammar from there on.

    Parameters
    ----------
    line : Slice
        One line, without comment.
    decimal : str
        The course's decimal mark.

    Raises
    ------
    Unreadable
        From each rule, if the line does not follow it.

    Examples
    --------
    >>> from boardproof.source import Span
    >>> Reader(Slice("3s4p of A", Span("x", 0, 9))).whole().shape
    (('parallel', 4), ('series', 3))
    """

    def __init__(self, line: Slice, *, decimal: str = ".") -> None:
        """Split the line into words."""
        self.line, self.decimal, self.at = line, decimal, 0
        if len(line.text) > LONGEST_LINE:
            span = line.part(0, 40).span
            raise Unreadable(finding("too-much", span, what="a line", limit=f"{LONGEST_LINE} characters"))
        for place, letter, latin in look_alikes(line.text):
            span = line.part(place, place + 1).span
            raise Unreadable(finding("look-alike", span, letter=letter, latin=latin))
        self.words = words(line)
        for word in self.words:
            if word.kind == "name" and len(word.text) > LONGEST_NAME:
                limit = f"{LONGEST_NAME} characters"
                raise Unreadable(finding("too-much", word.span, what="a name", limit=limit))

    # ---- words

    def peek(self, ahead: int = 0) -> Word:
        """A word further on, without taking it."""
        return self.words[min(self.at + ahead, len(self.words) - 1)]

    def take(self) -> Word:
        """The next word."""
        word = self.peek()
        self.at += word.kind != "end"
        return word

    def is_word(self, *texts: str, ahead: int = 0) -> bool:
        """Whether the next word is one of the language's, in any case."""
        word = self.peek(ahead)
        return word.kind == "name" and word.text.lower() in texts

    def is_sign(self, *texts: str, ahead: int = 0) -> bool:
        """Whether the next word is one of these signs."""
        word = self.peek(ahead)
        return word.kind == "sign" and word.text in texts

    def ahead(self, found: bool) -> bool:  # noqa: FBT001  # reads as `if reader.ahead(reader.is_sign(","))`
        """Take the next word if it was found."""
        self.at += found
        return found

    def refuse(self, why: str = "", forms: str = "", word: Word | None = None) -> Unreadable:
        """What to raise at a word (the next one) that does not fit."""
        word = word or self.peek()
        why = why or (f"{word.text} does not fit here" if word.text else "it stops too early")
        forms = FORMS.format(forms) if forms else ""
        place = word.span if word.kind != "end" else self.line.span
        return Unreadable(finding("unread-line", place, why=why, forms=forms))

    def expect(self, found: bool, wanted: str) -> None:  # noqa: FBT001  # as `ahead`
        """Take the next word, which must have been found."""
        if not self.ahead(found):
            raise self.refuse(
                f"I expected {wanted}" + (f" before {self.peek().text}" if self.peek().text else "")
            )

    def end(self) -> None:
        """Nothing may follow."""
        if self.peek().kind != "end":
            raise self.refuse()

    def name(self, what: str = "a name") -> Word:
        """A name that is no word of the language."""
        word = self.peek()
        if word.kind != "name":
            raise self.refuse(f"I expected {what}")
        if word.text.lower() in RESERVED:
            raise Unreadable(finding("reserved-name", word.span, word=word.text))
        return self.take()

    def since(self, start: Word) -> Span:
        """The place from a word up to here."""
        return start.span.to(self.words[max(self.at - 1, 0)].span)

    def text(self, span: Span) -> str:
        """The line's own text at a place."""
        start = self.line.span.start
        return self.line.text[span.start - start : span.end - start]

    # ---- expressions

    def whole(self) -> Written:
        """A circuit expression up to the end of the line."""
        found = self.expression()
        self.end()
        return found

    def expression(self) -> Written:
        """A circuit expression: sides, perhaps across each other, perhaps with changes."""
        start = self.peek()
        found = self.joined()
        if self.ahead(self.is_word("across")):
            found = Closed(found, self.joined(), self.since(start))
            if self.is_word("across"):
                name = self.text(found.span)
                raise Unreadable(finding("already-closed", self.peek().span, name=f"`{name}`"))
        if self.ahead(self.is_word("but")):
            return Varied(found, self.changes(), self.since(start))
        return found

    def joined(self, depth: int = 0) -> Written:
        """Copies, or items in series, or items side by side."""
        if depth > DEEPEST:
            raise Unreadable(finding("too-much", self.peek().span, what="brackets", limit=f"{DEEPEST} deep"))
        start = self.peek()
        copies = self.copies(depth)
        if copies:
            if self.is_sign("+", "-", "||"):
                raise self.refuse(
                    "copies beside another item need brackets", f"({self.text(copies.span).strip()}) + ..."
                )
            return copies
        items, signs = [self.item(depth)], list[Literal["+", "||"]]()
        while self.is_sign("+", "-", "||"):
            signs.append("||" if self.is_sign("||") else "+")
            self.at += not self.is_sign("-")
            items.append(self.item(depth))
        if len(set(signs)) > 1:
            raise Unreadable(self._unclear(items, signs, self.since(start)))
        return Joined(signs[0], tuple(items), self.since(start)) if signs else items[0]

    def _unclear(self, items: list[Written], signs: list[Literal["+", "||"]], span: Span) -> Finding:
        """Both readings of + and || on one level."""

        def grouped(tight: str) -> str:
            typed = [self.text(item.span) for item in items]
            shown = [
                f"({text})" if isinstance(item, Joined) else text
                for item, text in zip(items, typed, strict=True)
            ]
            groups, between = [shown[:1]], ""
            for sign, text in zip(signs, shown[1:], strict=True):
                if sign == tight:
                    groups[-1].append(text)
                else:
                    between = sign
                    groups.append([text])
            each = [f" {tight} ".join(group) for group in groups]
            return f" {between} ".join(
                f"({one})" if len(of) > 1 else one for one, of in zip(each, groups, strict=True)
            )

        return finding("unclear-grouping", span, first=f"`{grouped('+')}`", second=f"`{grouped('||')}`")

    def item(self, depth: int) -> Written:
        """One member: a path, brackets, dots, or one of these turned."""
        start = self.peek()
        if self.ahead(self.is_sign("-") or (self.is_word("turned") and not self.is_sign("=", ahead=1))):
            return Turned(self.one(depth), self.since(start))
        if self.ahead(self.is_sign("...")):
            return Gap(start.span)
        return self.one(depth)

    def one(self, depth: int) -> Written:
        """A path or something in brackets."""
        if not self.ahead(self.is_sign("(")):
            return self.path()
        found = self.joined(depth + 1)
        if self.is_word("across"):
            inner = self.text(found.span)
            raise Unreadable(
                finding("already-closed", self.peek().span, name=f"`{inner} across ...`", inner=f"`{inner}`")
            )
        self.expect(self.is_sign(")"), "a closing bracket")
        return found

    def path(self) -> Ref:
        """``bank.2.3``, or ``cell 3 of row 2 of bank``."""
        start, numbers = self.peek(), list[str]()
        while self.is_word(*MEMBER_WORDS) and self.peek(1).kind == "number" and self.is_word("of", ahead=2):
            if not self.peek(1).text.isdigit():
                raise self.refuse("members are counted in whole numbers", word=self.peek(1))
            numbers.insert(0, self.peek(1).text)
            self.at += 3
        name = self.name("a part or a group").text
        return Ref(".".join([name, *numbers]), self.since(start))

    def copies(self, depth: int) -> Copied | None:
        """``3s4p of A`` or ``n of row in parallel``; None if something else stands here."""
        start, word = self.peek(), self.peek()
        if word.kind == "short":
            self.take()
            tied, link = self.link()
            self.expect(self.is_word("of"), "`of` and what it is made of")
            found = self.one(depth)
            tied, link = (tied, link) if tied else self.link()
            return Copied(found, self._shape(word), self.since(start), tied, link)
        if word.kind not in {"number", "name"} or not self.is_word("of", ahead=1):
            return None
        count = self.count()
        self.take()
        found = self.one(depth)
        self.expect(self.is_word("in"), "`in series` or `in parallel`")
        how: Literal["series", "parallel"] = "series" if self.is_word("series") else "parallel"
        self.expect(self.is_word("series", "parallel"), "`series` or `parallel`")
        return Copied(found, ((how, count),), self.since(start))

    def _shape(self, word: Word) -> tuple[tuple[Literal["series", "parallel"], Count], ...]:
        names: dict[str, Literal["series", "parallel"]] = {"s": "series", "p": "parallel"}
        shape: list[tuple[Literal["series", "parallel"], Count]] = []
        digits = ""
        for char in word.text:
            if char.isdigit():
                digits += char
                continue
            shape.insert(0, (names[char], self.whole_number(digits, word)))
            digits = ""
        if len(shape) == 2 and shape[0][0] == shape[1][0]:
            raise self.refuse(f"{word.text} names one direction twice", "3s4p of A", word)
        return tuple(shape)

    def link(self) -> tuple[bool, Entry | None]:
        """``links``, or ``link 0.2 mohm``, if it stands here."""
        self.at += self.is_sign(",") and self.is_word("link", "links", ahead=1)
        if self.ahead(self.is_word("links")):
            return True, None
        if self.ahead(self.is_word("link")):
            return True, self.entry()
        return False, None

    def whole_number(self, digits: str, word: Word) -> int:
        """A count from 1."""
        if not digits.isdigit():
            raise self.refuse(f"{digits} is no count", word=word)
        if len(digits) > MOST_DIGITS:
            raise Unreadable(finding("too-much", word.span, what="a count", limit=f"{MOST_DIGITS} digits"))
        if int(digits) == 0:
            what = {"s": "cell in a row", "p": "row"}.get(word.text[word.text.find("0") + 1 :][:1], "member")
            raise Unreadable(finding("zero-count", word.span, count=word.text, what=what))
        return int(digits)

    def count(self) -> Count:
        """A whole number or the letter of one."""
        word = self.peek()
        if word.kind == "number" and word.unit is None:
            return self.whole_number(self.take().text, word)
        return self.name("a count").text

    # ---- values and changes

    def entry(self) -> Entry:
        """One value: a quantity, a letter, both, or a state."""
        start = self.peek()
        if self.is_word(*STATES):
            if self.is_sign("-", ahead=1) and self.is_word("acid", ahead=2):
                self.at += 2
            return Entry(start.span, state=self.take().text.lower())
        if self.is_word("lead") and self.is_sign("-", ahead=1) and self.is_word("acid", ahead=2):
            self.at += 3
            return Entry(self.since(start), state="lead-acid")
        if start.kind == "name":
            letter = self.name("a value").text
            if self.ahead(self.is_sign("=")):
                value, unit = self.quantity()
                return Entry(self.since(start), letter, value, unit)
            return Entry(start.span, letter)
        value, unit = self.quantity()
        return Entry(self.since(start), None, value, unit)

    def quantity(self) -> tuple[Fraction, Unit | None]:
        """A number in SI units with the unit it was typed in."""
        sign = -1 if self.ahead(self.is_sign("-")) else 1
        word = self.take()
        if word.kind != "number":
            self.at -= word.kind != "end"
            raise self.refuse("I expected a value with its unit")
        if "," in word.text and self.decimal == ".":
            typed, better = self.text(word.span), self.text(word.span).replace(",", ".", 1)
            raise Unreadable(finding("decimal-mark", word.span, typed=typed, better=better))
        number = read_decimal(word.text, self.decimal)
        if number is None:
            raise self.refuse(f"{word.text} is no number I can take", word=word)
        return sign * number[0] * (word.unit.scale if word.unit else 1), word.unit

    def entries(self) -> tuple[Entry, ...]:
        """Values up to the end, or to where a new change or `for` begins."""
        found: list[Entry] = []
        while self.peek().kind != "end" and not self.is_word("for", "when", "and"):
            found.append(self.entry())
            if self.is_sign(",") and self.peek(1).kind == "end":
                raise self.refuse("a value is missing after the comma", word=self.peek(1))
            self.at += self.is_sign(",")
        return tuple(found)

    def changes(self) -> tuple[Change, ...]:
        """What follows `but`: one change after another."""
        found = list(self.change())
        while self.ahead(self.is_sign(",") or self.is_word("and")):
            found += self.change()
        return tuple(found)

    def change(self) -> tuple[Change, ...]:
        """One change; several if it is done to several things."""
        start = self.peek()
        if self.is_word(*CHANGE_WORDS) and not self.is_sign("=", ahead=1):
            how = CHANGE_WORDS[self.take().text.lower()]
            if how == "no emf in":
                self.expect(self.is_word("emf"), "`no emf in`")
                self.expect(self.is_word("in"), "`no emf in`")
            return tuple(Act(how, path.path, start.span.to(path.span)) for path in self._paths())
        path = self.path()
        if self.ahead(self.is_sign("=")):
            return (self.assign(path),)
        return (UseSet(path.path, path.span),)

    def _paths(self) -> list[Ref]:
        paths = [self.path()]
        while self.is_word("and") and not self._begins_change(1):
            self.take()
            paths.append(self.path())
        return paths

    def _begins_change(self, ahead: int) -> bool:
        return self.is_word(*CHANGE_WORDS, ahead=ahead) or self.is_sign("=", ahead=ahead + 1)

    def assign(self, path: Ref) -> Assign:
        """What follows `name =` in a change."""
        kind = KINDS_OF_PART.get(self.peek().text.lower()) if self.peek().kind == "name" else None
        self.at += kind is not None
        found: list[Entry] = []
        while not found or (self.is_sign(",") and self._begins_value(1)):
            self.at += bool(found)
            if kind and self.peek().kind == "end":
                break
            if kind and not found and (self.is_sign(",") or self.is_word("and")):
                break
            found.append(self.entry())
        return Assign(path.path, tuple(found), path.span.to(self.since(self.words[self.at - 1])), kind)

    def _begins_value(self, ahead: int) -> bool:
        state = self.is_word("closed", "rechargeable", "lithium", "lead", ahead=ahead)
        return self.peek(ahead).kind == "number" or state
