"""Processor time of programs and calls, told beside a named peer timed in the same run.

Processor time and medians, because other work on the machine disturbs both least. Programs keep their compiled
modules in a folder of their own, as an installed package does.
"""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time

COMPILED = tempfile.TemporaryDirectory()
HERE = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
HERE |= {"PYTHONPYCACHEPREFIX": COMPILED.name}


def process(*words, times=7):
    """Median milliseconds of this Python run with some words, its start included; the first run is not counted."""
    return processes({"": words}, times=times)[""]


def processes(cases, times=7):
    """The same for several cases, run in turn so that a slow minute meets all alike."""
    taken = {name: [] for name in cases}
    for _ in range(times + 1):
        for name, words in cases.items():
            taken[name].append(_once(words))
    return {name: statistics.median(each[1:]) for name, each in taken.items()}


def _once(words):
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    ended = subprocess.run(
        [sys.executable, *map(str, words)], env=HERE, capture_output=True, text=True, check=False
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    if ended.returncode not in {0, 1}:  # 1: done, and something in the material is wrong
        raise RuntimeError(
            f"{' '.join(map(str, words))} ended with {ended.returncode}: {ended.stderr[-500:]}"
        )
    return 1000 * (after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)


def call(work, *given, times=7):
    """Median milliseconds of a call; the first is not counted."""
    return statistics.median(calls(work, [given] * (times + 1))[1:])


def calls(work, cases):
    """Milliseconds of one call a case."""
    taken = []
    for given in cases:
        start = time.process_time()
        work(*given)
        taken.append(1000 * (time.process_time() - start))
    return taken


def percentile(taken, percent):
    """The value that so many per cent of some times stay under."""
    ranked = sorted(taken)
    return ranked[min(len(ranked) - 1, int(len(ranked) * percent / 100))]


def tell(what, ours, peer, theirs, goal=""):
    """One line of figures: ours, the peer's, their ratio."""
    share = f"{ours / theirs:6.2f} x" if ours >= theirs / 10 else f"1/{theirs / ours:.0f}"
    print(
        f"{what:52}{ours:10.2f} ms  {share:>9} {peer} ({theirs:.2f} ms)" + (f"; goal {goal}" if goal else "")
    )
