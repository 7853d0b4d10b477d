"""A resistor on the bench: its resistance from p.d. and current, its resistivity, and whether it keeps Ohm's law.

Where the meters stand decides the sign of the error: a voltmeter right across the resistor leaves the ammeter with its
current too (the result is too small); an ammeter right beside it leaves the voltmeter with its drop (too large).
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from typing import Literal

from boardproof.lab.noticed import Noticed, bend
from boardproof.lab.readings import Reading
from boardproof.lab.result import Result, measure
from boardproof.lab.uncertain import Uncertain, derived
from boardproof.record import record

__all__ = ["Placement", "Straight", "placement", "resistivity", "straightness"]


@record
class Placement:
    """What each place of the voltmeter makes of a resistance: as read, and the error with its sign, in ohms."""

    across_resistor: float
    error_across_resistor: float
    across_both: float
    error_across_both: float
    better: Literal["across the resistor", "across both"]


def placement(resistance: float, voltmeter: float, ammeter: float) -> Placement:
    """The two ways to measure a resistance, and the better one.

    Parameters
    ----------
    resistance, voltmeter, ammeter : float
        In ohms, above nought.

    Notes
    -----
    Across the resistor V/I = R || R_V; across resistor and ammeter V/I = R + R_A. They are equally far off where
    R^2 = R_A (R + R_V): derived here.

    Examples
    --------
    >>> made = placement(100.0, 10_000.0, 1.0)
    >>> round(made.error_across_resistor, 2), made.error_across_both, made.better
    (-0.99, 1.0, 'across the resistor')
    """
    joined = resistance * voltmeter / (resistance + voltmeter)
    both = resistance + ammeter
    errors = (joined - resistance, both - resistance)
    better: Literal["across the resistor", "across both"] = (
        "across the resistor" if abs(errors[0]) <= abs(errors[1]) else "across both"
    )
    return Placement(joined, errors[0], both, errors[1], better)


def resistivity(resistance: Uncertain, length: Uncertain, diameter: Uncertain) -> Uncertain:
    """Resistivity of a wire, rho = pi d^2 R/(4 l), in ohm metres.

    Parameters
    ----------
    resistance, length, diameter : Uncertain
        In ohms and metres; the diameter counts twice.

    Examples
    --------
    >>> from boardproof.lab.uncertain import measured
    >>> wire = (measured(2.0, 0.02, "R"), measured(1.0, 0.001, "l"), measured(0.5e-3, 0.005e-3, "d"))
    >>> rho = resistivity(*wire)
    >>> f"{rho.value:.3g}", f"{rho.u / rho.value:.4f}"
    ('3.93e-07', '0.0224')
    """
    return derived(lambda R, length_, d: cmath.pi * d * d * R / (4 * length_), resistance, length, diameter)


@record
class Straight:
    """Whether a resistor keeps Ohm's law: its resistance, the p.d. at no current, and what was noticed."""

    resistance: Uncertain
    offset: Uncertain
    starts_at_nought: bool
    bend: Noticed
    result: Result


def straightness(readings: Sequence[Reading]) -> Straight:
    """The V-I line of a resistor: its slope, whether it starts at nought, and whether it is straight.

    Parameters
    ----------
    readings : sequence of Reading
        Three at different currents at least; the p.d. rises with the current.

    Examples
    --------
    >>> from fractions import Fraction as F
    >>> off = (0, 1, -1, 1, 0)
    >>> run = [Reading(n, F(n, 10), F(n) + F(off[n - 1], 500)) for n in range(1, 6)]
    >>> made = straightness(run)
    >>> round(made.resistance.value, 1), made.starts_at_nought, made.bend.found
    (10.0, True, False)
    """
    result = measure(readings)
    # the cell's line is V = E - I r: a resistor's has the other slope
    resistance = derived(lambda r: -r, result.r)
    reach = result.reach(result.E) or math.inf
    return Straight(resistance, result.E, abs(result.E.value) <= reach, bend(result), result)
