"""Cautions, chosen by computation from every circuit that was ever at hand, imagined ones included.

Three tiers: *small* (small primary cells, at most 5 A shorted), *strong* (anything rechargeable, lithium or
lead-acid, or more than 5 A), *paper* (above 60 V, or 1 kW to be had). The limits are our own cautious choice; 60 V d.c.
is the usual upper bound of extra-low voltage (from memory). A caution never says that something is safe, and always
defers.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import field, replace
from fractions import Fraction
from typing import Final, Literal

from boardproof.circuit.model import (
    Across,
    Changed,
    Circuit,
    Copies,
    Item,
    Leaf,
    Parallel,
    Series,
    has_cells,
    leaves,
    members,
)
from boardproof.circuit.quantity import QuantityKind, QuantityRef
from boardproof.findings import Evidence
from boardproof.quantities import AMPERE, VOLT, WATT, Dimension, Style, shown
from boardproof.record import record
from boardproof.solve.answers import Unknown, answers

__all__ = ["Caution", "Danger", "Tier", "caution_for", "dangers", "tier_of"]

Tier = Literal["small", "strong", "paper"]
Word = Literal[
    "short",
    "burn",
    "unlike",
    "turned",
    "charging",
    "lithium",
    "lead-acid",
    "rechargeable",
    "in series",
    "rows",
    "shock",
]
TIERS: Final[tuple[Tier, ...]] = ("small", "strong", "paper")
STRONG_CURRENT: Final = Fraction(5)
PAPER_VOLTAGE: Final = Fraction(60)
PAPER_POWER: Final = Fraction(1000)

# What each danger says in full, and on the board. {value} is the worst value met.
SENTENCES: Final[dict[Word, tuple[str, str]]] = {
    "shock": (
        "Above about 60 V a shock can kill, and an arc in direct current does not go out by itself ({value} here).",
        "{value} here can shock.",
    ),
    "lithium": (
        "Lithium cells can catch fire when shorted, overcharged, over-emptied or hurt. Leave them to trained people.",
        "Lithium cells can catch fire.",
    ),
    "lead-acid": (
        "Lead-acid cells hold acid, give off hydrogen and drive very large currents: goggles, no sparks, no rings.",
        "Lead-acid cells hold acid and drive very large currents.",
    ),
    "rechargeable": (
        "Rechargeable cells drive large currents and are charged only with the charger meant for their type.",
        "Rechargeable cells drive large currents.",
    ),
    "short": (
        "The sum shows what a short circuit would do. Never try it with a real cell: it gets hot and can burst.",
        "A short is a thought here. Real wires and cells get hot at once.",
    ),
    "burn": (
        "{value} could flow if these terminals were shorted: a current that burns.",
        "Shorted, this drives {value}.",
    ),
    "turned": (
        "A cell is in backwards. With real cells take it out: it is being forced the wrong way and may leak or burst.",
        "A real cell in backwards may leak or burst: take it out.",
    ),
    "unlike": (
        "Unlike cells in parallel drive a current round each other with nothing connected ({value} here).",
        "Unlike cells in parallel drive a current round each other, load or no load.",
    ),
    "charging": (
        "Current enters a cell at its plus ({value}). Only a rechargeable cell, with its own charger, may be used so.",
        "A cell is being charged here. Never charge a primary cell.",
    ),
    "in series": (
        "In a row the weakest cell is driven backwards first: never mix ages, makes, sizes or types.",
        "Never mix cells of different age, make, size or type in a row.",
    ),
    "rows": (
        "Before rows are joined side by side their voltages must match, and each row needs its own fuse.",
        "Match the voltages of rows before joining them.",
    ),
}
ORDER: Final[tuple[Word, ...]] = tuple(SENTENCES)
ENDING: Final = (
    "Follow {rules}, read the maker's sheet, and have a qualified person decide about anything beyond "
    "small primary cells."
)
PAPER_ENDING: Final = (
    "A sum on paper, not a building plan: nothing here is to be built. Work like this is for qualified "
    "people under local rules. Follow {rules}."
)
BOARD_ENDING: Final = "Follow your school's rules."


@record
class Danger:
    """One danger in one circuit, with the worst value that was computed for it, as shown."""

    word: Word
    tier: Tier
    value: str = ""
    size: Fraction = field(default=Fraction(0), compare=False)


@record
class Caution:
    """What a document says about its dangers.

    Parameters
    ----------
    tier : Tier
        The highest that applies; it holds for the whole document.
    kinds : tuple of str
        The dangers, gravest first.
    full, short : str
        Once in a document; at later places and on the board.
    evidence : tuple of Evidence
        The computed values behind it.
    """

    tier: Tier
    kinds: tuple[str, ...]
    full: str
    short: str
    evidence: tuple[Evidence, ...] = ()


def tier_of(found: Iterable[Danger]) -> Tier:
    """The highest tier among dangers; "small" if there are none.

    Parameters
    ----------
    found : iterable of Danger
        Of one circuit, in any order.

    Examples
    --------
    >>> tier_of([Danger("short", "small"), Danger("burn", "strong")]), tier_of([])
    ('strong', 'small')
    """
    return max((danger.tier for danger in found), key=TIERS.index, default="small")


def caution_for(found: Iterable[Danger], *, rules: str) -> Caution | None:
    """The caution of a document or a place; None where nothing can hurt.

    Parameters
    ----------
    found : iterable of Danger
        From every circuit at hand there.
    rules : str
        The words that every caution refers to: "the school's rules for practical work".

    Examples
    --------
    >>> caution_for([Danger("short", "small")], rules="your rules").short
    "A short is a thought here. Real wires and cells get hot at once. Follow your school's rules."
    """
    worst: dict[Word, Danger] = {}
    found = tuple(found)
    for danger in found:
        if danger.word not in worst or danger.size > worst[danger.word].size:
            worst[danger.word] = danger
    if not worst:
        return None
    tier = tier_of(found)
    order = [word for word in ORDER if word in worst]
    ending = PAPER_ENDING if tier == "paper" else ENDING
    full = " ".join(_said(SENTENCES[word][0], worst[word].value) for word in order)
    short = _said(SENTENCES[order[0]][1], worst[order[0]].value)
    start = "Paper exercise only. " if tier == "paper" else ""
    evidence = tuple(
        Evidence("working", f"{word}: {worst[word].value}") for word in order if worst[word].value
    )
    return Caution(
        tier, tuple(order), f"{full} {ending.format(rules=rules)}", f"{start}{short} {BOARD_ENDING}", evidence
    )


def _said(sentence: str, value: str) -> str:
    """The sentence with its value; without the bracket that would hold it if there is none."""
    return (
        sentence.format(value=value)
        if value
        else sentence.replace(" ({value} here)", "")
        .replace(" ({value})", "")
        .replace("{value}", "A large current")
    )


def dangers(
    circuit: Circuit, *, imagined_short: bool = False, style: Style | None = None
) -> tuple[Danger, ...]:
    """What can hurt in a circuit, and in what way.

    Parameters
    ----------
    circuit : Circuit
        At hand, real or imagined; letters without a value are judged by the wiring alone.
    imagined_short : bool
        Whether its terminals are shorted in thought.

    Returns
    -------
    tuple of Danger
        Without order; `caution_for` sorts them.

    Examples
    --------
    A cell's ends are joined through a resistor, then in thought by a wire:

    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.source import Slice, Span
    >>> typed = "A = cell 1.5 V, 1 ohm; R = resistor 9 ohm; A across R"
    >>> circuit = read_circuit(Slice(typed, Span("x", 0, len(typed)))).at_hand
    >>> [each.word for each in dangers(circuit)]
    []
    >>> [each.word for each in dangers(circuit, imagined_short=True)]
    ['short']
    """
    seen = _Look(circuit, style or Style())
    found = [*seen.of_cells(), *seen.of_groups(), *seen.of_wiring()]
    if imagined_short:
        found.append(Danger("short", "small"))
    tier = tier_of(found)
    return tuple(replace(each, tier=tier) if each.word == "short" else each for each in found)


class _Look:
    """One look at one circuit."""

    def __init__(self, circuit: Circuit, style: Style) -> None:
        self.circuit, self.style = circuit, style
        self.answers = answers(circuit)

    def number(self, kind: QuantityKind, *of: str) -> Fraction | None:
        """A value, if the circuit gives it."""
        value = self.answers.ask(QuantityRef(kind, of, self.circuit.id))
        return None if isinstance(value, Unknown) else value.exact

    def shown(self, value: Fraction, dimension: Dimension) -> str:
        """A size as people read it: never a fraction."""
        text = shown(abs(value), dimension, self.style)
        return shown(abs(value), dimension, self.style, figures=self.style.figures) if "/" in text else text

    def of_cells(self) -> Iterator[Danger]:
        """What the cells are, and whether one is charged."""
        for leaf in leaves(self.circuit.item):
            if leaf.part.kind != "cell":
                continue
            if leaf.part.chemistry != "primary":
                yield Danger(leaf.part.chemistry, "strong")
            current = self.number("current", leaf.path) if isinstance(leaf, Leaf) else None
            if current is not None and current < 0:
                yield Danger("charging", "small", self.shown(current, AMPERE), -current)

    def of_groups(self) -> Iterator[Danger]:
        """What the group of cells could drive, and whether its load is next to a short."""
        for item in _sources(self.circuit.item):
            path = item.path
            emf, resistance = self.number("emf", path), self.number("resistance", path)
            if emf is None or not emf:
                continue
            if abs(emf) > PAPER_VOLTAGE:
                yield Danger("shock", "paper", self.shown(emf, VOLT), abs(emf))
            if not resistance or resistance < 0:
                continue
            short, power = abs(emf / resistance), emf**2 / resistance / 4
            if power > PAPER_POWER:
                yield Danger("burn", "paper", self.shown(power, WATT), short)
            elif short > STRONG_CURRENT:
                yield Danger("burn", "strong", self.shown(short, AMPERE), short)
        item = self.circuit.item
        if isinstance(item, Across) and has_cells(item.source) and not has_cells(item.load):
            source, load = (
                self.number("resistance", item.source.path),
                self.number("resistance", item.load.path),
            )
            if source is not None and load is not None and 0 <= load < source:
                yield Danger("short", "small")

    def of_wiring(self) -> Iterator[Danger]:
        """What the wiring alone shows: turned cells, unlike neighbours, rows, shorts."""
        for item in _all(self.circuit.item):
            match item:
                case Changed(how="turned") if has_cells(item):
                    yield Danger("turned", "small")
                case Changed(how="shorted") if has_cells(item):
                    yield Danger("short", "small")
                case Parallel() | Copies(joined="parallel") if sum(map(has_cells, members(item))) > 1:
                    yield from self.unlike(item)
                case Series() | Copies(joined="series") if _cells(item) > 2:
                    yield Danger("in series", "small")
                case _:
                    pass
            if isinstance(item, Copies) and item.joined == "parallel" and _cells(item.runs[0].item) > 1:
                yield Danger("rows", "small")

    def unlike(self, group: Parallel | Copies) -> Iterator[Danger]:
        """A current round the group when nothing is joined to it."""
        alone = Circuit(group, self.circuit.values)
        at_rest = answers(alone)
        worst = Fraction(0)
        known = True
        for member in members(group):
            value = at_rest.ask(QuantityRef("current", (member.path,), alone.id))
            known = known and not isinstance(value, Unknown)
            worst = max(worst, Fraction(0) if isinstance(value, Unknown) else abs(value.exact))
        if worst:
            yield Danger("unlike", "small", self.shown(worst, AMPERE), worst)
        elif not known:
            yield Danger("unlike", "small")


def _all(item: Item) -> Iterator[Item]:
    yield item
    for member in members(item):
        yield from _all(member)


def _sources(item: Item) -> Iterator[Item]:
    """Every group or cell that drives, outermost first, as long as it can be seen from two ends."""
    for each in _all(item):
        if not isinstance(each, Across) and each.path and has_cells(each):
            yield each


def _cells(item: Item) -> int:
    """How many cells the item stands for, as far as counts are numbers; letters count as two."""
    match item:
        case Leaf(part=part):
            return int(part.kind == "cell")
        case Copies(runs=runs):
            return sum(_cells(run.item) * (run.count if isinstance(run.count, int) else 2) for run in runs)
        case _:
            return sum(_cells(member) for member in members(item))
