"""The risk form: what is known of readings of real cells, with blanks for the rules of the school."""

from __future__ import annotations

from typing import Final

from boardproof.kit.measure_lab import ENDING
from boardproof.kit.measure_report import Measured
from boardproof.lab.design import Design
from boardproof.lab.simulate import Truth
from boardproof.publish.lab_page import Blank, Caution, LabPage, Part, Table, Words

__all__ = ["risk_page"]

HAZARDS: Final = (
    (
        "Cell shorted by leads, coins, tools",
        "",
        "Switch open but for reading; load wired before the cell; terminals capped when put away",
    ),
    (
        "Cell or load gets warm",
        "",
        "Loads of this sheet only; ten seconds a reading; heat-proof mat; rated loads",
    ),
    (
        "Cell leaks, swells or hisses",
        "irritant liquid, heat",
        "Cells looked at before and after; leave it, keep away, tell the teacher; eye protection",
    ),
    (
        "Cells mixed or charged",
        "reversed or charged primary cells leak or burst",
        "One make, one age; no cell in parallel with an unlike one; never charged",
    ),
    (
        "Cells taken home or swallowed",
        "burns inside the body from button cells",
        "Cells counted out and back in; no button cells",
    ),
    ("Used cells", "fire in ordinary waste", "Terminals taped; collection point"),
)
"""Hazard, what could happen, what this work does about it; the first two are told with computed values."""


def risk_page(measured: Measured, plan: Design, truth: Truth, *, foot: str) -> LabPage:
    """The risk form: what is known of this work, with blanks for the school's rules.

    Parameters
    ----------
    measured : Measured
        The title.
    plan : Design
        Loads and greatest current.
    truth : Truth
        What the cell should be.
    foot : str
        What stands at its foot.
    """
    shorted = f"about {truth.emf / truth.internal:.2g} A: burns, hot leads, a cell that bursts"
    warm = f"{plan.heat * 1000:.0f} mW in the cell at most at {max(plan.currents):.2g} A; the load takes more"
    happens = (shorted, warm, *(each[1] for each in HAZARDS[2:]))
    rows = tuple((each[0], what, each[2], "") for each, what in zip(HAZARDS, happens, strict=True))
    parts: list[Part] = [
        Words(
            "Prefilled from the computed circuit. It is no permission: the right column and the signatures are yours."
        ),
        Caution(ENDING),
        Blank("School, room, date:"),
        Blank("Class, number of students, age:"),
        Blank("Teacher in charge:"),
        Blank("Cells used (make, type, maker's sheet read by):"),
        Table(
            ("hazard", "what could happen", "what this work does about it", "our rule, and who sees to it"),
            rows,
            (1.2, 1.5, 1.9, 1.6),
            14.0,
        ),
        Blank("Local rules that apply (school, employer, country):", 2),
        Blank("Who must not take part, or needs help:"),
        Blank("In an emergency (first aid, fire, waste):"),
        Blank("Looked through by (qualified person), date, signature:"),
    ]
    return LabPage("Risk assessment: readings of real cells", measured.title, foot, tuple(parts))
