"""Draws that make a good question: all of them found once, then one picked for each paper in no time.

Candidates are sieved many at a time in floating point; `Prepared.is_good` decides exactly what leaves this module.
Which draw a paper gets follows from the paper's seed and the question's id alone, by a hash (splitmix64), so it is the
same whoever makes the paper, in whatever order.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from math import prod
from typing import Any, Final

from boardproof.belief.thought import just
from boardproof.practice.prepared import APART, KEY_APART, LEAST, MOST, Prepared, PreparedPart, distinct

__all__ = ["Pool", "first_good", "mixed", "mixed_many", "pool_of"]

CANDIDATES: Final = 120_000
ENOUGH: Final = 400
MASK: Final = (1 << 64) - 1
GOLDEN: Final = 0x9E3779B97F4A7C15
TRIES: Final = 1_500


def mixed(seed: int, number: int = 0) -> int:
    """A well-mixed 64-bit number for a seed and a place.

    Parameters
    ----------
    seed, number : int
        Any whole numbers.

    Notes
    -----
    The finaliser of splitmix64: G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom number generators
    (2014).

    Examples
    --------
    >>> mixed(0, 0) == 0xE220A8397B1DCDAF
    True
    """
    z = (seed + (number + 1) * GOLDEN) & MASK
    z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & MASK
    z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & MASK
    return z ^ (z >> 31)


def mixed_many(seeds: Any, number: int = 0) -> Any:
    """`mixed` for an array of seeds.

    Parameters
    ----------
    seeds : ndarray of uint64
        Seeds.
    number : int
        As for `mixed`.
    """
    import numpy as np  # numbers by the thousand only

    with np.errstate(over="ignore"):
        z = seeds.astype(np.uint64) + np.uint64(((number + 1) * GOLDEN) & MASK)
        z = (z ^ (z >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
        z = (z ^ (z >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
        return z ^ (z >> np.uint64(31))


@dataclass(frozen=True)
class Pool:
    """All good draws of a question that were found.

    Parameters
    ----------
    prepared : Prepared
        The question.
    figures : int
        In which every answer comes out.
    chosen : ndarray of shape (draws, letters)
        Places in each letter's list of values.
    keys : ndarray of shape (draws, formulas)
        Answers as floats, in the order of parts.
    """

    prepared: Prepared
    figures: int
    chosen: Any
    keys: Any

    def __len__(self) -> int:
        """How many."""
        return len(self.chosen)

    @cached_property
    def key(self) -> int:
        """The question's own share of the seed."""
        return int(self.prepared.question.id, 16)

    def draw(self, number: int) -> dict[str, Fraction]:
        """One draw, exact."""
        row = self.chosen[number]
        return {
            letter: values[place] for (letter, values), place in zip(self.prepared.letters, row, strict=True)
        }

    def pick(self, seed: int) -> int:
        """The number of the draw for a paper."""
        return mixed(seed ^ self.key) % len(self)

    def pick_many(self, seeds: Any) -> Any:
        """The numbers of the draws for many papers."""
        import numpy as np  # numbers by the thousand only

        return mixed_many(seeds ^ np.uint64(self.key)) % np.uint64(len(self))


def first_good(prepared: Prepared) -> Mapping[str, Fraction] | None:
    """A good draw, looked for one by one and exactly; None if a short search finds none.

    Parameters
    ----------
    prepared : Prepared
        The question.
    """
    letters = prepared.letters
    total = prod(len(values) for _, values in letters)
    for number in range(min(TRIES, total)):
        at = number if total <= TRIES else mixed(int(prepared.question.version, 16), number) % total
        draw: dict[str, Fraction] = {}
        for letter, values in letters:
            at, place = divmod(at, len(values))
            draw[letter] = values[place]
        if prepared.is_good(draw, 3):
            return draw
    return None


_POOLS: dict[str, Pool] = {}


def pool_of(prepared: Prepared) -> Pool | None:
    """Every good draw among at most 120,000 candidates; None if there is none.

    Answers in two figures are taken if there are enough of them, else in three.

    Parameters
    ----------
    prepared : Prepared
        The question.
    """
    version = prepared.question.version
    if version not in _POOLS:
        made = _sieved(prepared)
        if made is None:
            return None
        if len(_POOLS) > 200:
            _POOLS.pop(next(iter(_POOLS)))
        _POOLS[version] = made
    return _POOLS[version]


def _sieved(prepared: Prepared) -> Pool | None:
    import numpy as np  # numbers by the thousand only

    chosen, values = _candidates(prepared)
    keep = np.ones(len(chosen), bool)
    for condition in prepared.conditions:
        keep &= _compared(
            condition.sign, *(_many(each, values) for each in (condition.left, condition.right))
        )
    for given in prepared.given.values():
        keep &= _comes_out(_many(given.formula, values), 3)
    for part in prepared.parts:
        keep &= _suits(part, values)
    chosen, values = chosen[keep], {name: column[keep] for name, column in values.items()}
    apart = np.ones(len(chosen), bool)
    for part in prepared.parts:
        if part.is_numeric:
            apart &= _apart(part, values, frozenset(prepared.question.tell_apart))
    chosen, values = chosen[apart], {name: column[apart] for name, column in values.items()}
    few = np.ones(len(chosen), bool)
    for part in prepared.parts:
        if part.is_numeric:
            few &= _comes_out(_many(part.formulas[0], values), 2)
    figures = 2 if few.sum() >= ENOUGH else 3
    if figures == 2:
        chosen, values = chosen[few], {name: column[few] for name, column in values.items()}
    formulas = [part.formulas[0] for part in prepared.parts if part.is_numeric]
    keys = (
        np.stack([_many(each, values) for each in formulas], axis=1)
        if formulas
        else np.zeros((len(chosen), 0))
    )
    made = Pool(prepared, figures, chosen, keys)
    return made if len(chosen) and prepared.is_good(made.draw(0), figures) else None


def _candidates(prepared: Prepared) -> tuple[Any, dict[str, Any]]:
    import numpy as np  # numbers by the thousand only

    sizes = [len(values) for _, values in prepared.letters]
    total = prod(sizes)
    if total <= CANDIDATES:
        at = np.arange(total, dtype=np.uint64)
    else:
        seeds = np.full(CANDIDATES, int(prepared.question.version, 16), np.uint64)
        with np.errstate(over="ignore"):
            seeds = seeds + np.arange(CANDIDATES, dtype=np.uint64) * np.uint64(GOLDEN)
        at = np.unique(mixed_many(seeds) % np.uint64(total))
    chosen = np.empty((len(at), len(sizes)), np.int16)
    for column, size in enumerate(sizes):
        chosen[:, column] = (at % np.uint64(size)).astype(np.int16)
        at = at // np.uint64(size)
    values = {
        letter: np.array([float(value) for value in known])[chosen[:, column]]
        for column, (letter, known) in enumerate(prepared.letters)
    }
    values |= {letter: np.full(len(chosen), float(value)) for letter, value in prepared.fixed.items()}
    return chosen, values or {"": np.zeros(len(chosen))}


def _many(formula: Any, values: Mapping[str, Any]) -> Any:
    return just(formula)[0].many(values)


def _compared(sign: str, left: Any, right: Any) -> Any:
    near = abs(left - right) <= 1e-12 * (abs(left) + abs(right))
    match sign:
        case "<":
            return (left < right) & ~near
        case ">":
            return (left > right) & ~near
        case "≤":
            return (left < right) | near
        case "≥":
            return (left > right) | near
        case "≠":
            return ~near
        case _:
            return near


def _comes_out(values: Any, figures: int) -> Any:
    import numpy as np  # numbers by the thousand only

    size = abs(values)
    with np.errstate(all="ignore"):
        scale = 10.0 ** (figures - 1 - np.floor(np.log10(size)))
        scaled = size * scale
        return (size > 0) & (abs(scaled - np.round(scaled)) < 1e-7)


def _suits(part: PreparedPart, values: Mapping[str, Any]) -> Any:
    import numpy as np  # numbers by the thousand only

    every = np.ones(len(next(iter(values.values()))), bool)
    if part.is_numeric:
        key = _many(part.formulas[0], values)
        return _comes_out(key, 3) & (abs(key) >= float(LEAST)) & (abs(key) <= float(MOST))
    if part.asked.form == "arrow":
        return abs(_many(part.formulas[0], values)) > 1e-9
    if part.asked.form == "ranking":
        found = np.sort(np.stack([_many(each, values) for each in part.formulas]), axis=0)
        for low, high in pairwise(found):
            every &= (high - low > 0.05 * abs(high)) | (high - low < 1e-12)
    return every


def _apart(part: PreparedPart, values: Mapping[str, Any], named: frozenset[str]) -> Any:
    import numpy as np  # numbers by the thousand only

    key = _many(part.formulas[0], values)
    rows = [(belief, thought.many(values)) for belief, thought in distinct(part).items()]
    keep = np.ones(len(key), bool)
    for n, (belief, value) in enumerate(rows):
        keep &= ~(abs(value - key) <= float(KEY_APART) * np.maximum(abs(value), abs(key)))
        for other, rival in rows[:n]:
            least = float(KEY_APART if belief in named and other in named else APART)
            keep &= ~(abs(value - rival) <= least * np.maximum(abs(value), abs(rival)))
    return keep
