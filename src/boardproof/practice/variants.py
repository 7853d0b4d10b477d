"""One student's numbers for a question: the exact key, what each belief gives, the options of a choice."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain
from boardproof.algebra.tidy import to_expression
from boardproof.practice.choices import options_for
from boardproof.practice.draws import Pool
from boardproof.practice.prepared import Prepared, PreparedPart, figures_of, in_order
from boardproof.practice.records import Asked, Key, Solved, Variant
from boardproof.quantities import Dimension, Style, shown

__all__ = ["amount", "shown_key", "solved", "variant_of", "way_words", "written"]


def variant_of(pool: Pool, seed: int) -> Variant:
    """The variant that a paper's seed gives.

    Parameters
    ----------
    pool : Pool
        Good draws of the question.
    seed : int
        The paper's.
    """
    question = pool.prepared.question
    draw = pool.draw(pool.pick(seed))
    return Variant(question.id, question.version, seed, draw, solved(pool.prepared, draw))


def solved(prepared: Prepared, draw: Mapping[str, Fraction]) -> tuple[Solved, ...]:
    """The key of every part with one draw, exact.

    Parameters
    ----------
    prepared : Prepared
        The question.
    draw : mapping of str to Fraction
        A value for each letter.
    """
    values = prepared.all_values(draw)
    return tuple(_solved(part, values) for part in prepared.parts)


def _solved(part: PreparedPart, values: Mapping[str, Fraction]) -> Solved:
    asked = part.asked
    match asked.form:
        case "number" | "shown" | "choice":
            key = part.formulas[0].evaluate(values)
            wrong: dict[str, Key] = {
                belief: each for belief, each in _wrong(part, values).items() if each != key
            }
            if asked.form == "choice":
                options, right = options_for(part, key, _wrong(part, values))
                chosen = {belief: each.letter for each in options for belief in each.beliefs}
                return Solved(
                    asked.label, right, f"{right} ({amount(key, asked.dimension)})", dict(chosen), options
                )
            return Solved(asked.label, key, amount(key, asked.dimension, asked.figures), wrong)
        case "expression":
            formula = part.formulas[0]
            found = {belief: thought.formula for belief, thought in part.thoughts[0].items()}
            others: dict[str, Key] = {belief: each for belief, each in found.items() if each is not None}
            return Solved(asked.label, formula, written(formula), others)
        case "arrow":
            way = _way(part.formulas[0].evaluate(values))
            ways: dict[str, Key] = {belief: _way(value) for belief, value in _wrong(part, values).items()}
            return Solved(
                asked.label, way, way, {belief: each for belief, each in ways.items() if each != way}
            )
        case "ranking":
            return _ranked(part, values)
        case _:
            return Solved(asked.label, "", "; ".join(point.words for point in asked.points))


def _ranked(part: PreparedPart, values: Mapping[str, Fraction]) -> Solved:
    names = tuple(each.strip() for each in part.asked.name.split(","))
    exact = [formula.evaluate(values) for formula in part.formulas]
    key = in_order(exact, names)
    wrong: dict[str, Key] = {}
    for belief, ranks in part.orders.items():
        wrong[belief] = in_order([rank.evaluate(values) for rank in ranks], names)
    for belief in {each for thoughts in part.thoughts for each in thoughts}:
        found = [
            t[belief].at(values) if belief in t else own for t, own in zip(part.thoughts, exact, strict=True)
        ]
        known = [each for each in found if each is not None]
        if len(known) == len(found):
            wrong.setdefault(belief, in_order(known, names))
    others = {belief: order for belief, order in sorted(wrong.items()) if order != key}
    return Solved(part.asked.label, key, ", then ".join(key), others)


def _wrong(part: PreparedPart, values: Mapping[str, Fraction]) -> dict[str, Fraction]:
    found = (
        {belief: thought.at(values) for belief, thought in part.thoughts[0].items()} if part.thoughts else {}
    )
    return {belief: value for belief, value in found.items() if value is not None}


def _way(value: Fraction) -> str:
    return "along" if value > 0 else "against" if value < 0 else "none"


def way_words(way: str, part: PreparedPart) -> str:
    """A direction as a key says it.

    Parameters
    ----------
    way : str
        "along", "against" or "none".
    part : PreparedPart
        Whose current is asked.
    """
    path = part.asked.ask[0].of[0] if part.asked.ask and part.asked.ask[0].of else ""
    leaves = part.circuit.leaves if part.circuit else ()
    is_cell = any(leaf.path == path and leaf.part.kind in {"cell", "source"} for leaf in leaves)
    if way == "none":
        return "no current"
    if is_cell:
        return "out of its plus end" if way == "along" else "into its plus end"
    return "from its end nearer the plus" if way == "along" else "towards its end nearer the plus"


def amount(value: Fraction, dimension: Dimension, figures: int = 3) -> str:
    r"""A value as the paper shows it: exact if it comes out in six figures, else rounded.

    Parameters
    ----------
    value : Fraction
        In SI units.
    dimension : Dimension
        Its dimension.
    figures : int
        Of a rounded value.

    Examples
    --------
    >>> from boardproof.quantities import VOLT
    >>> amount(Fraction(9, 2), VOLT), amount(Fraction(1, 3), VOLT)
    ('4.5\u202fV', '0.333\u202fV')
    """
    exact = figures_of(value)
    if exact <= 6:
        return shown(value, dimension, Style(figures=max(1, exact)))
    return shown(value, dimension, figures=figures)


def written(formula: RationalFunction) -> str:
    """A formula as plain text."""
    return plain(to_expression(formula))


def shown_key(value: Key, asked: Asked) -> str:
    """A right or wrong answer as a key prints it.

    Parameters
    ----------
    value : Key
        Of one part.
    asked : Asked
        The part.
    """
    match value:
        case Fraction():
            return amount(value, asked.dimension, asked.figures)
        case RationalFunction():
            return written(value)
        case tuple():
            return ", then ".join(value)
        case _:
            return value
