"""Options of a choice: the right one, and what beliefs give, each wrong one tagged with who would choose it."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Final

from boardproof.practice.prepared import PreparedPart, figures_of
from boardproof.practice.records import Option
from boardproof.quantities import shown

__all__ = ["options_for"]

LETTERS: Final = "ABCDEF"


def options_for(
    part: PreparedPart, key: Fraction, wrong: Mapping[str, Fraction], told: tuple[str, ...] = ()
) -> tuple[tuple[Option, ...], str]:
    """The options in rising order, and the letter of the right one.

    Two options are never equal to the digits shown; beliefs that give one value share an option.

    Parameters
    ----------
    part : PreparedPart
        A choice.
    key : Fraction
        The right value.
    wrong : mapping of str to Fraction
        What beliefs give.
    told : tuple of str
        Beliefs to take first.
    """

    def text(value: Fraction) -> str:
        exact = figures_of(value) <= part.asked.figures
        return shown(value, part.asked.dimension, figures=None if exact else part.asked.figures)

    found: dict[str, tuple[Fraction, list[str]]] = {}
    right = text(key)
    for belief in sorted(wrong, key=lambda each: (each not in told, each)):
        value = wrong[belief]
        said = text(value)
        if said == right:
            continue
        if said in found:
            found[said][1].append(belief)
        elif len(found) < part.asked.options - 1:
            found[said] = (value, [belief])
    rows = sorted([(key, right, ())] + [(value, said, tuple(who)) for said, (value, who) in found.items()])
    options = tuple(Option(LETTERS[n], said, value, who) for n, (value, said, who) in enumerate(rows))
    return options, next(each.letter for each in options if not each.beliefs)
