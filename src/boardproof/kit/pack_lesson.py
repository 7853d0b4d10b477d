"""The argument of a pack design as a lesson of its own, proved by the same checker as any lesson."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from types import MappingProxyType

from boardproof.kit.files import CourseFolder
from boardproof.kit.pack_amount import amount
from boardproof.kit.proof import Proof, prove_lessons
from boardproof.lesson.course import Course
from boardproof.pack.design import PackDesign, circuit_lines
from boardproof.quantities import AMPERE, NARROW_SPACE, VOLT, Dimension
from boardproof.source import Source

__all__ = ["pack_lesson", "proved_pack"]


def proved_pack(made: PackDesign) -> Proof:
    """The lesson of a design, proved.

    Parameters
    ----------
    made : PackDesign
        What was designed.
    """
    source = Source("pack.lesson.md", pack_lesson(made))
    folder = CourseFolder(Path(), Course(), (source,), MappingProxyType({}))
    return next(iter(prove_lessons(folder)))


def _said(value: Fraction, dimension: Dimension) -> str:
    return amount(value, dimension).replace(NARROW_SPACE, " ")


def _counted(count: int, one: str, many: str) -> str:
    return f"{count} {one if count == 1 else many}"


def pack_lesson(made: PackDesign) -> str:
    """The lesson's text: from the cell to the row to the pack, then the slogan and where it breaks.

    Parameters
    ----------
    made : PackDesign
        What was designed.

    Examples
    --------
    >>> from boardproof.pack.design import design
    >>> from boardproof.pack.read import read_typed
    >>> read = read_typed("voltage: 12 V; current: 3 A; each cell: at most 0.75 A; cells: A 1.5 V, 0.4 ohm, at most 60")
    >>> pack_lesson(design(read.brief)).splitlines()[0]
    '# A pack of 10s4p'
    """
    chosen, brief = made.chosen, made.brief
    lines = circuit_lines(chosen, made.load, brief.at_charge)
    lead = len(lines) > 5
    counts = f"m = {chosen.series}, n = {chosen.rows}"
    each = brief.greatest / chosen.rows
    cell = chosen.supply.cell.emf_at(brief.at_charge)
    volts = cell - each * chosen.supply.resistance
    fall = " - I R_Lead" if lead else ""
    purpose = f" for {brief.purpose}" if brief.purpose else ""
    circuit = "\n".join(
        (*lines, "let I_cell = current in pack.1", "let V = p.d. across R", f"chosen = main but {counts}")
    )
    rows, series = _counted(chosen.rows, "row", "rows"), _counted(chosen.series, "cell", "cells")
    return f"""# A pack of {chosen.name}{purpose}

## The whole pack: rows first, from the current

```circuit
{circuit}
chosen
```

The load takes $I = {_said(brief.greatest, AMPERE)}$. Like rows share it alike, and a cell carries what its row carries.
`arrow I, I_cell`

$$ I_cell = I/n $$

With {rows} that is $I_cell = {_said(each, AMPERE)}$.

## One cell: what is left of its EMF

```circuit
S = resistor {_fraction(volts / each)} ohm
alone = A across S
```

At that current one cell loses $I_A r = {_said(each * chosen.supply.resistance, VOLT)}$ of its EMF inside.

$$ V_A = E - I_A r $$

It keeps $V_A = {_said(volts, VOLT)}$.

## One row: cells in series, from the p.d.

```circuit
T = resistor {_fraction(chosen.series * volts / each)} ohm
string = row across T
single = string but m = {chosen.series}
single
```

In a row EMFs add, and so do internal resistances.

$$ E_row = m E,  r_row = m r $$

{_counted(chosen.series, "cell keeps", "cells keep")} $V_row = {_said(chosen.series * volts, VOLT)}$.

## The pack again: how many in a row

```circuit
chosen
```

Rows side by side keep the EMF of one and have an n-th of its resistance.

$$ E_pack = m E,  r_pack = m r/n $$
$$ V = m (E - I r/n){fall} $$

With {series} in a row the load has $V = {_said(chosen.voltage(brief.greatest, brief.at_charge), VOLT)}$.
{_slogan(made, cell)}"""


def _fraction(value: Fraction) -> str:
    return f"{value.numerator}/{value.denominator}" if value.denominator > 1 else str(value.numerator)


def _slogan(made: PackDesign, cell: Fraction) -> str:
    """The slogan's pack on the same load, and what it forgets."""
    plain = made.slogan
    if plain.series == made.chosen.series and plain.rows == made.chosen.rows:
        return "\nThe slogan, cells in a row until the EMFs reach the p.d., gives the same pack here: it is lucky.\n"
    load = made.load + plain.supply.cable
    current = plain.series * cell / (load + plain.series * plain.supply.resistance / plain.rows)
    return f"""
## The slogan, and where it breaks

```circuit
main but m = {plain.series}, n = {plain.rows}
```

The slogan says: cells in a row until the voltage is reached, rows until the current is. It counts EMFs, and
$E_pack = {_said(plain.series * cell, VOLT)}$ looks enough. With the lost volts the load gets
$V = {_said(current * made.load, VOLT)}$ at $I = {_said(current, AMPERE)}$.
"""
