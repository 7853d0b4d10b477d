"""Any series-parallel pack, of a million cells if need be, in linear time: whole levels of groups at once.

A level joins neighbours of the level below it into groups, all in series or all side by side; a group of one passes
its line on. Every series-parallel circuit can be written so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

__all__ = ["Level", "currents", "folded"]


@dataclass(frozen=True, slots=True, eq=False)
class Level:
    """One level.

    Parameters
    ----------
    joined : {"series", "parallel"}
        How its groups join their members.
    starts : int array
        Where each group begins among the members, from nought, rising.
    """

    joined: Literal["series", "parallel"]
    starts: Any


def folded(emf: Any, resistance: Any, levels: tuple[Level, ...]) -> list[tuple[Any, Any]]:
    """EMF and resistance of the members of each level, the cells first, the whole last.

    Parameters
    ----------
    emf, resistance : float array of shape (cells,)
        Resistances above nought.
    levels : tuple of Level
        Innermost first.

    Examples
    --------
    >>> import numpy as np
    >>> pair = Level("parallel", np.array([0]))
    >>> [float(each[0]) for each in folded(np.array([6.0, 3.0]), np.array([2.0, 1.0]), (pair,))[-1]]
    [4.0, 0.6666666666666666]
    """
    import numpy as np  # heavy, and most lessons never come here

    found = [(emf, resistance)]
    for level in levels:
        below_emf, below = found[-1]
        if level.joined == "series":
            found.append((np.add.reduceat(below_emf, level.starts), np.add.reduceat(below, level.starts)))
        else:
            siemens = 1.0 / below
            total = np.add.reduceat(siemens, level.starts)
            np.multiply(siemens, below_emf, out=siemens)
            found.append((np.add.reduceat(siemens, level.starts) / total, 1.0 / total))
    return found


def currents(emf: Any, resistance: Any, levels: tuple[Level, ...], *, load: float) -> Any:
    """Current out of every cell.

    Parameters
    ----------
    emf, resistance : float array of shape (cells,)
        Resistances above nought.
    levels : tuple of Level
        Innermost first; the last one makes a single group.
    load : float
        Resistance across the whole.

    Examples
    --------
    >>> import numpy as np
    >>> pair = Level("parallel", np.array([0]))
    >>> currents(np.array([6.0, 3.0]), np.array([2.0, 1.0]), (pair,), load=4 / 3).round(3).tolist()
    [1.667, 0.333]
    """
    import numpy as np  # as above

    lines = folded(emf, resistance, levels)
    flow = lines[-1][0] / (lines[-1][1] + load)
    for place in range(len(levels) - 1, -1, -1):
        level, (own_emf, own), (below_emf, below) = levels[place], lines[place + 1], lines[place]
        counts = np.diff(np.append(level.starts, len(below)))
        if level.joined == "series":
            flow = np.repeat(flow, counts)
        else:
            flow = (below_emf - np.repeat(own_emf - own * flow, counts)) / below
    return flow
