"""The verdict on one typed answer: right, or in which way not.

The labels stand in the order of precedence that docs/reference/typed-answers.md gives.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from fractions import Fraction
from functools import lru_cache
from typing import Any, Final, Literal, NamedTuple

from boardproof.algebra.answered import Unread, read_number, read_ratio
from boardproof.algebra.answered_formula import factor_between
from boardproof.algebra.answered_letters import asked_letters, read_letters
from boardproof.algebra.answered_text import Unclear
from boardproof.algebra.answered_units import TypedUnit, expected_unit
from boardproof.algebra.answered_value import Number, Reading, size_of
from boardproof.record import record

__all__ = ["LABELS", "Expected", "Judged", "Label", "expected_from", "judge_typed", "last_figure"]

Label = Literal[
    "right",
    "right_but_figures",
    "unit_missing",
    "power_of_ten",
    "sign",
    "near_miss",
    "wrong",
    "unit_wrong_kind",
    "unreadable",
]
LABELS: Final[tuple[Label, ...]] = (
    "right",
    "right_but_figures",
    "unit_missing",
    "power_of_ten",
    "sign",
    "near_miss",
    "wrong",
    "unit_wrong_kind",
    "unreadable",
)
NEAR: Final = Fraction(2, 100)
POWERS: Final = tuple(Fraction(10) ** n for n in range(-12, 13) if n)
NONE: Final = (0, 0, 0, 0, 0)
ENDLESS: Final = (math.inf, -math.inf)


@record
class Expected:
    """What a question asks for, and how strictly.

    Parameters
    ----------
    kind : {"number", "expression", "ratio"}
        Its form.
    value : Fraction
        Of a number, in `unit`.
    unit : str
        Prefix included; ``1`` for a plain number.
    sig_figs : int
        Figures asked for; nought if not.
    tolerance : Fraction
        How far off still counts.
    latex, symbols : str and tuple of str
        Of an expression.
    parts, of : tuples
        Of a ratio: its parts, and what it compares.
    unit_required : bool
        Whether a unit must be typed.
    figures : {"ignore", "warn", "strict"}
        The policy on significant figures.
    """

    kind: str
    value: Fraction = Fraction(0)
    unit: str = "1"
    sig_figs: int = 0
    tolerance: Fraction = Fraction(0)
    latex: str = ""
    symbols: tuple[str, ...] = ()
    parts: tuple[Fraction, ...] = ()
    of: tuple[str, ...] = ()
    unit_required: bool = True
    figures: str = "warn"


class Judged(NamedTuple):
    """A label, the value that was read in the unit asked for, and why nothing was read."""

    label: Label
    value: Number | None = None
    reason: str = ""


def last_figure(value: Fraction, figures: int) -> Fraction:
    """One unit of the last figure that is left when a value is written with so many figures.

    Parameters
    ----------
    value : Fraction
        What is written.
    figures : int
        Significant figures.

    Examples
    --------
    >>> last_figure(Fraction(3, 2), 2), last_figure(Fraction("9.96"), 2)
    (Fraction(1, 10), Fraction(1, 1))
    """
    size = abs(value)
    if not size:
        return Fraction(10) ** (1 - max(figures, 1))
    power = len(str(int(size))) - 1 if size >= 1 else -1
    while size < Fraction(10) ** power:
        power -= 1
    unit = Fraction(10) ** (power - figures + 1)
    rounded = (size / unit + Fraction(1, 2)).__floor__() * unit
    return unit * 10 if rounded >= Fraction(10) ** (power + 1) else unit


def _tolerance(text: str, value: Fraction, figures: int) -> Fraction:
    if text == "exact":
        return Fraction(0)
    if text.endswith("in last figure"):
        return Fraction(text.split(maxsplit=1)[0]) * last_figure(value, figures)
    return Fraction(text.rstrip("% ")) / 100 * abs(value)


def expected_from(expected: Mapping[str, Any], policy: Mapping[str, Any]) -> Expected:
    """What a row of a marking file asks for.

    Parameters
    ----------
    expected, policy : mapping
        The fields of docs/reference/typed-answers.md.

    Examples
    --------
    >>> row = {"kind": "number", "value": "16/3", "unit": "V", "sig_figs": 3, "tolerance": "0.5 in last figure"}
    >>> expected_from(row, {"unit_required": True, "figures": "ignore"}).tolerance
    Fraction(1, 200)
    """
    unit_required, figures = bool(policy["unit_required"]), str(policy["figures"])
    kind = expected["kind"]
    if kind == "expression":
        return Expected(
            kind,
            latex=expected["latex"],
            symbols=tuple(expected["symbols"]),
            unit_required=unit_required,
            figures=figures,
        )
    count = int(expected.get("sig_figs") or 0)
    parts = tuple(Fraction(each) for each in str(expected["value"]).split(":")) if kind == "ratio" else ()
    value = parts[0] / parts[1] if len(parts) == 2 else Fraction(0) if parts else Fraction(expected["value"])
    return Expected(
        kind,
        value,
        expected.get("unit", "1"),
        count,
        _tolerance(expected.get("tolerance", "exact"), value, count or 2),
        parts=parts,
        of=tuple(expected.get("of", ())),
        unit_required=unit_required,
        figures=figures,
    )


def judge_typed(typed: str, expected: Expected) -> Judged:
    """The verdict on a typed answer.

    Parameters
    ----------
    typed : str
        As the student typed it.
    expected : Expected
        What is asked for.

    Examples
    --------
    >>> asked = Expected("number", Fraction(3, 2), "A", 2, Fraction(1, 20))
    >>> judge_typed("1500 mA", asked).label, judge_typed("1.5", asked).label, judge_typed("15 A", asked).label
    ('right', 'unit_missing', 'power_of_ten')
    """
    match expected.kind:
        case "number":
            return _number(typed, expected)
        case "ratio":
            return _ratio(typed, expected)
        case _:
            return _expression(typed, expected)


@lru_cache(maxsize=512)
def _asked_unit(text: str) -> TypedUnit:
    return expected_unit(text)


def _best(found: Iterable[Judged]) -> Judged:
    return min(found, key=lambda each: LABELS.index(each.label))


def _number(typed: str, expected: Expected) -> Judged:
    asked = _asked_unit(expected.unit)
    read = read_number(typed, asked)
    if isinstance(read, Unread):
        return Judged("unreadable", reason=read.reason)
    if len(read) == 1 and not asked.share:
        return _reading(read[0], expected, asked)
    found = [_reading(each, expected, asked) for each in read]
    if asked.share:  # a bare number may be the plain fraction
        plain = [
            Reading(each.value * 100, asked, each.least, each.most) for each in read if each.unit is None
        ]
        found += [_reading(each, expected, asked) for each in plain]
    return _best(found)


def _reading(reading: Reading, expected: Expected, asked: TypedUnit) -> Judged:
    unit = reading.unit
    if unit is not None and (unit.kind != asked.kind or (unit.share and asked.kind != NONE)):
        return Judged("unit_wrong_kind", reading.value)
    value = reading.value_in(asked)
    tolerance = expected.tolerance
    if _close(value, expected.value, tolerance) and size_of(value - expected.value) <= tolerance:
        if unit is None and expected.unit_required and value and asked != TypedUnit(NONE):
            return Judged("unit_missing", value)
        if expected.figures != "ignore" and not _figures_pass(reading, expected.sig_figs):
            return Judged("right_but_figures", value)
        return Judged("right", value)
    return Judged(_miss(value, expected.value, tolerance), value)


def _close(value: Number, right: Fraction, tolerance: Fraction) -> bool:
    """Whether an exact comparison is worth while: floating point tells all but the edges."""
    near = float(right)
    return abs(float(value) - near) <= 1.001 * float(tolerance) + 1e-9 * abs(near)


def _figures_pass(reading: Reading, asked: int) -> bool:
    return not asked or not reading.most or reading.least - 1 <= asked <= reading.most + 1


def _miss(value: Number, right: Fraction, tolerance: Fraction) -> Label:
    """In which way a value is off."""
    if value in ENDLESS or not right:
        return "wrong"
    ratio, share = float(value) / float(right), abs(float(tolerance) / float(right)) + 1e-9
    if ratio > 0 and _power_off(ratio, share, value, right, tolerance):
        return "power_of_ten"
    if abs(ratio + 1) < 2 * share and size_of(value + right) <= tolerance:
        return "sign"
    near = abs(ratio - 1) < 0.021 and size_of(value - right) <= NEAR * abs(right)
    return "near_miss" if near else "wrong"


def _power_off(ratio: float, share: float, value: Number, right: Fraction, tolerance: Fraction) -> bool:
    """Whether a power of ten brings it right; the exact trials are spared where floating point can tell."""
    if not 1e-14 < ratio < 1e14:
        return False
    if share < 0.2:
        power = math.log10(ratio)
        if abs(power - round(power)) > 2 * share:
            return False
    return any(size_of(value * each - right) <= tolerance for each in POWERS)


def _ratio(typed: str, expected: Expected) -> Judged:
    read = read_ratio(typed, expected.of)
    if isinstance(read, Unread):
        return Judged("unreadable", reason=read.reason)
    found = []
    for each in read:
        if each.unit:
            found.append(Judged("unit_wrong_kind"))
        elif len(each.parts) != len(expected.parts):
            found.append(Judged("wrong"))
        elif len(each.parts) == 2:
            found.append(_quotient(each.parts[0] / each.parts[1], expected))
        else:
            scale = each.parts[0] / expected.parts[0]
            same = scale and all(
                one == other * scale for one, other in zip(each.parts, expected.parts, strict=True)
            )
            found.append(Judged("right" if same else "wrong"))
    return _best(found)


def _quotient(value: Number, expected: Expected) -> Judged:
    if size_of(value - expected.value) <= expected.tolerance:
        return Judged("right", value)
    return Judged(_miss(value, expected.value, expected.tolerance), value)


def _expression(typed: str, expected: Expected) -> Judged:
    asked = asked_letters(expected.latex, expected.symbols)
    read = read_letters(typed, asked)
    if isinstance(read, Unread):
        return Judged("unreadable", reason=read.reason)
    if read.wrong_kind:
        return Judged("unit_wrong_kind")
    try:
        return _best([Judged(_factor(factor_between(each, asked.formula))) for each in read.formulas])
    except Unclear as why:
        return Judged("unreadable", reason=str(why))


def _factor(factor: Number | None) -> Label:
    if factor is None or not factor:
        return "wrong"
    if isinstance(factor, float):
        factor = Fraction(factor).limit_denominator(10**12) if abs(factor) < 1e13 else Fraction(factor)
    if factor == 1:
        return "right"
    if factor == -1:
        return "sign"
    return "power_of_ten" if factor in POWERS else "wrong"
