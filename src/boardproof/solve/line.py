"""The V-I line of anything with two ends, in a form that ideal sources, wires and breaks fit as well.

A line says ``a p + b i = c``: `i` flows through from the first to the last end, `p` is the potential of the last end
less that of the first. A cell is (1, r, E), a resistor (1, R, 0), a wire (1, 0, 0), a break (0, 1, 0).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.sigma import INDEX, sum_of_family
from boardproof.circuit.model import Family, Part, Worth
from boardproof.circuit.network import Branch
from boardproof.circuit.part import at_index
from boardproof.solve.arithmetic import Arithmetic, Number
from boardproof.solve.ill_posed import NoAnswer, because

__all__ = ["Line", "general_member", "line_of", "line_of_family", "line_of_part"]

NOUGHT, ONE = Fraction(0), Fraction(1)


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """A straight line between p.d. and current, ``a p + b i = c``.

    Parameters
    ----------
    a, b, c : number
        `a` nought: no current can pass. `b` nought: the p.d. is fixed whatever the current.

    Notes
    -----
    In series currents agree and p.d.s add, in parallel the other way round; either rule gives polynomials from
    polynomials. Derived here from Kirchhoff's rules.

    Examples
    --------
    >>> both = Line(1, Fraction(2), Fraction(6)).parallel(Line(1, Fraction(1), Fraction(3)))
    >>> both.emf, both.resistance
    (Fraction(4, 1), Fraction(2, 3))
    """

    a: Number
    b: Number
    c: Number

    def series(self, other: Line) -> Line:
        """Both, one behind the other."""
        return Line(
            self.a * other.a,
            self.b * other.a + other.b * self.a,
            self.c * other.a + other.c * self.a,
        )

    def parallel(self, other: Line) -> Line:
        """Both, first end to first end."""
        return Line(
            self.a * other.b + other.a * self.b,
            self.b * other.b,
            self.c * other.b + other.c * self.b,
        )

    def turned(self) -> Line:
        """The other way round."""
        return Line(self.a, self.b, -self.c)

    def copies(self, in_series: Number, in_parallel: Number) -> Line:
        """`in_series` like it in a row, `in_parallel` such rows."""
        return Line(self.a * in_parallel, self.b * in_series, self.c * in_series * in_parallel)

    @property
    def emf(self) -> Number:
        """P.d. without current; `a` is not nought."""
        return self.c if _is_one(self.a) else self.c / self.a

    @property
    def resistance(self) -> Number:
        """Fall of the p.d. for each ampere; `a` is not nought."""
        return self.b if _is_one(self.a) else self.b / self.a

    @property
    def short_circuit_current(self) -> Number:
        """Current without p.d.; `b` is not nought."""
        return self.c / self.b


def _is_one(value: Number) -> bool:
    """Whether it is a plain one, so that a division can be left out."""
    return isinstance(value, Fraction | int) and value == 1


def line_of_part(part: Part, numbers: Arithmetic) -> Line:
    """The line of a part as it is built, a cell's plus at the last end.

    Parameters
    ----------
    part : Part
        A lamp is a resistor: its resistance when warm.
    numbers : Arithmetic
        Gives its letters.

    Returns
    -------
    Line
        A capacitor's is that of the steady state: no current.

    Raises
    ------
    NoAnswer
        For a diode.

    Examples
    --------
    >>> line_of_part(Part("A", "cell", Worth("E", Fraction(6)), Worth("r", Fraction(1))), Arithmetic("exact"))
    Line(a=Fraction(1, 1), b=Fraction(1, 1), c=Fraction(6, 1))
    """
    one, nought = numbers.plain(ONE), numbers.plain(NOUGHT)
    resistance = numbers.plain(numbers.worth(part.resistance))
    match part.kind:
        case "cell" | "source":
            return Line(one, resistance, numbers.plain(numbers.worth(part.emf)))
        case "resistor" | "lamp" | "ammeter" | "wire":
            return Line(one, resistance, nought)
        case "switch":
            return Line(one, nought, nought) if part.closed else Line(nought, one, nought)
        case "voltmeter":
            return Line(nought, one, nought) if part.resistance is None else Line(one, resistance, nought)
        case "capacitor":
            return Line(nought, one, nought)
        case "diode":
            raise NoAnswer(because("curved-part", part.span, name=part.name, kind=part.kind))


def line_of(branch: Branch, numbers: Arithmetic) -> Line:
    """The line of a branch from its tail to its head, with what was done to it.

    Parameters
    ----------
    branch : Branch
        A part or a run of alike ones.
    numbers : Arithmetic
        Gives its letters.

    Examples
    --------
    >>> line_of(Branch(None, "short:A", 0, 1), Arithmetic("exact"))
    Line(a=Fraction(1, 1), b=Fraction(0, 1), c=Fraction(0, 1))
    """
    one, nought = numbers.plain(ONE), numbers.plain(NOUGHT)
    if branch.is_open:
        return Line(nought, one, nought)
    if branch.leaf is None:
        return Line(one, nought, nought)
    leaf = branch.leaf
    line = line_of_family(leaf, numbers) if isinstance(leaf, Family) else line_of_part(leaf.part, numbers)
    if branch.emf_out:
        line = Line(line.a, line.b, nought)
    if branch.in_series or branch.in_parallel:
        line = line.copies(numbers.count(branch.in_series), numbers.count(branch.in_parallel))
    return line.turned() if branch.turned else line


def general_member(family: Family) -> Part:
    """The member of a family whose index is the letter that sums run over.

    Parameters
    ----------
    family : Family
        Whatever its own index is called.

    Examples
    --------
    >>> general_member(Family(Part("A_j", "cell", Worth("E_j"), Worth("r_j")), "j", 1, "n", "A_j")).emf.letter
    'E_k'
    """
    return _member(family, INDEX)


def line_of_family(family: Family, numbers: Arithmetic) -> Line:
    """The line of all members together.

    Parameters
    ----------
    family : Family
        Its last index is a number, a letter with a value, or a letter: then sums over the index come out.
    numbers : Arithmetic
        Gives the letters.

    Examples
    --------
    >>> cells = Family(Part("A_k", "cell", Worth("E_k"), Worth("r_k")), "k", 1, "n", "A_k", "series")
    >>> line_of_family(cells, Arithmetic("letters")).emf
    Σ(k=1..n: E_k)
    """
    last = family.last if isinstance(family.last, int) else numbers.plain(numbers.letter(family.last))
    if isinstance(last, RationalFunction):
        return _summed(family, str(family.last), numbers)
    whole: Line | None = None
    for index in range(family.first, int(last) + 1):
        line = line_of_part(_member(family, str(index)), numbers)
        if whole is not None:
            line = whole.series(line) if family.joined == "series" else whole.parallel(line)
        whole = line
    if whole is None:
        raise ValueError("a family without members")
    return whole


def _summed(family: Family, last: str, numbers: Arithmetic) -> Line:
    """Sums over the index: of resistances in series, of conductances side by side."""
    member = line_of_part(general_member(family), Arithmetic("letters", numbers.values))
    a, b, c = (each if isinstance(each, RationalFunction) else RationalFunction.constant(each)
               for each in (member.a, member.b, member.c))  # fmt: skip

    def added(term: RationalFunction) -> RationalFunction:
        return sum_of_family(term, last, first=family.first)

    if family.joined == "series":
        return Line(ONE, added(b / a), added(c / a))
    return Line(added(a / b), ONE, added(c / b))


def _member(family: Family, index: str) -> Part:
    part = family.part

    def renamed(worth: Worth | None) -> Worth | None:
        return replace(worth, letter=at_index(worth.letter, family.index, index)) if worth else None

    return replace(
        part,
        name=at_index(part.name, family.index, index),
        emf=renamed(part.emf),
        resistance=renamed(part.resistance),
        capacitance=renamed(part.capacitance),
    )
