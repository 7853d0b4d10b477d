"""What a trap's believer gets: the number here, when it would be right, what refutes it, and whose belief it is."""

from __future__ import annotations

from collections.abc import Iterator

from boardproof.algebra import meaning
from boardproof.algebra.dimension import dimensioned
from boardproof.algebra.expression import Expression, Limit, Name, Relation
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain
from boardproof.algebra.tidy import to_expression
from boardproof.belief.catalogue import BELIEFS, Belief
from boardproof.belief.rules import believed, fitting
from boardproof.circuit.look_up import Resolved
from boardproof.findings import Evidence, Finding
from boardproof.prove.figures import alone
from boardproof.prove.kinds import finding
from boardproof.prove.verdict import Verdict
from boardproof.prove.world import World
from boardproof.quantities import PURE, Dimension, Style, agrees, shown
from boardproof.source import Span

__all__ = ["other_belief", "trap_evidence"]


def _sides(statement: Relation | Limit, world: World) -> tuple[Name, Resolved, Expression] | None:
    """The quantity that a trap speaks of, and what it says of it."""
    if not isinstance(statement, Relation) or statement.sign not in {"=", "≈"}:
        return None
    for name, other in ((statement.left, statement.right), (statement.right, statement.left)):
        if isinstance(name, Name):
            meant = world.meant(name.text)
            if isinstance(meant, Resolved) and meant.ref.kind not in {"letter", "count"}:
                return name, meant, other
    return None


def trap_evidence(
    statement: Relation | Limit, verdict: Verdict, world: World, style: Style
) -> tuple[Evidence, ...]:
    """When it would be right, what its believer gets here, and what refutes it.

    Parameters
    ----------
    statement : Relation or Limit
        The tempting line.
    verdict : Verdict
        What was found of it.
    world : World
        Where it stands.
    style : Style
        How values are shown.
    """
    found: list[Evidence] = []
    if verdict.condition:
        found.append(Evidence("factors", f"It would be right if {verdict.condition}."))
    sides = _sides(statement, world)
    if sides is None:
        return tuple(found)
    name, _, other = sides
    wrong, right = _value(other, world), _value(name, world)
    dimension = dimensioned(name, world.dimension)
    size = dimension if isinstance(dimension, Dimension) else PURE
    here = [each.substitute(world.values()).as_number if each else None for each in (wrong, right)]
    if here[0] is not None and here[1] is not None and here[0] != here[1]:
        told = [shown(each, size, style) for each in here if each is not None]
        found.append(
            Evidence("working", f"Who believes it gets {plain(name)} = {told[0]} here; it is {told[1]}.")
        )
    if wrong is not None and right is not None and (limit := _limit(wrong, right, plain(name))):
        found.append(Evidence("working", limit))
    return tuple(found)


def _value(side: Expression, world: World) -> RationalFunction | None:
    found = meaning.value(side, world.in_letters, first=world.first_index)
    return None if isinstance(found, Unknown) else found


def _limit(wrong: RationalFunction, right: RationalFunction, name: str) -> str:
    """A case in which the two part plainly: a letter that grows without end, or shrinks to nothing."""
    best: tuple[int, str] | None = None
    for letter in sorted(right.letters | wrong.letters):
        for grows in (True, False):
            ends = _end(right, letter, grows=grows), _end(wrong, letter, grows=grows)
            if ends[0] == ends[1] or ends[0] in {"", "∞"}:
                continue
            case = f"Let {letter} {'grow without end' if grows else 'shrink to nothing'}"
            told = "grows without end" if ends[1] == "∞" else f"goes to {ends[1]}"
            text = f"{case}: {name} goes to {ends[0]}, but by this it {told}."
            length = len(ends[0]) + len(ends[1])
            if ends[1] and (best is None or length < best[0]):
                best = length, text
    return best[1] if best else ""


def _end(function: RationalFunction, letter: str, *, grows: bool) -> str:
    """What a ratio goes to, in words; empty if that is not plain."""
    over, under = function.numerator, function.denominator
    if grows:
        above, below = over.degree(letter), under.degree(letter)
        if above != below:
            return "∞" if above > below else "0"
        end = over.coefficients(letter)[above] / under.coefficients(letter)[below]
    else:
        rest = under.substitute({letter: RationalFunction.constant(0)})
        if rest.is_zero:
            return "∞" if not over.substitute({letter: RationalFunction.constant(0)}).is_zero else ""
        end = over.substitute({letter: RationalFunction.constant(0)}) / rest
    return plain(to_expression(end))


def other_belief(belief: Belief, statement: Relation | Limit, world: World, span: Span) -> Iterator[Finding]:
    """A finding if the belief that a trap names would say something else.

    Parameters
    ----------
    belief : Belief
        Named by the trap.
    statement : Relation or Limit
        The tempting line.
    world : World
        Where it stands.
    span : Span
        Where the belief is named.
    """
    sides = _sides(statement, world)
    if sides is None:
        return
    name, meant, other = sides
    says = believed(belief.key, meant)
    value = _value(other, world)
    if not says or value is None or any(_alike(each, other, value, world) for each in says):
        return
    told = " or ".join(f"{plain(name)} = {plain(to_expression(each))}" for each in says[:3])
    fits = [key for key in fitting(value, meant) if key in BELIEFS]
    facts = {"belief": belief.key.replace("_", " "), "says": told}
    if fits:
        facts["fits"] = " or ".join(each.replace("_", " ") for each in fits[:3])
    yield finding("other-belief", span, facts=facts)


def _alike(says: RationalFunction, typed: Expression, value: RationalFunction, world: World) -> bool:
    """Whether the trap says what the belief does: in letters, or as the number that comes out here."""
    if says == value:
        return True
    number, here = alone(typed), says.substitute(world.values()).as_number
    if number is not None and here is not None:
        return agrees(here, number.value, number.place)
    exact = value.as_number
    return exact is not None and here == exact
