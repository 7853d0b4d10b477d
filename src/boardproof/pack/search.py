"""The best series-parallel arrangement of given cells for every load at once, exactly.

Each arrangement is a falling line V = E - I r. Series adds p.d.s at equal currents, parallel adds currents at equal
p.d.s, and both only gain from a higher line, so that of each set of cells only lines on the upper envelope matter:
the points (r, E) on their upper hull. Series adds points; parallel adds them after (r, E) -> (1/r, E/r). The hull of
all sums of two hulls is walked edge by edge, so a pair of sets costs the sum of their sizes, not the product.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import comb, prod
from typing import Final, TypeAlias

from boardproof.pack.hull import Dot, Hull, cell_dot, other_plane, ready, sums, upper
from boardproof.record import record

__all__ = ["Best", "Tree", "best_arrangements", "best_for", "count_of", "written"]

Tree: TypeAlias = "int | tuple[str, Tree, Tree]"
"""A cell's place among the kinds, or "+" or "|" with two trees."""
Point: TypeAlias = "tuple[Fraction, Fraction, Tree]"
Chosen: TypeAlias = "tuple[int, ...]"
MOST_SETS: Final = 5_000
Cell: TypeAlias = "tuple[Fraction, Fraction]"


@record
class Best:
    """One arrangement on the envelope, and for which loads it drives the most current.

    Parameters
    ----------
    tree : Tree
        How the cells are joined.
    emf, resistance : Fraction
        Of the whole.
    least_load, most_load : Fraction or None
        It is the best from one to the other; None for no upper limit.
    """

    tree: Tree
    emf: Fraction
    resistance: Fraction
    least_load: Fraction
    most_load: Fraction | None


def best_arrangements(cells: Sequence[Cell]) -> tuple[Best, ...]:
    """The arrangements of all these cells that are best for some load, by falling load.

    Parameters
    ----------
    cells : sequence of (EMF, resistance)
        Exact, both above nought; like cells are searched as one kind, so that many of them cost little.

    Raises
    ------
    ValueError
        If there are more than `MOST_SETS` different sets of them to go through.

    Examples
    --------
    >>> two = [(Fraction(6), Fraction(1)), (Fraction(3), Fraction(1))]
    >>> [(written(each.tree, "AB"), each.least_load, each.most_load) for each in best_arrangements(two)]
    [('A + B', Fraction(1, 1), None), ('A || B', Fraction(0, 1), Fraction(1, 1))]
    """
    kinds = Counter(cells)
    sizes = tuple(kinds.values())
    if prod(each + 1 for each in sizes) > MOST_SETS:
        raise ValueError(f"more than {MOST_SETS} sets of cells")
    known: dict[Chosen, _Set] = {}
    for chosen in sorted(product(*(range(each + 1) for each in sizes)), key=sum):
        if sum(chosen) == 1:
            kind = chosen.index(1)
            emf, ohms = list(kinds)[kind]
            cell = [cell_dot(kind, ohms, emf)]
            known[chosen] = _Set.of(cell, cell, cell)
        elif sum(chosen) > 1:
            known[chosen] = _best_of(known, chosen)
    return tuple(_ranges([(*dot.exact, _tree(dot)) for dot in known[sizes].whole[1]]))


@dataclass(frozen=True, slots=True)
class _Set:
    """The hulls of one set of cells: all its arrangements in either plane, and those that may stand inside another.

    What is joined in series stands inside a parallel group only, and the other way round, so that no arrangement is
    met twice.
    """

    whole: Hull
    whole_across: Hull
    in_series: Hull
    in_parallel: Hull

    @staticmethod
    def of(whole: list[Dot], series: list[Dot], parallel: list[Dot]) -> _Set:
        """From the hulls in the series plane of all, of those joined in series, of those side by side."""
        return _Set(ready(whole), ready(other_plane(whole)), ready(parallel), ready(other_plane(series)))


def _best_of(known: dict[Chosen, _Set], chosen: Chosen) -> _Set:
    """A set from its parts; the part with the first cell is a single group of the other kind."""
    pairs = [(known[one], known[other]) for one, other in _splits(chosen)]
    series = upper((dot for one, other in pairs for dot in sums(one.in_series, other.whole, "+")), "+")
    across = upper(
        (dot for one, other in pairs for dot in sums(one.in_parallel, other.whole_across, "|")), "|"
    )
    parallel = other_plane(across)
    return _Set.of(upper([*series, *parallel], "+"), series, parallel)


def _splits(chosen: Chosen) -> Iterator[tuple[Chosen, Chosen]]:
    """Both parts of a set, the first with a cell of the first kind there is."""
    first = next(place for place, count in enumerate(chosen) if count)
    for one in product(*(range(each + 1) for each in chosen)):
        if one[first] and one != chosen:
            yield one, tuple(whole - part for whole, part in zip(chosen, one, strict=True))


def _tree(dot: Dot) -> Tree:
    if not dot.how:
        kind: int = dot.left
        return kind
    return (dot.how, _tree(dot.left), _tree(dot.right))


def _ranges(hull: list[Point]) -> Iterator[Best]:
    """Each corner with its loads; I = E/(R + r), neighbours are equal at R = (E1 r2 - E2 r1)/(E2 - E1)."""
    most: Fraction | None = None
    for place in range(len(hull) - 1, -1, -1):
        ohms, emf, tree = hull[place]
        if place and hull[place - 1][1] >= emf:
            continue  # less resistance and no less EMF: better for every load
        least = Fraction(0)
        if place:
            below, lower, _ = hull[place - 1]
            least = max(least, (lower * ohms - emf * below) / (emf - lower))
        if most is None or least < most:
            yield Best(tree, emf, ohms, least, most)
            most = least
        if not least:
            return


def best_for(found: Sequence[Best], load: Fraction) -> Best:
    """The arrangement that drives the most current through a load.

    Parameters
    ----------
    found : sequence of Best
        Of `best_arrangements`.
    load : Fraction
        0 or more.

    Examples
    --------
    >>> two = [(Fraction(6), Fraction(1)), (Fraction(6), Fraction(1))]
    >>> best_for(best_arrangements(two), Fraction(5)).emf
    Fraction(12, 1)
    """
    return next(each for each in found if each.least_load <= load)


def written(tree: Tree, names: Sequence[str]) -> str:
    """An arrangement as circuits are written.

    Parameters
    ----------
    tree : Tree
        Of `Best`.
    names : sequence of str
        Of the kinds of cells, in the order in which they were given.

    Examples
    --------
    >>> written(("+", ("|", 0, 1), 2), "ABC")
    '(A || B) + C'
    """
    return _said(tree, names, "")


def _said(tree: Tree, names: Sequence[str], outside: str) -> str:
    if isinstance(tree, int):
        return names[tree]
    how, one, other = tree
    text = f" {how if how == '+' else '||'} ".join((_said(one, names, how), _said(other, names, how)))
    return text if outside in {"", how} else f"({text})"


def count_of(cells: int) -> int:
    """How many different series-parallel arrangements this many different cells have.

    Parameters
    ----------
    cells : int
        1 at least.

    Notes
    -----
    OEIS A006351: twice the number of ways to join two or more groups, each of one cell or joined the other way.

    Examples
    --------
    >>> [count_of(n) for n in range(1, 8)]
    [1, 2, 8, 52, 472, 5504, 78416]
    """
    # s[n]: arrangements whose outermost join is in series, a single cell included. Sets of such, in parallel, of
    # two groups or more are again s[n]; the group with the first cell is split off, as Bell numbers are counted.
    single, sets = [0, 1], [1, 1]
    for n in range(2, cells + 1):
        # sets[n] = sum over the first cell's group of k; the term k = n is s[n] itself, and sets[n] = 2 s[n].
        rest = sum(comb(n - 1, k - 1) * single[k] * sets[n - k] for k in range(1, n))
        single.append(rest)
        sets.append(2 * rest)
    return 1 if cells == 1 else 2 * single[cells]
