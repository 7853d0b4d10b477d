"""From readings back to the letters that have no value.

Each reading is an equation between polynomials in the unknown letters; readings taken while something was changing
are not, and fix one letter each by trial.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Final

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.count import count_letters
from boardproof.circuit.model import Circuit
from boardproof.circuit.quantity import QuantityKind, QuantityRef
from boardproof.findings import Finding
from boardproof.solve.answers import Answers, Unknown, answers
from boardproof.solve.arithmetic import Number, total
from boardproof.solve.equations import Inverse, solve_equations
from boardproof.solve.find import parts_of
from boardproof.solve.ill_posed import because, listed
from boardproof.solve.transient import transient

__all__ = ["Reading", "inverse"]


@dataclass(frozen=True, slots=True)
class Reading:
    """Something measured or given: a quantity of a circuit and its value.

    Parameters
    ----------
    of : QuantityRef or tuple of QuantityRef
        What was read; several: their sum.
    value : Fraction
        In SI units; for a `level`, the seconds until then.
    circuit : Circuit
        In which circuit; letters without a value in it are unknown.
    at : Fraction or None
        Seconds after switching; None in the steady state.
    level : Fraction or None
        The reading is the time until `of` reached this level.
    initial : mapping of str to Fraction
        Volts on the capacitors at the start, by path.
    said : str
        In words, for a finding.
    """

    of: QuantityRef | tuple[QuantityRef, ...]
    value: Fraction
    circuit: Circuit
    at: Fraction | None = None
    level: Fraction | None = None
    initial: Mapping[str, Fraction] = field(default_factory=dict)
    said: str = ""

    @property
    def words(self) -> str:
        """What was read, in words."""
        if self.said:
            return self.said
        sides = (f"{ref.kind.replace('_', ' ')} of {listed(ref.of)}" for ref in self.refs)
        return f"{' + '.join(sides)} = {self.value}"

    @property
    def refs(self) -> tuple[QuantityRef, ...]:
        """The quantities whose sum was read."""
        return (self.of,) if isinstance(self.of, QuantityRef) else self.of


def inverse(readings: Sequence[Reading], *, allow_negative: bool = False) -> Inverse:
    """The letters without value that readings fix.

    Parameters
    ----------
    readings : sequence of Reading
        In circuits that may differ (a switch open and closed) but share letters.
    allow_negative : bool
        Whether a negative resistance or EMF is handed back without complaint.

    Examples
    --------
    >>> from boardproof.circuit.model import Across, Leaf, Part, Worth
    >>> A = Leaf("A", Part("A", "cell", Worth("E", Fraction(6)), Worth("r")))
    >>> main = Circuit(Across(A, Leaf("R", Part("R", "resistor", resistance=Worth("R", Fraction(11))))))
    >>> inverse([Reading(QuantityRef("current", ("R",), main.id), Fraction(1, 2), main)]).values
    {'r': Fraction(1, 1)}
    """
    unknown = sorted({letter for reading in readings for letter in _open_letters(reading.circuit)})
    equations, used, late = [], [], []
    for reading in readings:
        if reading.at is not None or reading.level is not None:
            late.append(reading)
            continue
        found = _summed(answers(reading.circuit), reading.refs)
        if isinstance(found, Unknown):
            return Inverse({}, {}, frozenset(), (found.reason,))
        gap = found - reading.value
        equations.append(gap if isinstance(gap, RationalFunction) else RationalFunction.constant(gap))
        used.append(reading.words)
    counts = frozenset().union(*(count_letters(reading.circuit.item) for reading in readings))
    result = solve_equations(equations, unknown, said=used, counts=counts, allow_negative=allow_negative)
    result = _with_late(result, late, unknown) if late else result
    return _advised(result, [reading.circuit for reading in readings])


def _summed(known: Answers, refs: Sequence[QuantityRef]) -> Number | Unknown:
    found = [known.formula(ref) for ref in refs]
    return next((each for each in found if isinstance(each, Unknown)), None) or total(found)


def _open_letters(circuit: Circuit) -> frozenset[str]:
    """Letters of a circuit that have no value."""
    own = {
        worth.letter
        for leaf, _ in parts_of(circuit.item)
        for worth in leaf.part.worths()
        if worth.value is None and worth.letter not in circuit.values
    }
    return frozenset(own | (count_letters(circuit.item) - set(circuit.values)))


def _advised(result: Inverse, circuits: Sequence[Circuit]) -> Inverse:
    """The same, with a reading that would fix something in the place of a letter that is open."""

    def told(finding: Finding) -> Finding:
        if finding.kind.code != "not-fixed":
            return finding
        return replace(finding, facts={**finding.facts, "which": _one_more(result, circuits)})

    return replace(result, findings=tuple(map(told, result.findings)))


MORE: Final[tuple[tuple[QuantityKind, str], ...]] = (
    ("current", "the current in {}"),
    ("pd", "the p.d. across {}"),
    ("emf", "the p.d. across {} with nothing joined to it"),
)


def _one_more(result: Inverse, circuits: Sequence[Circuit]) -> str:
    """A reading of something that is not fixed yet."""
    for kind, words in MORE:
        for circuit in circuits:
            for leaf, _ in parts_of(circuit.item):
                found = answers(circuit).formula(QuantityRef(kind, (leaf.path,), circuit.id))
                if isinstance(found, RationalFunction) and result.put_into(found).as_number is None:
                    return words.format(leaf.path)
    return "a reading in another circuit with the same parts"


def _with_late(result: Inverse, late: Sequence[Reading], unknown: Sequence[str]) -> Inverse:
    """Readings taken while something was changing, each fixing one more letter by bisection."""
    values, rounded = dict(result.values), set(result.rounded)
    findings = [finding for finding in result.findings if finding.kind.code != "not-fixed"]
    for reading in late:
        more = _by_trial(reading, values, result.partly)
        values |= more
        rounded |= set(more)
    free = [letter for letter in unknown if letter not in values]
    if free:
        which = f"one that fixes {listed(free, 'or')}"
        findings.append(because("not-fixed", letters=listed(free), which=which))
    return Inverse(values, {}, frozenset(rounded), tuple(findings))


def _by_trial(
    reading: Reading, values: Mapping[str, Fraction], partly: Mapping[str, RationalFunction]
) -> dict[str, Fraction]:
    """The letters of a reading in time, if a single one is open and the others follow from it."""
    open_here = _open_letters(reading.circuit) - set(values)
    following = {name: each for name, each in partly.items() if name in open_here}
    free = open_here - set(following)
    if len(free) != 1:
        return {}
    (letter,) = free

    def known(trial: Fraction) -> dict[str, Fraction]:
        return {letter: trial} | {name: each.evaluate({letter: trial}) for name, each in following.items()}

    root = _bisected(lambda trial: _gap(reading, {**values, **known(trial)}))
    return {} if root is None else known(root)


def _gap(reading: Reading, values: Mapping[str, Fraction]) -> float | None:
    """How far a trial misses a reading; None where it has no answer."""
    circuit = Circuit(reading.circuit.item, {**reading.circuit.values, **values}, reading.circuit.zero)
    course = transient(circuit, reading.initial)
    if reading.level is not None:
        found: object = course.time_to(reading.refs[0], reading.level)
    else:
        found = _summed(course.at(reading.at or 0), reading.refs)
    return float(found) - float(reading.value) if isinstance(found, Fraction | float) else None


def _bisected(gap: Callable[[Fraction], float | None]) -> Fraction | None:
    """A positive root, looked for over 24 powers of ten."""
    before: tuple[float, float] | None = None
    for step in range(-36, 37):
        trial = 10 ** (step / 3)
        miss = gap(Fraction(trial))
        if miss is None:
            before = None
            continue
        if before is not None and (before[1] < 0) != (miss < 0):
            low, high = before[0], trial
            for _ in range(100):
                middle = math.sqrt(low * high)
                here = gap(Fraction(middle))
                if here is None or (here < 0) == (before[1] < 0):
                    low = middle
                else:
                    high = middle
            return Fraction(math.sqrt(low * high))
        before = (trial, miss)
    return None
