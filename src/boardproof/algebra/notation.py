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
    emf : {"E", "ε", "ℰ", "U_q", "U_0"}
        Letter for an EMF; the tree says E.
    pd : {"V", "U"}
        Letter for a p.d.; the tree says V.
    inside : {"r", "R_i"}
        Letter for the resistance of a cell or group; the tree says r.
    decimal : {".", ","}
        Decimal mark.
    ohm : {"Ω", "ohm"}
        Sign for the ohm.
    parallel : {"∥", "||", "//"}
        Sign for side by side.
    resistor : {"box", "zigzag"}
        Sign of a resistor in drawings.
    emf_word, pd_word : str
        What an EMF and a terminal p.d. are called.
    source : str
        Where the set was read; "from memory" if nowhere.
    """

    emf: Literal["E", "ε", "ℰ", "U_q", "U_0"] = "E"
    pd: Literal["V", "U"] = "V"
    inside: Literal["r", "R_i"] = "r"
    decimal: Literal[".", ","] = "."
    ohm: Literal["Ω", "ohm"] = "Ω"
    parallel: Literal["∥", "||", "//"] = "∥"
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
            emf="U_q",
            pd="U",
            inside="R_i",
            decimal=",",
            emf_word="Leerlaufspannung",
            pd_word="Klemmenspannung",
        ),
        "France": Notation(emf="E", pd="U", decimal=",", emf_word="f.é.m.", pd_word="tension aux bornes"),
    }
)
