"""All definitions of a lesson, in two passes: first what stands on each line, then what the names come to.

Parts, groups, networks, families and lets hold above and below their lines, so circuits are built when a name
asks for them; a group that is made of itself is found out on the way.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from boardproof.circuit.build import Builder
from boardproof.circuit.change import settled
from boardproof.circuit.definitions import Definitions, Let, Letter, ValueSet
from boardproof.circuit.grammar import Unreadable
from boardproof.circuit.kinds import finding
from boardproof.circuit.model import Circuit, Family, Part
from boardproof.circuit.part import ROLES, made_part, role_dimension
from boardproof.circuit.statement import (
    AtHand,
    FamilyOf,
    LetOf,
    Named,
    NetworkOf,
    Parts,
    Statement,
    Unread,
    UseOf,
    ValuesOf,
    ZeroAt,
    read_statements,
)
from boardproof.circuit.written import Copied, Varied, Written
from boardproof.circuit.written import Joined as JoinedText
from boardproof.circuit.written import Turned as TurnedText
from boardproof.findings import Finding, near_names
from boardproof.quantities import shown
from boardproof.source import Slice, Source, Span

__all__ = ["Definer", "define", "revalued"]

DEEPEST: Final = 40


def define(
    slices: Sequence[Slice], files: Mapping[str, Source] | None = None, *, decimal: str = "."
) -> tuple[Definitions, tuple[Finding, ...]]:
    """What all circuit blocks of a lesson define together.

    Parameters
    ----------
    slices : sequence of Slice
        Bodies of the blocks, in lesson order.
    files : mapping of str to Source
        Texts of ``*.circuit`` files by name (``batteries`` or ``batteries.circuit``), for `use`.
    decimal : str
        The course's decimal mark.

    Returns
    -------
    definitions : Definitions
        Everything that could be read.
    findings : tuple of Finding
        What is wrong in the definitions; lines that put a circuit on the board are left to `read_circuit`.

    Examples
    --------
    >>> typed = "A = cell 6 V, 1 ohm; main = A across R; R = resistor 10 ohm"
    >>> known, wrong = define([Slice(typed, Span("x", 0, len(typed)))])
    >>> sorted(known.parts), sorted(known.circuits), dict(known.circuits["main"].values)["R"]
    (['A', 'R'], ['main'], Fraction(10, 1))
    """
    definer = Definer(decimal=decimal)
    for text in slices:
        definer.take(text, files or {})
    return definer.finish()


class Definer:
    """Gathers statements, then builds what they name.

    Parameters
    ----------
    known : Definitions
        What is defined already.
    decimal : str
        The course's decimal mark.
    """

    def __init__(self, known: Definitions | None = None, *, decimal: str = ".") -> None:
        """Start from what is known."""
        self.decimal = decimal
        self.known = known or Definitions()
        self.findings: list[Finding] = []
        self.taken: dict[str, tuple[str, Span]] = {}
        self.statements: dict[str, Named | NetworkOf] = {}
        self.parts: dict[str, Part] = {}
        self.families: dict[str, Family] = {}
        self.sets: dict[str, ValueSet] = {}
        self.lets: dict[str, Let] = {}
        self.letters: dict[str, Letter] = {}
        self.counts: set[str] = set()
        self.zeros: list[tuple[Span, ZeroAt]] = []
        self.circuits: dict[str, Circuit | None] = {}
        self.unread: dict[str, Finding] = {}
        self.building: list[str] = []
        self.used_files: set[str] = set()
        self.block: Span | None = None
        self.broken: dict[str, Span] = {}

    # ---- first pass

    def take(self, text: Slice, files: Mapping[str, Source]) -> None:
        """Gather the statements of one block."""
        statements, wrong = read_statements(text, decimal=self.decimal)
        self.findings += wrong
        self.block = text.span
        for statement in statements:
            if isinstance(statement, UseOf):
                self._use(statement, files)
            else:
                self._gather(statement)

    def _use(self, statement: UseOf, files: Mapping[str, Source]) -> None:
        source = files.get(statement.file) or files.get(f"{statement.file}.circuit")
        if source is None:
            near = ", ".join(near_names(statement.file, [name.removesuffix(".circuit") for name in files]))
            word = f"{statement.file}.circuit"
            self.findings.append(finding("unknown-name", statement.span, word=word, near=near))
            return
        found, wrong = read_statements(source.slice(), decimal=self.decimal)
        if statement.file not in self.used_files:
            self.findings += wrong
        wanted, around = set(statement.names), self.block
        self.block = source.slice().span
        for each in found:
            names = (
                {name for name, _ in each.names} if isinstance(each, Parts) else {getattr(each, "name", "")}
            )
            if isinstance(each, UseOf):
                why = "a file that is used may not use others"
                self.findings.append(finding("unread-line", each.span, why=why))
            elif not statement.names or names & wanted:
                wanted -= names
                self._gather(each)
        self.block = around
        for name in sorted(wanted):
            self.findings.append(finding("unknown-name", statement.span, word=name))
        self.used_files.add(statement.file)

    def _gather(self, statement: Statement) -> None:
        match statement:
            case Parts(names=names, kind=kind, entries=entries):
                for name, span in names:
                    if self._claim(name, f"a {kind}", span):
                        part, wrong = made_part(name, kind, entries, span)
                        self._add(wrong)
                        self.parts[name] = self._lettered(part)
                        letters = (worth.letter for worth in part.worths())
                        self.broken |= dict.fromkeys((name, *letters) if wrong else (), span)
            case Unread(names=names, span=span):
                self.broken |= dict.fromkeys(names, span)
            case FamilyOf():
                self._family(statement)
            case Named(name=name, span=span):
                if self._claim(name, "a circuit", span):
                    self.statements[name] = statement
                    self._count_letters(statement.expression)
            case NetworkOf(name=name, span=span):
                if self._claim(name, "a network", span):
                    self.statements[name] = statement
                    for item, _, _ in statement.branches:
                        self._count_letters(item)
            case AtHand(expression=expression):
                self._count_letters(expression)
            case LetOf(name=name, body=body, when=when, span=span):
                if self._claim(f"let {name}", "the name of a quantity", span, shown=name):
                    self.lets[name] = Let(name, body, when, span)
            case ValuesOf(name=name, assigned=assigned, span=span):
                if self._claim(name, "a set of values", span):
                    self.sets[name] = ValueSet(name, assigned, span)
            case ZeroAt():
                self.zeros.append((self.block or statement.span, statement))
            case _:
                return

    def _add(self, wrong: Iterable[Finding]) -> None:
        """Findings, each once: like cells that are defined together share their line."""
        self.findings += [one for one in wrong if one not in self.findings]

    def _claim(self, name: str, what: str, span: Span, shown: str = "") -> bool:
        """Whether a name is still free; the first line that defines it keeps it."""
        old = self.taken.get(name)
        if old is None:
            self.taken[name] = (what, span)
        elif old[1] != span:
            related = ((old[1], "it is defined here"),)
            facts = {"name": shown or name, "what": old[0]}
            self.findings.append(finding("name-taken", span, related=related, **facts))
        return old is None

    def _lettered(self, part: Part) -> Part:
        """The part, its letters noted with their values; a second value for a letter is refused."""
        for role in ROLES[part.kind]:
            worth = getattr(part, role)
            if worth is None:
                continue
            letter = Letter(role_dimension(role), worth.value, worth.span)
            old = self.letters.get(worth.letter)
            if old and (
                old.dimension != letter.dimension or None not in {old.value, letter.value} != {old.value}
            ):
                related = ((old.span, "here"),) if old.span else ()
                x, y = (
                    "without a value" if each is None else shown(each, letter.dimension)
                    for each in (letter.value, old.value)
                )
                facts = {"letter": worth.letter, "x": x, "y": y}
                if old.dimension != letter.dimension:
                    facts |= {"x": role, "y": "something else"}
                span = worth.span or part.span or Span("", 0, 0)
                if old.value != letter.value or old.dimension != letter.dimension:
                    self._add([finding("two-values", span, related=related, **facts)])
            elif not old or old.value is None:
                self.letters[worth.letter] = letter
        return part

    def _family(self, statement: FamilyOf) -> None:
        name, span = statement.name, statement.span
        if not self._claim(name, "a family", span):
            return
        part, wrong = made_part(name, statement.kind, statement.entries, span)
        self._add(wrong)
        if isinstance(statement.first, str):
            why = f"a family begins at a number, not at {statement.first}"
            self.findings.append(finding("unread-line", span, why=why))
            return
        if isinstance(statement.last, str):
            self.counts.add(statement.last)
        elif statement.last < statement.first:
            count = f"{statement.first} to {statement.last}"
            self.findings.append(finding("zero-count", span, count=count, what="member"))
            return
        self._lettered(part)
        self.families[name] = Family(part, statement.index, statement.first, statement.last, name, span=span)

    def _count_letters(self, written: Written) -> None:
        match written:
            case Copied(of=of, shape=shape):
                self.counts |= {count for _, count in shape if isinstance(count, str)}
                self._count_letters(of)
            case JoinedText(items=items):
                for item in items:
                    self._count_letters(item)
            case TurnedText(of=of) | Varied(base=of):
                self._count_letters(of)
            case _:
                for side in ("first", "second"):
                    if hasattr(written, side):
                        self._count_letters(getattr(written, side))

    # ---- second pass

    def finish(self) -> tuple[Definitions, tuple[Finding, ...]]:
        """Everything built, and every finding."""
        shared = {letter: known.value for letter, known in self.letters.items() if known.value is not None}
        parts = {name: _valued(part, shared) for name, part in self.parts.items()}
        families = {
            name: replace(family, part=_valued(family.part, shared)) for name, family in self.families.items()
        }
        places = {name: span for name, (_, span) in self.taken.items()}
        self.known = Definitions(
            parts,
            families,
            {},
            dict(self.sets),
            dict(self.lets),
            dict(self.letters),
            frozenset(self.counts),
            self._zeros(),
            places,
        )
        for name in self.statements:
            self.circuit(name)
        built = {name: circuit for name, circuit in self.circuits.items() if circuit}
        lost = {name: each.span for name, each in self.statements.items() if name not in built}
        broken = MappingProxyType({**self.broken, **lost})
        self.known = replace(self.known, circuits=MappingProxyType(built), broken=broken)
        return self.known, tuple(each for each in self.findings if self.known.broken_by(each) is None)

    def _zeros(self) -> tuple[tuple[Span, str], ...]:
        """Where potential is counted from, by block; a node that no network has is told."""
        networks = (each for each in self.statements.values() if isinstance(each, NetworkOf))
        nodes = {node for each in networks for _, tail, head in each.branches for node in (tail, head)}
        for _, zero in self.zeros:
            if zero.node not in nodes:
                near = ", ".join(near_names(zero.node, sorted(nodes)) or sorted(nodes)[:4])
                self.findings.append(finding("unknown-name", zero.span, word=zero.node, near=near))
        return tuple((block, zero.node) for block, zero in self.zeros if zero.node in nodes)

    def circuit(self, name: str) -> Circuit | None:
        """The circuit of a name, built when first asked for."""
        if name in self.circuits or name not in self.statements:
            return self.circuits.get(name)
        statement = self.statements[name]
        if name in self.building:
            around = " → ".join([*self.building[self.building.index(name) :], name])
            raise Unreadable(finding("made-of-itself", statement.span, name=name, round=around))
        if len(self.building) >= DEEPEST:
            limit = f"{DEEPEST} deep"
            raise Unreadable(finding("too-much", statement.span, what="groups within groups", limit=limit))
        self.building.append(name)
        builder = Builder(self.known, self._member)
        try:
            if isinstance(statement, NetworkOf):
                circuit = builder.network(statement) if statement.is_whole else None
            else:
                circuit = builder.circuit(statement.expression, statement.written, name)
            is_wrong = any(each.kind.severity == "error" for each in builder.findings)
            self.circuits[name] = None if is_wrong else circuit
        except Unreadable as stopped:
            self.circuits[name] = None
            self.unread[name] = stopped.finding
            self._add([stopped.finding])
        finally:
            self.building.pop()
        self._add(builder.findings)
        return self.circuits[name]

    def _member(self, name: str) -> Circuit | None:
        """The circuit that a name stands for in another; what is wrong with it is told once, where it is."""
        found = self.circuit(name)
        if name in self.unread:
            raise Unreadable(self.unread[name])
        return found


def _valued(part: Part, values: Mapping[str, Fraction]) -> Part:
    """A part whose letters have the values given to them anywhere."""
    changed = {
        role: replace(worth, value=values.get(worth.letter))
        for role in ("emf", "resistance", "capacitance")
        if (worth := getattr(part, role))
    }
    return replace(part, **changed)


def revalued(known: Definitions, values: Mapping[str, Fraction]) -> Definitions:
    """The same definitions with other values for letters and counts, in every circuit.

    Parameters
    ----------
    known : Definitions
        As the lesson gives them.
    values : mapping of str to Fraction
        Letter to value in SI units: the numbers drawn for a question.

    Examples
    --------
    >>> typed = "A = cell 6 V, 1 ohm; R = resistor 11 ohm; main = A across R"
    >>> known, _ = define([Slice(typed, Span("x", 0, len(typed)))])
    >>> revalued(known, {"R": Fraction(2)}).circuits["main"].values["R"]
    Fraction(2, 1)
    """

    def again(circuit: Circuit) -> Circuit:
        carried = {letter for letter in values if letter in known.letters or letter in known.counts}
        new = {**circuit.values, **{letter: values[letter] for letter in carried}}
        return replace(circuit, item=settled(circuit.item, new), values=MappingProxyType(new))

    return replace(
        known,
        parts={name: _valued(part, {**_own(part), **values}) for name, part in known.parts.items()},
        circuits={name: again(circuit) for name, circuit in known.circuits.items()},
    )


def _own(part: Part) -> dict[str, Fraction]:
    return {worth.letter: worth.value for worth in part.worths() if worth.value is not None}
