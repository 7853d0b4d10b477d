"""What is said of a design, a fault, a spread and a run-down, alike on terminal, page and sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from boardproof.kit.pack_amount import amount
from boardproof.pack.arrange import Arrangement, Check
from boardproof.pack.brief import PackBrief
from boardproof.pack.design import PackDesign
from boardproof.pack.faults import WhatIf
from boardproof.pack.run_down import RunDown
from boardproof.pack.spread import Spread
from boardproof.quantities import AMPERE, JOULE, OHM, PURE, SECOND, VOLT, WATT

__all__ = [
    "check_words",
    "design_words",
    "fault_row",
    "listed_words",
    "run_down_words",
    "spread_words",
    "time_words",
]


def time_words(seconds: float | Fraction) -> str:
    """A time in the unit that suits it.

    Parameters
    ----------
    seconds : float or Fraction
        Not below nought.

    Examples
    --------
    >>> time_words(7200), time_words(90), time_words(10)
    ('2 h', '1.5 min', '10 s')
    """
    for unit, size in (("h", 3600), ("min", 60)):
        if seconds >= size:
            return f"{float(seconds) / size:.3g} {unit}"
    return f"{float(seconds):.3g} s"


def _value(value: Fraction, check: Check) -> str:
    if check.limit == "sag as a share":
        return f"{float(value) * 100:.3g} %"
    if check.dimension == SECOND:
        return ("−" if value < 0 else "") + time_words(abs(value))
    if check.dimension == JOULE:
        return f"{float(value) / 3600:.3g} W h"
    if check.dimension == PURE:
        return f"{float(value):.4g}" + (f" {check.unit}" if check.unit else "")
    return amount(value, check.dimension)


def check_words(check: Check) -> str:
    """A limit with its margin.

    Parameters
    ----------
    check : Check
        Of an arrangement.

    Examples
    --------
    >>> check_words(Check("number of cells", Fraction(40), Fraction(60), False, PURE))
    'number of cells 40, at most 60: 20 to spare'
    """
    bound = "at least" if check.is_least else "at most"
    left = (
        "exactly met"
        if not check.margin
        else (
            f"{_value(check.margin, check)} to spare"
            if check.is_met
            else f"missed by {_value(-check.margin, check)}"
        )
    )
    return f"{check.limit} {_value(check.value, check)}, {bound} {_value(check.bound, check)}: {left}"


def design_words(made: PackDesign) -> Iterator[str]:
    """The design in sentences.

    Parameters
    ----------
    made : PackDesign
        What was designed.
    """
    chosen, brief, plain = made.chosen, made.brief, made.slogan
    yield (
        f"{chosen.name} of {chosen.supply.cell.name}: {chosen.series} in a row, {chosen.rows} "
        f"row{'' if chosen.rows == 1 else 's'}, {chosen.cells} cells."
    )
    yield from (check_words(check)[:1].upper() + check_words(check)[1:] + "." for check in chosen.checks)
    falls = chosen.supply.cell.full != chosen.supply.cell.empty
    judged = f"Judged {_charge(brief)}" if falls else "The EMF is taken to stay as it is"
    yield f"{judged}; the pack's resistance with its leads is {amount(chosen.resistance, OHM)}."
    if plain.name != chosen.name:
        short = next((each for each in plain.checks if not each.is_met), None)
        missed = f": {check_words(short)}" if short else ", and here that is enough"
        yield f"Counting EMFs alone would give {plain.name}{missed}."
    for aim, each in made.best:
        yield f"{aim[:1].upper()}{aim[1:]}: {each.name} ({each.cells} cells, sag {amount(each.sag, VOLT)})."


def _charge(brief: PackBrief) -> str:
    state = {Fraction(1): "full", Fraction(0): "empty"}.get(brief.at_charge)
    return f"with its cells {state}" if state else f"at {float(brief.at_charge) * 100:.3g} % charge"


def listed_words(listed: Sequence[Arrangement], most: int = 12) -> Iterator[str]:
    """The sensible arrangements, one line each.

    Parameters
    ----------
    listed : sequence of Arrangement
        Fewest cells first.
    most : int
        How many to show.
    """
    for each in listed[:most]:
        margin = each.checks[0]
        yield (
            f"{each.name:>8}  {each.cells:>5} cells  {amount(margin.value, VOLT):>8} at the load  "
            f"sag {amount(each.sag, VOLT)}"
        )
    if len(listed) > most:
        yield f"          and {len(listed) - most} more with more cells."


def fault_row(each: WhatIf) -> tuple[str, str, str, str]:
    """A fault: what, wiring, what it does to the load, what it does to one cell.

    Parameters
    ----------
    each : WhatIf
        One of `what_if`.
    """
    load = f"{each.load * 100:+.1f} %".replace("-", "−")
    cell = f"{amount(each.worst_current, AMPERE)}, {each.worst:.3g} times its share"
    if each.charged:
        cell += f"; {each.charged} charged"
    if each.at_rest > 1e-6:
        cell += f"; {amount(each.at_rest, AMPERE)} at rest"
    return each.name, f"{each.wiring} first", load, f"{cell}; {amount(each.heat, WATT)} of heat"


def spread_words(each: Spread) -> Iterator[str]:
    """A spread in sentences.

    Parameters
    ----------
    each : Spread
        Of many packs.
    """
    yield f"{each.wiring.capitalize()} first, {each.packs} packs drawn; 5th, 50th and 95th percentile:"
    for name, values, dimension, figures in (
        ("p.d. at the load", each.voltage, VOLT, 4),
        ("largest current through a cell", each.worst, AMPERE, 3),
        ("largest current with no load", each.at_rest, AMPERE, 3),
    ):
        yield f"  {name}: {', '.join(amount(value, dimension, figures) for value in values)}"
    yield f"  {each.met * 100:.1f} % of the packs keep the least p.d. and each cell's limit."


def run_down_words(each: RunDown, *, alike: bool) -> Iterator[str]:
    """A run-down in sentences.

    Parameters
    ----------
    each : RunDown
        At the steady current.
    alike : bool
        Whether the cells were alike.
    """
    cells = "Like cells" if alike else "Cells drawn from their spread"
    if each.ends is not None:
        yield f"{cells}: the p.d. at the load reaches its end after {time_words(each.ends)}."
    elif each.first_empty is not None:
        yield (
            f"{cells}: the first cell is empty after {time_words(each.first_empty)}, before the p.d. reaches its end. "
            "Stop there: the others would drive it backwards."
        )
    left = f"{each.spread_of_charge * 100:.2g} %"
    yield f"  Until then the load has got {each.energy / 3600:.3g} W h; the cells' charges differ by {left}."
