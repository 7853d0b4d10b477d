"""Notation sets by region: which letters and signs are shown. Reading accepts all of them in any course.

From memory, except where `source` says otherwise.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal

from boardproof.record import record

__all__ = ["NOTATIONS", "Notation"]


@record
class Notation:
    """How maths is shown.

    Parameters
    ----------
    emf : {"E", "ε", "ℰ", "U"}
        Letter for an EMF; the tree says E.
    pd : {"V", "U"}
        Letter for a p.d.; the tree says V.
    decimal : {".", ","}
        Decimal mark.
    ohm : {"Ω", "ohm"}
        Sign for the ohm.
    parallel : {"∥", "||"}
        Sign for side by side.
    resistor : {"box", "zigzag"}
        Sign of a resistor in drawings.
    emf_word, pd_word : str
        What an EMF and a terminal p.d. are called.
    source : str
        Where the set was read; "from memory" if nowhere.
    """

    emf: Literal["E", "ε", "ℰ", "U"] = "E"
    pd: Literal["V", "U"] = "V"
    decimal: Literal[".", ","] = "."
    ohm: Literal["Ω", "ohm"] = "Ω"
    parallel: Literal["∥", "||"] = "∥"
    resistor: Literal["box", "zigzag"] = "box"
    emf_word: str = "EMF"
    pd_word: str = "terminal p.d."
    source: str = "from memory"


NOTATIONS: Final[Mapping[str, Notation]] = MappingProxyType(
    {
        "England and Wales, A level": Notation(emf="ε", emf_word="emf", pd_word="terminal pd"),
        "Cambridge international": Notation(emf_word="e.m.f.", pd_word="terminal p.d."),
        "IB": Notation(emf="ε", emf_word="emf", pd_word="terminal potential difference"),
        "India": Notation(
            emf="ε",
            resistor="zigzag",
            emf_word="emf",
            pd_word="terminal voltage",
            source="NCERT (stored copy): ε",
        ),
        "United States": Notation(emf="ℰ", resistor="zigzag", emf_word="emf", pd_word="terminal voltage"),
        "German-speaking": Notation(
            emf="U", pd="U", decimal=",", emf_word="Leerlaufspannung", pd_word="Klemmenspannung"
        ),
        "France": Notation(emf="E", pd="U", decimal=",", emf_word="f.é.m.", pd_word="tension aux bornes"),
    }
)
