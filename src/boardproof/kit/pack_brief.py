"""The brief of a lesson: read with the lesson's own cells, met at all, and met by the lesson's own pack."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from boardproof.circuit.model import Across, Circuit, Leaf, leaves
from boardproof.circuit.quantity import QuantityKind, QuantityRef
from boardproof.circuit.spelling import normal_name
from boardproof.findings import Finding
from boardproof.kit.pack_amount import amount
from boardproof.lesson.model import Brief
from boardproof.pack.arrange import Arrangement, judged
from boardproof.pack.brief import PackBrief
from boardproof.pack.cell import CellType
from boardproof.pack.design import PackDesign, design
from boardproof.pack.kinds import finding
from boardproof.pack.read import BriefRead, read_brief
from boardproof.prove.walk import Walk
from boardproof.quantities import PURE
from boardproof.solve.answers import Unknown, answers
from boardproof.source import Span

__all__ = ["brief_blocks", "brief_findings", "cells_of", "unmet"]


def cells_of(walk: Walk) -> Callable[[str], CellType | None]:
    """The cells of a lesson by name, with the values of its circuits and readings.

    Parameters
    ----------
    walk : Walk
        The lesson, walked.
    """
    read = {name: value for _, circuit in reversed(walk.circuits) for name, value in circuit.values.items()}

    def known(name: str) -> CellType | None:
        part = walk.definitions.parts.get(normal_name(name))
        if part is None or part.kind != "cell" or part.emf is None or part.resistance is None:
            return None
        emf, ohms = (
            read.get(each.letter) if each.value is None else each.value
            for each in (part.emf, part.resistance)
        )
        if not emf or not ohms or emf < 0 or ohms < 0:
            return None
        return CellType(part.name, emf, emf, ohms, chemistry=part.chemistry, source="the lesson's circuit")

    return known


def brief_blocks(walk: Walk, decimal: str = ".") -> Iterator[tuple[Brief, BriefRead]]:
    """Every brief of a lesson, read.

    Parameters
    ----------
    walk : Walk
        The lesson, walked.
    decimal : str
        The course's decimal mark.
    """
    known = cells_of(walk)
    for scene in walk.lesson.scenes:
        for block in scene.blocks:
            if isinstance(block, Brief):
                purpose = block.purpose.text if block.purpose else ""
                yield block, read_brief(block.fields, block.span, known, purpose=purpose, decimal=decimal)


def brief_findings(walk: Walk, decimal: str = ".") -> Iterator[Finding]:
    """What is wrong with the briefs of a lesson: unread, impossible, or not met by the lesson's own pack.

    Parameters
    ----------
    walk : Walk
        The lesson, walked.
    decimal : str
        The course's decimal mark.
    """
    for block, read in brief_blocks(walk, decimal):
        yield from read.findings
        if read.brief is None:
            continue
        made = design(read.brief)
        if not isinstance(made, PackDesign):
            yield unmet(made, block.span)
            continue
        own = [each for _, circuit in walk.circuits for each in _packs(circuit, read.brief)]
        if own and not any(each.is_good for each in own):
            yield unmet(own[-1], block.span, made.chosen)


def _packs(circuit: Circuit, brief: PackBrief) -> Iterator[Arrangement]:
    """A circuit's pack as an arrangement of the brief's cells: E/E_cell in a row, and rows by the resistance."""
    item = circuit.item
    if not isinstance(item, Across) or isinstance(item.source, Leaf) or not item.source.path:
        return
    names = {leaf.part.name for leaf in leaves(item.source)}
    for supply in brief.supplies:
        if names != {supply.cell.name}:
            continue
        emf, ohms = (_number(circuit, kind, item.source.path) for kind in ("emf", "resistance"))
        if not emf or not ohms:
            continue
        series = emf / supply.cell.full
        rows = series * supply.cell.resistance / ohms
        if series.denominator == rows.denominator == 1 and series > 0 and rows > 0:
            yield judged(brief, supply, int(series), int(rows))


def _number(circuit: Circuit, kind: QuantityKind, path: str) -> Fraction | None:
    value = answers(circuit).ask(QuantityRef(kind, (path,), circuit.id))
    return None if isinstance(value, Unknown) or not isinstance(value.exact, Fraction) else value.exact


def unmet(made: Arrangement, span: Span, better: Arrangement | None = None) -> Finding:
    """The finding that a pack does not meet its brief.

    Parameters
    ----------
    made : Arrangement
        With at least one limit missed.
    span : Span
        Of the brief.
    better : Arrangement, optional
        One that does; without it none does.
    """
    check = next(each for each in made.checks if not each.is_met)
    value, bound = (
        f"{float(each):.4g}{' ' + check.unit if check.unit else ''}"
        if check.dimension == PURE
        else amount(each, check.dimension)
        for each in (check.value, check.bound)
    )
    facts = {
        "arrangement": made.name,
        "value": f"{value} ({check.limit})",
        "bound": "at least" if check.is_least else "at most",
        "needed": bound,
        "better": f"{better.name} meets it all."
        if better
        else "No arrangement of these cells meets it all; this one is nearest.",
    }
    return finding("brief-unmet", span, **facts)
