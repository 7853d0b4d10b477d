"""Ten-question papers, numbers and keys before drawing, on one core and on two; beside numpy drawing bare numbers.

Goals: 10,000 papers a second on one core; two processes at least 1.7 times one.
"""

from __future__ import annotations

import time
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import numpy as np

from boardproof.practice.draws import pool_of
from boardproof.practice.families import FAMILIES, family
from boardproof.practice.papers import draws_of

QUESTIONS = tuple(FAMILIES)[:10]
PAPERS = 200_000


def pools():
    return [pool_of(family(key)) for key in QUESTIONS]


def ours(first, count):
    """Numbers and keys of `count` papers; the sum of the keys shows that they were made."""
    whos = [f"S{n}" for n in range(first, first + count)]
    return sum(float(keys.sum()) for _, _, keys in draws_of(pools(), 1, whos))


def theirs(count):
    """As many bare random numbers as papers have questions."""
    made = np.random.default_rng(1)
    return sum(float(made.integers(0, 1000, count).sum()) for _ in QUESTIONS)


def seconds(work):
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def main():
    ours(0, 1000)  # the pools are found once
    one = seconds(lambda: ours(0, 2 * PAPERS))
    peer = seconds(lambda: theirs(2 * PAPERS))
    with ProcessPoolExecutor(2, get_context("spawn")) as workers:
        list(workers.map(ours, (0, 0), (1000, 1000)))  # warm
        two = seconds(lambda: list(workers.map(ours, (0, PAPERS), (PAPERS, PAPERS))))
    print(
        f"one core: {2 * PAPERS / one:,.0f} papers a second (goal 10,000); {one / peer:.1f} times bare numbers of numpy"
    )
    print(f"two processes: {one / two:.2f} times one (goal 1.7)")


if __name__ == "__main__":
    main()
