"""Small whole numbers to try, in a fixed order: the values of a counterexample that a class can check by head."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Collection, Iterator, Mapping
from fractions import Fraction

from boardproof.algebra.letter_order import natural

__all__ = ["Point", "small_points"]

Point = Mapping[str, Fraction]
VOLTS = (6, 3, 9, 12, 4, 2, 1, 8)
OTHERS = (1, 2, 3, 6, 4, 12, 5, 10)
COUNTS = (2, 3, 4, 1, 5, 6, 10)


def small_points(
    letters: Collection[str],
    counts: Collection[str] = (),
    *,
    accept: Callable[[Point], bool] | None = None,
    at_most: int = 600,
) -> Iterator[Point]:
    """Points in small whole numbers, the simplest first, the same ones every time.

    Parameters
    ----------
    letters : collection of str
        Letters that need a value.
    counts : collection of str
        Those of them that count.
    accept : callable, optional
        Says whether a point meets the hypotheses.
    at_most : int
        How many points are tried.

    Examples
    --------
    >>> next(small_points({"E_1", "r_1", "r_2"}))
    {'E_1': Fraction(6, 1), 'r_1': Fraction(1, 1), 'r_2': Fraction(2, 1)}
    """
    names = sorted(letters, key=natural)
    choices: list[tuple[int, ...]] = [
        COUNTS if name in counts else VOLTS if name[:1] in "EUV" else OTHERS for name in names
    ]
    seen: set[tuple[int, ...]] = set()
    for picks in itertools.islice(_picks(choices), at_most * 4):
        if len(seen) >= at_most:
            return
        if picks in seen:
            continue
        seen.add(picks)
        point = {name: Fraction(pick) for name, pick in zip(names, picks, strict=True)}
        if accept is None or accept(point):
            yield point


def _choice(name: str, counts: Collection[str]) -> tuple[int, ...]:
    return COUNTS if name in counts else VOLTS if name[:1] in "EUV" else OTHERS


def _picks(choices: list[tuple[int, ...]]) -> Iterator[tuple[int, ...]]:
    """Different values first, then like ones, then a regular walk through all combinations."""
    kinds: dict[tuple[int, ...], int] = {}
    first = []
    for choice in choices:
        turn = kinds.get(choice, 0)
        kinds[choice] = turn + 1
        first.append(choice[turn % len(choice)])
    yield tuple(first)
    yield tuple(choice[0] for choice in choices)
    if len(choices) <= 4:
        for width in (2, 3, 4, 5):
            yield from itertools.product(*(choice[:width] for choice in choices))
        yield from _walked(choices)
    # Many letters: the simplest combinations, and between them some from far afield.
    width = 3 if len(choices) == 5 else 2 if len(choices) <= 8 else 1
    near = sorted(
        itertools.product(range(width), repeat=len(choices)),
        key=lambda places: (sum(places), max(places, default=0)),
    )
    for places, far in zip(near, _walked(choices), strict=False):
        yield tuple(choice[place] for choice, place in zip(choices, places, strict=True))
        yield far
    yield from _walked(choices)


def _walked(choices: list[tuple[int, ...]]) -> Iterator[tuple[int, ...]]:
    state = 1
    while True:
        picks = []
        for choice in choices:
            state = (state * 1103515245 + 12345) % 2**31  # the generator of the C standard's sample
            picks.append(choice[(state >> 16) % len(choice)])
        yield tuple(picks)
