"""A circuit as text in one canonical form, which reads back as the same circuit.

Groups with a name get a line each, brackets stand for those without; changes follow `but`. Not kept: the name of
a count that was fixed when a single member was changed (the text says the number).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Final

from boardproof.circuit.change import done_to
from boardproof.circuit.count import count_letters, how_many
from boardproof.circuit.model import (
    Across,
    Changed,
    Circuit,
    Copies,
    Family,
    How,
    Item,
    Leaf,
    Network,
    Parallel,
    Part,
    Run,
    Series,
    Worth,
    leaves,
    members,
)
from boardproof.circuit.part import ROLES, at_index
from boardproof.circuit.place import moved, remade

__all__ = ["number", "write"]

WORDS: Final[dict[How, str]] = {
    "open": "open",
    "shorted": "short",
    "removed": "remove",
    "without emf": "no emf in",
}


def write(circuit: Circuit) -> str:
    """The text of a circuit.

    Parameters
    ----------
    circuit : Circuit
        With its values.

    Returns
    -------
    str
        Lines of the lesson language: parts, groups, and last the circuit that stands on the board.

    Examples
    --------
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.source import Slice, Span
    >>> typed = "A = cell 6 V, 1 ohm; R = resistor; A across R but R = 9.6 ohm"
    >>> print(write(read_circuit(Slice(typed, Span("x", 0, len(typed)))).at_hand))
    A = cell E_A = 6 V, r_A = 1 ohm
    R = resistor R = 9.6 ohm
    A across R
    """
    return _Writer(circuit).text()


def number(value: Fraction) -> str:
    """An exact number as typed: a decimal if it ends soon, else a fraction.

    Parameters
    ----------
    value : Fraction
        In the unit it is written with; decimals are given up to six places.

    Examples
    --------
    >>> number(Fraction(48, 5)), number(Fraction(16, 3)), number(Fraction(-3, 2))
    ('9.6', '16/3', '-1.5')
    """
    for places in range(7):
        if (value * 10**places).denominator == 1:
            digits = str(abs(int(value * 10**places))).rjust(places + 1, "0")
            whole = f"{digits[:-places]}.{digits[-places:]}" if places else digits
            return f"-{whole}" if value < 0 else whole
    return str(value)


class _Writer:
    """Collects lines for the groups of one circuit."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.lines: list[str] = []
        self.named: set[str] = set()
        self.networks = 0
        weights = Counter[Part]()
        for part, many in _weighed(circuit.item, circuit.values):
            weights[part] += many
        self.parts: dict[str, Part] = {}
        for part, _ in weights.most_common():
            self.parts.setdefault(part.name, part)

    def text(self) -> str:
        item = self.circuit.item
        names = dict.fromkeys(leaf.part.name for leaf in leaves(item))
        families = {leaf.part.name: leaf for leaf in leaves(item) if isinstance(leaf, Family)}
        for name in names:
            suffix = ""
            if name in families:
                family = families[name]
                suffix = f" for {family.index} = {family.first} to {family.last}"
            self.lines.append(_part_text(self.parts[name]) + suffix)
        base = _base(item)
        inner, _ = done_to(base)
        at_hand = self.named_text(inner) if _has_name(inner) else self.inline(base, top=True)
        changes = [
            *(
                f"{letter} = {number(self.circuit.values[letter])}"
                for letter in sorted(count_letters(item))
                if letter in self.circuit.values
            ),
            *self.changes(item, base),
        ]
        self.lines.append(at_hand + (f" but {', '.join(changes)}" if changes else ""))
        if self.circuit.zero:
            self.lines.insert(-1, f"zero at {self.circuit.zero}")
        return "\n".join(self.lines)

    # ---- structure

    def named_text(self, item: Item) -> str:
        """The name of a group, its own line written before."""
        name = item.path
        if name not in self.named:
            self.named.add(name)
            if isinstance(item, Network):
                self.network(item, name)
            else:
                text = self.inline(item, top=True, own=True)
                self.lines.append(f"{name} = {text}")
        return name

    def network(self, network: Network, name: str) -> None:
        branches = [f"  {self.inline(each)} from {tail} to {head}" for each, tail, head in network.branches]
        ends = f" from {network.ends[0]} to {network.ends[1]}" if network.ends else ""
        self.lines += [f"network {name}{ends}", *branches]

    def inline(self, item: Item, *, top: bool = False, own: bool = False) -> str:
        """An item where it stands; in brackets unless at the top."""
        inner, hows = done_to(item)
        sign, text = "-" if "turned" in hows else "", ""
        if not own and _has_name(inner):
            return sign + self.named_text(inner)
        match inner:
            case Leaf():
                return sign + inner.part.name
            case Network():
                self.networks += 1
                name = f"part_{self.networks}"
                self.network(inner, name)
                return sign + name
            case Family(part=part, index=index, first=first, last=last, joined=joined):
                mark = "+" if joined == "series" else "||"
                ends = [at_index(part.name, index, str(end)) for end in (first, last)]
                return f" {mark} ".join([ends[0], "...", ends[1]])
            case Series(items=items) | Parallel(items=items):
                mark = " + " if isinstance(inner, Series) else " || "
                text = mark.join(self.inline(each) for each in items)
            case Copies():
                text = self.copies(inner)
            case Across(source=source, load=load):
                return f"{self.inline(source)} across {self.inline(load)}"
            case Changed():
                raise AssertionError("done_to leaves none")
        return text if top and not sign else f"{sign}({text})"

    def copies(self, copies: Copies) -> str:
        item = copies.runs[0].item
        if copies.link or copies.tied:
            return self.linked(copies)
        if isinstance(item, Copies) and item.link:
            return self.linked(copies)
        return f"{copies.count} of {self.inline(item)} in {copies.joined}"

    def linked(self, copies: Copies) -> str:
        """``4p3s``, ``3s4p`` or ``3s`` with its links."""
        inner = copies.runs[0].item
        letters = {"series": "s", "parallel": "p"}
        link = copies.link
        text, made_of = f"{copies.count}{letters[copies.joined]}", inner
        if isinstance(inner, Copies) and (copies.tied or inner.link):
            text, made_of = f"{inner.count}{letters[inner.joined]}{text}", inner.runs[0].item
            link = link or inner.link
        word = f"link {number(link.value or Fraction(0))} ohm" if link else "links"
        return f"{text} {word} of {self.inline(made_of)}"

    # ---- changes

    def changes(self, item: Item, base: Item) -> Iterator[str]:
        """What has to be done to `base` to make it `item`."""
        inner, hows = done_to(item)
        plain, was = done_to(base)
        if ("turned" in hows) != ("turned" in was):
            yield f"turn {inner.path}"
        for how, word in WORDS.items():
            if how in hows:
                yield f"{word} {inner.path}"
        if isinstance(inner, Leaf):
            yield from self.of_part(inner)
        elif isinstance(inner, Copies) and isinstance(plain, Copies):
            yield from self.of_copies(inner, plain)
        else:
            for member, other in zip(members(inner), members(plain), strict=True):
                yield from self.changes(member, other)

    def of_copies(self, copies: Copies, plain: Copies) -> Iterator[str]:
        for run in copies.runs:
            old = f"{copies.path}.{run.first}"
            last = run.first if isinstance(run.count, str) else run.first + run.count - 1
            for place in range(run.first, last + 1):
                new = f"{copies.path}.{place}"
                other = moved(plain.runs[0].item, f"{copies.path}.1", new)
                changes = list(self.changes(moved(run.item, old, new), other))
                if not changes:
                    break
                yield from changes

    def of_part(self, leaf: Leaf) -> Iterator[str]:
        """Values and states that differ from the part's own line."""
        part, known = leaf.part, self.parts[leaf.part.name]
        if part == known:
            return
        if part.kind != known.kind:
            yield f"{leaf.path} = {' '.join([part.kind, *_entries(part)[:1]])}"
            for entry in _entries(part)[1:]:
                yield f"{leaf.path} = {entry}"
            return
        for role in ROLES[part.kind]:
            now, before = getattr(part, role), getattr(known, role)
            if now != before and now is not None:
                yield f"{leaf.path} = {_worth_text(now, _role_unit(role))}"
        if part.closed != known.closed:
            yield f"{'close' if part.closed else 'open'} {leaf.path}"


def _has_name(item: Item) -> bool:
    """Whether a group has a name of its own, not just a place."""
    return (
        bool(item.path)
        and "." not in item.path
        and not item.path.isdigit()
        and not isinstance(item, Leaf | Family)
    )


def _base(item: Item) -> Item:
    """A tree without changes, except things the other way round, and with copies all alike."""
    inner, hows = done_to(item)
    if isinstance(inner, Copies):
        longest = max(inner.runs, key=lambda run: run.count if isinstance(run.count, int) else 1)
        first = moved(longest.item, f"{inner.path}.{longest.first}", f"{inner.path}.1")
        inner = replace(inner, runs=(Run(1, inner.count, _base(first)),))
    else:
        inner = remade(inner, _base)
    return Changed(inner, "turned") if "turned" in hows else inner


def _weighed(item: Item, values: Mapping[str, Fraction]) -> Iterator[tuple[Part, int]]:
    """Parts with the number of places they stand in."""
    if isinstance(item, Leaf | Family):
        yield item.part, how_many(item, values)
    elif isinstance(item, Copies):
        for run in item.runs:
            many = run.count if isinstance(run.count, int) else 1
            yield from ((part, count * many) for part, count in _weighed(run.item, values))
    else:
        for member in members(item):
            yield from _weighed(member, values)


def _role_unit(role: str) -> str:
    """The unit of what a part carries, as typed."""
    symbols = {"emf": "V", "resistance": "ohm", "capacitance": "F"}
    return symbols[role]


def _worth_text(worth: Worth, unit: str) -> str:
    """A letter with its value, if it has one."""
    return worth.letter if worth.value is None else f"{worth.letter} = {number(worth.value)} {unit}"


def _entries(part: Part) -> list[str]:
    """What stands after a kind."""
    found = [
        _worth_text(worth, _role_unit(role)) for role in ROLES[part.kind] if (worth := getattr(part, role))
    ]
    if part.kind == "switch":
        found.append("closed" if part.closed else "open")
    if part.chemistry != "primary" and part.kind in {"cell", "source"}:
        found.append(part.chemistry)
    return found


def _part_text(part: Part) -> str:
    """The line of a part."""
    return f"{part.name} = {part.kind} {', '.join(_entries(part))}".rstrip()
