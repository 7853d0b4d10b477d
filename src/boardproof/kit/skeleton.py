"""A lesson around a circuit: question, proven argument, numbers, pause, trap, claim, what comes next.

Every piece is offered in several forms, the best first. The whole lesson is checked as a teacher's own would be, and a
form that brings an error or a warning makes room for the next.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from types import MappingProxyType
from typing import Final

from boardproof.algebra.meaning import Unknown
from boardproof.circuit.model import Circuit
from boardproof.derive.block import written_block
from boardproof.derive.closing import written_value
from boardproof.derive.numbers import good_values
from boardproof.derive.routes import Unfitting
from boardproof.derive.steps import Derivation
from boardproof.findings import Diagnostic
from boardproof.kit.argument import Sought, argument
from boardproof.kit.files import CourseFolder
from boardproof.kit.ground import Ground, NotDerivable
from boardproof.kit.proof import Proof, prove_lessons
from boardproof.kit.tempting import claims, traps
from boardproof.lesson.course import Course
from boardproof.lesson.model import Derive
from boardproof.prove.walk import Place
from boardproof.quantities import PURE
from boardproof.record import record
from boardproof.source import Slice, Source, Span

__all__ = ["lesson_around"]

FIGURE_SPACE: Final = "\u2007"
WIDTH: Final = 100
BRANCH: Final = re.compile(r"\S+\s+from\s+\S+\s+to\s")
USUAL: Final[Mapping[str, str]] = MappingProxyType({"single": "junctions and loops"})
"""Where another route than the first that fits makes the better first lesson."""
NOWHERE: Final = Span("", 0, 0)


# -- the argument


def _wanted(ground: Ground) -> Iterator[tuple[str, ...]]:
    """What the lesson could derive, the best first."""
    if ground.group:
        yield (f"E_{ground.group}", f"r_{ground.group}")
        yield (f"E_{ground.group}",)
        yield (f"r_{ground.group}",)
    yield ("I",)
    for leaf in reversed(ground.circuit.leaves):
        if leaf.part.kind == "resistor":
            yield (f"I_{leaf.path.removeprefix('R_')}",)
            yield (f"I_{leaf.path}",)


def _derived(
    ground: Ground, block: Derive | None, route: str | None
) -> tuple[Sought, Derivation] | Unfitting:
    """The first of the targets that a route leads to; of what was asked for, that."""
    place = Place(0, 0, ground.circuit)
    if block is not None:
        sought = Sought(block, place)
        found = argument(ground.worlds, sought, route=route)
        return found if isinstance(found, Unfitting) else (sought, found)
    last = Unfitting(route or "", "nothing here could be derived")
    for targets in _wanted(ground):
        if not all(map(ground.is_known, targets)):
            continue
        named = tuple(Slice(target, NOWHERE) for target in targets)
        group = Slice(ground.group, NOWHERE) if ground.group and targets[0][:1] in "Er" else None
        sought = Sought(Derive(named, group, None, (), (), NOWHERE), place)
        found = argument(ground.worlds, sought, route=route or USUAL.get(ground.kind))
        if isinstance(found, Derivation) and found.is_proved:
            return sought, found
        last = found if isinstance(found, Unfitting) else last
    return last


# -- the lesson


@record
class _Slot:
    """One piece of the lesson in several forms; the last may be empty."""

    forms: tuple[str, ...]
    chosen: int = 0

    @property
    def text(self) -> str:
        return self.forms[self.chosen] if self.chosen < len(self.forms) else ""

    def next(self) -> _Slot:
        return replace(self, chosen=self.chosen + 1)


def lesson_around(
    ground: Ground,
    title: str,
    *,
    block: Derive | None = None,
    route: str | None = None,
    decimal_comma: bool = False,
) -> str | NotDerivable:
    """The text of a lesson that checks without an error or a warning.

    Parameters
    ----------
    ground : Ground
        The circuit.
    title : str
        Of the lesson.
    block : Derive or None
        What to derive; the group's EMF and resistance, or a current, if nothing is said.
    route : str or None
        By which route; the first that fits if nothing is said.
    decimal_comma : bool
        The course writes a comma, so the lesson says that it writes a point.
    """
    found = _derived(ground, block, route)
    if isinstance(found, Unfitting):
        return NotDerivable(f"{found.route}: {found.why}" if found.route else found.why)
    sought, derivation = found
    slots = list(_slots(ground, sought, derivation, title, decimal_comma=decimal_comma))
    for _ in range(sum(len(slot.forms) for slot in slots)):
        text = "\n\n".join(slot.text for slot in slots if slot.text) + "\n"
        proof = _proof(text)
        troubled = {_slot_at(slots, each) for each in proof.report.diagnostics if _matters(each)}
        if not troubled:
            return text
        slots = [slot.next() if place in troubled else slot for place, slot in enumerate(slots)]
        if any(not slot.text for slot in slots[:3]):
            break
    return NotDerivable("The lesson's own text did not check; this is a fault of the tool. Please report it.")


def _matters(each: Diagnostic) -> bool:
    return each.severity != "note" or each.code == "unchecked-statement"


def _wrapped(text: str) -> str:
    """A paragraph over several lines; maths and moves are never cut."""
    kept = re.sub(r"`[^`]*`|\$[^$]*\$", lambda match: match[0].replace(" ", FIGURE_SPACE), text)
    lines = textwrap.wrap(kept, WIDTH, break_long_words=False, break_on_hyphens=False)
    return "\n".join(lines).replace(FIGURE_SPACE, " ")


def _proof(text: str) -> Proof:
    folder = CourseFolder(Path(), Course(), (Source("new.lesson.md", text),), MappingProxyType({}))
    return next(iter(prove_lessons(folder)))


def _slot_at(slots: Sequence[_Slot], each: Diagnostic) -> int:
    """The piece that a finding points into; the argument for what is said of the lesson as a whole."""
    if each.code == "long-lesson":
        return 2
    start = 0
    for place, slot in enumerate(slots):
        start += len(slot.text) + 2 if slot.text else 0
        if each.span.start < start:
            return place
    return len(slots) - 1


QUESTION: Final[Mapping[str, str]] = MappingProxyType(
    {
        "single": "A real cell has something inside that hinders its own current. What is left for the load?",
        "series": "Put a second cell behind the first: the plus of one goes to the minus of the next. What does the "
        "load feel: more push, more hindrance, or both?",
        "parallel": "Side by side, plus to plus and minus to minus. Seen from the load these cells must look like one. "
        "Like which one?",
        "turned": "Look at the signs before anything else: not every cell here sits the same way round. What becomes "
        "of the ones against the rest?",
        "bank": "Rows, blocks, cells in cells. Nobody can add that up at a glance, and nobody has to: replace one "
        "group at a time, and the whole shrinks to a single cell.",
        "network": "This is no row and no stack of branches; there is no group to replace. What can be said of every "
        "junction and of every loop is enough.",
    }
)
NEXT: Final[Mapping[str, str]] = MappingProxyType(
    {
        "single": "Next we put a second cell behind this one. What adds, and what doesn't?",
        "series": "Next we put them side by side instead. Will anything still add?",
        "parallel": "Next we turn one of them round, and ask what the other one feels.",
        "turned": "Next we build rows and columns: as many cells as a real load asks for.",
        "bank": "Next we ask the other way about: a load is given, so how many rows, and how many cells in each?",
        "network": "Next we look for the one value of a resistor at which the middle carries nothing at all.",
    }
)
GUESS: Final = "Before we reckon, guess. Then let the circuit decide."


def _slots(
    ground: Ground, sought: Sought, derivation: Derivation, title: str, *, decimal_comma: bool
) -> Iterator[_Slot]:
    result = title.lower()
    settings = [f'establishes = ["{result}"]'] + (['[notation]\ndecimal = "point"'] if decimal_comma else [])
    numbers = _Numbers(ground, sought, derivation)
    lines = [*ground.lines, *derivation.definitions, *numbers.lines]
    settings_text = "\n".join(settings)
    circuit_text = "\n".join(f"  {line}" if BRANCH.match(line) else line for line in lines)
    yield _Slot((f"```lesson\n{settings_text}\n```\n\n# {title}",))
    arrow = "`arrow I` " if ground.is_known("I") else ""
    opening = f"## The question\n\n```circuit\n{circuit_text}\n```\n\n"
    question = QUESTION[ground.kind]
    yield _Slot((opening + _wrapped(f"{arrow}{question} {GUESS}"), opening + _wrapped(question)))
    yield _Slot(tuple(_argument_forms(ground, sought, derivation)))
    end = derivation.closing
    for line in end.limits:
        yield _Slot((f"$$ {line} $$", ""))
    yield _Slot((_wrapped(end.sentence), ""))
    yield _Slot((_result(sought, derivation, result),))
    if numbers.exist:
        yield _Slot((f"## In numbers\n\n{numbers.take}Now put the numbers in.", ""))
        yield _Slot((*numbers.worked(), *numbers.plain_lines, ""))
        yield _Slot((*numbers.pauses(), ""))
    else:
        yield _Slot((*_letter_pauses(sought, derivation), ""))
    heading = "## The tempting mistake\n\n" + (
        f"{numbers.take}Here is what many would write.\n\n" if numbers.take else ""
    )
    mistakes = [
        f"{heading}```trap\nwrong: {wrong}\nbelief: {belief}\n{words}\n```"
        for wrong, belief, words in traps(ground)
    ]
    yield _Slot((*mistakes, ""))
    general = [
        f"## Always?\n\nNot only with these numbers.\n\n```claim {result}, always\n{words}\nmeans: {means}\n```"
        for means, words in claims(ground)
    ]
    yield _Slot((*general, ""))
    yield _Slot((f"## What comes next\n\n{NEXT[ground.kind]}",))


def _argument_forms(ground: Ground, sought: Sought, derivation: Derivation) -> Iterator[str]:
    head = f"## The argument\n\n```derive {sought.words(derivation.route)}"
    units = f"\n\n{_wrapped(derivation.closing.units)}" if derivation.closing.units else ""
    yield f"{head}\n{written_block(derivation)}```{units}"
    short = replace(sought, block=replace(sought.block, manner=("briefly",)))
    brief = argument(ground.worlds, short, route=derivation.route)
    if isinstance(brief, Derivation):
        yield f"{head}, briefly\n{written_block(brief)}```"
    yield f"{head}, briefly\n```"


def _result(sought: Sought, derivation: Derivation, tag: str) -> str:
    """The result once more on the board, with its name."""
    found = []
    for target in sought.targets:
        for step in reversed(derivation.steps):
            line = next(
                (p.strip() for p in step.maths.split(" and ") if p.strip().startswith(f"{target} = ")), None
            )
            if line:
                found.append(line)
                break
    return f"$$ {',  '.join(found)} \\tag{{{tag}}} $$"


class _Numbers:
    """The numbers of the lesson: those typed, else some that come out well."""

    def __init__(self, ground: Ground, sought: Sought, derivation: Derivation) -> None:
        self.ground, self.sought = ground, sought
        circuit = ground.circuit
        open_letters = {*circuit.letters, *circuit.counts} - set(circuit.values)
        self.lines: tuple[str, ...] = ()
        self.take, self.exist = "", True
        if open_letters:
            values = self._drawn(circuit)
            self.exist = values is not None
            if values is not None:
                chosen = ", ".join(
                    f"{name} = {self._typed(name, values[name])}" for name in sorted(open_letters)
                )
                self.lines = (f"values chosen: {chosen}",)
                self.take = "`take main but chosen` " if "main" in ground.worlds.definitions.circuits else ""
                self.exist = bool(self.take)
                circuit = replace(circuit, values=MappingProxyType({**circuit.values, **values}))
        self.valued = replace(ground, circuit=circuit)
        there = replace(sought, place=Place(0, 0, circuit))
        again = argument(ground.worlds, there, route=derivation.route, numbers=True) if self.exist else None
        self.derived = again.closing.numbers if isinstance(again, Derivation) else ()

    def _drawn(self, circuit: Circuit) -> Mapping[str, Fraction] | None:
        world = self.ground.worlds.of(circuit)
        more = ("I",) if self.ground.is_known("I") else ()
        for targets in ((*self.sought.targets, *more), self.sought.targets, more):
            found = good_values(world, targets, kept=circuit.values) if targets else None
            if found is not None:
                return found
        return None

    def _typed(self, name: str, value: Fraction) -> str:
        known = self.ground.worlds.definitions.letters.get(name)
        return written_value(value, known.dimension if known else PURE)[0]

    def amount(self, name: str) -> str | None:
        """``I = 0.5 A``, or with ≈ where it was rounded."""
        world = self.valued.world
        value = world.in_numbers(name)
        if isinstance(value, Unknown):
            return None
        text, is_exact = written_value(value, world.dimension(name) or PURE)
        return f"{name} {'=' if is_exact else '≈'} {text}"

    def worked(self) -> Iterator[str]:
        """The results with their working, where that fits on a board."""
        if self.derived and max(map(len, self.derived)) <= WIDTH:
            yield "\n".join(f"$$ {line} $$" for line in self.derived)

    @property
    def plain_lines(self) -> tuple[str, ...]:
        """The results without their working."""
        found = [amount for target in self.sought.targets if (amount := self.amount(target))]
        return ("\n".join(f"$$ {line} $$" for line in found),) if found else ()

    def pauses(self) -> Iterator[str]:
        """A task with its answer."""
        tasks = {
            "I": "Find the current that the load takes.",
            "V": "Find the p.d. across the load.",
            **{target: f"Find ${target}$." for target in self.sought.targets},
        }
        for name, task in tasks.items():
            amount = self.amount(name) if self.ground.is_known(name) else None
            if amount:
                yield f"```pause 30 s\n{task}\nanswer:\n${amount}$.\n```"


def _letter_pauses(sought: Sought, derivation: Derivation) -> Iterator[str]:
    """A task in letters: units, or what happens at the end of the range."""
    target = sought.targets[-1]
    for line in derivation.closing.limits:
        if line.startswith(f"{target} ->"):
            when = (
                line.partition(" as ")[2].replace("->", "grows to").replace("grows to 0", "shrinks to nought")
            )
            yield f"```pause 30 s\nWhat becomes of ${target}$ as {_dollars(when)}?\nanswer:\n${line}$.\n```"


def _dollars(when: str) -> str:
    letter, _, rest = when.partition(" ")
    return f"${letter}$ {rest.replace('infinity', 'any size')}"
