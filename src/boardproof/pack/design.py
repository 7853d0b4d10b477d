"""A pack worked out from its brief: the arrangements, the best of them, the slogan beside it, the danger."""

from __future__ import annotations

from fractions import Fraction

from boardproof.caution import Danger, dangers
from boardproof.circuit.read import read_circuit
from boardproof.pack.arrange import Arrangement, arrangements, best, judged, slogan
from boardproof.pack.brief import AIMS, Aim, PackBrief
from boardproof.record import record
from boardproof.source import Source

__all__ = ["PackDesign", "circuit_lines", "dangers_of", "design", "exact_text", "nearest"]


@record
class PackDesign:
    """A design.

    Parameters
    ----------
    brief : PackBrief
        What was asked.
    listed : tuple of Arrangement
        Every sensible one, fewest cells first.
    best : tuple of (Aim, Arrangement)
        The best under each aim that can be judged.
    chosen : Arrangement
        The best under the brief's aim.
    slogan : Arrangement
        What counting EMFs alone would build.
    """

    brief: PackBrief
    listed: tuple[Arrangement, ...]
    best: tuple[tuple[Aim, Arrangement], ...]
    chosen: Arrangement
    slogan: Arrangement

    @property
    def load(self) -> Fraction:
        """The load that draws the peak current from the chosen pack, without its cable."""
        return self.chosen.voltage(self.brief.greatest, self.brief.at_charge) / self.brief.greatest


def design(brief: PackBrief, aim: Aim | None = None) -> PackDesign | Arrangement:
    """The design that a brief asks for.

    Parameters
    ----------
    brief : PackBrief
        What is asked.
    aim : Aim, optional
        Instead of the brief's own.

    Returns
    -------
    PackDesign or Arrangement
        The nearest arrangement, with what it misses, if the brief cannot be met.

    Examples
    --------
    >>> from boardproof.pack.read import read_typed
    >>> read = read_typed("voltage: at least 6 V; current: 0.4 A; cells: NiMH AA, at most 30")
    >>> made = design(read.brief)
    >>> made.chosen.name, made.slogan.name, made.slogan.is_good
    ('7s1p', '6s1p', False)
    """
    wanted = aim or brief.aim
    listed = arrangements(brief)
    chosen = best(brief, wanted, listed) or best(brief, "fewest cells", listed)
    if chosen is None:
        return nearest(brief)
    each = tuple((one, found) for one in AIMS if (found := best(brief, one, listed)) is not None)
    return PackDesign(brief, listed, each, chosen, slogan(brief, chosen.supply))


def nearest(brief: PackBrief) -> Arrangement:
    """The arrangement that misses fewest limits of a brief that cannot be met, and those by least.

    Parameters
    ----------
    brief : PackBrief
        What is asked.

    Examples
    --------
    >>> from boardproof.pack.read import read_typed
    >>> nearest(read_typed("voltage: 12 V; current: 3 A; cells: A 1.5 V, 0.4 ohm, at most 20").brief).name
    '10s2p'
    """

    def missed(made: Arrangement) -> tuple[int, Fraction, int]:
        short = [-each.margin / each.bound for each in made.checks if not each.is_met]
        return len(short), sum(short, Fraction(0)), made.cells

    tried = (
        judged(brief, supply, series, rows)
        for supply in brief.supplies
        for cells in (min(supply.at_most or 200, 200),)
        for series in range(1, cells + 1)
        for rows in range(1, cells // series + 1)
    )
    return min(tried, key=missed)


def exact_text(value: Fraction) -> str:
    """A number as a circuit takes it: a decimal if it ends, else a fraction.

    Parameters
    ----------
    value : Fraction
        Not below nought.

    Examples
    --------
    >>> exact_text(Fraction(3, 8)), exact_text(Fraction(4, 3))
    ('0.375', '4/3')
    """
    rest = value.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    if rest != 1:
        return f"{value.numerator}/{value.denominator}"
    digits = 0
    while (value * 10**digits).denominator != 1:
        digits += 1
    whole, part = divmod(int(value * 10**digits), 10**digits)
    return f"{whole}.{part:0{digits}d}" if digits else str(whole)


def circuit_lines(made: Arrangement, load: Fraction, charge: Fraction) -> tuple[str, ...]:
    """The pack with its load as a circuit block, counts as letters: m in a row, n rows.

    Parameters
    ----------
    made : Arrangement
        Which pack.
    load : Fraction
        Resistance of the load.
    charge : Fraction
        Share of the charge left; it decides the EMF.

    Examples
    --------
    >>> from boardproof.pack.brief import Supply
    >>> from boardproof.pack.cell import CellType
    >>> A = Supply(CellType("A", Fraction("1.5"), Fraction("1.5"), Fraction("0.4")))
    >>> circuit_lines(Arrangement(10, 4, A), Fraction(4), Fraction(1))[0]
    'A = cell E = 1.5 V, r = 0.4 ohm'
    """
    cell = made.supply.cell
    kind = "" if cell.chemistry == "primary" else f", {cell.chemistry}"
    emf, ohms = exact_text(cell.emf_at(charge)), exact_text(made.supply.resistance)
    lead = [f"Lead = resistor {exact_text(made.supply.cable)} ohm"] if made.supply.cable else []
    return (
        f"A = cell E = {emf} V, r = {ohms} ohm{kind}",
        f"R = resistor {exact_text(load)} ohm",
        *lead,
        "row = m of A in series",
        "pack = n of row in parallel",
        f"main = pack across {'(R + Lead)' if lead else 'R'}",
    )


def dangers_of(made: Arrangement, load: Fraction) -> tuple[Danger, ...]:
    """What can hurt in a full pack.

    Parameters
    ----------
    made : Arrangement
        Which pack.
    load : Fraction
        Resistance of the load.

    Examples
    --------
    >>> from boardproof.caution import tier_of
    >>> from boardproof.pack.brief import Supply
    >>> from boardproof.pack.cell import cell_called
    >>> large = Arrangement(20, 4, Supply(cell_called("Li-ion 18650")))
    >>> tier_of(dangers_of(large, Fraction(10)))
    'paper'
    """
    lines = (*circuit_lines(made, load, Fraction(1)), f"main but m = {made.series}, n = {made.rows}")
    read = read_circuit(Source("pack", "\n".join(lines)).slice())
    if read.at_hand is None:
        raise ValueError(f"the circuit of a pack did not read: {[each.kind.code for each in read.findings]}")
    return dangers(read.at_hand)
