"""Listening against the script: what was said in place of each proved word, put in its place and judged again."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from typing import Final, cast

from boardproof.algebra.expression import Comparison
from boardproof.algebra.spoken import Token
from boardproof.listen.align import CRITICAL, NOTHING, Placed, align, is_equal, is_short_for, word_of
from boardproof.listen.hear import Speech
from boardproof.listen.judge import formula, in_place
from boardproof.listen.opposites import CONDITIONS, FUNCTION_WORDS, NEGATIONS, pole_of
from boardproof.listen.script import Piece, Script
from boardproof.listen.sentences import sentences
from boardproof.listen.slip import Slip
from boardproof.quantities import agrees

__all__ = ["Against", "listen_against"]

CORRECTIONS: Final = frozenset({"sorry", "mean", "correction", "wait", "rather", "oops", "no"})
GENERAL: Final = frozenset({"always", "never", "every", "whatever", "any", "all"})
KINDS: Final = {
    "size": "comparison", "near": "comparison", "strength": "comparison", "giving": "direction", "way": "direction",
    "end": "direction", "part": "wrong_part", "quantity": "formula", "sum": "formula", "often": "overgeneral",
    "denial": "comparison", "joined": "condition", "factor": "number", "order": "wrong_part",
}  # fmt: skip
FIRM, FULL, LOOSE = 0.55, 0.65, 0.7


@dataclass(frozen=True)
class Against:
    """What came of it.

    Parameters
    ----------
    slips : tuple of Slip
        Sure and unsure.
    placed : tuple of Placed
        Where the script was said.
    heard : frozenset of int
        Tokens of the talk that belong to the script.
    same : frozenset of int
        Tokens that are the script's own, or were judged in place of its own.
    checked, missed : int
        Proved pieces that were heard and compared; those that were not said.
    """

    slips: tuple[Slip, ...]
    placed: tuple[Placed, ...]
    heard: frozenset[int]
    same: frozenset[int]
    checked: int
    missed: int


def listen_against(speech: Speech, script: Script, parts: Collection[str]) -> Against:
    """Compare a talk with its script.

    Parameters
    ----------
    speech : Speech
        What was said.
    script : Script
        What was to be said.
    parts : collection of str
        Names of parts and groups.
    """
    starts = frozenset(sentence.start for sentence in sentences(speech))
    placed = align(script.clauses, speech.tokens, starts)
    comparer = _Comparer(speech, script, frozenset(part.lower() for part in parts))
    slips = [slip for each in placed for slip in comparer.clause(each)]
    slips += comparer.formulas(placed)
    heard = frozenset(n for each in placed for n in range(each.heard[0], each.heard[-1] + 1))
    same = frozenset(
        there
        for each in placed
        for here, there in each.pairs
        if here >= 0 and there >= 0 and is_equal(each.clause.tokens[here], speech.tokens[there])
    )
    return Against(tuple(slips), placed, heard, same, len(comparer.judged), comparer.missed)


@dataclass(frozen=True)
class _Comparer:
    speech: Speech
    script: Script
    parts: frozenset[str]
    judged: set[int] = field(default_factory=set)
    unsaid: list[int] = field(default_factory=list)

    @property
    def missed(self) -> int:
        return len(self.unsaid)

    def piece_of(self, placed: Placed, here: int) -> Piece:
        return self.script.pieces[placed.clause.pieces[here]]

    def slip(self, placed: Placed, talk: Collection[int], kind: str, right: str, sure: float) -> Slip:
        first = min(talk)
        led = [first - 1] if first and self.speech.tokens[first - 1].kind == "sign" else []
        tokens = [self.speech.tokens[n] for n in (*talk, *led)]
        start, end = min(t.start for t in tokens), max(t.end for t in tokens)
        sentence = self.script.sentences[placed.clause.number]
        return Slip(
            start, end, self.speech.time_of(start), self.speech.quote(start, end), kind, right, sure, sentence
        )

    # -- numbers and words, clause by clause

    def clause(self, placed: Placed) -> list[Slip]:
        if any(
            self.piece_of(placed, here).kind == "wrong"
            for here, there in placed.pairs
            if here >= 0 and there >= 0
        ):
            return []
        return [*self.numbers(placed), *self.words(placed)]

    def numbers(self, placed: Placed) -> list[Slip]:
        """A number in a sentence in place of another."""
        found = []
        tokens, talk = placed.clause.tokens, self.speech.tokens
        for here, there in placed.pairs:
            if (
                here >= 0
                and there >= 0
                and tokens[here].kind == talk[there].kind == "sign"
                and placed.share >= LOOSE
            ):
                if not is_equal(tokens[here], talk[there]) and self.piece_of(placed, here).kind == "words":
                    found.append(
                        self.slip(placed, self.around(placed, there), "formula", tokens[here].text, 0.7)
                    )
                continue
            if here < 0 or there < 0 or tokens[here].kind != "number" or talk[there].kind != "number":
                continue
            piece = self.piece_of(placed, here)
            if piece.kind not in {"words", "value"}:
                continue
            self.judged.add(placed.clause.pieces[here])
            wanted, said = tokens[here], talk[there]
            units = wanted.unit, said.unit
            alike = (
                not wanted.text
                or not said.text
                or (units[0] and units[1] and units[0].dimension == units[1].dimension)
                or wanted.text == said.text
            )
            if alike and (
                agrees(wanted.value, said.value, said.place) or agrees(said.value, wanted.value, wanted.place)
            ):
                continue
            if self.is_moved(placed, here, there) or self.is_corrected(there, wanted) or placed.share < 0.4:
                continue
            if not self.has_company(placed, here, there) or self.is_broken(there):
                continue
            kind = "number" if alike else "unit"
            found.append(
                self.slip(
                    placed,
                    self.around(placed, there),
                    kind,
                    _words(wanted),
                    0.9 if placed.share >= FIRM else 0.6,
                )
            )
        return found

    def has_company(self, placed: Placed, here: int, there: int) -> bool:
        """Whether a word nearby on either side is the script's own."""
        near = [
            (a, b) for a, b in placed.pairs
            if a >= 0 and b >= 0 and a != here and abs(a - here) <= 4 and abs(b - there) <= 6
            and is_equal(placed.clause.tokens[a], self.speech.tokens[b])
        ]  # fmt: skip
        content = [a for a, _ in near if placed.clause.tokens[a].text not in FUNCTION_WORDS]
        return bool(content) or len(near) >= 2

    def is_broken(self, there: int) -> bool:
        """Whether a number breaks off before its point."""
        tokens = self.speech.tokens
        near = tokens[max(0, there - 4) : there] if tokens[there].kind == "number" else ()
        behind = tokens[there + 1 : there + 3]
        halves = (
            len(behind) == 2
            and behind[0].text == "and"
            and behind[1].kind == "number"
            and behind[1].value < 1
        )
        return halves or any(token.text == "point" for token in (*near, *behind[:1]))

    def is_moved(self, placed: Placed, here: int, there: int) -> bool:
        """Whether both numbers stand in both texts, so that they changed places with the words around them."""
        first, last = placed.heard[0], placed.heard[-1]
        wanted, said = placed.clause.tokens[here], self.speech.tokens[there]
        return any(
            is_equal(wanted, self.speech.tokens[n])
            for n in range(max(0, first - 3), min(len(self.speech.tokens), last + 4))
        ) and any(is_equal(said, token) for token in placed.clause.tokens)

    def is_corrected(self, there: int, wanted: Token) -> bool:
        """Whether the speaker mends the word: a marker and the right one soon behind it."""
        behind = self.speech.tokens[there + 1 : there + 11]
        marked = next((n for n, token in enumerate(behind) if token.text in CORRECTIONS), None)
        return marked is not None and any(is_equal(wanted, token) for token in behind[marked:])

    def around(self, placed: Placed, there: int) -> list[int]:
        """The words to quote: what was said there, with the script's own words next to it."""
        heard = set(placed.heard)
        found = [there]
        for step in (-1, 1):
            place = there + step
            while abs(place - there) <= 3 and place in heard:
                found.append(place)
                place += step
        return found

    def words(self, placed: Placed) -> list[Slip]:
        """Opposites, parts and denials."""
        loose = placed.share < FIRM or self.matched(placed) < (2 if placed.share < FULL else 1)
        if loose and not self.is_word_for_word(placed):
            return []
        flips = self.flips(placed)
        if not flips:
            return self.overgeneral(placed)
        kinds = [kind for kind, _, _ in flips]
        count = len(kinds)
        for kind in ("part", "quantity"):
            if kinds.count(kind) == 2:
                count -= 1  # two that changed places turn a sentence round once
        if count % 2 == 0:
            return []
        kind, here, there = flips[0]
        sure = 0.9 if placed.share >= LOOSE and count == 1 else 0.6
        if (
            kind
            in {
                "quantity",
                "with",
                "inside",
                "open",
                "age",
                "same",
                "both",
                "height",
                "side",
                "worth",
                "order",
            }
            and placed.share < 0.62
        ):
            sure = 0.4
        wanted = placed.clause.tokens[here].text if here >= 0 else "without the denial"
        return [
            self.slip(
                placed,
                [n for _, _, n in flips] + self.around(placed, there),
                KINDS.get(kind, "condition"),
                wanted,
                sure,
            )
        ]

    def is_word_for_word(self, placed: Placed) -> bool:
        """Whether four words at least are the script's, in its order, and only one is not."""
        same = [
            here >= 0 and there >= 0 and is_equal(placed.clause.tokens[here], self.speech.tokens[there])
            for here, there in placed.pairs
        ]
        return sum(same) >= 4 and same.count(False) <= 1

    def matched(self, placed: Placed) -> int:
        return sum(
            1 for here, there in placed.pairs
            if here >= 0 and there >= 0 and is_equal(placed.clause.tokens[here], self.speech.tokens[there])
            and placed.clause.tokens[here].text not in FUNCTION_WORDS
        )  # fmt: skip

    def flips(self, placed: Placed) -> list[tuple[str, int, int]]:
        found: list[tuple[str, int, int]] = []
        tokens, talk = placed.clause.tokens, self.speech.tokens
        for here, there in placed.pairs:
            if here >= 0 and there >= 0 and {tokens[here].text, talk[there].text} == {"<", ">"}:
                if self.piece_of(placed, here).kind == "words":
                    found.append(("size", here, there))
                continue
            if here < 0 or there < 0 or not word_of(tokens[here]) or not word_of(talk[there]):
                continue
            mine, theirs = word_of(tokens[here]), word_of(talk[there])
            if mine == theirs or self.is_corrected(there, tokens[here]):
                continue
            poles = pole_of(mine), pole_of(theirs)
            if mine in self.parts and theirs in self.parts and len(theirs) == 1 == len(mine):
                found.append(("part", here, there))
            elif (
                poles[0]
                and poles[1]
                and poles[0][0] == poles[1][0]
                and poles[0] != poles[1]
                and not self.offers(there, poles[1])
            ):
                found.append((poles[0][0], here, there))
        heard = placed.heard
        denied = [n for n in range(heard[0], heard[-1] + 1) if _denies(talk, n)]
        here_denied = [n for n in range(len(tokens)) if _denies(tokens, n)]
        if (len(denied) - len(here_denied)) % 2 and not any(
            talk[n].text in CORRECTIONS - {"no"} for n in range(heard[0], heard[-1] + 1)
        ):
            found.append(("denial", NOTHING, denied[0] if denied else heard[-1]))
        return found

    def offers(self, there: int, pole: tuple[str, str]) -> bool:
        """Whether both opposites are offered: "more or less?"."""
        near = self.speech.tokens[max(0, there - 3) : there + 4]
        return any(token.text == "or" for token in near) and any(
            (other := pole_of(token.text)) and other[0] == pole[0] and other[1] != pole[1] for token in near
        )

    def overgeneral(self, placed: Placed) -> list[Slip]:
        """Said like "Always" where the script says when."""
        tokens, talk = placed.clause.tokens, self.speech.tokens
        sentence = set(
            self.script.sentences[placed.clause.number].lower().replace(",", " ").replace(".", " ").split()
        )
        added = [there for here, there in placed.pairs if here < 0 and talk[there].text in GENERAL]
        replaced = [
            there
            for here, there in placed.pairs
            if here >= 0 and there >= 0 and talk[there].text in GENERAL and tokens[here].text in CONDITIONS
        ]
        added = [
            there
            for there in added
            if talk[there].text in {"always", "never", "whatever"} and not sentence & GENERAL
        ]
        if not (replaced or added) or not (sentence & CONDITIONS):
            return []
        dropped = [
            n for n, token in enumerate(tokens) if token.text in CONDITIONS and (n, NOTHING) in placed.pairs
        ]
        sure = 0.85 if replaced or dropped else 0.6
        talked = replaced or added
        return [
            self.slip(
                placed,
                [*talked, *self.around(placed, talked[0])],
                "overgeneral",
                "only under the script's condition",
                sure,
            )
        ]

    # -- formulas, piece by piece

    def formulas(self, placed: Sequence[Placed]) -> list[Slip]:
        pairs: dict[int, list[tuple[Placed, int, int]]] = defaultdict(list)
        for each in placed:
            owner = NOTHING
            for here, there in each.pairs:
                owner = each.clause.pieces[here] if here >= 0 else owner
                if owner >= 0 and self.script.pieces[owner].kind in {"maths", "limit"}:
                    pairs[owner].append((each, here, there))
        found = []
        for owner, rows in pairs.items():
            if any(here >= 0 and there >= 0 for _, here, there in rows):
                self.judged.add(owner)
                found += self.formula(self.script.pieces[owner], _trimmed(rows))
            else:
                self.unsaid.append(owner)
        return found

    def _differs(self, placed: Placed, here: int, there: int) -> bool:
        """Whether something that matters was put in, left out or replaced."""
        talk = self.speech.tokens
        if here < 0:
            return talk[there].kind in CRITICAL
        mine = placed.clause.tokens[here]
        return mine.kind in CRITICAL and (there < 0 or not is_equal(mine, talk[there]))

    def formula(self, piece: Piece, rows: list[tuple[Placed, int, int]]) -> list[Slip]:
        talk = self.speech.tokens
        differing = [
            (placed, here, there) for placed, here, there in rows if self._differs(placed, here, there)
        ]
        if not differing:
            return []
        if piece.kind == "limit":
            return self.limit(differing)
        members = _members(rows, talk)
        return [
            slip
            for n in range(len(members) - 1)
            for slip in self.link(piece, members[n], members[n + 1], rows)
        ]

    def limit(self, differing: list[tuple[Placed, int, int]]) -> list[Slip]:
        swapped = [
            (placed, here, there)
            for placed, here, there in differing
            if here >= 0 and there >= 0 and placed.share >= LOOSE
        ]
        return [
            self.slip(
                placed,
                self.around(placed, there),
                "formula",
                placed.clause.tokens[here].text or "/".join(placed.clause.tokens[here].names),
                0.7,
            )
            for placed, here, there in swapped[:1]
        ]

    def link(
        self, piece: Piece, left: _Member, right: _Member, rows: list[tuple[Placed, int, int]]
    ) -> list[Slip]:
        """Judge two neighbouring members of a chain as they were said."""
        if not (left.is_changed or right.is_changed) or piece.world is None:
            return []
        sign = cast("Comparison", right.sign if right.sign in {"=", "≈", "<", ">", "≤", "≥"} else "=")
        wanted = cast("Comparison", right.wanted)
        own = formula(left.script, wanted, right.script, piece.world, condition=piece.condition)
        if own.verdict is not True:
            return self.unproved(piece, left, right, rows)
        truth = in_place(
            (left.script, right.script), (left.said, right.said), (wanted, sign), piece.world, piece.condition
        )
        if truth.verdict is not False:
            return []
        heard = sorted({*left.heard, *right.heard})
        if any(self.is_broken(n) for n in (*left.changed, *right.changed)):
            return []
        if any(
            self.speech.tokens[n].text in CORRECTIONS
            for n in range(heard[0], min(heard[-1] + 8, len(self.speech.tokens)))
        ):
            bare = formula(left.firm, sign, right.firm, piece.world, condition=piece.condition)
            if bare.verdict is not False:
                return []
        placed = rows[0][0]
        changed = sorted({*left.changed, *right.changed}) or heard
        around = [n for n in heard if changed[0] - 4 <= n <= changed[-1] + 3]
        kind = _kind(left, right, self.speech.tokens) if truth.reason != "dimension" else "dimension"
        sure = 0.92 if any(n in heard for n in changed) else 0.7
        said = _spoken(piece)
        return [self.slip(placed, [*around, *changed], kind, said, sure)]

    def unproved(
        self, piece: Piece, left: _Member, right: _Member, rows: list[tuple[Placed, int, int]]
    ) -> list[Slip]:
        """The reader can't follow the script's own words here; a plain other number or letter is still another."""
        changed = sorted({*left.changed, *right.changed})
        swapped = {there for _, here, there in rows if here >= 0}
        if not changed or not swapped.issuperset(changed) or any(self.is_broken(n) for n in changed):
            return []
        return [self.slip(rows[0][0], changed, "number", _spoken(piece), 0.6)]


def _denies(tokens: Sequence[Token], place: int) -> bool:
    """Whether a word denies; "no more than" does not."""
    behind = tokens[place + 1] if place + 1 < len(tokens) else None
    limits = behind is not None and (
        behind.text in {"more", "less", "<", ">"} or behind.word in {"more", "less"}
    )
    return tokens[place].text in NEGATIONS and not (tokens[place].text == "no" and limits)


@dataclass(frozen=True)
class _Member:
    """One side of a relation: as in the script, as said, and as said without what was only put in."""

    script: tuple[Token, ...]
    said: tuple[Token, ...]
    firm: tuple[Token, ...]
    heard: tuple[int, ...]
    changed: tuple[int, ...]
    is_changed: bool
    sign: str
    wanted: str


MATHS: Final = frozenset({"number", "name", "sign"})


def _members(rows: list[tuple[Placed, int, int]], talk: Sequence[Token]) -> list[_Member]:
    """Cut a formula at its relations; a side that was hardly said counts as in the script."""
    groups: list[tuple[str, str, list[tuple[Token | None, int]]]] = [("", "", [])]
    for placed, here, there in rows:
        token = placed.clause.tokens[here] if here >= 0 else None
        if token is not None and token.kind == "relation":
            said = talk[there].text if there >= 0 and talk[there].kind == "relation" else token.text
            groups.append((said, token.text, []))
        elif (token is not None and token.kind in MATHS) or (token is None and talk[there].kind in MATHS):
            groups[-1][2].append((token, there))
    return [_member(sign, wanted, group, talk) for sign, wanted, group in groups]


def _member(sign: str, wanted: str, group: list[tuple[Token | None, int]], talk: Sequence[Token]) -> _Member:
    script = tuple(token for token, _ in group if token is not None)
    operands = [(token, there) for token, there in group if token is not None and token.is_operand]
    said_operands = [there for _, there in operands if there >= 0]
    heard = tuple(there for token, there in group if there >= 0 and (token is not None))
    changed = [
        there for token, there in group if there >= 0 and (token is None or not is_equal(token, talk[there]))
    ]
    if len(said_operands) < 0.6 * len(operands) or not operands:
        return _Member(script, script, script, heard, (), sign != wanted, sign, wanted)
    said = tuple(
        token if token is not None and is_short_for(talk[there], token) else talk[there]
        for token, there in group
        if there >= 0 and talk[there].kind in MATHS
    )
    firm = tuple(
        talk[there]
        for token, there in group
        if there >= 0 and token is not None and talk[there].kind in MATHS
    )
    dropped = any(there < 0 for _, there in group)
    return _Member(
        script,
        said,
        firm,
        heard or tuple(said_operands),
        tuple(changed),
        bool(changed) or dropped or sign != wanted,
        sign,
        wanted,
    )


def _trimmed(rows: list[tuple[Placed, int, int]]) -> list[tuple[Placed, int, int]]:
    """Without words of the talk that stand behind the formula's last own word."""
    while rows and rows[-1][1] < 0:
        rows = rows[:-1]
    return rows


def _kind(left: _Member, right: _Member, talk: Sequence[Token]) -> str:
    """The kind of the smallest repair."""
    changed = [talk[n] for n in (*left.changed, *right.changed)]
    if right.sign != right.wanted:
        return "comparison"
    if changed and all(token.kind == "number" for token in changed):
        return "number"
    if changed and all(token.kind == "sign" and token.text in "+-" for token in changed):
        return "sign"
    return "formula"


def _spoken(piece: Piece) -> str:
    return piece.text


def _words(token: Token) -> str:
    """A number of the script in words for the teacher."""
    unit = token.unit
    value = token.value / unit.scale if unit else token.value
    text = str(float(value)).removesuffix(".0") if value.denominator != 1 else str(value)
    return f"{text} {unit.symbol}" if unit else text
