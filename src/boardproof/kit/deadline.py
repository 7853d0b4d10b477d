"""A time limit that work itself looks at between two statements: nothing is cut off in the middle."""

from __future__ import annotations

import time
from collections.abc import Callable

__all__ = ["deadline"]


def deadline(seconds: float, clock: Callable[[], float] = time.monotonic) -> Callable[[], str]:
    """Say why to stop, once the time is up.

    Parameters
    ----------
    seconds : float
        From now.
    clock : callable
        Gives seconds from any start.

    Returns
    -------
    callable
        Gives "" until then; the limit's name from then on.

    Examples
    --------
    >>> times = iter([0.0, 1.0, 3.0])
    >>> late = deadline(2, lambda: next(times))
    >>> late(), late()
    ('', 'the limit of 2 s was reached')
    """
    end = clock() + seconds
    return lambda: f"the limit of {seconds:g} s was reached" if clock() >= end else ""
