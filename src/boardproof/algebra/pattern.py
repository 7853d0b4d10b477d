"""Terms around three dots: the pattern that they show, as one term with an index."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from boardproof.algebra.expression import Ellipsis, Expression, Name, Number, SumOver
from boardproof.algebra.sigma import INDEX
from boardproof.algebra.tree import mapped, zipped

__all__ = ["folded", "indexed"]


def indexed(tree: Expression, index: str, put: str) -> Expression:
    """The tree with another index, or a number, in place of an index.

    Parameters
    ----------
    tree : Expression
        A term.
    index, put : str
        The index, and what stands for it.

    Examples
    --------
    >>> indexed(Name("E_k"), "k", "3")
    Name(text='E_3', span=None)
    """

    def renamed(name: str) -> str:
        stem, mark, subscript = name.partition("_")
        return stem + mark + ".".join(put if piece == index else piece for piece in subscript.split("."))

    def turned(part: Expression) -> Expression:
        if isinstance(part, Name):
            if part.text == index:
                return Number(Fraction(put), span=part.span) if put.isdigit() else Name(put, part.span)
            return Name(renamed(part.text), part.span)
        return part

    return mapped(tree, turned)


def folded(terms: Sequence[Expression]) -> tuple[Expression, ...] | str:
    """The terms, with those around three dots turned into one sum over an index; or why that can't be done.

    Parameters
    ----------
    terms : sequence of Expression
        Of a sum, one of them three dots.

    Examples
    --------
    >>> folded((Name("E_1"), Name("E_2"), Ellipsis(), Name("E_n")))[0].term
    Name(text='E_k', span=None)
    >>> folded((Name("E"), Ellipsis(), Name("r")))
    "the terms before the dots don't show how the sum goes on"
    """
    dots = [place for place, term in enumerate(terms) if isinstance(term, Ellipsis)]
    if len(dots) != 1 or dots[0] == len(terms) - 1:
        return "I see no single pattern in the sum with dots"
    last = terms[dots[0] + 1]
    for start in range(dots[0]):
        pattern = _pattern(terms[start], last)
        if pattern is None:
            continue
        term, first, end = pattern
        if any(indexed(term, INDEX, str(first + k)) != each for k, each in enumerate(terms[start : dots[0]])):
            break
        return (*terms[:start], SumOver(INDEX, first, end, term), *terms[dots[0] + 2 :])
    return "the terms before the dots don't show how the sum goes on"


def _pattern(first: Expression, last: Expression) -> tuple[Expression, int, Expression] | None:
    """The term with an index, the first index and the last, if the two differ only in a subscript."""
    ends: set[tuple[str, str]] = set()

    def paired(left: Name, right: Name) -> Name | None:
        if left.text == right.text:
            return left
        stem, _, low = left.text.partition("_")
        other, _, high = right.text.partition("_")
        if stem != other or not low.isdigit() or not high:
            return None
        ends.add((low, high))
        return Name(f"{stem}_{INDEX}", left.span)

    term = zipped(first, last, paired)
    if term is None or len(ends) != 1:
        return None
    low, high = ends.pop()
    return term, int(low), Number(Fraction(high)) if high.isdigit() else Name(high)
