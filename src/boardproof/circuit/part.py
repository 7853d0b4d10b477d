"""Parts with their letters and values, from a kind and what was written after it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final, Literal, cast

from boardproof.circuit.kinds import finding
from boardproof.circuit.model import Kind, Part, Worth
from boardproof.circuit.spelling import head, squeezed
from boardproof.circuit.written import Entry
from boardproof.findings import Finding
from boardproof.quantities import FARAD, OHM, VOLT, Dimension, si_unit
from boardproof.source import Span

__all__ = ["ROLES", "at_index", "default_letter", "made_part", "role_dimension", "with_entries"]

Role = Literal["emf", "resistance", "capacitance"]
ROLES: Final[dict[Kind, tuple[Role, ...]]] = {
    "cell": ("emf", "resistance"),
    "source": ("emf",),
    "resistor": ("resistance",),
    "lamp": ("resistance",),
    "ammeter": ("resistance",),
    "voltmeter": ("resistance",),
    "capacitor": ("capacitance",),
    "switch": (),
    "wire": (),
    "diode": (),
}
DIMENSIONS: Final[dict[Role, Dimension]] = {"emf": VOLT, "resistance": OHM, "capacitance": FARAD}
# An ideal meter has no resistance to speak of, so it carries no letter until it is given one.
CARRIED: Final[frozenset[Kind]] = frozenset({"cell", "source", "resistor", "lamp", "capacitor"})
HEADS: Final[dict[str, Role]] = {"E": "emf", "U": "emf", "e": "emf", "r": "resistance", "R": "resistance"}
CHEMISTRIES: Final[dict[str, Literal["rechargeable", "lithium", "lead-acid"]]] = {
    "rechargeable": "rechargeable",
    "lithium": "lithium",
    "lead-acid": "lead-acid",
}
SAID: Final[dict[Role, str]] = {"emf": "An EMF", "resistance": "A resistance", "capacitance": "A capacitance"}


def role_dimension(role: Role) -> Dimension:
    """Dimension of what a part carries in a role.

    Parameters
    ----------
    role : Role
        EMF, resistance or capacitance.

    Examples
    --------
    >>> from boardproof.quantities import AMPERE
    >>> role_dimension("resistance") == VOLT / AMPERE
    True
    """
    return DIMENSIONS[role]


def default_letter(name: str, kind: Kind, role: Role) -> str:
    """The letter that nobody has to give: ``E_A``, ``r_A``; R and R_1 are themselves.

    Parameters
    ----------
    name : str
        The part's, in normal form.
    kind : Kind
        What the part is.
    role : Role
        What the letter stands for.

    Examples
    --------
    >>> default_letter("A_1", "cell", "emf"), default_letter("R_1", "resistor", "resistance")
    ('E_A1', 'R_1')
    >>> default_letter("L", "lamp", "resistance")
    'R_L'
    """
    initial = {"emf": "E", "resistance": "r" if kind == "cell" else "R", "capacitance": "C"}[role]
    own = kind in {"resistor", "capacitor"} and head(name).startswith(initial) and "." not in name
    return name if own else f"{initial}_{squeezed(name)}"


def at_index(name: str, index: str, number: str) -> str:
    """A family's name or letter for one member: ``E_k`` at 3 is ``E_3``.

    Parameters
    ----------
    name : str
        With the index as its end.
    index : str
        The family's letter.
    number : str
        That of the member.

    Examples
    --------
    >>> at_index("E_k", "k", "3"), at_index("R", "k", "3")
    ('E_3', 'R')
    """
    return name[: -len(index)] + number if name.endswith(index) else name


def made_part(
    name: str, kind: Kind, entries: Sequence[Entry], span: Span
) -> tuple[Part, tuple[Finding, ...]]:
    """A part and what was wrong with its values; a wrong value leaves the letter free.

    Parameters
    ----------
    name : str
        In normal form.
    kind : Kind
        What it is.
    entries : sequence of Entry
        Values and letters in any order.
    span : Span
        Where it is defined.
    """
    part = Part(name, kind, span=span)
    for role in ROLES[kind] if kind in CARRIED else ():
        part = _with(part, role, Worth(default_letter(name, kind, role), span=span))
    return with_entries(part, entries)


def with_entries(
    part: Part, entries: Sequence[Entry], own: str | None = None
) -> tuple[Part, tuple[Finding, ...]]:
    """The part with further values; with `own` (a path) it gets letters of its own for them.

    Parameters
    ----------
    part : Part
        As it stands.
    entries : sequence of Entry
        Values and letters in any order; of two for one role the first holds.
    own : str, optional
        Path of a single member of copies.

    Returns
    -------
    part : Part
        The new one.
    findings : tuple of Finding
        What could not be given to it.
    """
    wrong: list[Finding] = []
    given: set[Role] = set()
    for entry in entries:
        if entry.state:
            found = _state(part, entry)
            part, wrong = (part, [*wrong, found]) if isinstance(found, Finding) else (found, wrong)
            continue
        role = _role(part, entry)
        if isinstance(role, Finding):
            wrong.append(role)
            continue
        old = _worth(part, role)
        letter = entry.letter or (
            old.letter if old and not own else default_letter(own or part.name, part.kind, role)
        )
        if role in given:
            why = f"{SAID[role].lower()} is given twice"
            wrong.append(finding("unread-line", entry.span, why=why))
            continue
        given.add(role)
        kept = old.value if old and old.letter == letter and entry.value is None else entry.value
        part = _with(part, role, Worth(letter, kept, entry.span))
    return part, tuple(wrong)


def _worth(part: Part, role: Role) -> Worth | None:
    return cast("Worth | None", getattr(part, role))


def _with(part: Part, role: Role, worth: Worth) -> Part:
    match role:
        case "emf":
            return replace(part, emf=worth)
        case "resistance":
            return replace(part, resistance=worth)
        case "capacitance":
            return replace(part, capacitance=worth)


def _state(part: Part, entry: Entry) -> Part | Finding:
    state = entry.state or ""
    if state in {"open", "closed"} and part.kind == "switch":
        return replace(part, closed=state == "closed")
    if state not in {"open", "closed"} and part.kind in {"cell", "source"}:
        return replace(part, chemistry=CHEMISTRIES[state])
    what = "a switch" if state in {"open", "closed"} else "a cell"
    return finding(
        "unread-line", entry.span, why=f"only {what} can be {state}, and {part.name} is a {part.kind}"
    )


def _role(part: Part, entry: Entry) -> Role | Finding:
    """Which of the part's letters a value is for."""
    roles = ROLES[part.kind]
    if entry.value is not None and entry.unit is None:
        units = [si_unit(DIMENSIONS[role]) for role in roles]
        better = " or ".join(f"{entry.value} {unit.symbol}" for unit in units if unit)
        return finding("missing-unit", entry.span, number=str(entry.value), better=better)
    if entry.unit:
        for role in roles:
            if DIMENSIONS[role] == entry.unit.dimension:
                return role
        what = SAID[roles[0]] if len(roles) == 1 else f"A value of a {part.kind}"
        better = " or ".join(f"{unit.symbol}" for role in roles if (unit := si_unit(DIMENSIONS[role])))
        better = better and f"It is given in {better}."
        return finding("wrong-unit", entry.span, what=what, unit=entry.unit.symbol, better=better)
    if len(roles) == 1:
        return roles[0]
    guess = HEADS.get(head(entry.letter or ""))
    if guess in roles:
        return guess
    why = f"I can't tell what {entry.letter} is of a {part.kind}"
    return finding("unread-line", entry.span, why=why, forms="Begin an EMF with E, a resistance with r.")
