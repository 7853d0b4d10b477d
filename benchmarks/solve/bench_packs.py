"""Packs: every cell's current beside sparse nodal analysis and a plain copy; the exact search; links; levels."""

from __future__ import annotations

import random
import statistics
import sys
import time
from fractions import Fraction

import numpy as np

from boardproof.pack.ladder import shares_with_links
from boardproof.pack.levels import Level, currents
from boardproof.pack.search import best_arrangements
from boardproof.pack.wiring import Bank, shares
from boardproof.solve.sparse import node_potentials

LOAD = 5.0


def timed(work, times=7):
    """Median milliseconds of processor time."""
    taken = []
    for _ in range(times):
        start = time.process_time()
        work()
        taken.append(1000 * (time.process_time() - start))
    return statistics.median(taken)


def nodal(bank):
    """Rows first as any network: the junction rule for every node, by the solver for sparse networks."""
    rows, series = bank.emf.shape
    inner = np.arange(rows * (series - 1)).reshape(rows, series - 1) + 2
    tails = np.concatenate((np.zeros((rows, 1), int), inner), axis=1).ravel()
    heads = np.concatenate((inner, np.ones((rows, 1), int)), axis=1).ravel()
    g = 1 / bank.resistance.ravel()
    tails, heads = np.append(tails, 0), np.append(heads, 1)
    found = node_potentials(
        2 + inner.size, tails, heads, np.append(g, 1 / LOAD), np.append(g * bank.emf.ravel(), 0.0)
    )
    return (bank.emf.ravel() - (found[heads[:-1]] - found[tails[:-1]])) * g


def packs():
    rng = np.random.default_rng(1)
    for series, rows in ((96, 46), (1000, 1000)):
        bank = Bank(rng.normal(3.7, 0.02, (rows, series)), rng.normal(0.03, 0.003, (rows, series)))
        assert np.allclose(nodal(bank), shares(bank, "rows", resistance=LOAD).cells.ravel())
        copy = timed(lambda both=bank: (both.emf.copy(), both.resistance.copy()))
        sparse = timed(lambda both=bank: nodal(both), 3)
        for wiring in ("rows", "blocks"):
            ours = timed(lambda both=bank, how=wiring: shares(both, how, resistance=LOAD))
            print(
                f"{series}s{rows}p {wiring:6} {ours:8.3f} ms   {sparse / ours:7.0f} x sparse nodal   "
                f"{ours / copy:5.1f} x the copy",
                flush=True,
            )
        if series == 96:
            for wiring in ("rows", "blocks"):
                linked = timed(
                    lambda both=bank, how=wiring: shares_with_links(both, how, link=1e-3, resistance=LOAD)
                )
                print(f"{series}s{rows}p {wiring:6} with links {linked:7.2f} ms", flush=True)
        levels = (Level("series", np.arange(0, bank.emf.size, series)), Level("parallel", np.array([0])))
        flat = bank.emf.ravel(), bank.resistance.ravel()
        tree = timed(lambda cells=flat, joined=levels: currents(*cells, joined, load=LOAD))
        print(f"{series}s{rows}p by levels {tree:8.3f} ms   {tree / copy:5.1f} x the copy", flush=True)


def search(most):
    random.seed(1)
    cells = [(Fraction(random.randint(10, 60), 10), Fraction(random.randint(1, 50), 10)) for _ in range(most)]
    sets = {f"{count} different": cells[:count] for count in range(7, most + 1)}
    sets["24 alike"] = [(Fraction(3, 2), Fraction(1, 2))] * 24
    sets["12 + 12"] = [(Fraction(3, 2), Fraction(1, 2))] * 12 + [(Fraction(2), Fraction(1, 3))] * 12
    for name, each in sets.items():
        taken = timed(lambda chosen=each: best_arrangements(chosen), 1)
        print(
            f"best arrangement, {name:13} {taken:9.0f} ms   {len(best_arrangements(each))} are best for some load"
        )


if __name__ == "__main__":
    packs()
    search(12 if "--long" in sys.argv else 9)
