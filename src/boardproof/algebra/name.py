"""Names in maths: one letter and its subscript, in one normal form, and letters without a space cut into names."""

from __future__ import annotations

import re
from collections.abc import Collection
from functools import lru_cache
from typing import Final

__all__ = ["LETTER", "NAME_PATTERN", "ONE_NAME", "SUB", "cut", "normal_name"]

NAME_AT_MOST: Final = 20
GREEK: Final = "αβγδεηθλμµπρστφϕωΔΦΣΛΓΩ\u2126ϵℰ"
SUBSCRIPTS: Final = dict(zip("₀₁₂₃₄₅₆₇₈₉ₐₑₒₓₕₖₗₘₙₚₛₜᵢⱼᵣᵤᵥ", "0123456789aeoxhklmnpstijruv", strict=True))
LETTER = f"A-Za-z{GREEK}"
SUB = "".join(SUBSCRIPTS)
# One name; a path (E_bank.2.3) only after letters, so that E_1.5 is not one.
NAME_PATTERN: Final = (
    rf"[{LETTER}]+(?:[0-9]+|[{SUB}]+|\s?_\s?\{{[^{{}}]*\}}|_(?:[{LETTER}]+[0-9]*(?:\.[0-9]+)*|[0-9]+))?"
)
ONE_NAME: Final = re.compile(NAME_PATTERN)


@lru_cache(maxsize=4096)
def normal_name(typed: str) -> str:
    """A name in normal form: one underscore before its subscript, ε and ℰ as E, no braces.

    Parameters
    ----------
    typed : str
        A name as typed.

    Examples
    --------
    >>> [normal_name(typed) for typed in ("E1", "ε_{1}", "A₁", "r_p", "E_pack.2")]
    ['E_1', 'E_1', 'A_1', 'r_p', 'E_pack.2']
    """
    text = "".join(SUBSCRIPTS.get(char, char) for char in typed)
    head = re.match(rf"[{LETTER}]+", text)
    stem = (
        (head[0] if head else "")
        .translate({ord(char): "E" for char in "εϵℰ"})
        .replace("\u2126", "Ω")
        .replace("μ", "µ")
    )
    subscript = re.sub(r"[\s{}_]", "", text[head.end() if head else 0 :])
    return f"{stem}_{subscript}" if subscript else stem


def cut(run: str, known: Collection[str]) -> tuple[tuple[str, ...], ...]:
    """Every way (at most two) to cut letters written without a space into known names, as typed.

    Parameters
    ----------
    run : str
        Letters and digits without a space.
    known : collection of str
        Names in normal form.

    Examples
    --------
    >>> cut("IR", {"I", "R", "r"}), cut("E_1r_2", {"E_1", "r_2"})
    ((('I', 'R'),), (('E_1', 'r_2'),))
    """
    ways: dict[int, tuple[tuple[str, ...], ...]] = {len(run): ((),)}
    for start in range(len(run) - 1, -1, -1):
        found: list[tuple[str, ...]] = []
        for end in range(start + 1, min(start + NAME_AT_MOST, len(run)) + 1):
            rest = ways.get(end, ())
            piece = run[start:end]
            if rest and ONE_NAME.fullmatch(piece) and normal_name(piece) in known:
                found += [(piece, *way) for way in rest]
        ways[start] = tuple(found[:2])
    return ways[0]
