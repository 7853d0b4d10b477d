"""Units, dimensions and exact numbers: reading them as typed, showing them as people write them.

Values are exact fractions in SI units until they are shown. The words for numbers are English.
"""

from boardproof.quantities.reading import Quantity, read_quantity
from boardproof.quantities.reading import read_decimal as read_decimal
from boardproof.quantities.rounding import agrees, round_figures
from boardproof.quantities.rounding import round_to_place as round_to_place
from boardproof.quantities.saying import speech
from boardproof.quantities.showing import NARROW_SPACE as NARROW_SPACE
from boardproof.quantities.showing import Style, shown
from boardproof.quantities.units import (
    AMPERE,
    COULOMB,
    FARAD,
    JOULE,
    OHM,
    PURE,
    SECOND,
    VOLT,
    WATT,
    Dimension,
    Unit,
    dimension_words,
    read_unit,
)
from boardproof.quantities.units import si_unit as si_unit
from boardproof.quantities.units import unit_spellings as unit_spellings

__all__ = [
    "AMPERE",
    "COULOMB",
    "FARAD",
    "JOULE",
    "OHM",
    "PURE",
    "SECOND",
    "VOLT",
    "WATT",
    "Dimension",
    "Quantity",
    "Style",
    "Unit",
    "agrees",
    "dimension_words",
    "read_quantity",
    "read_unit",
    "round_figures",
    "shown",
    "speech",
]
