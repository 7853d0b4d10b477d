"""Results as people write them: the uncertainty to one or two figures, the value to the same place."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from math import isfinite

__all__ = ["chance_told", "give_or_take", "told", "told_pair"]

NARROW = "\u202f"
MINUS = "\u2212"


def told_pair(value: float, u: float, *, decimal: str = ".") -> tuple[str, str]:
    """A value and its uncertainty, both to the place of the uncertainty.

    Parameters
    ----------
    value : float
        In the unit it is shown in.
    u : float
        Of one kind or another; to two figures if the first is 1, else to one.
    decimal : str
        Decimal mark.

    Examples
    --------
    >>> told_pair(1.50112, 0.00342), told_pair(0.40257, 0.0144), told_pair(2.0, 0.0)
    (('1.501', '0.003'), ('0.403', '0.014'), ('2.000', '0'))
    """
    if not u or not isfinite(u):
        return _typed(Decimal(f"{value:.3f}"), decimal), "0" if u == 0 else "unknown"
    exact = Decimal(repr(u))
    place = exact.adjusted() - (1 if exact.as_tuple().digits[0] == 1 else 0)
    rounded = exact.quantize(Decimal(1).scaleb(place), ROUND_HALF_UP)
    shown = Decimal(repr(value)).quantize(Decimal(1).scaleb(place), ROUND_HALF_UP)
    return _typed(shown, decimal), _typed(rounded, decimal)


def _typed(number: Decimal, decimal: str) -> str:
    return f"{number:f}".replace("-", MINUS).replace(".", decimal)


def told(value: float, u: float | None, symbol: str, *, decimal: str = ".") -> str:
    r"""A value with its uncertainty and unit in one line.

    Parameters
    ----------
    value : float
        In SI units.
    u : float or None
        None if nothing is known of it.
    symbol : str
        Unit; below a tenth of it a thousandth is used, and so on.
    decimal : str
        Decimal mark.

    Examples
    --------
    >>> told(1.5011, 0.0034, "V"), told(0.0412, 0.0013, "Ω"), told(1.5, None, "V")
    ('(1.501 ± 0.003)\u202fV', '(41.2 ± 1.3)\u202fmΩ', '1.500\u202fV')
    """
    scale, unit = _fitting(max(abs(value), abs(u or 0.0)), symbol)
    if u is None or not u:
        return f"{told_pair(value * scale, 0.0, decimal=decimal)[0]}{NARROW}{unit}"
    shown, around = told_pair(value * scale, u * scale, decimal=decimal)
    return f"({shown} ± {around}){NARROW}{unit}"


def _fitting(size: float, symbol: str) -> tuple[float, str]:
    """A prefix that leaves a tenth at least."""
    if size >= 0.1 or size == 0:
        return 1.0, symbol
    return next(
        (10.0**power, prefix + symbol)
        for power, prefix in ((3, "m"), (6, "µ"), (9, "n"), (12, "p"))
        if size * 10.0**power >= 0.1 or power == 12
    )


def give_or_take(u: float, symbol: str, *, decimal: str = ".") -> str:
    r"""An uncertainty alone.

    Parameters
    ----------
    u : float
        In SI units.
    symbol : str
        Unit.
    decimal : str
        Decimal mark.

    Examples
    --------
    >>> give_or_take(0.0034, "V")
    '± 3\u202fmV'
    """
    scale, unit = _fitting(u, symbol)
    return f"± {told_pair(0.0, u * scale, decimal=decimal)[1]}{NARROW}{unit}"


def chance_told(chance: float) -> str:
    """A chance as a class says it.

    Parameters
    ----------
    chance : float
        From 0 to 1.

    Examples
    --------
    >>> chance_told(0.0021), chance_told(0.3), chance_told(1e-9)
    ('1 class in 480', '3 classes in 10', 'fewer than 1 class in 100000')
    """
    if chance >= 0.095:
        return f"{round(chance * 10)} classes in 10"
    if chance < 1e-5:
        return "fewer than 1 class in 100000"
    many = 1 / chance
    size = 10 ** (len(str(int(many))) - 2) if many >= 100 else 1
    return f"1 class in {int(round(many / size) * size)}"
