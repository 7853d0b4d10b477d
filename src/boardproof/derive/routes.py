"""The fourteen routes that teachers use, by name: which fit what is asked, and the argument along one of them.

Every route is tried by writing it: it fits if each step is true and follows. Routes that imagine a short circuit step
aside where the cells could do harm.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal

from boardproof.derive.backwards import backwards
from boardproof.derive.closed import energy_in_one_second, one_cell_at_a_time, potential_at_the_junction
from boardproof.derive.inside import inside_out
from boardproof.derive.many import factor_pairs, two_three_n
from boardproof.derive.naming import Nameless
from boardproof.derive.network import junctions_and_loops
from boardproof.derive.parallel import by_symmetry, same_terminal_pd
from boardproof.derive.series import lines_on_the_graph, same_current
from boardproof.derive.shorted import open_then_short, short_then_emfs_out
from boardproof.derive.steps import Derivation
from boardproof.derive.task import Task, Unfit, task
from boardproof.prove.equations import Surroundings
from boardproof.prove.rules import RULES
from boardproof.record import record

__all__ = ["ROUTES", "Fit", "Unfitting", "derive", "propose"]

Tier = Literal["small", "strong", "paper"]

ROUTES: Final[Mapping[str, Callable[[Task], Derivation]]] = MappingProxyType(
    {
        "same current": same_current,
        "by symmetry": by_symmetry,
        "same terminal p.d.": same_terminal_pd,
        "open, then short": open_then_short,
        "short, then EMFs taken out": short_then_emfs_out,
        "potential at the junction": potential_at_the_junction,
        "inside out": inside_out,
        "junctions and loops": junctions_and_loops,
        "lines on the graph": lines_on_the_graph,
        "one cell at a time": one_cell_at_a_time,
        "energy in one second": energy_in_one_second,
        "two, three, n": two_three_n,
        "factor pairs": factor_pairs,
        "backwards": backwards,
    }
)
"""Every route by its name, in the order in which those that fit are offered."""
SHORTED: Final = frozenset({"open, then short", "short, then EMFs taken out"})


@record
class Fit:
    """Whether a route fits.

    Parameters
    ----------
    route : str
        Its name.
    fits : bool
        Whether its argument can be written here.
    why_not : str
        The reason, if not.
    steps_aside : bool
        It fits, but others are offered first, because it imagines a short circuit of cells that could do harm.
    not_yet_taught : tuple of str
        Rules it uses that the class doesn't know yet.
    """

    route: str
    fits: bool
    why_not: str = ""
    steps_aside: bool = False
    not_yet_taught: tuple[str, ...] = ()


@record
class Unfitting:
    """A route does not fit; facts of the finding `unfit-route`."""

    route: str
    why: str


def derive(
    world: Surroundings,
    targets: Sequence[str],
    route: str,
    *,
    group: str | None = None,
    lets: Iterable[str] = (),
    briefly: bool = False,
    values: Mapping[str, Fraction] | None = None,
) -> Derivation | Unfitting:
    """Write an argument.

    Parameters
    ----------
    world : Surroundings
        What names mean at this place of the lesson.
    targets : sequence of str
        Names of what is wanted, in the order in which to give them.
    route : str
        A key of `ROUTES`.
    group : str or None
        Path of the group that is spoken of; taken from the targets if it is not named.
    lets : iterable of str
        Names that the lesson defines itself; they are used before those that nobody has to define.
    briefly : bool
        Fewer words and, for junctions and loops, no elimination line by line.
    values : mapping of str to Fraction, or None
        Values in SI units to end with numbers; None leaves letters.

    Returns
    -------
    Derivation or Unfitting
        Every step of a derivation is true and follows; its `definitions` must be added to the lesson's circuit.

    Examples
    --------
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.prove.worlds import Worlds
    >>> from boardproof.source import Source
    >>> read = read_circuit(Source("x", "A = cell; B = cell; R = resistor; row = A + B; row across R").slice())
    >>> found = derive(Worlds(read.definitions).of(read.at_hand), ["E_row"], "same current")
    >>> found.steps[-1].maths
    'E_row = E_A + E_B'
    """
    if route not in ROUTES:
        return Unfitting(route, "there is no route of that name")
    try:
        found = ROUTES[route](task(world, targets, group=group, lets=lets, briefly=briefly, values=values))
    except Unfit as unfit:
        return Unfitting(route, str(unfit))
    except Nameless as nameless:
        return Unfitting(route, f"there is no name for {nameless}")
    if not found.is_proved:
        return Unfitting(route, "not every step of it can be proved here")
    reached = {target for target in targets if _gives(found, target)}
    missed = [target for target in targets if target not in reached]
    if missed:
        return Unfitting(route, f"it does not lead to {' and '.join(missed)}")
    return found


def _gives(found: Derivation, target: str) -> bool:
    return any(
        piece.partition(" = ")[0].strip() == target
        for step in found.steps
        for piece in step.maths.split(" and ")
    )


def propose(
    world: Surroundings,
    targets: Sequence[str],
    *,
    group: str | None = None,
    lets: Iterable[str] = (),
    tier: Tier = "small",
    taught: Collection[str] = RULES,
) -> tuple[Fit, ...]:
    """Say of every route whether it fits, those to offer first in front.

    Parameters
    ----------
    world : Surroundings
        What names mean at this place of the lesson.
    targets : sequence of str
        Names of what is wanted.
    group : str or None
        Path of the group that is spoken of.
    lets : iterable of str
        Names that the lesson defines itself.
    tier : {"small", "strong", "paper"}
        The caution that holds; in the stronger ones imagined shorts step aside.
    taught : collection of str
        Rules that the class knows; routes that need others come after those that don't.

    Returns
    -------
    tuple of Fit
        One for each route.

    Examples
    --------
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.prove.worlds import Worlds
    >>> from boardproof.source import Source
    >>> read = read_circuit(Source("x", "A = cell; B = cell; R = resistor; row = A + B; row across R").slice())
    >>> offered = propose(Worlds(read.definitions).of(read.at_hand), ["E_row"])
    >>> [fit.route for fit in offered if fit.fits]
    ['same current', 'inside out', 'lines on the graph', 'backwards']
    """
    names, fits = tuple(lets), []
    for route in ROUTES:
        found = derive(world, targets, route, group=group, lets=names, briefly=True)
        if isinstance(found, Unfitting):
            fits.append(Fit(route, fits=False, why_not=found.why))
        else:
            used = {rule for step in found.steps for rule in step.rules} & set(RULES)
            lacking = tuple(rule for rule in RULES if rule in used - set(taught))
            is_aside = tier != "small" and route in SHORTED
            fits.append(Fit(route, fits=True, steps_aside=is_aside, not_yet_taught=lacking))
    return tuple(sorted(fits, key=lambda fit: (not fit.fits, fit.steps_aside, bool(fit.not_yet_taught))))
