"""Pictures in words, for whoever can't see them: what is joined to what, and values that were given."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache

from boardproof.circuit.model import How, Part
from boardproof.picture.plan import Closed, Dots, Plan, Row, Spot, Stack, Web
from boardproof.quantities import FARAD, OHM, VOLT, shown

__all__ = ["told_circuit", "told_part"]

_shown = lru_cache(maxsize=1024)(shown)

CHANGED: Mapping[How, str] = {
    "turned": "turned round",
    "open": "broken open",
    "shorted": "shorted by a wire",
    "removed": "taken away",
    "without emf": "with its EMF taken out",
}


def told_part(part: Part, values: Mapping[str, Fraction], changes: tuple[How, ...] = ()) -> str:
    r"""A part with its given values.

    Parameters
    ----------
    part : Part
        The part, with its values.
    values : mapping of str to Fraction
        Of the circuit at hand, in SI units.
    changes : tuple of How
        What was done to it.

    Examples
    --------
    >>> from boardproof.circuit.model import Worth
    >>> told_part(Part("R", "resistor", resistance=Worth("R")), {"R": Fraction(10)}, ("open",))
    'resistor R (R = 10\u202fΩ), broken open'
    """
    given = []
    for worth, dimension in ((part.emf, VOLT), (part.resistance, OHM), (part.capacitance, FARAD)):
        if worth is not None:
            value = values.get(worth.letter, worth.value)
            given.append(worth.letter if value is None else f"{worth.letter} = {_shown(value, dimension)}")
    state = (" closed" if part.closed else " open") if part.kind == "switch" else ""
    text = f"{part.kind} {part.name}{state}" + (f" ({', '.join(given)})" if given else "")
    return ", ".join([text, *(CHANGED[how] for how in changes)])


def told_circuit(plan: Plan, values: Mapping[str, Fraction]) -> str:
    """A circuit's connections in words, without anything that was worked out.

    Parameters
    ----------
    plan : Plan
        What stands where, still without measures.
    values : mapping of str to Fraction
        Of the circuit at hand, in SI units.

    Returns
    -------
    str
        One sentence.

    Examples
    --------
    >>> told_circuit(Row((Spot("A", Part("A", "cell")), Spot("S", Part("S", "switch")))), {})
    'In series: cell A; switch S open.'
    """
    match plan:
        case Closed(top=top, bottom=bottom):
            return f"A complete circuit. {_told(top, values)}; joined across it: {_told(bottom, values)}."
        case _:
            text = _told(plan, values)
            return f"{text[:1].upper()}{text[1:]}."


def _told(plan: Plan, values: Mapping[str, Fraction]) -> str:
    match plan:
        case Spot():
            turned = not plan.forward and plan.part.kind in {"cell", "source"}
            where = ", plus at the left" if turned else ""
            return told_part(plan.part, values, plan.changes) + where
        case Dots(count=count):
            return f"{count} more like these, not drawn" if count else "and so on"
        case Row(items=items):
            inner = "; ".join(_inside(each, values) for each in items)
            return f"in series: {inner}" + _after(plan.changes, plan.note)
        case Stack(items=items):
            inner = "; ".join(_inside(each, values) for each in items)
            return f"in parallel: {inner}" + _after(plan.changes, plan.note)
        case Web():
            inner = "; ".join(f"{_inside(each, values)} from {a} to {b}" for each, a, b in plan.branches)
            return f"a network from {plan.left} to {plan.right}: {inner}" + _after(plan.changes, "")
        case Closed(top=top, bottom=bottom):
            return f"{_inside(top, values)} across {_inside(bottom, values)}"


def _inside(plan: Plan, values: Mapping[str, Fraction]) -> str:
    text = _told(plan, values)
    return text if isinstance(plan, Spot | Dots) else f"({text})"


def _after(changes: tuple[How, ...], note: str) -> str:
    told = [CHANGED[how] for how in changes] + ([note] if note else [])
    return f" ({', '.join(told)})" if told else ""
