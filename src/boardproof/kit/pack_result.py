"""A pack worked out whole: the design, its proved argument, and what was asked beside it."""

from __future__ import annotations

from boardproof.caution import Caution, caution_for
from boardproof.kit.pack_lesson import proved_pack
from boardproof.kit.proof import Proof
from boardproof.pack.design import PackDesign, dangers_of
from boardproof.pack.faults import WhatIf, what_if
from boardproof.pack.run_down import RunDown, run_down
from boardproof.pack.spread import Spread, spread_of
from boardproof.record import record

__all__ = ["RULES", "PackResult", "worked_out"]

RULES = "the rules of your school and country"


@record
class PackResult:
    """All that the outputs of a pack need.

    Parameters
    ----------
    design : PackDesign
        What was designed.
    proof : Proof
        Its argument, checked.
    caution : Caution or None
        By what the full pack could do.
    faults : tuple of WhatIf
        Ranked; empty if not asked for.
    spreads : tuple of Spread
        Rows first and blocks first.
    run_downs : tuple of RunDown
        Of like cells, and of cells drawn from their spread.
    """

    design: PackDesign
    proof: Proof
    caution: Caution | None
    faults: tuple[WhatIf, ...] = ()
    spreads: tuple[Spread, ...] = ()
    run_downs: tuple[RunDown, ...] = ()


def worked_out(
    made: PackDesign, *, faults: bool = False, spread: int = 0, running_down: bool = False
) -> PackResult:
    """Prove the argument and work out what else is wanted.

    Parameters
    ----------
    made : PackDesign
        What was designed.
    faults : bool
        What if a cell is turned, dead, open, shorted, weak or warmer.
    spread : int
        How many packs to draw; none for nought.
    running_down : bool
        P.d. over time; only if the cell's capacity is known.
    """
    chosen, brief, supply = made.chosen, made.brief, made.chosen.supply
    proof = proved_pack(made)
    caution = caution_for(dangers_of(chosen, made.load), rules=RULES)
    found: tuple[WhatIf, ...] = ()
    if faults:
        emf = float(supply.cell.emf_at(brief.at_charge))
        load = float(made.load + supply.cable)
        found = what_if(chosen.series, chosen.rows, emf, float(supply.resistance), load)
    limit = brief.limit_of(supply)
    spreads = tuple(
        spread_of(
            chosen,
            wiring,
            current=float(brief.greatest),
            least=float(brief.least),
            limit=None if limit is None else float(limit),
            charge=float(brief.at_charge),
            packs=spread,
        )
        for wiring in (("rows", "blocks") if chosen.rows > 1 and chosen.series > 1 else ("rows",))
        if spread
    )
    downs = tuple(
        run_down(chosen, "rows", current=float(brief.current), end=float(brief.least), alike=alike)
        for alike in (True, False)
        if running_down and supply.cell.capacity is not None
    )
    return PackResult(made, proof, caution, found, spreads, downs)
