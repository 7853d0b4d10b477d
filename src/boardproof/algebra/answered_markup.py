r"""Typesetting commands in a typed answer: ``\frac{1}{2}`` is ``((1)/(2))``."""

from __future__ import annotations

import re
from typing import Final

from boardproof.record import record

__all__ = ["without_commands"]

WORDS: Final = {
    "cdot": "*",
    "times": "*",
    "left": "",
    "right": "",
    "varepsilon": "ε",
    "epsilon": "ε",
    "Omega": "Ω",
    "mu": "μ",
    "tau": "τ",
    "ln": "ln ",
    "exp": "exp ",
}
BARE: Final = frozenset({"mathcal", "mathrm", "text"})
PIECE: Final = re.compile(r"\\([A-Za-z]+) ?|\\([,; ])|([_^] ?\{)|([{}])|(.)", re.DOTALL)


def without_commands(text: str) -> str | None:
    r"""The same answer without commands and curly brackets; None if one is not known or stands wrongly.

    Parameters
    ----------
    text : str
        Plain characters.

    Notes
    -----
    Curly brackets may stand after ``_``, ``^`` and a command only. A fraction's two parts may be single signs.

    Examples
    --------
    >>> without_commands(r"\frac{E_{2}}{r}"), without_commands(r"\sqrt{4}\,\mathrm{A}"), without_commands("{1}")
    ('((E_{2})/(r))', 'sqrt(4) A', None)
    """
    if len(text) > 1 and text[0] == text[-1] == "$":
        text = text[1:-1].strip()
    return _Reader(text).read()


@record
class _Wanted:
    """An argument that a command asks for: what is written before and after it, and which comes next."""

    opens: str
    closes: str
    then: _Wanted | None = None


class _Reader:
    """One pass with a stack of what each closing bracket must write."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.out: list[str] = []
        self.closing: list[
            tuple[str, _Wanted | None]
        ] = []  # what an open bracket writes when it closes, then wants
        self.wanted: _Wanted | None = None  # the argument that must come now

    def read(self) -> str | None:
        for match in PIECE.finditer(self.text):
            word, space, raised, curly, other = match.groups()
            if self.wanted and self._argument(word or space, raised, curly, other):
                continue
            if self.wanted or not self._piece(word, space, raised, curly, other):
                return None
        return None if self.closing or self.wanted else re.sub(" +", " ", "".join(self.out)).strip()

    def _argument(
        self, command: str | None, raised: str | None, curly: str | None, other: str | None
    ) -> bool:
        assert self.wanted is not None
        if curly == "{":
            self.out.append(self.wanted.opens)
            self.closing.append((self.wanted.closes, self.wanted.then))
            self.wanted = None
            return True
        if other == " ":
            return True
        if other and other.isalnum() and not command and not raised:
            self.out.append(self.wanted.opens + other + self.wanted.closes)
            self.wanted = self.wanted.then
            return True
        return False

    def _piece(
        self, word: str | None, space: str | None, raised: str | None, curly: str | None, other: str | None
    ) -> bool:
        if word:
            return self._command(word)
        if space:
            self.out.append(" ")
        elif raised:
            power = raised[0] == "^"
            self.out.append("^(" if power else "_{")
            self.closing.append((")" if power else "}", None))
        elif curly == "}" and self.closing:
            written, self.wanted = self.closing.pop()
            self.out.append(written)
        elif curly or other in {"$", "\\"}:
            return False
        else:
            self.out.append(other or "")
        return True

    def _command(self, word: str) -> bool:
        if word in {"frac", "dfrac", "tfrac"}:
            self.wanted = _Wanted("((", ")/", _Wanted("(", "))"))
        elif word == "sqrt":
            self.wanted = _Wanted("sqrt(", ")")
        elif word in BARE:
            self.wanted = _Wanted("", "")
        elif word in WORDS:
            self.out.append(WORDS[word])
        else:
            return False
        return True
