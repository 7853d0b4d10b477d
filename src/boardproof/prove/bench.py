"""What a judgement is made with: the names' meanings, the condition, the chain, the course's policy."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Protocol

from boardproof.algebra import meaning
from boardproof.algebra.answer import Answer, When
from boardproof.algebra.dimension import dimensioned
from boardproof.algebra.expression import Condition, Expression, Name, Number, Relation, Statement, names_in
from boardproof.algebra.ground import Fact
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain
from boardproof.algebra.tidy import to_expression
from boardproof.findings import Evidence, Finding
from boardproof.lesson.course import Policy
from boardproof.prove.figures import alone
from boardproof.prove.kinds import finding
from boardproof.prove.verdict import GROUND, Verdict
from boardproof.quantities import PURE, Dimension, Style, shown
from boardproof.record import record
from boardproof.source import Span

__all__ = [
    "Bench",
    "Chain",
    "Meanings",
    "Ruling",
    "case_words",
    "chains",
    "compares",
    "has_letters",
    "has_units",
    "is_zero_condition",
    "numbers_in",
]


class Meanings(Protocol):
    """What names mean at one place of a lesson."""

    @property
    def counts(self) -> Collection[str]:
        """Letters that count."""

    @property
    def load_letters(self) -> frozenset[str]:
        """Letters that the load carries."""

    @property
    def first_index(self) -> int:
        """Where the circuit's own family of parts begins."""

    def in_letters(self, name: str) -> RationalFunction | Unknown:
        """The exact ratio of letters that a name stands for."""

    def in_numbers(self, name: str) -> Fraction | Unknown:
        """The scene's value of a name, in SI units."""

    def dimension(self, name: str) -> Dimension | None:
        """The dimension of a name; None if nothing is known of it."""

    def trouble(self, name: Name) -> Finding | None:
        """Why a name means nothing here; None if it means something."""

    def sense(self, name: str) -> str:
        """In which direction a name counts, in words; empty if it has none."""

    def exact_values(self) -> Collection[Fraction]:
        """Every value that the scene gives."""

    def without_load(self) -> Meanings | None:
        """The same names with nothing joined to the terminals."""

    def with_values(self, values: Mapping[str, Fraction]) -> Meanings:
        """The same names where some letters have other values."""


@record
class Chain:
    """Members of one chain of relations, in order."""

    members: tuple[Expression, ...]


@record
class Ruling:
    """A verdict and the findings that come of it."""

    verdict: Verdict
    findings: tuple[Finding, ...] = ()


def chains(statements: Sequence[Statement]) -> tuple[Chain, ...]:
    """For each statement of a line, the chain it stands in.

    Parameters
    ----------
    statements : sequence of Statement
        Of one line, in order.

    Returns
    -------
    tuple of Chain
        One a statement; those of ``a = b = c`` share theirs.

    Examples
    --------
    >>> a, b, c = Name("a"), Name("b"), Name("c")
    >>> [len(chain.members) for chain in chains([Relation(a, "=", b), Relation(b, "=", c, chain=1)])]
    [3, 3]
    """
    groups: list[list[Statement]] = []
    for each in statements:
        if isinstance(each, Relation) and each.chain > 0 and groups:
            groups[-1].append(each)
        else:
            groups.append([each])
    found: list[Chain] = []
    for group in groups:
        relations = [each for each in group if isinstance(each, Relation)]
        members = (relations[0].left, *(each.right for each in relations)) if relations else ()
        found += [Chain(members)] * len(group)
    return tuple(found)


@dataclass(frozen=True)
class Bench:
    """One judgement's tools.

    Parameters
    ----------
    world : Meanings
        What names mean.
    condition : Condition or None
        What the statement is said under.
    chain : Chain or None
        The chain it stands in.
    policy, style
        The course's.
    facts : tuple of Fact
        The condition as hypotheses.
    sure : frozenset of Fraction
        Further values that are exact: those that the lesson gives or has proved.
    """

    world: Meanings
    condition: Condition | None
    chain: Chain | None
    policy: Policy
    style: Style
    facts: tuple[Fact, ...] = ()
    sure: frozenset[Fraction] = field(default=frozenset(), kw_only=True)

    def unchecked(self, reason: str, span: Span | None, *, said: bool = True) -> Ruling:
        """Not checked, with the reason."""
        verdict = Verdict("not-checked", evidence=(Evidence("machine", reason),), decided_by="dimensions")
        note = (finding("unchecked-statement", span, facts={"reason": reason}),) if said and span else ()
        return Ruling(verdict, note)

    def value(self, side: Expression) -> RationalFunction | Unknown:
        """The exact ratio of letters that an expression stands for."""
        return meaning.value(side, self.world.in_letters, first=self.world.first_index)

    def difference(self, relation: Relation) -> RationalFunction | Unknown:
        """Left side less right side."""
        left, right = self.value(relation.left), self.value(relation.right)
        if isinstance(left, Unknown):
            return left
        return right if isinstance(right, Unknown) else left - right

    def number(self, side: Expression) -> Fraction | Unknown:
        """The scene's value of an expression."""

        def of(name: str) -> RationalFunction | Unknown:
            value = self.world.in_numbers(name)
            return value if isinstance(value, Unknown) else RationalFunction.constant(value)

        found = meaning.value(side, of, first=self.world.first_index)
        if isinstance(found, Unknown):
            return found
        value = found.as_number
        return Unknown("it has no single value") if value is None else value

    def right(self, relation: Relation) -> str | None:
        """What the lone name of an equation is, in the circuit's letters."""
        if relation.sign not in {"=", "≈"}:
            return None
        for name, other in ((relation.left, relation.right), (relation.right, relation.left)):
            if not isinstance(name, Name):
                continue
            value = self.world.in_letters(name.text)
            if isinstance(value, RationalFunction) and value != RationalFunction.letter(name.text):
                written = to_expression(value)
                if not isinstance(other, Name) or not value.is_zero:
                    return f"{plain(name)} = {plain(written)}"
        return None

    def dimension_of(self, side: Expression) -> Dimension:
        """Dimension of an expression; a plain number where nothing is known."""
        found = dimensioned(side, self.world.dimension)
        return found if isinstance(found, Dimension) else PURE

    def shown_letter(self, name: str, value: Fraction) -> str:
        """A value of a letter, with its unit."""
        return shown(value, self.world.dimension(name) or PURE, self.style)

    @property
    def ground(self) -> str:
        """What a proof holds for."""
        if self.condition and self.condition.statements:
            return f"{GROUND} with {' and '.join(plain(each) for each in self.condition.statements)}"
        return GROUND

    def is_general(self, relation: Relation) -> bool:
        """Letters on both sides, no number with a unit but nought, and not said of these numbers only."""
        if self.condition and self.condition.word == "here":
            return False
        sides = (relation.left, relation.right)
        bare = [number for side in sides if (number := alone(side)) is not None]
        lettered = [has_letters(side) for side in sides]
        if any(not number.value for number in bare):
            # "= 0" holds no letter, so it is the scene's, unless a condition in letters says when.
            return any(lettered) and (self.in_letters_only or self.lacks_values(relation))
        pure = any(
            not has_letters(side) and not any(number.unit for number in numbers_in(side)) for side in sides
        )
        if pure and self.in_letters_only and relation.sign != "≈":
            return any(lettered) and self.lacks_values(relation)
        return all(lettered) and not any(has_units(side) for side in sides)

    @property
    def in_letters_only(self) -> bool:
        """Whether the statement is said under a condition, and that holds no number alone but nought."""
        said = (
            [each for each in self.condition.statements if isinstance(each, Relation)]
            if self.condition
            else []
        )
        sides = [side for each in said for side in (each.left, each.right)]
        return bool(said) and all(
            has_letters(side) or ((number := alone(side)) is not None and not number.value) for side in sides
        )

    def lacks_values(self, relation: Relation) -> bool:
        """Whether the scene gives no value to one of the sides."""
        return any(isinstance(self.number(side), Unknown) for side in (relation.left, relation.right))


def case_words(answer: Answer) -> str:
    """The cases of a condition, joined by *or*; within a case by *and*.

    Parameters
    ----------
    answer : Answer
        One that holds only when.

    Examples
    --------
    >>> same, none = Relation(Name("r_1"), "=", Name("r_2")), Relation(Name("I"), "=", Number(Fraction(0)))
    >>> case_words(When(((same,), (none,)), (), None, {}))
    'r_1 = r_2 or I = 0'
    """
    assert isinstance(answer, When)
    return " or ".join(" and ".join(plain(each) for each in case) for case in answer.cases)


def compares(left: Fraction, sign: str, right: Fraction) -> bool:
    """Whether two numbers stand in a relation.

    Parameters
    ----------
    left, right : Fraction
        In one unit.
    sign : str
        ``=``, ``≈``, ``<``, ``>``, ``≤``, ``≥`` or ``≠``; how near is near enough for ``≈`` is not judged here.

    Examples
    --------
    >>> compares(Fraction(1), "≤", Fraction(1)), compares(Fraction(1), "≠", Fraction(1))
    (True, False)
    """
    match sign:
        case "=" | "≈":
            return left == right
        case "<":
            return left < right
        case ">":
            return left > right
        case "≤":
            return left <= right
        case "≥":
            return left >= right
        case _:
            return left != right


def numbers_in(tree: Expression) -> list[Number]:
    """Every number in an expression.

    Parameters
    ----------
    tree : Expression
        One side of a line.

    Examples
    --------
    >>> from boardproof.algebra.expression import Product
    >>> [number.value for number in numbers_in(Product((Number(Fraction(2)), Name("r"))))]
    [Fraction(2, 1)]
    """
    if isinstance(tree, Number):
        return [tree]
    children = [getattr(tree, name, None) for name in ("of", "over", "under", "base", "term")]
    many = [each for name in ("terms", "factors", "branches") for each in getattr(tree, name, ())]
    return [number for each in (*children, *many) if each is not None for number in numbers_in(each)]


def has_units(side: Expression) -> bool:
    """Whether a number with a unit, other than nought, stands in an expression.

    Parameters
    ----------
    side : Expression
        One side of a line.

    Examples
    --------
    >>> from boardproof.quantities import read_unit
    >>> has_units(Number(Fraction(6), read_unit("V"))), has_units(Number(Fraction(0), read_unit("V")))
    (True, False)
    """
    return any(number.unit is not None and number.value for number in numbers_in(side))


def has_letters(side: Expression) -> bool:
    """Whether a name stands in an expression.

    Parameters
    ----------
    side : Expression
        One side of a line.

    Examples
    --------
    >>> has_letters(Name("r")), has_letters(Number(Fraction(6)))
    (True, False)
    """
    return any(True for _ in names_in(side))


def is_zero_condition(relation: Relation) -> bool:
    """A condition of the form ``x = 0``.

    Parameters
    ----------
    relation : Relation
        A condition as read.

    Examples
    --------
    >>> nought, six = Number(Fraction(0)), Number(Fraction(6))
    >>> is_zero_condition(Relation(Name("I"), "=", nought)), is_zero_condition(Relation(Name("I"), "=", six))
    (True, False)
    """
    number = alone(relation.right)
    return relation.sign == "=" and number is not None and not number.value
