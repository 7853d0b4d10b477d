"""What happens after a switch is closed: p.d.s and currents in time, times to reach a level, the state at a moment.

With one time constant everything but the exponential itself is exact; several time constants are found as rational
roots where they are, else rounded to what a float holds.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import cached_property

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import Circuit
from boardproof.circuit.quantity import QuantityRef
from boardproof.findings import Finding
from boardproof.record import record
from boardproof.solve.answers import Answers, Unknown
from boardproof.solve.arithmetic import Arithmetic, Number
from boardproof.solve.charge import Charges
from boardproof.solve.ill_posed import because
from boardproof.solve.laplace import S, transformed
from boardproof.solve.network import Solved
from boardproof.solve.structure import Forest

__all__ = ["Curve", "Transient", "first_crossing", "transient"]

MANY_TIME_CONSTANTS = 60
STEPS = 600


@record
class Curve:
    """A quantity in time: ``final`` plus a sum of ``amplitude * exp(-rate * t)``.

    Parameters
    ----------
    final : Fraction
        What it settles to.
    terms : tuple of (Fraction, Fraction)
        Amplitude and rate (in 1/s, positive), slowest first.

    Examples
    --------
    >>> rising = Curve(Fraction(12), ((Fraction(-12), Fraction(2)),))
    >>> rising.at(0), rising.time_constants
    (Fraction(0, 1), (Fraction(1, 2),))
    """

    final: Fraction
    terms: tuple[tuple[Fraction, Fraction], ...] = ()

    def at(self, seconds: Fraction | float) -> Fraction:
        """The value at a time after switching; exact at 0."""
        value = self.final
        for amplitude, rate in self.terms:
            value += (
                amplitude if seconds == 0 else amplitude * Fraction(math.exp(-float(rate) * float(seconds)))
            )
        return value

    @property
    def time_constants(self) -> tuple[Fraction, ...]:
        """In seconds, longest first."""
        return tuple(1 / rate for _, rate in self.terms)

    def time_to(self, level: Fraction) -> float | None:
        """Seconds until it first reaches a level; None if it never does."""
        if not self.terms:
            return 0.0 if self.final == level else None
        if len(self.terms) == 1:
            ((amplitude, rate),) = self.terms
            ratio = (level - self.final) / amplitude
            return -math.log(ratio) / float(rate) if 0 < ratio <= 1 else None
        return first_crossing(lambda seconds: self.at(seconds) - level, float(self.time_constants[0]))


def first_crossing(gap: Callable[[float], Fraction], slowest: float) -> float | None:
    """The first time at which a quantity that settles passes nought, by bisection.

    Parameters
    ----------
    gap : function of seconds
        The quantity less the level looked for, at a time from 0 s on.
    slowest : float
        Longest time constant, in seconds, above zero; the search ends after 60 of them, in steps that widen.

    Returns
    -------
    float or None
        In seconds; None if it never changes sign.

    Examples
    --------
    A quantity that falls evenly, and one that never crosses:

    >>> round(first_crossing(lambda seconds: 2 - Fraction(seconds), 1.0), 6)
    2.0
    >>> first_crossing(lambda seconds: Fraction(1), 1.0) is None
    True
    """
    start, end = 0.0, slowest * MANY_TIME_CONSTANTS
    before = gap(start)
    if before == 0:
        return start
    for step in range(1, STEPS + 1):
        later = end * (step / STEPS) ** 3
        after = gap(later)
        if (before < 0) != (after < 0):
            for _ in range(80):
                middle = (start + later) / 2
                start, later = (start, middle) if (gap(middle) < 0) != (before < 0) else (middle, later)
            return (start + later) / 2
        start, before = later, after
    return None


class _Curves:
    """The curves of all branches, each worked out once."""

    def __init__(self, images: Solved) -> None:
        self.trusted = images.trusted
        self._images = images
        self._kept: dict[tuple[str, int], Curve | Finding] = {}

    def curve(self, what: str, place: int) -> Curve | Finding:
        if (what, place) not in self._kept:
            image = self._images.rise(place) if what == "rise" else self._images.flow(place)
            self._kept[what, place] = _curve(image)
        return self._kept[what, place]


class _Moment(Solved):
    """The circuit at one moment: what flows is read off the curves."""

    def __init__(self, steady: Solved, changing: _Curves, seconds: Fraction | float) -> None:
        super().__init__(steady.flat, steady.numbers, steady.lines)
        self._changing, self._seconds = changing, seconds

    @property
    def trusted(self) -> Forest:  # a capacitor ties nodes together while it charges
        return self._changing.trusted

    def _rise(self, place: int) -> Number | Finding:
        return self._then(self._changing.curve("rise", place))

    def _flow(self, place: int) -> Number | Finding:
        return self._then(self._changing.curve("flow", place))

    def _then(self, curve: Curve | Finding) -> Number | Finding:
        return curve if isinstance(curve, Finding) else curve.at(self._seconds)


class Transient:
    """A circuit from the moment in which it was switched; made by `transient`.

    Parameters
    ----------
    circuit : Circuit
        As it is after switching, with all values it needs.
    initial : mapping of str to Fraction
        P.d. across each capacitor at that moment, first end over last, by path; nought if left out.
    """

    def __init__(self, circuit: Circuit, initial: Mapping[str, Fraction]) -> None:
        """Take note; work starts with the first question."""
        self._circuit, self._initial = circuit, initial
        self._numbers = Arithmetic("exact", circuit.values)

    @cached_property
    def _steady(self) -> Answers:
        return Answers(self._circuit, self._numbers)

    @cached_property
    def _changing(self) -> Answers:
        steady = self._steady.solved
        capacitances = Charges(steady).capacitances
        start = {
            place: -self._initial[branch.path]
            for place, branch in enumerate(steady.flat.branches)
            if branch.path in self._initial
        }
        return Answers(self._circuit, self._numbers, transformed(steady, capacitances, start))

    @cached_property
    def _curves(self) -> _Curves:
        return _Curves(self._changing.solved)

    def curve(self, ref: QuantityRef) -> Curve | Unknown:
        """A current, p.d., potential or charge in time."""
        image = self._changing.formula(ref)
        if isinstance(image, Unknown):
            return image
        found = _curve(image)
        return Unknown(found) if isinstance(found, Finding) else found

    def at(self, seconds: Fraction | float) -> Answers:
        """Everything that can be asked of the circuit at a time after switching."""
        moment = _Moment(self._steady.solved, self._curves, seconds)
        return Answers(self._circuit, self._numbers, moment)

    def settled(self) -> Answers:
        """Everything that can be asked when nothing changes any more; charge that cannot leave is kept."""
        settled = Answers(self._circuit, self._numbers, self._steady.solved)
        settled.charges = Charges(self._steady.solved, self._initial)
        return settled

    def time_to(self, ref: QuantityRef, level: Fraction) -> float | Unknown:
        """Seconds until a quantity first reaches a level."""
        if ref.kind in {"current", "pd", "terminal_pd", "potential", "charge", "lost_volts"}:
            curve = self.curve(ref)
            found = curve if isinstance(curve, Unknown) else curve.time_to(level)
        else:
            found = self._time_to(ref, level)
        if found is None:
            what = f"the time until the {ref.kind} of {ref.of[0]} is {level}"
            return Unknown(because("no-such-quantity", what=what, reason="it never comes to that"))
        return found

    def _time_to(self, ref: QuantityRef, level: Fraction) -> float | Unknown | None:
        """For what is no sum of exponentials: powers and energies."""
        constants = [
            float(curve.time_constants[0])
            for place, own in enumerate(Charges(self._steady.solved).capacitances)
            if own is not None
            and isinstance(curve := self._curves.curve("rise", place), Curve)
            and curve.terms
        ]
        first = self.at(0).formula(ref)
        if isinstance(first, Unknown):
            return first
        if not constants:
            return None
        return first_crossing(lambda seconds: _sure(self.at(seconds).formula(ref)) - level, max(constants))


def transient(circuit: Circuit, initial: Mapping[str, Fraction] | None = None) -> Transient:
    """Follow a circuit from the moment in which it was switched.

    Parameters
    ----------
    circuit : Circuit
        As it is after switching.
    initial : mapping of str to Fraction, optional
        Volts on each capacitor at that moment, first end over last, by path; nought if left out.

    Examples
    --------
    >>> from boardproof.circuit.model import Leaf, Part, Series, Across, Worth
    >>> A = Leaf("A", Part("A", "source", Worth("E", Fraction(6))))
    >>> R = Leaf("R", Part("R", "resistor", resistance=Worth("R", Fraction(2))))
    >>> C = Leaf("C", Part("C", "capacitor", capacitance=Worth("C", Fraction(3))))
    >>> main = Circuit(Across(A, Series((R, C))))
    >>> transient(main).curve(QuantityRef("current", ("R",), main.id))
    Curve(final=Fraction(0, 1), terms=((Fraction(3, 1), Fraction(1, 6)),))
    """
    return Transient(circuit, initial or {})


def _curve(image: Number | Finding) -> Curve | Finding:
    """Back from s to time: a constant for the pole at nought, an exponential for each other pole."""
    if isinstance(image, Finding):
        return image
    if not isinstance(image, RationalFunction) or image.is_zero:
        return Curve(Fraction(0))
    if image.letters - {S}:
        letters = " and ".join(sorted(image.letters - {S}))
        return because("no-value", letter=letters, what="what happens in time")
    below = [each.as_number or Fraction(0) for each in image.denominator.coefficients(S)]
    slope = image.denominator.derivative(S)
    final = Fraction(0)
    if below[0] == 0:
        final = _residue(image, slope, Fraction(0))
        below = below[1:]
    terms = [(_residue(image, slope, -rate), rate) for rate in _rates(below)]
    return Curve(final, tuple(sorted(terms, key=lambda term: term[1])))


def _sure(found: Number | Unknown) -> Number:
    """What is known at the start is known later."""
    if isinstance(found, Unknown):
        raise TypeError(found.reason.kind.code)
    return found


def _residue(image: RationalFunction, slope: RationalFunction, pole: Fraction) -> Fraction:
    at = {S: pole}
    return image.numerator.evaluate(at) / slope.evaluate(at)


def _rates(below: list[Fraction]) -> list[Fraction]:
    """Minus the roots of a polynomial, coefficients from power 0 up; exact if there is one."""
    if len(below) < 2:
        return []
    if len(below) == 2:
        return [below[0] / below[1]]
    import numpy as np  # only for several time constants: it takes 0.1 s to load

    scale = (below[0] / below[-1]) ** Fraction(1)
    size = float(abs(scale)) ** (1 / (len(below) - 1)) or 1.0
    inner = [float(each * Fraction(size) ** power / below[0]) for power, each in enumerate(below)]
    return [Fraction(-float(root.real) * size) for root in np.roots(inner[::-1])]
