"""What a cell or group of cells does: its state in a circuit, and its V-I line by itself."""

from __future__ import annotations

from typing import Literal

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.quantity import QuantityKind, QuantityRef
from boardproof.findings import Finding
from boardproof.record import record
from boardproof.solve.answers import Answers, Unknown
from boardproof.solve.arithmetic import Number
from boardproof.solve.ill_posed import because

__all__ = ["CellState", "VILine", "cell_state", "vi_line"]

CellState = Literal["driving", "being charged", "idle", "driven backwards"]


@record
class VILine:
    """The falling line V = E - I r of a cell or group.

    Parameters
    ----------
    emf, resistance : number
        Where it starts, and how steeply it falls.
    short_circuit_current : number or None
        Where it ends, E/r; None for an ideal source.
    greatest_power : number or None
        E^2/(4 r), given to a load R = r; None for an ideal source.
    """

    emf: Number
    resistance: Number
    short_circuit_current: Number | None
    greatest_power: Number | None

    @property
    def best_load(self) -> Number:
        """The load that gets the greatest power: as large as the resistance inside."""
        return self.resistance

    def terminal_pd(self, current: Number) -> Number:
        """P.d. at the terminals while a current leaves the plus end."""
        return self.emf - current * self.resistance


def vi_line(known: Answers, path: str) -> VILine | Finding:
    """The V-I line of a cell or group by itself.

    Parameters
    ----------
    known : Answers
        Of the circuit it stands in.
    path : str
        The cell or group.

    Examples
    --------
    >>> from fractions import Fraction
    >>> from boardproof.circuit.model import Circuit, Leaf, Part, Series, Worth
    >>> from boardproof.solve.answers import answers
    >>> A = Leaf("A", Part("A", "cell", Worth("E", Fraction(6)), Worth("r", Fraction(1))))
    >>> vi_line(answers(Circuit(Series((A,), "row"))), "row").greatest_power
    Fraction(9, 1)
    """
    emf, resistance = _formula(known, "emf", path), _formula(known, "resistance", path)
    for each in (emf, resistance):
        if isinstance(each, Unknown):
            return each.reason
    most, power = _formula(known, "short_circuit_current", path), _formula(known, "greatest_power", path)
    return VILine(
        emf,
        resistance,
        None if isinstance(most, Unknown) else most,
        None if isinstance(power, Unknown) else power,
    )


def cell_state(known: Answers, path: str) -> CellState | Finding:
    """What a cell (or a group of cells) does in its circuit.

    Parameters
    ----------
    known : Answers
        Exact or in letters; in letters only where the signs are the same for all positive values.
    path : str
        The cell or group.

    Returns
    -------
    str or Finding
        "driving": current leaves its plus end. "being charged": it enters there. "idle": there is none. "driven
        backwards": it leaves there although the p.d. at the terminals is reversed.

    Examples
    --------
    >>> from fractions import Fraction
    >>> from boardproof.circuit.model import Circuit, Leaf, Parallel, Part, Worth
    >>> from boardproof.solve.answers import answers
    >>> strong = Leaf("A", Part("A", "cell", Worth("E_A", Fraction(6)), Worth("r_A", Fraction(1))))
    >>> weak = Leaf("B", Part("B", "cell", Worth("E_B", Fraction(3)), Worth("r_B", Fraction(2))))
    >>> cell_state(answers(Circuit(Parallel((strong, weak)))), "B")
    'being charged'
    """
    flow, pd = _formula(known, "current", path), _formula(known, "pd", path)
    for each in (flow, pd):
        if isinstance(each, Unknown):
            return each.reason
    signs = [_sign(flow), _sign(pd)]
    if signs[0] == 0:
        return "idle"
    if signs[0] == -1:
        return "being charged"
    if None in signs:
        return because("unlike-cells", what=f"What {path} does", mend="Ask with values.")
    return "driving" if signs[1] != -1 else "driven backwards"


def _formula(known: Answers, kind: QuantityKind, path: str) -> Number | Unknown:
    return known.formula(QuantityRef(kind, (path,), known.circuit))


def _sign(value: Number) -> int | None:
    """-1, 0 or 1; None if it is not the same for all positive values."""
    if isinstance(value, RationalFunction):
        return 0 if value.is_zero else (value.one_signed or None)
    return 1 if value > 0 else -1 if value < 0 else 0
