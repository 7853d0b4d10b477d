"""Values that come out well: small numbers for a circuit's letters with which every target is a small number too."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from random import Random
from types import MappingProxyType
from typing import Final

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.count import count_letters
from boardproof.circuit.model import Circuit, leaves
from boardproof.circuit.quantity import QuantityRef
from boardproof.prove.equations import Surroundings
from boardproof.solve.answers import Value, answers

__all__ = ["good_values", "is_plain"]

EMFS: Final = tuple(map(Fraction, ("3/2", "2", "3", "9/2", "6", "9", "12")))
INSIDE: Final = tuple(map(Fraction, ("1/2", "1", "3/2", "2", "3", "4", "6")))
LOADS: Final = tuple(map(Fraction, ("1", "2", "5/2", "3", "4", "9/2", "5", "6", "8", "9", "10", "12")))
COUNTS: Final = tuple(map(Fraction, (2, 3, 4, 5)))
FIGURES: Final = 2
TRIES: Final = 4000
ENOUGH: Final = 8


def is_plain(value: Fraction) -> bool:
    """Whether a value has at most two figures as a decimal, and is not nought.

    Parameters
    ----------
    value : Fraction
        In SI units.

    Examples
    --------
    >>> [is_plain(Fraction(each)) for each in ("1/2", "27/5", "1/3", "0", "21/20")]
    [True, True, False, False, False]
    """
    if value == 0 or abs(value) >= 100:
        return False
    tens = value * 100
    return tens.denominator == 1 and len(str(abs(tens.numerator)).strip("0")) <= FIGURES


def good_values(
    world: Surroundings,
    targets: Sequence[str],
    *,
    seed: int = 0,
    kept: Mapping[str, Fraction] = MappingProxyType({}),
) -> Mapping[str, Fraction] | None:
    """Values for the circuit's letters with which all targets come out plain.

    Parameters
    ----------
    world : Surroundings
        What names mean at this place.
    targets : sequence of str
        Names of what should come out well.
    seed : int
        Decides between equally good ones.
    kept : mapping of str to Fraction
        Values that must stay.

    Returns
    -------
    mapping of str to Fraction, or None
        In SI units, unlike letters with unlike values; None if none was found.

    Examples
    --------
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.prove.worlds import Worlds
    >>> from boardproof.source import Source
    >>> read = read_circuit(Source("x", "A = cell E, r; R = resistor; A across R").slice())
    >>> values = good_values(Worlds(read.definitions).of(read.at_hand), ["I"], kept={"E": Fraction(6)})
    >>> values["E"], is_plain(values["E"] / (values["r"] + values["R"]))
    (Fraction(6, 1), True)
    """
    formulas = [formula for target in targets if (formula := _formula(world, target)) is not None]
    if len(formulas) < len(targets):
        return None
    found: list[tuple[int, dict[str, Fraction]]] = []
    for values in _draws(world.circuit, Random(seed), kept):  # noqa: S311 - a draw of school numbers, no secret
        results = _results(formulas, values)
        if all(map(is_plain, results)):
            cost = sum(value.denominator for value in (*results, *values.values()))
            found.append((cost, values))
            if len(found) == ENOUGH:
                break
    return MappingProxyType(min(found, key=lambda pair: pair[0])[1]) if found else None


def _results(formulas: Sequence[RationalFunction], values: Mapping[str, Fraction]) -> list[Fraction]:
    """The targets, up to the first that does not come out well."""
    results: list[Fraction] = []
    for formula in formulas:
        try:
            results.append(formula.evaluate(values))
        except ZeroDivisionError:
            results.append(Fraction(0))
        if not is_plain(results[-1]):
            break
    return results


def _formula(world: Surroundings, target: str) -> RationalFunction | None:
    ref = world.means(target)
    circuit = world.circuit_of(ref.circuit) if isinstance(ref, QuantityRef) else None
    if circuit is None or not isinstance(ref, QuantityRef):
        return None
    if ref.kind in ("letter", "count"):
        return RationalFunction.letter(ref.of[0])
    found = answers(circuit, "letters").ask(ref)
    return found.exact if isinstance(found, Value) else None


def _draws(circuit: Circuit, random: Random, kept: Mapping[str, Fraction]) -> Iterator[dict[str, Fraction]]:
    """Draws in which letters of one kind differ from each other as far as the table reaches."""
    kinds: dict[str, tuple[Fraction, ...]] = {}
    for leaf in leaves(circuit.item):
        part = leaf.part
        if part.emf is not None:
            kinds[part.emf.letter] = EMFS
        if part.resistance is not None:
            kinds[part.resistance.letter] = INSIDE if part.kind == "cell" else LOADS
    kinds |= dict.fromkeys(count_letters(circuit.item), COUNTS)
    free = sorted(set(kinds) - set(kept))
    for _ in range(TRIES):
        values = dict(kept)
        for table in (EMFS, INSIDE, LOADS, COUNTS):
            letters = [letter for letter in free if kinds[letter] is table]
            few = len(letters) <= len(table)
            drawn = random.sample(table, len(letters)) if few else random.choices(table, k=len(letters))
            values.update(zip(letters, drawn, strict=True))
        yield values
