"""A value with its uncertainty as it is written down: "100 ohm ± 0.5 ohm", "0.50 mm ± 1 %"."""

from __future__ import annotations

import re
from typing import Final

from boardproof.lab.uncertain import Uncertain, certain, measured
from boardproof.quantities import read_quantity

__all__ = ["read_stated"]

LENGTHS: Final = {"m": 1.0, "cm": 1e-2, "mm": 1e-3, "um": 1e-6, "µm": 1e-6}
SHARE: Final = re.compile(r"([0-9]+(?:[.,][0-9]+)?)\s*%")
LENGTH: Final = re.compile(r"([0-9]+(?:[.,][0-9]+)?)\s*(m|cm|mm|um|µm)")


def read_stated(text: str, name: str, *, decimal: str = ".") -> Uncertain | None:
    """A value in SI units with its standard uncertainty; None if it can't be read.

    Parameters
    ----------
    text : str
        A value with its unit (lengths too), then perhaps ``±`` and an uncertainty with its unit or in per cent.
    name : str
        Of the cause.
    decimal : str
        Decimal mark.

    Examples
    --------
    >>> made = read_stated("0.50 mm ± 1 %", "diameter")
    >>> made.value, round(made.u, 8)
    (0.0005, 5e-06)
    >>> read_stated("good", "diameter") is None
    True
    """
    shown, mark, around = text.replace("+/-", "±").partition("±")
    value = _size(shown, decimal)
    if value is None:
        return None
    if not mark:
        return certain(value)
    share = SHARE.fullmatch(around.strip())
    u = abs(value) * float(share[1].replace(",", ".")) / 100 if share else _size(around, decimal)
    return None if u is None else measured(value, u, name)


def _size(text: str, decimal: str) -> float | None:
    told = text.strip()
    length = LENGTH.fullmatch(told)
    if length:
        return float(length[1].replace(",", ".")) * LENGTHS[length[2]]
    read = read_quantity(told, decimal)
    return float(read.value) if read else None
