"""Null methods: a bridge or a potentiometer at balance draws no current, so no meter falsifies the result.

What remains is how exactly the balance can be seen: the galvanometer's least deflection as a length or a resistance.
"""

from __future__ import annotations

from boardproof.lab.uncertain import Uncertain, derived

__all__ = ["bridge_resistance", "bridge_wire", "cell_by_wire", "internal_by_wire"]


def bridge_resistance(P: Uncertain, Q: Uncertain, S: Uncertain) -> Uncertain:
    """Unknown arm of a Wheatstone bridge at balance: X = S P/Q.

    Parameters
    ----------
    P, Q, S : Uncertain
        The other arms in ohms; P beside X. What is uncertain about seeing the balance belongs to S, the arm
        that is set.

    Examples
    --------
    >>> from boardproof.lab.uncertain import measured
    >>> X = bridge_resistance(measured(100.0, 0.1, "P"), measured(1000.0, 1.0, "Q"), measured(532.0, 0.5, "S"))
    >>> round(X.value, 1), round(X.u, 3)
    (53.2, 0.09)
    """
    return derived(lambda p, q, s: s * p / q, P, Q, S)


def bridge_wire(S: Uncertain, place: Uncertain, length: float) -> Uncertain:
    """Unknown resistance by a bridge wire (metre bridge): X = S l/(L - l).

    Parameters
    ----------
    S : Uncertain
        The known resistance in ohms.
    place : Uncertain
        Where the balance is, from the end beside X.
    length : float
        The whole wire, in the same unit.

    Notes
    -----
    The relative uncertainty that the place brings is u(l) L/(l (L - l)): least in the middle (derived here).

    Examples
    --------
    >>> from boardproof.lab.uncertain import certain, measured
    >>> X = bridge_wire(certain(10.0), measured(50.0, 0.1, "place"), 100.0)
    >>> X.value, round(X.u, 3)
    (10.0, 0.04)
    """
    return derived(lambda s, x: s * x / (length - x), S, place)


def cell_by_wire(standard: Uncertain, place: Uncertain, standard_place: Uncertain) -> Uncertain:
    """EMF of a cell by a potentiometer wire: E = E_s l/l_s.

    Parameters
    ----------
    standard : Uncertain
        EMF of the cell compared with, in volts.
    place, standard_place : Uncertain
        Lengths at balance, in one unit.

    Examples
    --------
    >>> from boardproof.lab.uncertain import certain, measured
    >>> E = cell_by_wire(certain(1.018), measured(75.0, 0.05, "l"), measured(50.9, 0.05, "l_s"))
    >>> round(E.value, 3), round(E.u, 4)
    (1.5, 0.0018)
    """
    return derived(lambda e, x, s: e * x / s, standard, place, standard_place)


def internal_by_wire(load: Uncertain, open_place: Uncertain, loaded_place: Uncertain) -> Uncertain:
    """Internal resistance by a potentiometer wire: r = R (l_0/l - 1).

    Parameters
    ----------
    load : Uncertain
        In ohms.
    open_place, loaded_place : Uncertain
        Lengths at balance without and with the load.

    Examples
    --------
    >>> from boardproof.lab.uncertain import certain, measured
    >>> r = internal_by_wire(certain(5.0), measured(75.0, 0.05, "l_0"), measured(69.4, 0.05, "l"))
    >>> round(r.value, 2), round(r.u, 3)
    (0.4, 0.005)
    """
    return derived(lambda R, x, y: R * (x / y - 1), load, open_place, loaded_place)
