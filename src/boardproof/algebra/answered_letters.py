"""Typed answers in letters: names are those of the question, brackets are as typed, letters side by side multiply."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Final

from boardproof.algebra.answered import Unread, prepared, steps_of
from boardproof.algebra.answered_formula import Formula, formula_of, kind_of, token
from boardproof.algebra.answered_numbers import NUMBER, read_literal
from boardproof.algebra.answered_text import Unclear, plain_text
from boardproof.algebra.answered_units import PER_CENT, Kind, unit_in
from boardproof.algebra.answered_words import GAP, without_words
from boardproof.record import record

__all__ = ["Asked", "Lettered", "asked_letters", "read_letters"]

MOST_DOUBTS: Final = 6
LETTERS: Final = re.compile(r"[^\W\d_]+")
RUN: Final = re.compile(r"(?:[^\W\d_](?:_\{ ?[A-Za-z0-9, ]{1,8}\}|_[A-Za-z0-9]{1,8}|\d+)?)+")
BARE: Final = re.compile(
    r"[^\W\d_](?:[A-Za-z0-9]{0,6}|_\{? ?[A-Za-z0-9, ]{1,8}\}?)|epsilon|alpha|omega|lambda|sigma|theta|delta|tau|eta"
)
SIGN: Final = re.compile(r"\|\||//|[-+*/^()]")
LABEL: Final = re.compile(r"([^:]{1,24}?) ?: ?(?=\S)")
APART: Final = re.compile(r"(?<=[\w)}]) ([^\W\d_][^\s()]{0,14}(?: [^\W\d_]{2,12})?)$")
FUNCTIONS: Final = {"sqrt": "sqrt", "ln": "ln", "exp": "exp"}


@record
class Asked:
    """An expression asked for.

    Parameters
    ----------
    formula : Formula
        It.
    symbols : tuple of (str, str)
        Each listed name without its subscript's dress, and its name in formulas.
    exponential : bool
        Whether ``e^`` is the exponential here.
    """

    formula: Formula
    symbols: tuple[tuple[str, str], ...]
    exponential: bool

    @property
    def kind(self) -> Kind | None:
        """The kind that its letters give it; None if a letter is not of the trade's."""
        return kind_of(self.formula)


@record
class Lettered:
    """What was typed: its fair readings, and whether a unit stands behind it that has another kind."""

    formulas: tuple[Formula, ...]
    wrong_kind: bool = False


@lru_cache(maxsize=1024)
def asked_letters(latex: str, symbols: tuple[str, ...]) -> Asked:
    r"""Prepare the expression of a question.

    Parameters
    ----------
    latex : str
        The expression.
    symbols : tuple of str
        Every letter that it may contain.

    Examples
    --------
    >>> asked_letters(r"\frac{E}{R+r}", ("E", "R", "r")).kind
    (0, 1, 0, 0, 0)
    """
    table = tuple((_bare_key(plain_text(each)), _bare_key(plain_text(each))) for each in symbols)
    exponential = (
        "\\exp" in latex or "exp(" in latex or (re.search(r"(?<![A-Za-z\\])e ?\^", latex) is not None)
    )
    names = _Names(table, exponential=exponential)
    return Asked(formula_of(_tokens(plain_text(latex), names)), table, exponential)


def read_letters(typed: str, asked: Asked) -> Lettered | Unread:
    """Every fair reading of a typed expression.

    Parameters
    ----------
    typed : str
        As the student typed it.
    asked : Asked
        From `asked_letters`.

    Examples
    --------
    >>> asked = asked_letters("r_1 + r_2", ("r_1", "r_2"))
    >>> read_letters("R1+R2", asked).formulas == (asked.formula,)
    True
    """
    try:
        names = _Names(asked.symbols, exponential=asked.exponential)
        text, unit, share = _without_unit(_last(prepared(typed), names), names, asked)
        tokens = _tokens(text, names)
        doubts = sum(each[0] == "/" for each in tokens)
        first = formula_of(tokens, tight=True)
        other = formula_of(tokens, tight=False) if doubts else first
        formulas = [first] if first == other else _all_readings(tokens, doubts)
        if share:
            hundredth = ("number", Fraction(1, 100))
            formulas = [("*", each, hundredth) for each in formulas]
        return Lettered(tuple(formulas), wrong_kind=unit)
    except Unclear as why:
        return Unread(str(why))


def _all_readings(tokens: Sequence[tuple[str, object]], doubts: int) -> list[Formula]:
    """Each division once with all that follows it without a sign, once with its first factor only."""
    if doubts > MOST_DOUBTS:
        return [formula_of(tokens, tight=True), formula_of(tokens, tight=False)]
    found: list[Formula] = []
    for bits in range(2**doubts):
        made = formula_of(tokens, tight=tuple(bool(bits >> at & 1) for at in range(doubts)))
        if made not in found:
            found.append(made)
    return found


class _Names:
    """The listed names, and how a run of letters splits into them."""

    def __init__(self, table: Sequence[tuple[str, str]], *, exponential: bool) -> None:
        self.exact = dict(table)
        self.folded: dict[str, str] = {}
        for key, name in table:
            self.folded.setdefault(key.lower(), name)
        self.exponential = exponential
        self.multiplies = "x" not in self.folded
        self.longest = max(map(len, self.exact), default=1) + 3  # brackets and a low line round its subscript

    def listed(self, key: str) -> str | None:
        found = self.exact.get(key) or self.folded.get(key.lower())
        if found is None and key[:1] == "ε":
            found = self.listed("E" + key[1:])
        return found

    def split(self, run: str, at_power: bool) -> list[tuple[str, object]]:  # noqa: FBT001 - of one caller
        """Symbols, and signs for 'x', of a run; `at_power`: a power sign stands behind it."""
        found: list[tuple[str, object]] = []
        at = 0
        while at < len(run):
            if at_power and self.exponential and run[at:] in {"e", "E"} and run[at] not in self.exact:
                found.append(token("function", "e^"))
                break
            name, end = self._longest(run, at)
            if name is None:
                found.append(self._unlisted(run, at, end))
            else:
                found.append(token("symbol", name))
            at = end
        return found

    def _longest(self, run: str, at: int) -> tuple[str | None, int]:
        for end in range(min(len(run), at + self.longest), at, -1):
            if end < len(run) and (run[end].isdigit() or run[end] in "_{}"):
                continue
            piece = run[at:end]
            if piece.count("{") != piece.count("}"):
                continue
            name = self.listed(_bare_key(piece))
            if name is not None:
                return name, end
        one = RUN.match(run, at)
        assert one is not None
        single = re.compile(r"[^\W\d_](?:_\{[^}]*\}|_[A-Za-z0-9]+|\d+)?").match(run, at)
        assert single is not None
        return None, single.end()

    def _unlisted(self, run: str, at: int, end: int) -> tuple[str, object]:
        piece = run[at:end]
        if piece in {"x", "X"} and self.multiplies:
            return token("*")
        before = len(re.sub(r".*[\W\d_]", "", run[max(0, at - 2) : at]))
        if before + len(re.sub(r"[\W\d_].*", "", run[at : at + 3])) >= 3:
            raise Unclear("it holds a word that says nothing here")
        return token("symbol", f"?{_bare_key(piece)}")  # a symbol of another question

    def splits(self, word: str) -> bool:
        """Whether a word is listed symbols, as typed, and nothing else."""
        at = 0
        while at < len(word):
            end = next((e for e in range(len(word), at, -1) if word[at:e] in self.exact), 0)
            if not end:
                return False
            at = end
        return True


def _bare_key(name: str) -> str:
    return re.sub(r"[_{}, ]", "", name)


def _last(text: str, names: _Names) -> str:
    """The last step that is more than a name."""
    parts = steps_of(text)
    if not parts:
        raise Unclear("nothing is written")
    kept = [each for each in parts if not _is_name(each, names)]
    part = kept[-1] if kept else parts[-1]
    label = LABEL.match(part)
    if label is not None and (_is_name(label[1], names) or not without_words(label[1]).strip(GAP + " ")):
        part = part[label.end() :]
    words = frozenset(each for each in LETTERS.findall(part) if len(each) > 1 and names.splits(each))
    return without_words(part, words).replace(GAP, " ").strip()


def _is_name(part: str, names: _Names) -> bool:
    if not BARE.fullmatch(part):
        return False
    if part.lower() in FUNCTIONS:
        return False
    if len(part) > 1 and names.listed(_bare_key(part)) is None:
        try:
            pieces = names.split(part, at_power=False)
        except Unclear:
            return True
        return not all(kind == "symbol" and not str(value).startswith("?") for kind, value in pieces)
    return True


def _without_unit(text: str, names: _Names, asked: Asked) -> tuple[str, bool, bool]:
    """The expression without a unit or per cent behind it; whether the unit is of another kind; whether per cent."""
    if text.endswith("%"):
        return text[:-1].rstrip(), False, True
    found = APART.search(text)
    if found is None:
        return text, False, False
    word = found[1]
    run = RUN.fullmatch(word)
    if run is not None and names.listed(_bare_key(word)) is not None:
        return text, False, False
    if run is not None and len(word) > 1 and names.splits(word):
        return text, False, False
    kind = asked.kind
    unit = unit_in(word, kind) if kind is not None else unit_in(word)
    if unit is None or unit == PER_CENT:
        return text, False, False
    wrong = kind is not None and unit.kind != kind
    return text[: found.start()].rstrip(), wrong, False


def _tokens(text: str, names: _Names) -> list[tuple[str, object]]:
    found: list[tuple[str, object]] = []
    at = 0
    starts_power = any(key[:1] in "eE" for key in names.exact)
    while at < len(text):
        if text[at] in {" ", GAP}:
            at += 1
            continue
        number = NUMBER.match(text, at)
        if number is not None:
            end = number.end()
            if number["power"] and number["e"] and starts_power:
                end = number.start("power")
                number = NUMBER.fullmatch(text, at, end)
                assert number is not None
            found.append(token("number", read_literal(number)[0].value))
            at = end
            continue
        at = _one(text, at, names, found)
    return found


def _one(text: str, at: int, names: _Names, found: list[tuple[str, object]]) -> int:
    """Add what stands at a place; give the place behind it."""
    sign = SIGN.match(text, at)
    if sign is not None:
        found.append(token("||" if sign[0] == "//" else sign[0]))
        return sign.end()
    if text[at] == "√":
        found.append(token("function", "sqrt"))
        return at + 1
    letters = LETTERS.match(text, at)
    if letters is None:
        raise Unclear("it holds a sign without a meaning here")
    word = letters[0]
    if word.lower() in FUNCTIONS and names.listed(word) is None:
        found.append(token("function", FUNCTIONS[word.lower()]))
        return letters.end()
    run = RUN.match(text, at)
    assert run is not None
    behind = text[run.end() : run.end() + 2].lstrip()
    pieces = names.split(run[0], at_power=behind[:1] == "^")
    found += pieces
    if pieces and pieces[-1] == token("function", "e^"):
        return text.index("^", run.end()) + 1
    return run.end()
