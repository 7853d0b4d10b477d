"""The route for any network: junctions and loops, with the elimination shown line by line."""

from __future__ import annotations

import math
from fractions import Fraction

from boardproof.algebra.linear import Singular, solve_linear
from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import Leaf, has_cells
from boardproof.circuit.quantity import QuantityRef
from boardproof.derive.closed import LINE_AT_MOST, finished
from boardproof.derive.loops import Edge, edges_of, loops
from boardproof.derive.naming import Nameless
from boardproof.derive.steps import Derivation
from boardproof.derive.task import Task, Unfit
from boardproof.derive.typed import bracketed, signed_sum, text
from boardproof.record import record

__all__ = ["junctions_and_loops"]

Linear = dict[int, RationalFunction]
ZERO = RationalFunction.constant(0)
EMF = -1
UNKNOWNS_AT_MOST = 9


@record
class _Line:
    """An equation between currents, the step it was written in; key `EMF` holds what stands alone (negative)."""

    terms: Linear
    step: int


class _Currents:
    """Names for the currents, by number, each with the sign it is counted in."""

    def __init__(self, task: Task) -> None:
        self.task = task
        self.named: dict[int, tuple[str, int]] = {}
        for target in task.targets:
            ref = task.names.means(target)
            entry = task.names.wired.entry(ref.of[0]) if isinstance(ref, QuantityRef) and ref.of else None
            if isinstance(ref, QuantityRef) and ref.kind == "current" and entry is not None:
                self.named.setdefault(entry.current[0], (target, entry.current[1] * ref.sense))

    def name(self, number: int) -> tuple[str, int]:
        """Name and sign of a current: of a cell rather than a load, of a part rather than a group."""
        if number not in self.named:
            entries = [
                (path, entry)
                for path, entry in self.task.names.wired.entries.items()
                if entry.current[0] == number
            ]
            entries.sort(key=lambda pair: (not isinstance(pair[1].item, Leaf), not has_cells(pair[1].item)))
            for path, entry in entries:
                try:
                    self.named[number] = (self.task.names.name("current", path), entry.current[1])
                    break
                except Nameless:
                    continue
            else:
                raise Unfit("a current has no name; give the group a name")
        return self.named[number]

    def written(self, terms: Linear) -> str:
        """A sum of currents, each with what stands before it."""
        pieces: list[tuple[int, str]] = []
        for number, weight in terms.items():
            if number == EMF or weight.is_zero:
                continue
            name, sign = self.name(number)
            before = weight * sign
            turned = before.one_signed < 0
            size = -before if turned else before
            written = name if size == 1 else f"{name} {bracketed(size)}"
            if size != 1 and bracketed(size)[0].isdigit():
                written = f"{bracketed(size)} {name}"
            pieces.append((-1 if turned else 1, written))
        pieces.sort(key=lambda pair: -pair[0])
        return signed_sum(pieces) if pieces else "0"


def junctions_and_loops(task: Task) -> Derivation:
    """Every junction, every loop, then one current after the other put in until one is left.

    Parameters
    ----------
    task : Task
        For currents of any closed circuit.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E, r; R = resistor; main = A across R", "I")
    >>> junctions_and_loops(asked).steps[-1].maths
    'I = E/(R + r)'
    """
    refs = [task.names.means(target) for target in task.targets]
    if not refs or not all(isinstance(ref, QuantityRef) and ref.kind in ("current", "pd") for ref in refs):
        raise Unfit("it gives currents and p.d.s of a closed circuit, and something else is wanted")
    currents = _Currents(task)
    numbers = {edge.entry.current[0] for edge in edges_of(task)}
    if not numbers:
        raise Unfit("no current can flow in it")
    if len(numbers) > UNKNOWNS_AT_MOST:
        raise Unfit(f"{len(numbers)} currents are too many for a board; reduce the circuit first")
    at_junctions = _junctions(task, currents)
    round_loops = _loops(task, currents)
    if not at_junctions and not round_loops:
        raise Unfit("there is no loop in it")
    if not task.draft.briefly:
        round_loops = _rewritten(task, currents, at_junctions, round_loops)
        round_loops = _eliminated(task, currents, round_loops)
    steps = [line.step for line in (*at_junctions, *round_loops)]
    last = (
        "Put these into each other, and one unknown is left." if len(numbers) > 1 else "Take the current out."
    )
    for target, ref in zip(task.targets, refs, strict=True):
        assert isinstance(ref, QuantityRef)
        rules = ("algebra",) if ref.kind == "current" else ("Ohm's law", "cell rule", "loop rule")
        finished(task, target, rules, steps, last)
    return task.done(
        "junctions and loops", "What flows in flows out, and every loop ends at the height it began."
    )


def _junctions(task: Task, currents: _Currents) -> list[_Line]:
    """All junctions that say something new."""
    lines: list[_Line] = []
    for terms in task.names.wired.junctions:
        one = {number: weight for weight, number in terms}
        if _is_new(one, [line.terms for line in lines]):
            inward = {
                number: weight for number, weight in one.items() if _leans(currents, number, weight) > 0
            }
            outward = {number: -weight for number, weight in one.items() if number not in inward}
            left, right = currents.written(outward), currents.written(inward)
            if len(outward) > len(inward):
                left, right = right, left
            say = "What flows in flows out." if lines else (
                "What is the same? At a junction nothing is lost: what flows in flows out. I draw each arrow before I "
                "know; a minus will tell me if it runs the other way."
            )  # fmt: skip
            lines.append(_Line(one, task.draft.add(f"{left} = {right}", "junction rule", say=say)))
    return lines


def _leans(currents: _Currents, number: int, weight: RationalFunction) -> int:
    return (weight * currents.name(number)[1]).one_signed


def _is_new(one: Linear, others: list[Linear]) -> bool:
    """Whether a sum of currents does not follow from others."""
    columns = sorted({number for terms in (one, *others) for number in terms})
    rows = [[terms.get(number, ZERO) for number in columns] for terms in (*others, one)]
    if not others:
        return True
    turned = [list(column) for column in zip(*rows, strict=True)]
    found = solve_linear(turned, [ZERO] * len(columns))
    return not (isinstance(found, Singular) and found.rank < len(rows))


def _loops(task: Task, currents: _Currents) -> list[_Line]:
    """One line for each loop."""
    lines: list[_Line] = []
    for walked in loops(edges_of(task)):
        lines.append(_loop(task, currents, walked, is_first=not lines))
    return lines


def _loop(task: Task, currents: _Currents, walked: list[tuple[Edge, int]], *, is_first: bool) -> _Line:
    emf: RationalFunction = ZERO
    terms: Linear = {}
    for edge, sign in walked:
        emf = emf + edge.emf * sign
        number, turn = edge.entry.current
        terms[number] = terms.get(number, ZERO) + edge.resistance * (sign * turn)
    if len(text(emf)) > 1 and text(emf).startswith("-"):
        emf, terms = -emf, {number: -weight for number, weight in terms.items()}
    parts = "; ".join(edge.entry.item.path for edge, _ in walked if edge.resistance).replace("; ", ", ")
    say = f"Walk once round through {parts}: what lifts us and what lowers us must cancel."
    if is_first:
        say = f"Back at the start we are as high as before. {say}"
    focus = " and ".join(edge.entry.item.path for edge, _ in walked)
    left = text(emf)
    step = task.draft.add(
        f"{left} = {currents.written(terms)}",
        "loop rule",
        say=say,
        moves=(f"focus {focus.replace(' and ', ', ')}",),
    )
    return _Line({**terms, EMF: -emf}, step)


def _write(task: Task, currents: _Currents, terms: Linear, from_: list[int], say: str) -> _Line:
    written = f"{text(-terms.get(EMF, ZERO))} = {currents.written(terms)}"
    if len(written) > LINE_AT_MOST:
        raise Unfit("the lines in letters would be too long for a board; reduce the circuit first")
    return _Line(terms, task.draft.add(written, "algebra", from_=from_, say=say))


def _put(terms: Linear, number: int, given: Linear) -> Linear:
    """A current put in from an equation that holds it."""
    if number not in terms:
        return terms
    factor = terms[number] / given[number]
    result = {each: weight for each, weight in terms.items() if each != number}
    for each, weight in given.items():
        if each != number:
            result[each] = result.get(each, ZERO) - weight * factor
    return {each: weight for each, weight in result.items() if weight}


def _rewritten(
    task: Task, currents: _Currents, at_junctions: list[_Line], round_loops: list[_Line]
) -> list[_Line]:
    """The loops in as few currents as there are loops."""
    if not at_junctions:
        return round_loops
    wanted = {
        entry.current[0]
        for target in task.targets
        if isinstance(ref := task.names.means(target), QuantityRef)
        and (entry := task.names.wired.entry(ref.of[0]))
    }
    given: list[tuple[int, Linear]] = []
    for line in at_junctions:
        terms = line.terms
        for number, before in given:
            terms = _put(terms, number, before)
        usable = [number for number, weight in terms.items() if number != EMF and weight.one_signed]
        if not usable:
            raise Unfit("its junctions do not part the currents plainly")
        given.append((min(usable, key=lambda number: (number in wanted, -number)), terms))
    lines = []
    for line in round_loops:
        terms = line.terms
        for number, before in given:
            terms = _put(terms, number, before)
        if terms == line.terms:
            lines.append(line)
            continue
        from_ = [line.step, *(each.step for each in at_junctions)]
        lines.append(
            _write(task, currents, _whole(terms), from_, "The junctions put into the loop: fewer unknowns.")
        )
    return lines


def _eliminated(task: Task, currents: _Currents, lines: list[_Line]) -> list[_Line]:
    """One current after the other leaves the lines; the wanted one stays to the end."""
    kept: list[_Line] = []
    wanted = {
        entry.current[0]
        for target in task.targets
        if isinstance(ref := task.names.means(target), QuantityRef)
        and (entry := task.names.wired.entry(ref.of[0]))
    }
    left = list(lines)
    while len(left) > 1:
        usable = [
            (number in wanted, len(weight.terms()), place, number)
            for place, line in enumerate(left)
            for number, weight in line.terms.items()
            if number != EMF and weight.one_signed
        ]
        if not usable:
            return [*kept, *left]
        _, _, place, number = min(usable)
        given = left.pop(place)
        kept.append(given)
        name = currents.name(number)[0]
        done = []
        for line in left:
            terms = _put(line.terms, number, given.terms)
            done.append(
                line
                if terms == line.terms
                else _write(
                    task,
                    currents,
                    _whole(terms),
                    [line.step, given.step],
                    f"Put {name} in from the line above.",
                )
            )
        left = done
    return [*kept, *left]


def _whole(terms: Linear) -> Linear:
    """The same equation without fractions and common factors, the EMFs before it positive."""
    common = RationalFunction.constant(1)
    for weight in terms.values():
        common = common * (weight.denominator / common).numerator
    whole = {number: weight * common for number, weight in terms.items()}
    first = next(iter(whole.values()))
    for factor, _ in first.factors()[1]:
        while factor.one_signed and all((weight / factor).denominator == 1 for weight in whole.values()):
            whole = {number: weight / factor for number, weight in whole.items()}
    number = math.gcd(*(abs(term) for weight in whole.values() for _, term in weight.terms()))
    sign = -1 if text(-whole.get(EMF, ZERO)).startswith("-") else 1
    return {each: weight * Fraction(sign, number) for each, weight in whole.items()}
