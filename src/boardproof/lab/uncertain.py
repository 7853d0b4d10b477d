"""Values that know where their uncertainty comes from, so that what two results share is not counted twice.

Each value carries one signed contribution a cause (JCGM 100:2008, GUM, 5.1.3 and 5.2.2): two values that lean on one
meter share its causes, and their correlation follows without being typed. First order; derivatives are taken by a
complex step, which loses no digits.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Literal

from boardproof.record import record

__all__ = [
    "Cause",
    "Uncertain",
    "budget",
    "certain",
    "correlation",
    "derived",
    "effective_degrees",
    "measured",
]

STEP = 1e-30


@record
class Cause:
    """One thing that makes results uncertain.

    Parameters
    ----------
    name : str
        As a budget tells it: "gain of the voltmeter".
    shape : {"normal", "even"}
        How it is spread: by chance with most near the middle, or evenly between two limits.
    degrees : float
        Degrees of freedom behind its size; endless if it was not found from few readings.
    axis : int
        Tells apart several independent parts of one name.
    """

    name: str
    shape: Literal["normal", "even"] = "normal"
    degrees: float = math.inf
    axis: int = 0


@record
class Uncertain:
    """A value with its contributions: what one standard uncertainty of each cause would move it by.

    Examples
    --------
    >>> E = measured(1.5, 0.003, "E")
    >>> round((E + E).u, 4), round((E - E).u, 4)
    (0.006, 0.0)
    """

    value: float
    parts: Mapping[Cause, float]

    @property
    def u(self) -> float:
        """Standard uncertainty."""
        return math.sqrt(sum(each * each for each in self.parts.values()))

    def __add__(self, other: Uncertain) -> Uncertain:
        """Sum; shared causes add with their signs."""
        return derived(lambda a, b: a + b, self, other)

    def __sub__(self, other: Uncertain) -> Uncertain:
        """Difference; shared causes cancel."""
        return derived(lambda a, b: a - b, self, other)


def certain(value: float) -> Uncertain:
    """A value taken as exact.

    Parameters
    ----------
    value : float
        In SI units.

    Examples
    --------
    >>> certain(2.0).u
    0.0
    """
    return Uncertain(value, MappingProxyType({}))


def measured(
    value: float,
    u: float,
    name: str,
    *,
    shape: Literal["normal", "even"] = "normal",
    degrees: float = math.inf,
) -> Uncertain:
    """A value with one cause of its own.

    Parameters
    ----------
    value, u : float
        The value and its standard uncertainty.
    name : str
        Of the cause; values that name one cause share it.
    shape : {"normal", "even"}
        How it is spread.
    degrees : float
        Degrees of freedom.

    Examples
    --------
    >>> measured(4.0, 0.1, "length").u
    0.1
    """
    return Uncertain(value, MappingProxyType({Cause(name, shape, degrees): u}))


def derived(function: Callable[..., complex], *given: Uncertain) -> Uncertain:
    """A function of uncertain values.

    Parameters
    ----------
    function : callable
        Takes complex numbers; made of arithmetic and `cmath`, so that a step along the imaginary axis gives its
        derivative to full precision.
    *given : Uncertain
        Its values, in order.

    Examples
    --------
    >>> power = derived(lambda V, I: V * I, measured(2.0, 0.1, "V"), measured(3.0, 0.1, "I"))
    >>> power.value, round(power.u, 4)
    (6.0, 0.3606)
    """
    values = [complex(each.value) for each in given]
    parts: dict[Cause, float] = {}
    for place, each in enumerate(given):
        if not each.parts:
            continue
        stepped = [*values]
        stepped[place] += STEP * 1j
        slope = function(*stepped).imag / STEP
        for cause, share in each.parts.items():
            parts[cause] = parts.get(cause, 0.0) + slope * share
    return Uncertain(function(*values).real, MappingProxyType(parts))


def correlation(first: Uncertain, second: Uncertain) -> float:
    """Correlation of two values through the causes that they share, from -1 to 1.

    Parameters
    ----------
    first, second : Uncertain
        Any two.

    Examples
    --------
    >>> E = measured(1.5, 0.003, "E")
    >>> round(correlation(E, E + measured(1.0, 0.003, "other")), 3)
    0.707
    """
    both = sum(each * second.parts.get(cause, 0.0) for cause, each in first.parts.items())
    return both / (first.u * second.u) if first.u and second.u else 0.0


def budget(value: Uncertain) -> tuple[tuple[str, float, float], ...]:
    """What contributes how much: name, standard uncertainty, share of the variance; largest first.

    Parameters
    ----------
    value : Uncertain
        Any.

    Examples
    --------
    >>> budget(measured(1.0, 3.0, "a") + measured(1.0, 4.0, "b"))
    (('b', 4.0, 0.64), ('a', 3.0, 0.36))
    """
    squares: dict[str, float] = {}
    for cause, each in value.parts.items():
        squares[cause.name] = squares.get(cause.name, 0.0) + each * each
    whole = sum(squares.values()) or 1.0
    rows = ((name, math.sqrt(each), each / whole) for name, each in squares.items())
    return tuple(sorted(rows, key=lambda row: (-row[1], row[0])))


def effective_degrees(value: Uncertain) -> float:
    """Effective degrees of freedom by Welch and Satterthwaite (GUM G.4.1).

    Parameters
    ----------
    value : Uncertain
        Any.

    Examples
    --------
    >>> a, b, c = (measured(0.0, u, str(n), degrees=n) for u, n in ((0.25, 9), (0.57, 4), (0.82, 14)))
    >>> round(effective_degrees(a + b + c), 1)
    19.0
    """
    squares: dict[tuple[str, float], float] = {}
    for cause, each in value.parts.items():
        key = (cause.name, cause.degrees)
        squares[key] = squares.get(key, 0.0) + each * each
    below = sum(each * each / degrees for (_, degrees), each in squares.items())
    return value.u**4 / below if below else math.inf
