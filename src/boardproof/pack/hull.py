"""Upper hulls of points that stand for arrangements: quick in floats, decided exactly wherever floats are near a tie.

A point is (r, E) of an arrangement. In the series plane x = r, y = E; in the parallel plane x = 1/r, y = E/r. Both
planes have the same arrangements on their upper hull.

Like cells make many ties. Each dot therefore carries its place modulo a prime of 61 bits as well: places that differ
there are different for certain; places that agree there and, within rounding, in floats are taken as one. What is
different and yet too close for floats is decided by fractions.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import pairwise
from operator import attrgetter
from typing import Any, Final, Literal

__all__ = ["Dot", "Hull", "Plane", "cell_dot", "other_plane", "ready", "sums", "upper"]

Plane = Literal["+", "|"]
NEAR: Final = 1e-9
PRIME: Final = 2**61 - 1


class Dot:
    """An arrangement as a point of one plane; its exact place is worked out when it is asked for.

    Parameters
    ----------
    x, y : float
        In the plane of the join that made it, "+" or "|".
    how : str
        "+", "|", or "" for a cell.
    left, right : Any
        What is joined: Dots, or for a cell its kind and its exact (r, E).
    """

    __slots__ = ("_exact", "_residues", "how", "left", "right", "x", "y")

    def __init__(self, x: float, y: float, how: str, left: Any, right: Any) -> None:
        self.x, self.y, self.how, self.left, self.right = x, y, how, left, right
        self._residues: tuple[int, int] | None = None
        self._exact: tuple[Fraction, Fraction] | None = None if how else right

    @property
    def residues(self) -> tuple[int, int]:
        """Its x and y modulo the prime."""
        if self._residues is None:
            (p1, q1), (p2, q2) = self.left.residues, self.right.residues
            self._residues = ((p1 + p2) % PRIME, (q1 + q2) % PRIME)
        return self._residues

    def across(self) -> Dot:
        """The same arrangement in the other plane."""
        made = Dot(1 / self.x, self.y / self.x, self.how, self.left, self.right)
        p, q = self.residues
        inverse = pow(p, -1, PRIME)
        made._residues, made._exact = (inverse, q * inverse % PRIME), self._exact
        return made

    @classmethod
    def of_cell(cls, kind: int, resistance: Fraction, emf: Fraction) -> Dot:
        """A single cell in the series plane."""
        made = cls(float(resistance), float(emf), "", kind, (resistance, emf))
        p, q = (each.numerator * pow(each.denominator, -1, PRIME) % PRIME for each in (resistance, emf))
        made._residues = (p, q)
        return made

    @property
    def exact(self) -> tuple[Fraction, Fraction]:
        """Its (r, E)."""
        if self._exact is None:
            (r1, e1), (r2, e2) = self.left.exact, self.right.exact
            if self.how == "+":
                self._exact = (r1 + r2, e1 + e2)
            else:
                total = r1 + r2
                self._exact = (r1 * r2 / total, (e1 * r2 + e2 * r1) / total)
        return self._exact


Hull = tuple[list[float], list[Dot]]
"""Slopes of the edges, and the dots, from left to right."""


def cell_dot(kind: int, resistance: Fraction, emf: Fraction) -> Dot:
    """A single cell.

    Parameters
    ----------
    kind : int
        Its place among the kinds.
    resistance, emf : Fraction
        Exact.
    """
    return Dot.of_cell(kind, resistance, emf)


def _sum(one: Dot, other: Dot, how: Plane) -> Dot:
    """What two dots of the plane make in which `how` adds."""
    return Dot(one.x + other.x, one.y + other.y, how, one, other)


def sums(one: Hull, other: Hull, how: Plane) -> Iterator[Dot]:
    """Corners of the hull of all sums of two hulls: the edges of both, steepest first.

    Parameters
    ----------
    one, other : Hull
        In the plane in which `how` adds.
    how : {"+", "|"}
        The join.

    Notes
    -----
    Where two edges are nearly alike both ways round are offered, so that rounding loses no corner.
    """
    s1, d1 = one
    s2, d2 = other
    i = j = 0
    m, n = len(s1), len(s2)
    yield _sum(d1[0], d2[0], how)
    while i < m or j < n:
        if j == n:
            i += 1
        elif i == m:
            j += 1
        else:
            a, b = s1[i], s2[j]
            if abs(a - b) <= NEAR * (abs(a) + abs(b)) or a == b:
                yield _sum(d1[i + 1], d2[j], how)
                yield _sum(d1[i], d2[j + 1], how)
                i, j = i + 1, j + 1
            elif a > b:
                i += 1
            else:
                j += 1
        yield _sum(d1[i], d2[j], how)


def upper(dots: Iterable[Dot], plane: Plane) -> list[Dot]:
    """The upper hull of dots whose x and y are those of a plane, from left to right.

    Parameters
    ----------
    dots : iterable of Dot
        In any order.
    plane : {"+", "|"}
        Which.
    """
    hull: list[Dot] = []
    for dot in sorted(dots, key=attrgetter("x")):
        new: Dot | None = dot
        while hull and new is not None:
            last = hull[-1]
            if dot.x - last.x <= NEAR * dot.x:  # perhaps one above the other
                new = _nearly_above(hull, dot, plane)
                break
            if len(hull) == 1:
                break
            before = hull[-2]
            one = (last.y - before.y) * (dot.x - before.x)
            two = (dot.y - before.y) * (last.x - before.x)
            if abs(one - two) <= NEAR * (abs(one) + abs(two)):
                if not _is_under(before, last, dot, plane):
                    break
            elif one > two:
                break
            hull.pop()
        if new is not None:
            hull.append(new)
    return hull


def _nearly_above(hull: list[Dot], dot: Dot, plane: Plane) -> Dot | None:
    """A dot nearly above or below the hull's last one: what is to be put on the hull, whose end may change."""
    last = hull[-1]
    (p, q), (last_p, last_q) = dot.residues, last.residues
    if p == last_p:
        if q == last_q or dot.y < last.y:
            return None
        hull.pop()
        return _fitted(hull, dot, plane)
    if _at(dot, plane)[0] > _at(last, plane)[0]:
        return _fitted(hull, dot, plane)
    hull.pop()  # they stand in the wrong order
    hull.append(dot)
    return _fitted(hull, last, plane)


def _fitted(hull: list[Dot], dot: Dot, plane: Plane) -> Dot:
    """The dot, with what is now under the hull taken off."""
    while len(hull) > 1 and _is_under(hull[-2], hull[-1], dot, plane):
        hull.pop()
    return dot


def _at(dot: Dot, plane: Plane) -> tuple[Fraction, Fraction]:
    ohms, emf = dot.exact
    return (ohms, emf) if plane == "+" else (1 / ohms, emf / ohms)


def _is_under(first: Dot, middle: Dot, last: Dot, plane: Plane) -> bool:
    """Whether the middle dot is on or below the line between the others."""
    one, two = (middle.y - first.y) * (last.x - first.x), (last.y - first.y) * (middle.x - first.x)
    if (
        abs(one - two) > NEAR * (abs(one) + abs(two))
        and middle.x - first.x > NEAR * last.x < last.x - middle.x
    ):
        return one < two
    (p1, q1), (p2, q2), (p3, q3) = first.residues, middle.residues, last.residues
    if not ((q2 - q1) * (p3 - p1) - (q3 - q1) * (p2 - p1)) % PRIME:
        return True
    (x1, y1), (x2, y2), (x3, y3) = (_at(each, plane) for each in (first, middle, last))
    return (y2 - y1) * (x3 - x1) <= (y3 - y1) * (x2 - x1)


def ready(dots: list[Dot]) -> Hull:
    """A hull with the slopes of its edges.

    Parameters
    ----------
    dots : list of Dot
        On the hull, from left to right.

    Examples
    --------
    >>> ready([cell_dot(0, Fraction(1), Fraction(2)), cell_dot(1, Fraction(3), Fraction(6))])[0]
    [2.0]
    """
    # Two corners so close that floats do not part them have no edge to speak of: taken as upright.
    return (
        [(b.y - a.y) / (b.x - a.x) if b.x > a.x else float("inf") for a, b in pairwise(dots)],
        dots,
    )


def other_plane(dots: list[Dot]) -> list[Dot]:
    """The same arrangements in the other plane, again from left to right.

    Parameters
    ----------
    dots : list of Dot
        In one plane.

    Examples
    --------
    >>> [(dot.x, dot.y) for dot in other_plane([cell_dot(0, Fraction(2), Fraction(6))])]
    [(0.5, 3.0)]
    """
    return [dot.across() for dot in reversed(dots)]
