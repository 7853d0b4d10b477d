"""The figure of a question: its circuit with given values only, and words that give nothing away."""

from __future__ import annotations

from boardproof.circuit.model import Circuit
from boardproof.picture.board import BoardState
from boardproof.picture.drawing import Frame
from boardproof.picture.frame import frame
from boardproof.publish.typeset import Typesetter

__all__ = ["question_frame"]


def question_frame(circuit: Circuit, typesetter: Typesetter, name: str) -> Frame:
    """The circuit alone, every part with its letter and, where it is given, its value.

    Parameters
    ----------
    circuit : Circuit
        As a student may see it.
    typesetter : Typesetter
        Measures labels.
    name : str
        The figure's title.
    """
    labels = tuple((leaf.path, "both") for leaf in circuit.leaves)
    state = BoardState(circuit, (circuit,), labels=labels, lesson=name)
    return frame(state, "figure", typesetter, "question")
