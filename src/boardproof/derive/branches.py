"""A group's members as an argument speaks of them: EMF, resistance, current and p.d. of each, and which way it sits."""

from __future__ import annotations

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import Changed, Copies, Item, Leaf, Parallel, Series, has_cells
from boardproof.derive.naming import Nameless, Naming
from boardproof.derive.typed import bracketed, letter, lost_volts, text
from boardproof.prove.wiring import count_of
from boardproof.record import record

__all__ = ["Branch", "branches", "joined"]

ZERO = RationalFunction.constant(0)


@record
class Branch:
    """One member.

    Parameters
    ----------
    path : str
        Where it is.
    sign : +1 or -1
        -1 if it stands the other way round in the group.
    is_load : bool
        It holds no cell.
    count : RationalFunction
        How many alike ones it stands for.
    emf, resistance : RationalFunction
        In the letters that the argument uses.
    pd, current : str
        Names, in its own direction.
    rules : tuple of str
        What gives V = E - I r for it.
    is_part : bool
        A single part, no group.
    """

    path: str
    sign: int
    is_load: bool
    count: RationalFunction
    emf: RationalFunction
    resistance: RationalFunction
    pd: str
    current: str
    rules: tuple[str, ...]
    is_part: bool

    def line(self, pd: str, current: str | None = None) -> str:
        """The group's p.d. by this member, side by side with others: V = E - I r, or as it is turned."""
        lost = lost_volts(current or self.current, self.resistance)
        if self.is_load:
            return f"{pd} = {lost}"
        if self.sign > 0:
            return f"{pd} = {text(self.emf)} - {lost}"
        return f"{pd} = {lost} - {bracketed(self.emf)}"

    def own_current(self, pd: str) -> str:
        """Its own current by the group's p.d."""
        if self.is_load:
            return f"{self.current} = {pd}/{bracketed(self.resistance)}"
        sign = "-" if self.sign > 0 else "+"
        return f"{self.current} = ({text(self.emf)} {sign} {pd})/{bracketed(self.resistance)}"

    @property
    def share(self) -> tuple[int, str]:
        """Its part in the group's current, with its sign."""
        sign = -1 if self.is_load else self.sign
        return sign, self.current if self.count == 1 else f"{text(self.count)}*{self.current}"

    @property
    def driven(self) -> tuple[int, str]:
        """E/r with its sign and number."""
        top = self.emf * self.count
        return self.sign, f"{bracketed(top)}/{bracketed(self.resistance)}"

    @property
    def conducts(self) -> str:
        """1/r with its number."""
        return f"{text(self.count)}/{bracketed(self.resistance)}"


def joined(item: Item) -> str:
    """How a group is joined: "series", "parallel" or "" for anything else.

    Parameters
    ----------
    item : Item
        Without what was done to it.

    Examples
    --------
    >>> joined(Series(()))
    'series'
    """
    match item:
        case Series():
            return "series"
        case Parallel():
            return "parallel"
        case Copies(joined=how, tied=False, link=None):
            return how
    return ""


def branches(group: Item, names: Naming) -> tuple[Branch, ...]:
    """The members of a group, in order; those that neither drive nor hinder are left out.

    Parameters
    ----------
    group : Item
        In series or in parallel.
    names : Naming
        Gives the names.

    Raises
    ------
    Nameless
        If a member is such that the argument cannot speak of it.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; g = A || B; main = g across R", "E_g")
    >>> [each.resistance for each in branches(asked.names.circuit.item.source, asked.names)]
    [r_1, r_2]
    """
    match group:
        case Series(items=items) | Parallel(items=items):
            counted = [(item, count_of(1)) for item in items]
        case Copies(runs=runs):
            counted = [(run.item, count_of(run.count)) for run in runs]
        case _:
            raise Nameless("a group that is neither in series nor in parallel")
    found = (_branch(item, count, names) for item, count in counted)
    return tuple(branch for branch in found if branch is not None)


def _branch(item: Item, count: RationalFunction, names: Naming) -> Branch | None:
    sign = 1
    while isinstance(item, Changed):
        if item.how != "turned":
            raise Nameless(f"{item.path}, to which something was done")
        sign, item = -sign, item.item
    emf, resistance, rules = _worth(item, names)
    if not emf and not resistance:
        return None
    current, turn = _current(item, names)
    pd = "" if item.path == "" else _named_pd(item, names)
    is_part = isinstance(item, Leaf)
    if turn < 0:
        raise Nameless("a row whose first cell is turned; give the row a name")
    return Branch(item.path, sign, not has_cells(item), count, emf, resistance, pd, current, rules, is_part)


def _named_pd(item: Item, names: Naming) -> str:
    try:
        return names.name("pd", item.path)
    except Nameless:
        return ""


def _current(item: Item, names: Naming) -> tuple[str, int]:
    """A name for a member's current; a row without a name is known by its first part."""
    sign = 1
    while not (isinstance(item, Leaf) or item.path):
        if isinstance(item, Changed):
            sign, item = -sign if item.how == "turned" else sign, item.item
        elif isinstance(item, Series):
            item = item.items[0]
        else:
            raise Nameless("a group without a name")
    while isinstance(item, Changed):
        sign, item = -sign if item.how == "turned" else sign, item.item
    return names.name("current", item.path), sign


def _worth(item: Item, names: Naming) -> tuple[RationalFunction, RationalFunction, tuple[str, ...]]:
    """EMF and resistance of a member from its own plus end, and the rules that its line needs."""
    match item:
        case Leaf(part=part):
            passes = part.kind in ("cell", "source", "resistor", "wire", "ammeter") or (
                part.kind == "switch" and part.closed
            )
            if not passes and not (part.kind == "voltmeter" and part.resistance is not None):
                raise Nameless(f"{item.path}, through which no steady current need pass")
            emf = letter(part.emf.letter) if part.emf else ZERO
            resistance = letter(part.resistance.letter) if part.resistance else ZERO
            return emf, resistance, ("cell rule",) if part.emf else ("Ohm's law",)
        case Series(items=items) if all(isinstance(_bare(each), Leaf) for each in items) and not item.path:
            emf, resistance, rules = ZERO, ZERO, ["loop rule"]
            for each in items:
                own_emf, own_resistance, own_rules = _worth(_bare(each), names)
                emf = emf - own_emf if isinstance(each, Changed) else emf + own_emf
                resistance, rules = resistance + own_resistance, [*own_rules, *rules]
            return emf, resistance, tuple(dict.fromkeys(rules))
    emf = letter(names.name("emf", item.path)) if has_cells(item) else ZERO
    return (
        emf,
        letter(names.name("resistance", item.path)),
        ("cell rule",) if has_cells(item) else ("Ohm's law",),
    )


def _bare(item: Item) -> Item:
    if isinstance(item, Changed) and item.how == "turned":
        return item.item
    return item
