"""York's line and a whole judged run beside odrpack's fit of the same points, in one run.

dependencies: no goal is set for fits; this watches that a class's table is judged while a teacher blinks.
"""

from __future__ import annotations

import numpy as np
from odrpack import odr_fit
from timing import call, tell

from boardproof.lab.bench import Bench
from boardproof.lab.instrument import Meter, Range
from boardproof.lab.noticed import noticed
from boardproof.lab.result import measure
from boardproof.lab.school_line import school_lines
from boardproof.lab.simulate import Truth, simulated
from boardproof.lab.york import york_line

BENCH = Bench(
    Meter("voltmeter", (Range(2.0, 0.001),), gain=0.005, digits=1.0),
    Meter("ammeter", (Range(1.0, 0.001),), gain=0.01, digits=2.0),
)
LOADS = [1.5 / current for current in (0.1, 0.5, 0.3, 0.8, 0.2, 0.6, 0.4, 0.7)]
READINGS = simulated(Truth(1.5, 0.4, 0.002), LOADS, BENCH, seed=1)
POINTS = measure(READINGS, BENCH).points


def judged():
    """A run with meters, intervals, tests and the lines by ruler."""
    made = measure(READINGS, BENCH)
    return made.reach(made.E), made.reach(made.r), noticed(made), school_lines(made)


def theirs():
    x, y = (np.array([getattr(each, name) for each in POINTS]) for name in "xy")
    weights = [np.array([getattr(each, name) ** -2 for each in POINTS]) for name in ("u_x", "u_y")]
    return odr_fit(
        lambda x, beta: beta[0] + beta[1] * x,
        x,
        y,
        beta0=np.array([1.5, -0.4]),
        weight_x=weights[0],
        weight_y=weights[1],
    )


def main():
    peer = call(theirs)
    tell("York's line through eight readings", call(york_line, POINTS), "odrpack", peer)
    tell("the same run judged: meters, intervals, tests", call(judged), "odrpack", peer)


if __name__ == "__main__":
    main()
