"""Answers in letters: all currents of four circuits, beside sympy's ring elimination and sympy.solve, in one run."""

from __future__ import annotations

import multiprocessing
import time

import sympy

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import Across, Circuit, Leaf, Network, Parallel, Part, Series, Worth
from boardproof.circuit.quantity import QuantityRef
from boardproof.solve.answers import Answers
from boardproof.solve.arithmetic import Arithmetic

SECONDS_FOR_SYMPY_SOLVE = 60


def cell(name):
    return Leaf(name, Part(name, "cell", Worth(f"E_{name}"), Worth(f"r_{name}")))


def resistor(name):
    return Leaf(name, Part(name, "resistor", resistance=Worth(name)))


def side_by_side(count):
    cells = [cell(str(k)) for k in range(1, count + 1)]
    circuit = Circuit(Across(Parallel(tuple(cells), "bank"), resistor("R")))
    E, r = (sympy.symbols(" ".join(f"{stem}_{k}" for k in range(1, count + 1))) for stem in "Er")
    R = sympy.Symbol("R")
    rows = [[r[k] if j == k else 0 for j in range(count)] + [1] for k in range(count)]
    rows.append([R] * count + [-1])
    return circuit, [each.path for each in cells] + ["R"], True, rows, [*E, 0]


def bridge():
    sides = [("R1", "a", "b"), ("R2", "b", "d"), ("R3", "a", "c"), ("R4", "c", "d"), ("R5", "b", "c")]
    branches = [(cell("A"), "d", "a"), *((resistor(name), one, other) for name, one, other in sides)]
    E, r, R1, R2, R3, R4, R5 = sympy.symbols("E_A r_A R1 R2 R3 R4 R5")
    rows = [
        [r + R1 + R2, -R1, -R2],
        [-R1, R1 + R3 + R5, -R5],
        [-R2, -R5, R2 + R4 + R5],
    ]
    return Circuit(Network(tuple(branches))), ["A", "R1", "R2", "R3", "R4", "R5"], False, rows, [E, 0, 0]


def rows_of_cells():
    names = [[f"{row}{place}" for place in range(1, 5)] for row in range(1, 4)]
    rows = [Series(tuple(cell(name) for name in row), f"row{k}") for k, row in enumerate(names)]
    circuit = Circuit(Across(Parallel(tuple(rows), "bank"), resistor("R")))
    emf, inside = (
        [sum(sympy.Symbol(f"{stem}_{name}") for name in row) for row in names] for stem in ("E", "r")
    )
    R = sympy.Symbol("R")
    matrix = [[inside[k] if j == k else 0 for j in range(3)] + [1] for k in range(3)] + [[R, R, R, -1]]
    return circuit, ["row0", "row1", "row2", "R"], True, matrix, [*emf, 0]


def ours(circuit, paths, has_bank):
    known = Answers(circuit, Arithmetic("letters"))
    found = [known.formula(QuantityRef("current", (path,), "")) for path in paths]
    if has_bank:
        found += [known.formula(QuantityRef(kind, ("bank",), "")) for kind in ("emf", "resistance")]
    assert all(isinstance(each, RationalFunction) for each in found)
    return found


def ring_elimination(rows, right):
    """Fraction-free Gauss-Jordan over sympy's sparse polynomial ring: its fastest way that we know."""
    letters = sorted(sympy.Matrix(rows).free_symbols | sympy.Matrix(right).free_symbols, key=str)
    ring = sympy.ring(letters, sympy.ZZ)[0]
    table = [
        [ring.from_expr(sympy.sympify(each)) for each in (*row, side)]
        for row, side in zip(rows, right, strict=True)
    ]
    start = time.perf_counter()
    before = ring.one
    for column in range(len(rows)):
        choices = [k for k in range(column, len(rows)) if table[k][column]]
        pick = min(choices, key=lambda k: len(table[k][column]))
        table[column], table[pick] = table[pick], table[column]
        pivot = table[column]
        for k, row in enumerate(table):
            if k != column:
                head = row[column]
                table[k] = [
                    (pivot[column] * mine - head * other).exquo(before)
                    for mine, other in zip(row, pivot, strict=True)
                ]
        before = pivot[column]
    for k, row in enumerate(table):
        row[-1].cancel(row[k])
    return time.perf_counter() - start


def plain_solve(rows, right, pipe):
    unknown = sympy.symbols(f"x:{len(rows)}")
    equations = [
        sum(each * one for each, one in zip(row, unknown, strict=True)) - side
        for row, side in zip(rows, right, strict=True)
    ]
    start = time.perf_counter()
    sympy.solve(equations, unknown)
    pipe.send(time.perf_counter() - start)


def limited_solve(rows, right):
    """Seconds of sympy.solve, or None when it was stopped."""
    mine, theirs = multiprocessing.Pipe()
    worker = multiprocessing.Process(target=plain_solve, args=(rows, right, theirs))
    worker.start()
    found = mine.recv() if mine.poll(SECONDS_FOR_SYMPY_SOLVE) else None
    worker.kill()
    worker.join()
    return found


def main():
    cases = {
        "8 unlike cells": side_by_side(8),
        "bridge": bridge(),
        "12 cells in parallel": side_by_side(12),
        "4s3p, 12 unlike cells": rows_of_cells(),
    }
    for name, (circuit, paths, has_bank, rows, right) in cases.items():
        best = float("inf")
        for _ in range(5):
            start = time.perf_counter()
            ours(circuit, paths, has_bank)
            best = min(best, time.perf_counter() - start)
        ring = ring_elimination(rows, right)
        solve = limited_solve(rows, right)
        told = f"{solve / best:8.0f} x" if solve else f"over {SECONDS_FOR_SYMPY_SOLVE / best:.0f} x (stopped)"
        print(
            f"{name:24} {best * 1e3:7.2f} ms   sympy ring {ring / best:6.1f} x   sympy.solve {told}",
            flush=True,
        )


if __name__ == "__main__":
    main()
