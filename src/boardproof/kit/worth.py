"""What a name, a phrase or an expression is worth at one place: a number where it has one, else letters."""

from __future__ import annotations

from fractions import Fraction

from boardproof.algebra import meaning
from boardproof.algebra.dimension import dimensioned
from boardproof.algebra.expression import Expression, Name
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.look_up import Resolved
from boardproof.prove.world import World
from boardproof.quantities import PURE, Dimension

__all__ = ["worth"]

ASKED = "\x00asked"


def worth(
    asked: Resolved | Expression, world: World, *, letters: bool = False
) -> tuple[Fraction | RationalFunction, Dimension] | Unknown:
    """The value of what is asked, with its dimension.

    Parameters
    ----------
    asked : Resolved or Expression
        A quantity, or an expression in names of the lesson.
    world : World
        What names mean there.
    letters : bool
        Answer in letters even where there are numbers.

    Returns
    -------
    (Fraction or RationalFunction, Dimension) or Unknown
        Exact, in SI units; letters if the scene has no number for it.
    """
    if isinstance(asked, Resolved):
        asked, world = Name(ASKED), world.with_name(ASKED, asked)
    dimension = dimensioned(asked, world.dimension)
    dimension = dimension if isinstance(dimension, Dimension) else PURE

    def number(name: str) -> RationalFunction | Unknown:
        value = world.in_numbers(name)
        return value if isinstance(value, Unknown) else RationalFunction.constant(value)

    exact: RationalFunction | Unknown = Unknown("letters are asked for")
    if not letters:
        exact = meaning.value(asked, number, first=world.first_index)
    if isinstance(exact, Unknown):
        exact = meaning.value(asked, world.in_letters, first=world.first_index)
    if isinstance(exact, Unknown):
        return exact
    value = exact.as_number
    return (exact if value is None else value), dimension
