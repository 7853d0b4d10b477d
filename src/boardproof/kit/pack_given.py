"""What the cells at hand can drive through a load: like cells in rows, unlike ones searched exactly."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import prod
from typing import Final

from boardproof.kit.pack_amount import amount
from boardproof.pack.brief import Supply
from boardproof.pack.given import Split, splits
from boardproof.pack.search import MOST_SETS, best_arrangements, best_for, count_of, written
from boardproof.pack.unequal import current_bound, grouped
from boardproof.pack.wiring import Wiring
from boardproof.quantities import AMPERE, OHM, VOLT, WATT

__all__ = ["given_words"]

MOST_CELLS: Final = 144
WIRINGS: Final[tuple[Wiring, ...]] = ("rows", "blocks")


def given_words(supplies: Sequence[Supply], load: Fraction) -> Iterator[str]:
    r"""The best with all these cells, in sentences.

    Parameters
    ----------
    supplies : sequence of Supply
        Each kind with its count; one of each if none is given.
    load : Fraction
        Resistance of the load.

    Examples
    --------
    >>> from boardproof.pack.cell import CellType
    >>> A = CellType("A", Fraction(2), Fraction(2), Fraction(1, 2))
    >>> next(given_words([Supply(A, 20)], Fraction(5, 2)))
    'With all 20 cells most current is 4\u202fA: 10 in a row, 2 rows.'
    """
    if len(supplies) == 1:
        yield from _alike(supplies[0], load)
    else:
        yield from _unlike(supplies, load)


def _rows(count: int) -> str:
    return f"{count} row{'' if count == 1 else 's'}"


def _alike(supply: Supply, load: Fraction) -> Iterator[str]:
    count = min(supply.at_most or 1, 10_000)
    made = splits(count, supply.cell.full, supply.resistance, load + supply.cable)
    first = made.whole[0]
    yield (
        f"With all {count} cells most current is {amount(first.current, AMPERE)}: {first.series} in a row, "
        f"{_rows(first.rows)}."
    )
    power = amount(first.current**2 * load, WATT)
    yield f"The load gets {power}, {_share(first)} of the power."
    rule = f"The classic rule (s r/p = R) wants {made.ideal:.3g} in a row"
    if made.is_matched:
        yield f"{rule}: it holds exactly, and no arrangement of any kind drives more."
    else:
        yield f"{rule}, no whole split of {count}; nothing whatever drives more than {made.bound:.4g} A."
    fewer = made.best_of_fewer
    if fewer.current > first.current:
        yield (
            f"With fewer cells there is more: {fewer.series} in a row, {_rows(fewer.rows)}, "
            f"{fewer.series * fewer.rows} cells, {amount(fewer.current, AMPERE)}."
        )
    for each in made.whole[1:4]:
        current = amount(each.current, AMPERE)
        yield f"  {each.series} in a row, {_rows(each.rows)}: {current}, efficiency {_share(each)}"
    limit = supply.cell.most
    if limit is not None and first.current / first.rows > limit:
        yield (
            f"Each cell would give {amount(first.current / first.rows, AMPERE)}, above its limit of "
            f"{amount(limit, AMPERE)}. Most current is not the same as best pack."
        )


def _share(each: Split) -> str:
    return f"{float(each.efficiency) * 100:.3g} %"


def _unlike(supplies: Sequence[Supply], load: Fraction) -> Iterator[str]:
    cells = [(each.cell.full, each.resistance) for each in supplies for _ in range(each.at_most or 1)]
    names = [each.cell.name for each in supplies for _ in range(each.at_most or 1)]
    bound = current_bound(cells, load)
    counts = Counter(cells)
    if prod(each + 1 for each in counts.values()) <= MOST_SETS // 8:
        yield from _searched(cells, [names[cells.index(kind)] for kind in counts], load)
    else:
        yield f"Too many different sets to search them all; no arrangement drives more than {bound:.4g} A."
    for series in range(2, len(cells) // 2 + 1):
        if len(cells) % series == 0 and len(cells) <= MOST_CELLS:
            for wiring in WIRINGS:
                made = grouped(cells, series, len(cells) // series, wiring, load)
                places = "; ".join(" ".join(names[at] for at in row) for row in made.places)
                yield (
                    f"{series}s{len(cells) // series}p, {wiring} first: rows {places}. {made.current:.4g} A "
                    f"({made.current / bound * 100:.3g} % of the bound); most in a cell {made.worst:.3g} A, as listed "
                    f"{made.before:.3g} A; at rest {made.at_rest:.3g} A."
                )


def _searched(
    cells: Sequence[tuple[Fraction, Fraction]], labels: Sequence[str], load: Fraction
) -> Iterator[str]:
    """The exact search, for this load and for every other."""
    found = best_arrangements(cells)
    chosen = best_for(found, load)
    current = amount(chosen.emf / (chosen.resistance + load), AMPERE)
    yield f"Most current is {current}: {written(chosen.tree, labels)}."
    if len(labels) == len(cells):
        yield f"It is the best of all {count_of(len(cells))} series-parallel arrangements of these cells."
    yield "For every load at once:"
    for each in found:
        upto = "any larger load" if each.most_load is None else amount(each.most_load, OHM)
        line = f"{amount(each.emf, VOLT)}, {amount(each.resistance, OHM)}"
        yield f"  from {amount(each.least_load, OHM)} to {upto}: {written(each.tree, labels)} ({line})"
