"""A design on the terminal, and as JSON for programs."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from boardproof.kit.pack_result import PackResult
from boardproof.kit.pack_words import design_words, fault_row, listed_words, run_down_words, spread_words
from boardproof.kit.report import json_report, visible
from boardproof.pack.arrange import Arrangement

__all__ = ["as_json", "as_text"]

FAULTS_SHOWN = 10


def as_text(made: PackResult, *, every_fault: bool = False) -> str:
    """A design as lines for a terminal.

    Parameters
    ----------
    made : PackResult
        Worked out.
    every_fault : bool
        All of them, or the ten worst.
    """
    return "\n".join(visible(line) for line in _lines(made, every_fault))


def _lines(made: PackResult, every_fault: bool) -> Iterator[str]:  # noqa: FBT001 - handed on
    design = made.design
    first, *rest = design_words(design)
    if made.caution is not None and made.caution.tier == "paper":
        yield "PAPER EXERCISE ONLY: nothing here is to be built."
    yield first
    yield from (f"  {line}" for line in rest)
    yield "\nSensible arrangements:"
    yield from (f"  {line}" for line in listed_words(design.listed))
    yield "\nThe argument, proved line by line:"
    for each in made.proof.checked.judged:
        if each.said.kind != "sentence":
            word = "" if each.verdict.kind == "true" else f"   ({each.verdict.kind})"
            yield f"  {each.said.text.strip()}{word}"
    for spread in made.spreads:
        yield ""
        yield from spread_words(spread)
    for each_run, alike in zip(made.run_downs, (True, False), strict=False):
        yield ""
        yield from run_down_words(each_run, alike=alike)
    if made.faults:
        shown = made.faults if every_fault else made.faults[:FAULTS_SHOWN]
        yield "\nWhat if (load notices | worst cell), the worst for a cell first:"
        for number, fault in enumerate(shown, 1):
            name, wiring, load, cell = fault_row(fault)
            yield f"  {number:>2}. {name}, {wiring}: load {load} | {cell}"
        if len(shown) < len(made.faults):
            yield f"      and {len(made.faults) - len(shown)} more with --faults all."
    yield f"\nCells: {design.chosen.supply.cell.name}: {design.chosen.supply.cell.source or 'the brief'}."
    if made.caution is not None:
        yield f"\nCaution. {made.caution.full}"


def as_json(made: PackResult) -> str:
    """A design as one JSON object; exact numbers travel as text.

    Parameters
    ----------
    made : PackResult
        Worked out.
    """
    design = made.design
    told: dict[str, Any] = {
        "schema": 1,
        "purpose": design.brief.purpose,
        "aim": design.brief.aim,
        "chosen": _arrangement(design.chosen),
        "slogan": _arrangement(design.slogan),
        "best": {aim: each.name for aim, each in design.best},
        "arrangements": [_arrangement(each) for each in design.listed],
        "load": str(design.load),
        "proof": json.loads(json_report(made.proof.report)),
        "tier": made.caution.tier if made.caution else "small",
        "caution": made.caution.full if made.caution else "",
        "faults": [_plain(each) for each in made.faults],
        "spread": [_plain(each) for each in made.spreads],
        "run_down": [_plain(each) for each in made.run_downs],
    }
    return json.dumps(told, ensure_ascii=False)


def _arrangement(each: Arrangement) -> dict[str, Any]:
    return {
        "arrangement": each.name,
        "cells": each.cells,
        "cell": each.supply.cell.name,
        "sag": str(each.sag),
        "meets": [
            {
                "limit": check.limit,
                "value": str(check.value),
                "bound": str(check.bound),
                "met": check.is_met,
                "margin": str(check.margin),
            }
            for check in each.checks
        ],
    }


def _plain(each: Any) -> dict[str, Any]:
    return {name: getattr(each, name) for name in each.__dataclass_fields__}
