"""Chances that fits are judged by: normal, Student's t and chi square, in plain floats.

Student's t is summed for whole degrees of freedom (Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.3
and 26.7.4); chi square is the incomplete gamma function by series and continued fraction (6.5.29, 6.5.31).
"""

from __future__ import annotations

import math

__all__ = ["chi_square_above", "student_above", "student_factor"]

MANY = 400
TINY = 1e-300


def student_above(t: float, degrees: float) -> float:
    """Chance that a t value lies farther from nought than this one, on either side.

    Parameters
    ----------
    t : float
        Of either sign.
    degrees : float
        Degrees of freedom, 1 or more; taken down to a whole number, and as endless above 400.

    Examples
    --------
    >>> round(student_above(2.447, 6), 3), round(student_above(1.96, math.inf), 3)
    (0.05, 0.05)
    """
    if degrees > MANY:
        return math.erfc(abs(t) / math.sqrt(2))
    n = max(1, int(degrees))
    angle = math.atan(abs(t) / math.sqrt(n))
    cosine, term, total = math.cos(angle), 1.0, 1.0
    for k in range(2 + n % 2, n - 1, 2):
        term *= cosine * cosine * (k - 1) / k
        total += term
    if n % 2 == 0:
        return max(0.0, 1.0 - math.sin(angle) * total)
    inner = math.sin(angle) * cosine * total if n > 1 else 0.0
    return max(0.0, 1.0 - (angle + inner) * 2 / math.pi)


def student_factor(share: float, degrees: float) -> float:
    """How many standard uncertainties an interval reaches to each side.

    Parameters
    ----------
    share : float
        What the interval covers, such as 0.95.
    degrees : float
        Degrees of freedom, 1 or more.

    Examples
    --------
    >>> round(student_factor(0.95, 6), 2), round(student_factor(0.95, math.inf), 2)
    (2.45, 1.96)
    """
    low, high = 0.0, 1.0
    while student_above(high, degrees) > 1 - share:
        high *= 2
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if student_above(middle, degrees) > 1 - share else (low, middle)
    return (low + high) / 2


def chi_square_above(value: float, degrees: int) -> float:
    """Chance that a sum of squares is larger than this one.

    Parameters
    ----------
    value : float
        Nought or more.
    degrees : int
        Degrees of freedom, 1 or more.

    Examples
    --------
    >>> round(chi_square_above(12.592, 6), 4)
    0.05
    """
    a, x = degrees / 2, value / 2
    if x <= 0:
        return 1.0
    front = math.exp(a * math.log(x) - x - math.lgamma(a))
    if x < a + 1:
        term = total = 1 / a
        for n in range(1, 1000):
            term *= x / (a + n)
            total += term
            if term < total * 1e-15:
                break
        return max(0.0, 1 - front * total)
    b, c = x + 1 - a, 1 / TINY
    d = h = 1 / b
    for n in range(1, 1000):  # the continued fraction, by Lentz's way of keeping it from overflowing
        an = -n * (n - a)
        b += 2
        d, c = 1 / ((an * d + b) or TINY), (b + an / c) or TINY
        h *= d * c
        if abs(d * c - 1) < 1e-15:
            break
    return front * h
