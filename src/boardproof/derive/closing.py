"""How every argument ends: units, then what happens at the ends of the range, then one sentence, then numbers.

Limits are worked out from the exact result, and numbers from the values at hand; none is written from memory.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction

from boardproof.algebra import meaning
from boardproof.algebra.dimension import dimensioned
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.written import read_line
from boardproof.circuit.model import leaves
from boardproof.derive.naming import Naming
from boardproof.derive.steps import Closing, Step
from boardproof.derive.typed import listed, text
from boardproof.quantities import AMPERE, OHM, PURE, VOLT, WATT, Dimension, shown, si_unit
from boardproof.source import Source

__all__ = ["at_the_end", "closing", "dimension_of_name", "written_value"]

NAME = re.compile(r"[A-Za-z]+(?:_[A-Za-z0-9.]+)?")
UNITS = {VOLT: "volts", AMPERE: "amperes", OHM: "ohms", WATT: "watts"}
BY_HEAD = {"E": VOLT, "V": VOLT, "U": VOLT, "I": AMPERE, "i": AMPERE, "r": OHM, "R": OHM, "P": WATT}


def dimension_of_name(name: str, names: Naming) -> Dimension:
    """Dimension of a name that an argument uses.

    Parameters
    ----------
    name : str
        A letter of the circuit or a name that was given out.
    names : Naming
        Of the argument.
    """
    for leaf in leaves(names.circuit.item):
        part = leaf.part
        for worth, dimension in ((part.emf, VOLT), (part.resistance, OHM)):
            if worth is not None and worth.letter == name:
                return dimension
    kinds = {"emf": VOLT, "pd": VOLT, "potential": VOLT, "resistance": OHM, "count": PURE}
    kinds |= {"current": AMPERE, "short_circuit_current": AMPERE, "power": WATT, "heat": WATT}
    ref = names.means(name)
    kind = getattr(ref, "kind", "")
    return kinds.get(kind) or BY_HEAD.get(name.partition("_")[0], PURE)


def written_value(value: Fraction, dimension: Dimension) -> tuple[str, bool]:
    """A value with its unit as a teacher types it, and whether it is exact.

    Parameters
    ----------
    value : Fraction
        In SI units.
    dimension : Dimension
        What it is a quantity of.

    Examples
    --------
    >>> written_value(Fraction(6, 5), OHM), written_value(Fraction(1, 3), OHM)
    (('1.2 ohm', True), ('1/3 ohm', True))
    """
    unit = si_unit(dimension)
    written = shown(value, dimension, unit=unit) if dimension != PURE else shown(value, dimension)
    plain = written.translate({0x202F: " ", 0xA0: " ", ord("−"): "-", ord("Ω"): "ohm"})
    digits = plain.split(" ", maxsplit=1)[0]
    try:
        return plain, Fraction(digits) == value
    except ValueError:
        return plain, False


def at_the_end(value: RationalFunction, name: str, *, grows: bool) -> str:
    """What a ratio tends to when a letter grows without end, or goes to nought; "" if it runs away.

    Parameters
    ----------
    value : RationalFunction
        In letters.
    name : str
        The letter.
    grows : bool
        Without end, or to nought.

    Examples
    --------
    >>> r, R = RationalFunction.letter("r_1"), RationalFunction.letter("R")
    >>> at_the_end(r * R / (r + R), "R", grows=True)
    'r_1'
    """
    over, under = value.numerator.coefficients(name), value.denominator.coefficients(name)
    if grows:
        gap = len(over) - len(under)
        return "" if gap > 0 else "0" if gap < 0 else text(over[-1] / under[-1])
    low = next(place for place, part in enumerate(under) if part)
    first = next((place for place, part in enumerate(over) if part), None)
    if first is None or first > low:
        return "0"
    return "" if first < low else text(over[first] / under[low])


def closing(
    names: Naming,
    targets: Sequence[str],
    steps: Sequence[Step],
    sentence: str,
    values: Mapping[str, Fraction] | None,
) -> Closing:
    """The end of an argument.

    Parameters
    ----------
    names : Naming
        Of the argument.
    targets : sequence of str
        What it was for.
    steps : sequence of Step
        Its steps; the last that gives a target shows how to put numbers in.
    sentence : str
        The result in words.
    values : mapping of str to Fraction, or None
        Numbers to end with.
    """
    found = {target: value for target in targets if (value := names.value(target)) is not None}
    told = [
        f"${target}$ in {UNITS[d]}" for target in targets if (d := dimension_of_name(target, names)) in UNITS
    ]
    words = f"Units first: {listed(told)}, as it should be." if told else ""
    limits = tuple(line for target, value in found.items() for line in _limits(target, value, names))
    numbers = () if values is None else (_number(each, names, steps, values) for each in found)
    return Closing(words, limits, sentence, tuple(filter(None, numbers)))


def _limits(target: str, value: RationalFunction, names: Naming) -> list[str]:
    """A resistance very large, a resistance nought, and all cells alike."""
    resistances = [
        worth.letter
        for leaf in leaves(names.circuit.item)
        if (worth := leaf.part.resistance) is not None and worth.letter in value.letters
    ]
    if not resistances:
        return []
    last = resistances[-1]
    ends = [(at_the_end(value, last, grows=grows), end) for grows, end in ((True, "infinity"), (False, "0"))]
    lines = [f"{target} -> {limit} as {last} -> {end}" for limit, end in ends if 0 < len(limit) < 60]
    return lines + _alike(target, value, names)


def _alike(target: str, value: RationalFunction, names: Naming) -> list[str]:
    cells = [leaf.part for leaf in leaves(names.circuit.item) if leaf.part.emf and leaf.part.resistance]
    cells = [part for part in cells if part.resistance and part.resistance.letter in value.letters]
    if len(cells) != 2:
        return []
    (e, r), (f, s) = [(p.emf.letter, p.resistance.letter) for p in cells if p.emf and p.resistance]
    if e == f or r == s:
        return []
    same = value.substitute({f: RationalFunction.letter(e), s: RationalFunction.letter(r)})
    return [f"{target} = {text(same)} if {f} = {e} and {s} = {r}"]


def _number(target: str, names: Naming, steps: Sequence[Step], values: Mapping[str, Fraction]) -> str:
    """``E_p = (6 V/2 ohm + ...)/(...) = 5.4 V``, the working left out if it can't be typed plainly."""
    value = names.value(target)
    assert value is not None
    if not value.letters <= set(values):
        return ""
    exact = value.evaluate(values)
    written, is_exact = written_value(exact, dimension_of_name(target, names))
    sign = "=" if is_exact else "≈"
    working = next((w for step in reversed(steps) if (w := _working(step, target, names, values, exact))), "")
    return f"{target} = {working} {sign} {written}" if working else f"{target} {sign} {written}"


def _working(step: Step, target: str, names: Naming, values: Mapping[str, Fraction], exact: Fraction) -> str:
    left, _, right = step.maths.partition(" = ")
    if left != target or " and " in right or len(step.statements) != 1:
        return ""

    def put(match: re.Match[str]) -> str:
        value = names.value(match[0])
        if value is None or not value.letters <= set(values):
            return "?"
        number = value.evaluate(values)
        written = written_value(number, dimension_of_name(match[0], names))[0]
        is_under_a_number = re.search(r"(?<![\w.])\d+/$", right[: match.start()]) is not None
        return f"({written})" if number < 0 or is_under_a_number else written

    filled = re.sub(r"(?<=V|A|W|m|\)) (?=[\d(])", "*", NAME.sub(put, right))
    if NAME.fullmatch(right) or "?" in filled:
        return ""
    line, _ = read_line(Source("numbers", filled).slice(), known=())
    bare = line.bare[0] if line is not None and line.bare else None
    if bare is None or dimensioned(bare, lambda _: None) != dimension_of_name(target, names):
        return ""
    worth = meaning.value(bare, meaning.Unknown)
    return filled if isinstance(worth, RationalFunction) and worth == exact else ""
