"""Reading a brief: the fields of a lesson's block, or the same lines typed by themselves."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from typing import Any, Final

from boardproof.findings import Finding
from boardproof.pack.brief import AIMS, PackBrief, Supply
from boardproof.pack.kinds import finding
from boardproof.pack.phrase import mass_of, number_of, quantity_of, read_phrase, share_of, split_phrases
from boardproof.pack.supply import Known, Misread, read_supply
from boardproof.quantities import AMPERE, JOULE, SECOND, VOLT
from boardproof.record import record
from boardproof.source import Slice, Span

__all__ = ["FORMS", "BriefRead", "read_brief", "read_typed", "typed_supplies"]

FORMS: Final = {
    "voltage": "at least 12 V at the load, at most 18 V with no load",
    "current": "3 A, peak 5 A for 10 s",
    "for": "6 h",
    "cells": "AA alkaline, at most 60",
    "each cell": "at most 0.75 A",
    "sag": "at most 10 %",
    "mass": "at most 2 kg",
    "cost": "at most 40",
    "best": "fewest cells",
}
CHARGE: Final = re.compile(r"(.*?)\s+at\s+(\S+\s*%)\s+charge")
ABOUT: Final = Fraction(1, 20)
"""How far "about" reaches on either side: our own choice."""
LONGEST: Final = 10_000
MOST_KINDS: Final = 20
MOST_CELLS: Final = 144


@record
class BriefRead:
    """What was read: the brief, or findings that say why there is none."""

    brief: PackBrief | None
    findings: tuple[Finding, ...] = ()


class _Unread(Exception):
    """A phrase that says nothing here; caught where its line is known."""


def _need(value: Fraction | None) -> Fraction:
    if value is None:
        raise _Unread
    return value


def read_typed(
    text: str, known: Known = lambda _: None, *, name: str = "brief", decimal: str = "."
) -> BriefRead:
    r"""A brief typed by itself: one field a line, or parted by semicolons.

    Parameters
    ----------
    text : str
        Lines ``word: value``; what stands behind ``#`` is a comment.
    known : callable
        Gives the cell of a name.
    name : str
        Of the text, for findings.
    decimal : str
        The decimal mark.

    Examples
    --------
    >>> read_typed("voltage: 6 V; current: 0.5 A; cells: AA alkaline").brief.supplies[0].cell.name
    'AA alkaline'
    """
    fields, found = _fields(text, name)
    read = read_brief(fields, Span(name, 0, max(1, len(text))), known, decimal=decimal)
    return BriefRead(None if found else read.brief, (*found, *read.findings))


def typed_supplies(
    text: str, *, name: str = "cells", decimal: str = "."
) -> tuple[tuple[Supply, ...], tuple[Finding, ...]]:
    """The cells lines of a typed text alone.

    Parameters
    ----------
    text : str
        As for `read_typed`; other lines are left aside.
    name : str
        Of the text, for findings.
    decimal : str
        The decimal mark.

    Examples
    --------
    >>> [each.cell.name for each in typed_supplies("cells: A 2 V, 1 ohm; cells: B 3 V, 1 ohm")[0]]
    ['A', 'B']
    """
    fields, found = _fields(text, name)
    reads = [
        (value, read_supply(value.text, lambda _: None, decimal)) for key, value in fields if key == "cells"
    ]
    faults = [_misread(each, value.span) for value, each in reads if isinstance(each, Misread)]
    if not reads:
        form = f"cells: {FORMS['cells']}"
        faults.append(
            finding("incomplete-brief", Span(name, 0, max(1, len(text))), what="which cells", form=form)
        )
    return tuple(each for _, each in reads if isinstance(each, Supply))[:MOST_CELLS], (*found, *faults)


def _fields(text: str, name: str) -> tuple[list[tuple[str, Slice]], list[Finding]]:
    """Lines of a typed brief, each with its place."""
    fields: list[tuple[str, Slice]] = []
    found: list[Finding] = []
    if len(text) > LONGEST:
        long = f"a text of {len(text)} characters"
        return [], [
            finding("unread-brief", Span(name, 0, 1), text=long, field="a brief", form=FORMS["cells"])
        ]
    for piece in re.finditer(r"[^;\n]+", text):
        body = re.sub(r"(^|\s)#.*", "", piece[0])
        if not body.strip():
            continue
        start = piece.start() + len(body) - len(body.lstrip())
        whole = Slice(body.strip(), Span(name, start, start + len(body.strip())))
        word, colon, _ = whole.text.partition(":")
        key = " ".join(word.casefold().split())
        if colon and key in FORMS:
            fields.append((key, whole.part(len(word) + 1, len(whole.text)).trimmed()))
            continue
        facts = {
            "text": whole.text[:60],
            "field": "a brief",
            "form": f"WORD: VALUE, with a WORD of {', '.join(FORMS)}",
        }
        found.append(finding("unread-brief", whole.span, **facts))
    return fields, found


def read_brief(
    fields: Iterable[tuple[str, Slice]], span: Span, known: Known, *, purpose: str = "", decimal: str = "."
) -> BriefRead:
    """The brief that its fields describe.

    Parameters
    ----------
    fields : iterable of (str, Slice)
        Name and value; "cells" may repeat.
    span : Span
        Of the whole, for what is missing.
    known : callable
        Gives the cell of a name.
    purpose : str
        What it is for.
    decimal : str
        The course's decimal mark.
    """
    said: dict[str, Any] = {"purpose": purpose}
    supplies: list[Supply] = []
    found: list[Finding] = []
    given = tuple(fields)
    for name, value in given:
        if name == "cells":
            supply = read_supply(value.text, known, decimal)
            if isinstance(supply, Supply):
                supplies.append(supply)
            else:
                found.append(_misread(supply, value.span))
            continue
        try:
            said |= READERS[name](split_phrases(value.text), decimal)
        except _Unread:
            found.append(
                finding(
                    "unread-brief", value.span, text=value.text or "nothing", field=name, form=FORMS[name]
                )
            )
    told = {name for name, _ in given}
    for key, what in (("least", "voltage"), ("current", "current"), ("cells", "cells")):
        if what not in told:
            facts = {"what": f"which {what}", "form": f"{what}: {FORMS[what]}"}
            found.append(finding("incomplete-brief", span, **facts))
        elif (
            key == "least" and key not in said and not any(each.kind.code == "unread-brief" for each in found)
        ):
            facts = {"what": "how much p.d. must be left at least", "form": f"voltage: {FORMS['voltage']}"}
            found.append(finding("incomplete-brief", span, **facts))
    if found:
        return BriefRead(None, tuple(found))
    # Where nobody said when, the least p.d. must hold to the end: the cautious reading.
    return BriefRead(PackBrief(supplies=tuple(supplies[:MOST_KINDS]), **({"at_charge": Fraction(0)} | said)))


def _misread(fault: Misread, span: Span) -> Finding:
    if fault.code == "unknown-cell":
        near = (
            f"Near it in the cell library: {fault.near}."
            if fault.near
            else ("Give its figures: `cells: Z 1.5 V, 0.4 ohm`.")
        )
        return finding("unknown-cell", span, name=fault.text or "nothing", near=near)
    return finding("unread-brief", span, text=fault.text, field="cells", form=FORMS["cells"])


def _voltage(phrases: tuple[str, ...], decimal: str) -> dict[str, Any]:
    said: dict[str, Any] = {}
    for text in phrases:
        phrase = read_phrase(text)
        words, charge = phrase.words, None
        found = CHARGE.fullmatch(words)
        if found:
            words, charge = found[1], share_of(found[2], decimal)
            if charge is None or charge > 1:
                raise _Unread
        for ending, value in ((" when full", Fraction(1)), (" when empty", Fraction(0))):
            if words.endswith(ending):
                words, charge = words.removesuffix(ending), value
        at_rest = words.endswith(" with no load")
        value = _need(
            quantity_of(words.removesuffix(" with no load").removesuffix(" at the load"), VOLT, decimal)
        )
        reach = ABOUT if phrase.bound == "about" else Fraction(0)
        if phrase.bound != "at most":
            if at_rest and phrase.bound in {"", "at least"}:
                raise _Unread  # a p.d. with no load says nothing of what is left at the load
            said["least"] = value * (1 - reach)
        if phrase.bound in {"at most", "about"}:
            at_load = words.endswith(" at the load")
            said["most_at_load" if at_load else "most"] = value * (1 + reach)
        if charge is not None and phrase.bound != "at most":
            said["at_charge"] = charge
    return said


def _current(phrases: tuple[str, ...], decimal: str) -> dict[str, Any]:
    said: dict[str, Any] = {}
    for text in phrases:
        words, _, time = read_phrase(text).words.partition(" for ")
        is_peak = words.startswith("peak ") or words.endswith(" peak")
        bare = (
            words.removeprefix("peak ").removesuffix(" peak").removesuffix(" steady").removeprefix("steady ")
        )
        said["peak" if is_peak else "current"] = _need(quantity_of(bare, AMPERE, decimal))
        if time:
            said["peak_seconds" if is_peak else "seconds"] = _need(quantity_of(time, SECOND, decimal))
    if "current" not in said:
        said["current"] = _need(said.get("peak"))
    return said


def _time(phrases: tuple[str, ...], decimal: str) -> dict[str, Any]:
    said: dict[str, Any] = {}
    for text in phrases:
        words = read_phrase(text).words
        seconds = quantity_of(words, SECOND, decimal)
        if seconds is not None:
            said["seconds"] = seconds
        else:
            said["energy"] = _need(quantity_of(words, JOULE, decimal))
    return said


def _one(phrases: tuple[str, ...]) -> str:
    if len(phrases) != 1 or read_phrase(phrases[0]).bound == "at least":
        raise _Unread
    return read_phrase(phrases[0]).words


def _each_cell(phrases: tuple[str, ...], decimal: str) -> dict[str, Any]:
    return {"each_cell": _need(quantity_of(_one(phrases), AMPERE, decimal))}


def _sag(phrases: tuple[str, ...], decimal: str) -> dict[str, Any]:
    share = share_of(_one(phrases), decimal)
    if share is not None:
        return {"sag_share": share}
    return {"sag": _need(quantity_of(_one(phrases), VOLT, decimal))}


def _mass(phrases: tuple[str, ...], decimal: str) -> dict[str, Any]:
    return {"mass": _need(mass_of(_one(phrases), decimal))}


def _cost(phrases: tuple[str, ...], decimal: str) -> dict[str, Any]:
    return {"cost": _need(number_of(_one(phrases), decimal))}


def _best(phrases: tuple[str, ...], _decimal: str) -> dict[str, Any]:
    aim = " ".join(_one(phrases).casefold().split())
    if aim not in AIMS:
        raise _Unread
    return {"aim": aim}


READERS: Final = {
    "voltage": _voltage,
    "current": _current,
    "for": _time,
    "each cell": _each_cell,
    "sag": _sag,
    "mass": _mass,
    "cost": _cost,
    "best": _best,
}
