"""What an argument is asked for, gathered once: targets, the group, its members, the draft being written."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from boardproof.circuit.model import Circuit, Item, has_cells
from boardproof.circuit.quantity import QuantityRef
from boardproof.circuit.read import read_circuit
from boardproof.derive.branches import Branch, branches, joined
from boardproof.derive.closing import closing
from boardproof.derive.naming import Nameless, Naming
from boardproof.derive.steps import Derivation, Draft
from boardproof.derive.typed import listed
from boardproof.prove.equations import Surroundings
from boardproof.prove.wiring import Entry
from boardproof.prove.worlds import Worlds
from boardproof.source import Source

__all__ = ["Task", "Unfit", "task", "typed_task"]


class Unfit(Exception):
    """A route does not fit this circuit or these targets; holds the reason in words."""


@dataclass(frozen=True)
class Task:
    """What is asked.

    Parameters
    ----------
    names : Naming
        Gives the names.
    draft : Draft
        Being written.
    targets : tuple of str
        Names of what is wanted.
    group : str or None
        Path of the group that is spoken of.
    values : mapping of str to Fraction, or None
        Numbers to end with.
    """

    names: Naming
    draft: Draft
    targets: tuple[str, ...]
    group: str | None
    values: Mapping[str, Fraction] | None = None

    @property
    def circuit(self) -> Circuit:
        """The circuit at hand."""
        return self.names.circuit

    def wants(self, kind: str) -> tuple[str, ...]:
        """The targets of a kind."""
        found = ((target, self.names.means(target)) for target in self.targets)
        return tuple(name for name, ref in found if isinstance(ref, QuantityRef) and ref.kind == kind)

    @property
    def is_equivalent(self) -> bool:
        """Whether only the EMF or the resistance of a group is wanted."""
        kinds = {getattr(self.names.means(target), "kind", "") for target in self.targets}
        return bool(kinds) and kinds <= {"emf", "resistance"}

    def entry(self) -> Entry:
        """The group."""
        if self.group is None:
            raise Unfit("it is a way to replace a group by one cell, and no group is named")
        found = self.names.wired.entry(self.group)
        if found is None:
            raise Unfit(f"{self.group} is not in this circuit")
        return found

    def members(self, how: str) -> tuple[Branch, ...]:
        """The members of the group, if it is joined so and can give any current."""
        entry = self.entry()
        if joined(entry.item) != how:
            words = {"series": "in series", "parallel": "side by side"}[how]
            raise Unfit(f"{self.group} does not have its parts {words}")
        if not self.is_equivalent:
            raise Unfit("it gives the EMF and the resistance of a group, and something else is wanted")
        if entry.current[0] < 0:
            raise Unfit(f"nothing is joined across {self.group}, so it cannot be asked for any current")
        if not has_cells(entry.item):
            raise Unfit(f"{self.group} holds no cell")
        found = self.branches_of(entry.item)
        if len(found) == 1 and found[0].count == 1:
            raise Unfit(f"{self.group} has only one part that counts")
        return found

    def branches_of(self, item: Item) -> tuple[Branch, ...]:
        """Members, or why they cannot be spoken of."""
        try:
            return branches(item, self.names)
        except Nameless as nameless:
            raise Unfit(f"there is no name for {nameless}") from None

    def equivalent(self) -> tuple[str, str, str, str]:
        """Names of the group's EMF, resistance, terminal p.d. and current."""
        assert self.group is not None
        try:
            emf, resistance = (self.names.name(kind, self.group) for kind in ("emf", "resistance"))
            pd, current = (self.names.outside(kind, self.group) for kind in ("pd", "current"))
        except Nameless as nameless:
            raise Unfit(f"there is no name for {nameless}") from None
        return emf, resistance, pd, current

    def done(self, route: str, sentence: str) -> Derivation:
        """The argument with its end."""
        end = closing(self.names, self.targets, self.draft.steps, sentence, self.values)
        return self.draft.done(route, self.targets, end)

    def parts(self, members: Sequence[Branch]) -> str:
        """The members by name, for a sentence."""
        return listed([member.path or member.current for member in members])


def task(
    world: Surroundings,
    targets: Sequence[str],
    *,
    group: str | None = None,
    lets: Iterable[str] = (),
    briefly: bool = False,
    values: Mapping[str, Fraction] | None = None,
) -> Task:
    """Look at what is asked.

    Parameters
    ----------
    world : Surroundings
        What names mean at this place.
    targets : sequence of str
        Names of what is wanted.
    group : str or None
        Path of the group; found from the targets if it is not named.
    lets : iterable of str
        Names that the lesson defines itself.
    briefly : bool
        Fewer words.
    values : mapping of str to Fraction, or None
        Numbers to end with.

    Raises
    ------
    Unfit
        If a target means nothing here.

    Examples
    --------
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.prove.worlds import Worlds
    >>> from boardproof.source import Source
    >>> read = read_circuit(Source("x", "A = cell; B = cell; R = resistor; row = A + B; row across R").slice())
    >>> task(Worlds(read.definitions).of(read.at_hand), ["E_row"]).group
    'row'
    """
    names = Naming(world, tuple(lets))
    for target in targets:
        ref = world.means(target)
        if not isinstance(ref, QuantityRef):
            raise Unfit(f"{target} means nothing here")
        if group is None and ref.kind in ("emf", "resistance"):
            group = ref.of[0]
    return Task(names, Draft(names, briefly=briefly), tuple(targets), group, values)


def typed_task(circuit: str, *targets: str) -> Task:
    """Look at what is asked of a circuit typed on one line, to try a route out.

    Parameters
    ----------
    circuit : str
        Lines of a circuit, parted by semicolons.
    targets : str
        Names of what is wanted.

    Examples
    --------
    >>> typed_task("A = cell; R = resistor; g = 3s of A; g across R", "E_g", "r_g").group
    'g'
    """
    read = read_circuit(Source("typed", circuit).slice())
    assert read.at_hand is not None, read.findings
    return task(Worlds(read.definitions).of(read.at_hand), targets, lets=tuple(read.definitions.lets))
