"""Trees of an expression: their branches, the same tree with other leaves, two trees of one shape as one."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from boardproof.algebra.expression import (
    Call,
    Expression,
    Name,
    Negative,
    Parallel,
    Power,
    Product,
    Quotient,
    Sum,
    SumOver,
)

__all__ = ["mapped", "zipped"]


def mapped(tree: Expression, change: Callable[[Expression], Expression]) -> Expression:
    """The tree with every leaf changed.

    Parameters
    ----------
    tree : Expression
        What was written.
    change : callable
        Gives a leaf (a name, a number) its new form.

    Examples
    --------
    >>> mapped(Negative(Name("r")), lambda leaf: Name("R"))
    Negative(of=Name(text='R', span=None), span=None)
    """

    def go(part: Expression) -> Expression:
        return mapped(part, change)

    match tree:
        case Negative(of=inner) | Call(of=inner):
            return replace(tree, of=go(inner))
        case Power(base=base):
            return replace(tree, base=go(base))
        case Sum(terms=many):
            return replace(tree, terms=tuple(go(part) for part in many))
        case Product(factors=many):
            return replace(tree, factors=tuple(go(part) for part in many))
        case Parallel(branches=many):
            return replace(tree, branches=tuple(go(part) for part in many))
        case Quotient(over=over, under=under):
            return replace(tree, over=go(over), under=go(under))
        case SumOver(term=term):
            return replace(tree, term=go(term))
        case _:
            return change(tree)


def zipped(
    left: Expression, right: Expression, paired: Callable[[Name, Name], Name | None]
) -> Expression | None:
    """Two trees of one shape as one; None if the shapes differ.

    Parameters
    ----------
    left, right : Expression
        The trees.
    paired : callable
        Joins the names that stand at one place; None if they can't be joined.

    Examples
    --------
    >>> zipped(Negative(Name("r_1")), Negative(Name("r_2")), lambda one, other: Name("r"))
    Negative(of=Name(text='r', span=None), span=None)
    >>> zipped(Name("r"), Negative(Name("r")), lambda one, other: one) is None
    True
    """
    if isinstance(left, Name) and isinstance(right, Name):
        return paired(left, right)
    if type(left) is not type(right):
        return None
    ours, theirs = list(_children(left)), list(_children(right))
    if len(ours) != len(theirs):
        return None
    joined = [zipped(one, other, paired) for one, other in zip(ours, theirs, strict=True)]
    if any(part is None for part in joined):
        return None
    whole = _rebuilt(left, [part for part in joined if part is not None])
    return whole if _rebuilt(right, [part for part in joined if part is not None]) == whole else None


def _children(tree: Expression) -> Iterator[Expression]:
    match tree:
        case Negative(of=inner) | Call(of=inner) | Power(base=inner) | SumOver(term=inner):
            yield inner
        case Sum(terms=many) | Product(factors=many) | Parallel(branches=many):
            yield from many
        case Quotient(over=over, under=under):
            yield over
            yield under


def _rebuilt(tree: Expression, parts: list[Expression]) -> Expression:
    match tree:
        case Negative() | Call():
            return replace(tree, of=parts[0])
        case Power():
            return replace(tree, base=parts[0])
        case SumOver():
            return replace(tree, term=parts[0])
        case Sum():
            return replace(tree, terms=tuple(parts))
        case Product():
            return replace(tree, factors=tuple(parts))
        case Parallel():
            return replace(tree, branches=tuple(parts))
        case Quotient():
            return replace(tree, over=parts[0], under=parts[1])
        case _:
            return tree
