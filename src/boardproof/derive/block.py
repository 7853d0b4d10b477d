"""A written argument as text of a lesson: the body of its block, and how it ends."""

from __future__ import annotations

import re
import textwrap

from boardproof.derive.steps import Derivation

__all__ = ["written_block", "written_closing"]

WIDTH = 110


def written_block(derivation: Derivation) -> str:
    """The body of a derive block: each step with its rules, lines and words, as a teacher would keep it.

    Parameters
    ----------
    derivation : Derivation
        Any.

    Examples
    --------
    >>> from boardproof.derive.series import same_current
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; g = A + B; main = g across R", "E_g")
    >>> written_block(same_current(asked)).splitlines()[0]
    '1. V = V_1 + V_2   by loop rule'
    """
    lines: list[str] = []
    for step in derivation.steps:
        head = f"{step.number}. {step.maths}   by {', '.join(step.rules)}"
        if step.from_:
            head += f" from {', '.join(map(str, step.from_))}"
        lines.append(head)
        moves = " ".join(f"`{move}`" for move in step.moves)
        text = " ".join(filter(None, (moves, step.words)))
        lines += _wrapped(text)
    return "\n".join(lines) + "\n"


def written_closing(derivation: Derivation) -> str:
    """How the argument ends, as text of a lesson: what is said, and lines for the board.

    Parameters
    ----------
    derivation : Derivation
        Any.
    """
    end = derivation.closing
    board = ["\n".join(f"$$ {line} $$" for line in lines) for lines in (end.limits, end.numbers)]
    return "\n\n".join(filter(None, (end.units, board[0], end.sentence, board[1]))) + "\n"


def _wrapped(text: str) -> list[str]:
    """Words over several lines; a code span is never cut."""
    kept = re.sub(r"`[^`]*`", lambda match: match[0].replace(" ", "\u2007"), text)
    lines = textwrap.wrap(kept, WIDTH - 3, break_long_words=False, break_on_hyphens=False)
    return [f"   {line}".replace("\u2007", " ") for line in lines]
