"""Words that compare, as patterns: larger and smaller, rises and falls, gives and takes, and their signs."""

from __future__ import annotations

from typing import Final

__all__ = ["DOWN", "FALLS", "GIVES", "KEEPS", "LOWERS", "NEGATED", "RAISES", "RISES", "UP", "WORD_SIGNS"]

UP: Final = r"(?:larger|bigger|greater|higher|more|stronger|longer)"
DOWN: Final = r"(?:smaller|lower|less|fewer|weaker)"
RISES: Final = r"(?:rises?|grows?|increases?|goes up|go up|climbs?|gets? (?:larger|bigger|greater|higher))"
FALLS: Final = r"(?:falls?|drops?|decreases?|goes down|go down|shrinks?|gets? (?:smaller|lower|less))"
RAISES: Final = r"(?:raises?|increases?|puts? up)"
LOWERS: Final = r"(?:lowers?|reduces?|decreases?|cuts?)"
KEEPS: Final = (
    r"(?:does not change|doesn['’]t change|changes nothing about|leaves unchanged|does not"
    r" affect|doesn['’]t affect)"
)
GIVES: Final = (
    r"(?:gives?|drives?|sends?|supplies|supply|delivers?|carries|carry|takes?|gets?|has|have|draws?)"
)
NEGATED: Final = {
    "<": ">=", ">": "<=", "<=": ">", ">=": "<", "=": "!=", "!=": "=",
}  # fmt: skip
WORD_SIGNS: Final = (
    (rf"(?:{UP} than|above|over|beyond)", ">"),
    (rf"(?:{DOWN} than|below|under)", "<"),
    (r"(?:at least|no (?:less|smaller|lower) than|not (?:less|smaller|lower) than|not below)", ">="),
    (
        r"(?:at most|no (?:more|larger|greater|higher|bigger) than|not (?:more|larger|greater) than|not above)",
        "<=",
    ),
    (r"(?:equal to|the same as|equal|exactly|just)", "="),
    (r"(?:different from|not equal to|not the same as|not)", "!="),
    ("", "="),
)
