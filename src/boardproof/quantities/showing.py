"""Values as people write them: few figures, a fitting prefix, proper signs and spaces."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from boardproof.quantities.rounding import Half, last_place, round_figures
from boardproof.quantities.units import PREFIXES, PURE, Dimension, Unit, compound, si_unit

__all__ = ["MINUS", "NARROW_SPACE", "Style", "digits_of", "fitting_unit", "shown"]

NARROW_SPACE: Final = "\u202f"
MINUS: Final = "\u2212"


@dataclass(frozen=True, slots=True)
class Style:
    """How values are shown.

    Parameters
    ----------
    figures : int
        Significant figures of a rounded value.
    half : {"up", "even"}
        What becomes of a five at the end.
    decimal : {".", ","}
        Decimal mark.
    ohm : str
        ``Ω`` or ``ohm``.
    """

    figures: int = 3
    half: Half = "up"
    decimal: str = "."
    ohm: str = "Ω"


def _decimals(value: Fraction) -> int | None:
    """Decimal places that `value` needs to be exact; None if it never ends."""
    twos = fives = 0
    rest = value.denominator
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    return max(twos, fives) if rest == 1 else None


def _typed(value: Fraction, decimals: int, style: Style) -> str:
    """Fixed-point digits without sign, groups of three from five digits up."""
    scaled = str(int(abs(value) * 10**decimals)).rjust(decimals + 1, "0")
    whole, tail = (scaled[:-decimals], scaled[-decimals:]) if decimals else (scaled, "")
    if len(whole) > 4:
        whole = f"{int(whole):,}".replace(",", NARROW_SPACE)
    return whole + (style.decimal + tail if tail else "")


def digits_of(value: Fraction, style: Style, figures: int) -> str:
    """Shown without sign and unit: exact if short, as a fraction if its denominator is small, else rounded.

    Parameters
    ----------
    value : Fraction
        In the unit it will be shown in.
    style : Style
        Rounding and decimal mark.
    figures : int
        Significant figures at most.

    Examples
    --------
    >>> digits_of(Fraction(16, 3), Style(), 3), digits_of(Fraction(160, 31), Style(), 3)
    ('16/3', '5.16')
    """
    exact = _decimals(value)
    if value.denominator == 1 and abs(value) < 10**figures:
        return _typed(value, 0, style)
    if exact is not None and (value / last_place(value, figures)).denominator == 1:
        return _typed(value, exact, style)
    if 1 < value.denominator <= 20 and exact is None and abs(value.numerator) < 1000:
        return f"{abs(value.numerator)}/{value.denominator}"
    rounded, place = round_figures(value, figures, style.half)
    return _typed(rounded, _decimals(place) or 0, style)


def fitting_unit(value: Fraction, base: Unit, figures: int, half: Half) -> Unit:
    """The prefix that leaves a number from 1 up to 1000; none between a tenth and a thousand.

    Parameters
    ----------
    value : Fraction
        In `base`, of either sign.
    base : Unit
        Without a prefix.
    figures : int
        Significant figures, at least 1: 999.6 to three figures is 1.00 thousand.
    half : Half
        How halves are rounded.

    Examples
    --------
    >>> from boardproof.quantities import OHM
    >>> ohm = Unit("Ω", OHM, Fraction(1))
    >>> [fitting_unit(Fraction(each), ohm, 3, "up").symbol for each in ("4700", "999.6", "0.0047", "12")]
    ['kΩ', 'kΩ', 'mΩ', 'Ω']
    """
    size = abs(round_figures(value, figures, half)[0])
    small = value.denominator <= 20 and _decimals(value) is None
    if not size or Fraction(1, 10) <= size < 1000 or (small and size < 1):
        return base
    steps = [(names[0], Fraction(10) ** power) for names, _, power in PREFIXES]
    name, scale = next((step for step in reversed(steps) if size >= step[1]), steps[0])
    return Unit(name + base.symbol, base.dimension, scale)


def shown(
    value: Fraction,
    dimension: Dimension,
    style: Style | None = None,
    *,
    unit: Unit | None = None,
    figures: int | None = None,
) -> str:
    """A value with its unit, as people write it.

    Parameters
    ----------
    value : Fraction
        In SI units.
    dimension : Dimension
        What it is a quantity of.
    style : Style, optional
        Figures, rounding, decimal mark and the sign for ohm.
    unit : Unit, optional
        Show it in this unit; the best prefix is chosen if none is given.
    figures : int, optional
        Round to these figures, whatever the style says.

    Returns
    -------
    str
        Exact if that needs no more than `figures` figures, a fraction if its denominator is at most 20 and it
        has no end as a decimal, else rounded with its zeros kept.

    Examples
    --------
    >>> from boardproof.quantities import OHM
    >>> [shown(Fraction(v), OHM).replace(NARROW_SPACE, " ") for v in ("1500", "16/3", "1501", "1/20", "-2")]
    ['1.5 kΩ', '16/3 Ω', '1.50 kΩ', '50 mΩ', '−2 Ω']
    """
    style = style or Style()
    sign = MINUS if value < 0 else ""
    wanted = figures or style.figures
    base = unit or si_unit(dimension)
    if dimension == PURE and unit is None:
        whole = value.denominator == 1 and abs(value) < 10**9
        return sign + (
            _typed(value, 0, style) if whole and figures is None else _show(value, style, wanted, figures)
        )
    if base is None:
        return f"{sign}{_show(value, style, wanted, figures)}{NARROW_SPACE}{compound(dimension)}"
    best = unit or fitting_unit(value, base, wanted, style.half)
    symbol = best.symbol.replace("Ω", style.ohm)
    return f"{sign}{_show(value / best.scale, style, wanted, figures)}{NARROW_SPACE}{symbol}"


def _show(value: Fraction, style: Style, wanted: int, forced: int | None) -> str:
    if forced is None or not value:
        return digits_of(value, style, wanted)
    rounded, place = round_figures(value, forced, style.half)
    return _typed(rounded, _decimals(place) or 0, style)
