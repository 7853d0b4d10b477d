"""Exactly when a joined statement holds: cases of comparisons, put together, negated and made as short as can be.

A statement is a list of *cases*; one of them holds, each by all its facts. Every step keeps the meaning exactly; what
is shortened is shortened by a proof (`algebra.compare.sign_of`), so a condition is as wide as the claim.
"""

from __future__ import annotations

import itertools
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Final

from boardproof.algebra import meaning
from boardproof.algebra.answer import Always, Never, When
from boardproof.algebra.expression import Comparison, Relation
from boardproof.algebra.ground import Fact
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain
from boardproof.algebra.sign import sign_of
from boardproof.algebra.tidy import balanced

__all__ = ["OPPOSITE", "Cases", "Conditions"]

CASES_AT_MOST: Final = 24
OPPOSITE: Final[dict[Comparison, Comparison]] = {
    "<": "≥",
    ">": "≤",
    "≤": ">",
    "≥": "<",
    "=": "≠",
    "≠": "=",
    "≈": "≠",
}
Cases = tuple[tuple[Fact, ...], ...]
"""One of the cases holds; a case holds if all its facts do. No case: never; an empty case: always."""


@dataclass(frozen=True)
class Conditions:
    """Works with cases under what is given.

    Parameters
    ----------
    counts : collection of str
        Letters that are whole numbers.
    given : sequence of Fact
        Hypotheses.

    Examples
    --------
    >>> R, r = RationalFunction.letter("R"), RationalFunction.letter("r")
    >>> at = Conditions((), ())
    >>> at.words(at.agree((((R - r, ">"),),), (((4 * R - 5 * r, ">"),),)))
    '4 R > 5 r or R ≤ r'
    """

    counts: Collection[str]
    given: Sequence[Fact]

    def simple(self, cases: Cases) -> Cases | None:
        """The same, each fact replaced by what decides it; None if one of them can't be decided."""
        parts: list[Cases] = []
        for case in cases:
            each: Cases = ((),)
            for fact in case:
                known = self._decided(fact)
                if known is None:
                    return None
                joined = self.both(each, known)
                if joined is None:
                    return None
                each = joined
            parts.append(each)
        return self.short(tuple(case for part in parts for case in part))

    def _decided(self, fact: Fact) -> Cases | None:
        match sign_of(*fact, counts=self.counts, given=self.given):
            case Always():
                return ((),)
            case Never():
                return ()
            case When(cases=cases):
                found = tuple(tuple(_fact(each) for each in case) for case in cases)
                return None if any(each is None for case in found for each in case) else found  # type: ignore[return-value]  # just looked
            case _:
                return None

    def both(self, one: Cases, other: Cases) -> Cases | None:
        """Where both hold; None if that takes too many cases."""
        if len(one) * len(other) > CASES_AT_MOST:
            return None
        return self.short(
            tuple(tuple(dict.fromkeys(first + second)) for first, second in itertools.product(one, other))
        )

    def opposite(self, cases: Cases) -> Cases | None:
        """Where it does not hold."""
        out: Cases | None = ((),)
        for case in cases:
            negated: Cases = tuple(((function, OPPOSITE[sign]),) for function, sign in case)
            out = self.both(out, negated) if out is not None else None
        return out

    def agree(self, one: Cases, other: Cases) -> Cases | None:
        """Where both hold or neither does."""
        not_one, not_other = self.opposite(one), self.opposite(other)
        if not_one is None or not_other is None:
            return None
        first, second = self.both(one, other), self.both(not_one, not_other)
        return None if first is None or second is None else self.short((*first, *second))

    def short(self, cases: Cases) -> Cases:
        """Without cases that never happen or lie within another, without facts that follow from others."""
        kept = [self._case(case) for case in cases]
        found = [case for case in kept if case is not None]
        for place, case in enumerate(found):
            for other in found:
                if other is not case and len(other) == 1:
                    found[place] = case = tuple(each for each in case if not self._excludes(each, other[0]))  # noqa: PLW2901 - the same case, shorter
        out: list[tuple[Fact, ...]] = []
        for place, case in enumerate(found):
            others = (*out, *found[place + 1 :])
            if not any(self._within(case, other) for other in others):
                out.append(case)
        for one, other in itertools.combinations([case for case in out if len(case) == 1], 2):
            (first, sign), (second, like) = one[0], other[0]
            if {sign, like} in ({"<", ">"}, {">"}, {"<"}) and first == (second if sign != like else -second):
                out = [case for case in out if case not in (one, other)] + [((first, "≠"),)]
                break
        return tuple(sorted(dict.fromkeys(out), key=lambda case: (len(case), self.words((case,)))))

    def _case(self, case: tuple[Fact, ...]) -> tuple[Fact, ...] | None:
        kept: list[Fact] = []
        for fact in case:
            answer = sign_of(*fact, counts=self.counts, given=(*self.given, *kept))
            if isinstance(answer, Never):
                return None
            if not isinstance(answer, Always):
                kept.append(fact)
        for fact in tuple(kept[:-1]):
            rest = [each for each in kept if each != fact]
            if self._follows(fact, rest):
                kept.remove(fact)
        return tuple(kept)

    def _excludes(self, fact: Fact, other: Fact) -> bool:
        """Whether `fact` fails only where `other` holds, so that beside it nothing need be said of `fact`."""
        return self._follows(other, [(fact[0], OPPOSITE[fact[1]])])

    def _within(self, case: tuple[Fact, ...], other: tuple[Fact, ...]) -> bool:
        return all(self._follows(fact, case) for fact in other)

    def _follows(self, fact: Fact, given: Sequence[Fact]) -> bool:
        if fact in given:
            return True
        return isinstance(sign_of(*fact, counts=self.counts, given=(*self.given, *given)), Always)

    def words(self, cases: Cases | None) -> str:
        """The cases for people, joined by *or*."""
        return " or ".join(
            " and ".join(plain(balanced(function, sign)) for function, sign in case) for case in cases or ()
        )


def _fact(relation: Relation) -> Fact | None:
    left, right = (meaning.value(side, RationalFunction.letter) for side in (relation.left, relation.right))
    if isinstance(left, Unknown) or isinstance(right, Unknown):
        return None
    return left - right, relation.sign
