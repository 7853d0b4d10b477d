"""The characters of a typed answer: one plain spelling for what keyboards and telephones write in many ways.

Everything here goes once along the text. What has no meaning is refused, never guessed.
"""

from __future__ import annotations

import re
import unicodedata
from typing import Final

from boardproof.algebra.answered_markup import without_commands

__all__ = ["DECIMAL", "LONGEST", "RECURS", "Unclear", "plain_text"]

LONGEST: Final = 500
DEEPEST: Final = 50
DECIMAL: Final = "\u066b"  # a decimal point that can be nothing else
RECURS: Final = "\u0307"  # the digit before it repeats for ever


class Unclear(Exception):  # it ends one reading and is caught in `answered`; nobody else sees it
    """No single answer can be read; its text says why."""


DROPPED: Final = frozenset(
    "\u00ad\u061c\u202a\u202c\u202d\u2060\u2066\u2068\u2069\ufeff"
    + "".join(map(chr, (*range(0x200B, 0x2010), *range(0x180B, 0x180E), *range(0xFE00, 0xFE10))))
    + "".join(map(chr, (*range(0xE0100, 0xE01F0), *range(0x1F3FB, 0x1F400))))
)
BACKWARDS: Final = frozenset("\u202b\u202e\u2067")
BREAKS: Final = frozenset("\t\n\r")
ARROWS: Final = ((0x2190, 0x21FF), (0x27F0, 0x27FF), (0x2900, 0x297F))
RAISED: Final = dict(zip("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻ⁿ", "0123456789+-n", strict=True))
LOWERED: Final = dict(zip("₀₁₂₃₄₅₆₇₈₉", "0123456789", strict=True))
FOLDED: Final = str.maketrans(
    {
        **dict(zip("АСЕКМОРТХасеорх", "ACEKMOPTXaceopx", strict=True)),
        **dict(zip("ΑΕΗΙΚΜΝΟΡΤΧΖ", "AEHIKMNOPTXZ", strict=True)),
        **dict.fromkeys("‐‑‒–—−﹣", "-"),
        **dict.fromkeys("×·⋅∙•∗", "*"),
        **dict.fromkeys("÷⁄∕", "/"),
        **dict.fromkeys("≈≃~", "="),
        **dict.fromkeys("’‘ʼ", "'"),
        "[": "(",
        "]": ")",
        "ω": "Ω",
        "\u066c": "'",
        "\u0305": RECURS,
    }
)
WHOLE_BEFORE: Final = re.compile(r"(?<![\d.,])\d{1,30} ?$")
SPACES: Final = re.compile(r"[\s\u2028\u2029]+")
QUOTES: Final = {'"': '"', "'": "'", "“": "”", "”": "”", "„": "“", "«": "»", "`": "`"}
SIMPLE: Final = re.compile(r"[0-9A-Za-z.,+\-*/^ =()%:Ωµμ]*")


def plain_text(typed: str) -> str:
    """The answer in plain characters: one minus, one sign for times, one space between words.

    Parameters
    ----------
    typed : str
        As stored.

    Raises
    ------
    Unclear
        For what is too long, nested too deeply, hidden, or without meaning.

    Examples
    --------
    >>> plain_text("１．５ Ａ"), plain_text("3.0×10⁻⁵ C"), plain_text("1½ A")
    ('1.5 A', '3.0*10^(-5) C', '1 1/2 A')
    """
    if len(typed) > LONGEST:
        raise Unclear("it is longer than 500 characters")
    if not SIMPLE.fullmatch(typed):
        typed = unicodedata.normalize("NFKC", _by_character(typed))
        if any(unicodedata.category(each)[0] == "M" and each not in "\u0307\u0305" for each in typed):
            raise Unclear("it holds a mark over a letter")
        typed = typed.replace("∥", "||")
        if len(typed) > 2 * LONGEST:
            raise Unclear("it is longer than it looks")
    typed = typed.replace("**", "^").translate(FOLDED)
    text = SPACES.sub(" ", typed).strip()
    if "\\" in text or "{" in text or "}" in text or "$" in text:
        found = without_commands(text)
        if found is None:
            raise Unclear("it holds a typesetting command that I don't know, or brackets without a meaning")
        text = found
    if "(" in text or ")" in text:
        _brackets_match(text)
    text = _bared(text)
    if not any(each.isalnum() or each in "½∞√" for each in text):
        raise Unclear("nothing is written")
    return text


def _by_character(typed: str) -> str:
    """Refuse what hides, drop what is invisible, and write raised, lowered and fraction signs out."""
    out: list[str] = []
    raised = lowered = ""
    for each in typed:
        if raised and each not in RAISED:
            out.append(f"^({raised})")
            raised = ""
        if lowered and each not in LOWERED:
            out.append(f"_{{{lowered}}}")
            lowered = ""
        if each in DROPPED:
            continue
        if each.isascii() and each.isprintable():
            out.append(each)
        elif each in RAISED:
            raised += RAISED[each]
        elif each in LOWERED:
            lowered += LOWERED[each]
        else:
            out.append(_character(each, out))
    if raised:
        out.append(f"^({raised})")
    if lowered:
        out.append(f"_{{{lowered}}}")
    return "".join(out)


def _character(each: str, before: list[str]) -> str:
    """One character that is neither plain ASCII nor raised or lowered."""
    kind = unicodedata.category(each)
    if each in BACKWARDS:
        raise Unclear("it holds signs that turn the writing round")
    if each in "\u0307\u0305":
        if not before or not before[-1].isdigit():
            raise Unclear("it holds a mark over a letter")
        return each
    if kind in {"Cc", "Cs", "Cn", "Co", "Nl"} or kind[0] == "M":
        if each in BREAKS:
            return " "
        raise Unclear("it holds a hidden character, or a number sign that is no digit")
    if kind == "Nd":
        return str(unicodedata.digit(each))
    if kind == "No":
        return _fraction(each, before)
    if kind == "So":
        return each if "°" in unicodedata.normalize("NFKC", each) else ""
    if any(first <= ord(each) <= last for first, last in ARROWS):
        return "="
    return each


def _fraction(each: str, before: list[str]) -> str:
    parts = unicodedata.decomposition(each).split()
    if not parts or parts[0] != "<fraction>":
        raise Unclear("it holds a number sign that is no digit")
    written = "".join(chr(int(code, 16)) for code in parts[1:]).replace("\u2044", "/")
    if WHOLE_BEFORE.search("".join(before[-32:])):
        return f" {written}"
    return written if written.endswith("/") else f"({written})"


def _brackets_match(text: str) -> None:
    depth = deepest = 0
    for each in text:
        if each == "(":
            depth += 1
            deepest = max(deepest, depth)
        elif each == ")":
            depth -= 1
            if depth < 0:
                raise Unclear("a bracket closes that was not opened")
    if depth or deepest > DEEPEST:
        raise Unclear("a bracket is not closed" if depth else "brackets stand in brackets too deeply")


def _bared(text: str) -> str:
    """Without the pair of quotation marks or brackets round the whole, and without stops at the end."""
    for _ in range(DEEPEST + 10):
        before = text
        cut = text.rstrip(".!?,; ")
        if not (text[len(cut) :].startswith("...") and re.search(r"\d[.,]\d+$|[.,]\d+$", cut)):
            text = cut
        if (len(text) > 1 and QUOTES.get(text[0]) == text[-1]) or (
            text[:1] == "(" and text[-1:] == ")" and _closes_last(text)
        ):
            text = text[1:-1].strip()
        if text == before:
            break
    return text


def _closes_last(text: str) -> bool:
    depth = 0
    for at, each in enumerate(text):
        depth += (each == "(") - (each == ")")
        if depth == 0:
            return at == len(text) - 1
    return False
