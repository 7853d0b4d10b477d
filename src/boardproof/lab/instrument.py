"""Meters as their makers describe them: ranges, step, accuracy, internal resistance.

``range 2 V, step 1 mV, accuracy 0.5 % + 2 digits, resistance 10 Mohm``. What a maker promises ("± (0.5 % + 2
digits)") holds for one meter through a whole run: its gain and its zero are each somewhere evenly between the limits
(GUM 4.3.7) and stay there, so more readings do not make them smaller. Only the rounding to a step differs from
reading to reading.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from boardproof.findings import Finding
from boardproof.lab.kinds import finding
from boardproof.quantities import OHM, Dimension, Quantity, read_quantity
from boardproof.record import record
from boardproof.source import Slice

__all__ = ["Meter", "Range", "read_meter"]

ACCURACY: Final = re.compile(
    r"(?P<number>[0-9]+(?:[.,][0-9]+)?)\s*"
    r"(?:(?P<percent>%|per ?cent)\s*(?:of\s+(?:the\s+)?)?(?P<of>reading|rdg|range|full scale|fs)?"
    r"|(?P<digits>digits?|dgts?|counts?|d))",
    re.IGNORECASE,
)
DECORATION: Final = re.compile(r"[±()]|\+/-|\+-")
FORM: Final = "range 2 V, step 1 mV, accuracy 0.5 % + 2 digits, resistance 10 Mohm"
MOST_RANGES: Final = 12


@record
class Range:
    """One range: the most that it shows and the step of its last digit, in SI units."""

    most: float
    step: float


@record
class Meter:
    """A meter.

    Parameters
    ----------
    word : str
        "voltmeter" or "ammeter".
    ranges : tuple of Range
        Smallest first; each reading is taken on the first that holds it. Empty if nothing was said.
    gain : float
        Limit of the gain's error as a share of the reading.
    of_range : float
        Limit of the zero's error as a share of the range (pointer instruments).
    digits : float
        Limit of the zero's error in steps.
    resistance : float or None
        Internal resistance in ohms.
    """

    word: str
    ranges: tuple[Range, ...] = ()
    gain: float = 0.0
    of_range: float = 0.0
    digits: float = 0.0
    resistance: float | None = None

    def range_for(self, value: float) -> Range | None:
        """The range that a value is read on; None if none is stated or none holds it."""
        return next((each for each in self.ranges if abs(value) <= each.most * (1 + 1e-12)), None)

    def zero(self, value: float) -> float:
        """Limit of the zero's error for a value, in SI units."""
        used = self.range_for(value)
        share = self.of_range * used.most if used and self.of_range else 0.0  # an unstated range is endless
        return self.digits * used.step + share if used else 0.0


def read_meter(
    text: Slice, word: str, dimension: Dimension, *, decimal: str = "."
) -> tuple[Meter, tuple[Finding, ...]]:
    """A meter as it is described.

    Parameters
    ----------
    text : Slice
        Pieces parted by commas; several ranges are joined by ``or``, and so are their steps.
    word : str
        "voltmeter" or "ammeter".
    dimension : Dimension
        What it measures.
    decimal : str
        Decimal mark.

    Returns
    -------
    (Meter, tuple of Finding)
        A piece that can't be read is a finding, and the rest holds.

    Examples
    --------
    >>> from boardproof.quantities import VOLT
    >>> from boardproof.source import Source
    >>> typed = "range 2 V, step 1 mV, accuracy ± (0.5 % + 2 digits), resistance 10 Mohm"
    >>> meter, found = read_meter(Source("x", typed).slice(), "voltmeter", VOLT)
    >>> meter.gain, meter.digits, meter.ranges, meter.resistance, found
    (0.005, 2.0, (Range(most=2.0, step=0.001),), 10000000.0, ())
    """
    said: dict[str, list[Quantity]] = {}
    accuracy, found = (0.0, 0.0, 0.0), list[Finding]()
    start = 0
    for piece in re.split(r",(?=\s*[a-z])", text.text):
        place = text.part(start, start + len(piece)).trimmed()
        start += len(piece) + 1
        name, _, rest = place.text.partition(" ")
        name = {"ranges": "range", "steps": "step", "resolution": "step"}.get(name.lower(), name.lower())
        wanted = OHM if name == "resistance" else dimension
        if name == "accuracy" and (read := _accuracy(rest, decimal)):
            accuracy = read
        elif name in {"range", "step", "resistance"} and (values := _values(rest, wanted, decimal)):
            said[name] = values
        elif place.text:
            found.append(finding("unread-meter", place.span, text=place.text, meter=word, form=FORM))
    ranges, odd = _ranges(said.get("range", []), said.get("step", []))
    if odd:
        found.append(finding("unread-meter", text.trimmed().span, text=odd, meter=word, form=FORM))
    inner = said.get("resistance")
    return Meter(word, ranges, *accuracy, float(inner[0].value) if inner else None), tuple(found)


def _values(text: str, dimension: Dimension, decimal: str) -> list[Quantity]:
    """Values joined by "or"; empty if one of them is none, or not of this kind."""
    read = [read_quantity(each, decimal) for each in re.split(r"\s+or\s+", text)[:MOST_RANGES]]
    kept = [each for each in read if each and each.dimension == dimension and each.value > 0]
    return kept if len(kept) == len(read) else []


def _ranges(most: list[Quantity], steps: list[Quantity]) -> tuple[tuple[Range, ...], str]:
    """Ranges with their steps; what does not fit, in words."""
    if steps and not most:
        return (Range(float("inf"), float(steps[0].value)),), "a step without its range" if len(
            steps
        ) > 1 else ""
    if most and not steps:
        return (), "a range without its step"
    if len(steps) not in {len(most), 1}:
        return (), f"{len(most)} ranges and {len(steps)} steps"
    even = steps * len(most) if len(steps) == 1 else steps
    pairs = sorted((float(a.value), float(b.value)) for a, b in zip(most, even, strict=True))
    return tuple(Range(*each) for each in pairs), ""


def _accuracy(text: str, decimal: str) -> tuple[float, float, float] | None:
    """Limits of gain, of zero as a share of the range, and of zero in digits."""
    gain = of_range = digits = 0.0
    for term in DECORATION.sub(" ", text).split("+"):
        read = ACCURACY.fullmatch(term.strip())
        if read is None:
            return None
        number = float(Fraction(read["number"].replace(decimal, ".").replace(",", ".")))
        if read["digits"]:
            digits += number
        elif (read["of"] or "reading").lower() in {"reading", "rdg"}:
            gain += number / 100
        else:
            of_range += number / 100
    return gain, of_range, digits
