"""The symbols of a claim as a tree: comparisons joined, *when* in its three forms, how one thing goes with another.

Phrases (``resistance of odd``) stand in for names. Words are looked for first, the maths between them is read by the
one reader of maths, so every place in the text stays exact.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Collection
from dataclasses import dataclass
from typing import Final, Literal

from boardproof.algebra.expression import Expression, Relation, Statement
from boardproof.algebra.written import read_line
from boardproof.circuit.look_up import Resolved, Unresolved
from boardproof.circuit.phrases import FORMS, read_phrase
from boardproof.circuit.spelling import normal_name
from boardproof.findings import Finding
from boardproof.prove.kinds import finding
from boardproof.prove.world import Meant, World
from boardproof.record import record
from boardproof.source import Slice

__all__ = [
    "Claimed",
    "Extreme",
    "Joined",
    "Phrases",
    "Scope",
    "Steady",
    "Trend",
    "WhenClaim",
    "read_claim",
    "read_scope",
]

LONGEST: Final = 400
STARTS: Final = re.compile(
    r"(?i)(?<![\w.])(?:the\s+)?(?:"
    + "|".join(form for form, _ in FORMS)
    + r"|p\.?d\.?\s+from|potential\s+(?:of|at))\s+|(?<![\w.])\S+\s+(?:that\s+makes|as\s+read)(?!\w)"
)
BOUNDARY: Final = re.compile(
    r"[<>=≤≥≠≈+*/·()]|\s-\s|!=|,|(?<!\w)(?:and|or|when|only|exactly|rises|falls|does|is|with)(?!\w)|\Z"
)
BY: Final = r"(?:\s*,?\s+by\s+changing\s+(?P<letter>\S+?))?"
TREND: Final = re.compile(rf"(?is)(?P<what>.+?)\s+(?P<way>rises|falls)\s+with\s+(?P<by>.+?){BY}")
STEADY: Final = re.compile(rf"(?is)(?P<what>.+?)\s+(?:does\s+not|doesn['’]t)\s+depend\s+on\s+(?P<by>.+?){BY}")
EXTREME: Final = re.compile(rf"(?is)(?P<what>.+?)\s+is\s+(?P<way>greatest|least)\s+when\s+(?P<at>.+?){BY}")
WHEN: Final = re.compile(r"(?i)(?<!\w)(?P<word>only\s+when|only\s+if|exactly\s+when|when|if)(?!\w)")
OR: Final = re.compile(r"(?i)(?<!\w)or(?!\w)")
COUNTED: Final = re.compile(
    r"(\w+?)\s*=\s*([0-9]{1,6})((?:\s*,\s*[0-9]{1,6})*)\s*,\s*(?:\.\.\.|…|and\s+so\s+on)"
)
FIXED: Final = re.compile(r"(?i)(\S+)\s+(?:is\s+)?fixed")
EVERY: Final = re.compile(r"(?i)(?:every|any|all)\s+loads?(?:\s+R)?|all\s+positive\s+values")
THE_LOAD: Final = re.compile(r"(?i)(?:the\s+)?load(?:\s+resistance)?")


@record
class Joined:
    """Statements joined: all of them must hold, or one of them."""

    word: Literal["and", "or"]
    parts: tuple[Statement | Joined, ...]


@record
class Trend:
    """``what rises with by``; `by` is None for the load, `letter` is what is changed if that is said."""

    what: Expression
    rises: bool
    by: Expression | None
    letter: str | None


@record
class Steady:
    """``what does not depend on by``."""

    what: Expression
    by: Expression | None
    letter: str | None


@record
class Extreme:
    """``what is greatest when at`` or least."""

    what: Expression
    greatest: bool
    at: Joined
    letter: str | None


@record
class WhenClaim:
    """``of when given``, ``of only when given``, ``of exactly when given``."""

    of: Joined | Trend | Steady
    word: Literal["when", "only when", "exactly when"]
    given: Joined


Claimed = Joined | Trend | Steady | Extreme | WhenClaim


@record
class Scope:
    """What a claim is said for: conditions, letters or names that stay fixed, the least value of a count."""

    conditions: tuple[Relation, ...] = ()
    fixed: tuple[str, ...] = ()
    least: tuple[tuple[str, int], ...] = ()


class _Unread(Exception):  # ends one reading; the finding goes to a person
    def __init__(self, found: Finding) -> None:
        super().__init__(found.kind.code)
        self.finding = found


@dataclass(slots=True)
class Phrases:
    """Phrases met so far: the name that stands for each, its text, and what it means.

    Parameters
    ----------
    world : World
        Where the claim stands.
    known : collection of str
        Names into which letters side by side may be cut.
    decimal : str
        The course's decimal mark.
    met : dict
        From the name that stands for a phrase to its text and meaning.
    """

    world: World
    known: Collection[str]
    decimal: str
    met: dict[str, tuple[str, Resolved | Finding]]

    def world_with(self) -> World:
        """The same world, in which the names that stand for phrases mean something too."""
        if not self.met:
            return self.world
        outer, met = self.world, self.met

        def meant(name: str) -> Meant:
            return met[name][1] if name in met else outer.meant(name)

        return World(outer.at_hand, meant, definitions=outer.definitions, elsewhere=outer.elsewhere)

    def said(self, text: str) -> str:
        """Text for people: phrases instead of the names that stand for them."""
        for name, (phrase, _) in self.met.items():
            text = text.replace(name, phrase)
        return text

    def masked(self, text: Slice) -> Slice:
        """The text with a name of the same length in place of each phrase."""
        out, place = text.text, 0
        while found := STARTS.search(out, place):
            taken = self._phrase(text, out, found)
            if taken is None:
                place = found.end()
                continue
            end, meant = taken
            name = f"Φ_p{chr(ord('a') + len(self.met))}"
            typed = out[found.start() : end]
            self.met[name] = (" ".join(typed.split()), meant)
            mask = f"Φ_{{{name[2:]}".ljust(len(typed) - 1) + "}"
            out = out[: found.start()] + mask + out[end:]
            place = end
        return Slice(out, text.span)

    def _phrase(self, text: Slice, out: str, found: re.Match[str]) -> tuple[int, Resolved | Finding] | None:
        """The longest phrase that begins here and means something; else the shortest, with its trouble."""
        ends = [mark.start() for mark in BOUNDARY.finditer(out, found.end() + 1)]
        if re.search(r"(?i)as\s+read$", found[0]):
            ends = [found.end()]
        trouble: tuple[int, Finding] | None = None
        circuit = self.world.at_hand
        for end in sorted(set(ends), reverse=True):
            piece = text.part(found.start(), end).trimmed()
            if len(piece.text) < len("Φ_{pa}"):
                continue
            read = read_phrase(piece, self.world.definitions, circuit, decimal=self.decimal)
            if isinstance(read, Resolved):
                return found.start() + len(piece.text), read
            if isinstance(read, Unresolved):
                trouble = found.start() + len(piece.text), read.finding
        return trouble

    # Maths

    def joined(self, text: Slice) -> Joined:
        """Comparisons joined by *and*, and those joined by *or*."""
        pieces, start = [], 0
        for mark in (*OR.finditer(text.text), None):
            end = mark.start() if mark else len(text.text)
            pieces.append(Joined("and", self.statements(text.part(start, end).trimmed())))
            start = mark.end() if mark else end
        return pieces[0] if len(pieces) == 1 else Joined("or", tuple(pieces))

    def statements(self, text: Slice) -> tuple[Statement, ...]:
        """Comparisons of one piece without *or*."""
        line, findings = read_line(text, known=self.known, decimal=self.decimal)
        if line is None:
            raise _Unread(findings[0])
        if not line.statements or line.bare or line.condition:
            reason = f"“{self.said(text.text.strip())}” compares nothing"
            raise _Unread(finding("unread-claim", text.span, facts={"reason": reason}))
        return line.statements

    def expression(self, text: Slice) -> Expression:
        """One quantity."""
        line, findings = read_line(text, known=self.known, decimal=self.decimal)
        if line is None:
            raise _Unread(findings[0])
        if len(line.bare) != 1 or line.statements or line.condition:
            reason = f"“{self.said(text.text.strip())}” is not one quantity"
            raise _Unread(finding("unread-claim", text.span, facts={"reason": reason}))
        return line.bare[0]


def read_claim(text: Slice, phrases: Phrases) -> Claimed | Finding:
    """One line of a claim's symbols.

    Parameters
    ----------
    text : Slice
        The line, after ``means:``.
    phrases : Phrases
        Where it stands; it collects the phrases met.

    Returns
    -------
    Claimed or Finding
        The tree, or why it can't be read, at its place.

    Examples
    --------
    >>> from boardproof.algebra.polynomial import RationalFunction
    >>> from boardproof.source import Source
    >>> nowhere = Phrases(World(None, RationalFunction.letter), (), ".", {})
    >>> read_claim(Source("x", "P rises with R when R < r").slice(), nowhere).word
    'when'
    """
    if len(text.text) > LONGEST:
        facts = {"reason": f"it is longer than {LONGEST} characters"}
        return finding("unread-claim", text.span, facts=facts)
    try:
        return _claim(phrases.masked(text), phrases)
    except _Unread as unread:
        return unread.finding


def _claim(text: Slice, phrases: Phrases) -> Claimed:
    if found := EXTREME.fullmatch(text.text):
        at = phrases.joined(_part(text, found, "at"))
        what = phrases.expression(_part(text, found, "what"))
        return Extreme(what, found["way"].lower() == "greatest", at, _letter(found))
    marks = list(WHEN.finditer(text.text))
    if len(marks) > 1:
        place = text.part(marks[1].start(), marks[1].end()).span
        raise _Unread(finding("unread-claim", place, facts={"reason": "it says “when” twice"}))
    if not marks:
        return _plain(text, phrases)
    words = " ".join(marks[0]["word"].lower().split())
    word: Literal["when", "only when", "exactly when"] = (
        "only when" if words.startswith("only") else "exactly when" if words.startswith("exactly") else "when"
    )
    of = _plain(text.part(0, marks[0].start()).trimmed(), phrases)
    return WhenClaim(of, word, phrases.joined(text.part(marks[0].end(), len(text.text)).trimmed()))


def _plain(text: Slice, phrases: Phrases) -> Joined | Trend | Steady:
    if found := TREND.fullmatch(text.text):
        what, by = phrases.expression(_part(text, found, "what")), _by(text, found, phrases)
        return Trend(what, found["way"].lower() == "rises", by, _letter(found))
    if found := STEADY.fullmatch(text.text):
        return Steady(
            phrases.expression(_part(text, found, "what")), _by(text, found, phrases), _letter(found)
        )
    return phrases.joined(text)


def _by(text: Slice, found: re.Match[str], phrases: Phrases) -> Expression | None:
    by = _part(text, found, "by")
    return None if THE_LOAD.fullmatch(by.text.strip()) else phrases.expression(by)


def _letter(found: re.Match[str]) -> str | None:
    return normal_name(found["letter"]) if found["letter"] else None


def _part(text: Slice, found: re.Match[str], name: str) -> Slice:
    return text.part(found.start(name), found.end(name)).trimmed()


def read_scope(text: Slice | None, phrases: Phrases) -> Scope | Finding:
    """What stands after ``for:``.

    Parameters
    ----------
    text : Slice or None
        None means all positive values.
    phrases : Phrases
        As for `read_claim`.

    Examples
    --------
    >>> from boardproof.algebra.polynomial import RationalFunction
    >>> from boardproof.source import Source
    >>> nowhere = Phrases(World(None, RationalFunction.letter), (), ".", {})
    >>> read_scope(Source("x", "n = 2, 3, ... and N fixed").slice(), nowhere)
    Scope(conditions=(), fixed=('N',), least=(('n', 2),))
    """
    if text is None:
        return Scope()
    least: list[tuple[str, int]] = []
    rest = phrases.masked(text)
    for found in list(COUNTED.finditer(rest.text)):
        numbers = [int(each) for each in re.findall("[0-9]+", found[2] + found[3])]
        if any(after != before + 1 for before, after in itertools.pairwise(numbers)):
            place = text.part(found.start(), found.end()).span
            return finding("unread-claim", place, facts={"reason": "the counts skip some numbers"})
        least.append((normal_name(found[1]), numbers[0]))
        blank = rest.text[: found.start()] + " " * len(found[0]) + rest.text[found.end() :]
        rest = Slice(blank, text.span)
    conditions: list[Relation] = []
    fixed: list[str] = []
    start = 0
    for mark in (*re.finditer(r"(?<!\w)and(?!\w)|,|;", rest.text), None):
        piece = rest.part(start, mark.start() if mark else len(rest.text)).trimmed()
        start = mark.end() if mark else start
        if not piece.text or EVERY.fullmatch(piece.text):
            continue
        if found_fixed := FIXED.fullmatch(piece.text):
            fixed.append(normal_name(found_fixed[1]))
            continue
        try:
            stated = phrases.statements(piece)
        except _Unread as unread:
            return unread.finding
        conditions += [each for each in stated if isinstance(each, Relation)]
        if any(not isinstance(each, Relation) for each in stated):
            return finding("unread-claim", piece.span, facts={"reason": "a limit is no condition"})
    return Scope(tuple(conditions), tuple(fixed), tuple(least))
