"""What a lesson establishes: its tagged lines and its claims, by name, for the lessons after it."""

from __future__ import annotations

from boardproof.algebra.expression import Relation
from boardproof.algebra.written import read_lines
from boardproof.lesson.model import Claim, Display
from boardproof.prove.follows import Established
from boardproof.prove.walk import Walk
from boardproof.prove.worlds import Worlds

__all__ = ["established_by"]


def established_by(walk: Walk, worlds: Worlds, *, decimal: str = ".") -> dict[str, Established]:
    r"""The results of a lesson, read without judging anything.

    Parameters
    ----------
    walk : Walk
        The lesson.
    worlds : Worlds
        Made for its definitions.
    decimal : str
        The course's decimal mark.

    Returns
    -------
    dict of str to Established
        Tags with their equations; claims with none.
    """
    found: dict[str, Established] = {}
    for visit in walk.visits:
        element = visit.element
        if isinstance(element, Display) and r"\tag" in element.text.text:
            lines, _ = read_lines(element.text, known=worlds.known(visit.place.circuit), decimal=decimal)
            for line in lines:
                if line.tag:
                    relations = tuple(each for each in line.statements if isinstance(each, Relation))
                    found[line.tag] = Established(relations, worlds.at(visit.place))
        elif isinstance(element, Claim) and element.name is not None:
            found.setdefault(element.name.text.strip(), Established((), worlds.at(visit.place)))
    return found
