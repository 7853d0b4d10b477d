"""Words in a typed answer: those that say nothing of the value, signs and operators in words, numbers in words."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from boardproof.algebra.answered_text import Unclear

__all__ = ["EXACT", "GAP", "HIGHER", "LOWER", "is_number_word", "without_reasons", "without_words"]

GAP: Final = "\x1f"  # a word stood here: the numbers on both sides are two
LOWER: Final = "\x04"  # after the value it says what a minus sign says
HIGHER: Final = "\x05"
EXACT: Final = ("\x02", "\x03")  # round an exact number that was a word
WORD: Final = r"(?<![^\W\d_]){}(?![^\W\d_])"

ONES: Final = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
]
TENS: Final = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
NOUGHTS: Final = ("zero", "nought", "nil", "none")
SHARES: Final = {"half": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fifth": 5, "fifths": 5}
DIGIT: Final = rf"(?:{'|'.join((*NOUGHTS, *ONES[1:10]))})"
SINGLE: Final = "|".join((*NOUGHTS, *reversed(ONES[1:])))
CARDINAL: Final = rf"(?:(?:{'|'.join(TENS)})(?:[ -](?:{'|'.join(ONES[1:10])}))?|{SINGLE})"
SHARE: Final = rf"(?:{'|'.join(sorted(SHARES, key=len, reverse=True))})"
SPOKEN: Final = re.compile(
    WORD.format(
        rf"(?:(?P<whole>{CARDINAL})?(?P<point>(?: |^|(?<![^\W\d_]))point(?: {DIGIT})+)"
        rf"|(?P<mixed>{CARDINAL}|(?<!\d)\d{{1,9}}) and (?:(?P<times>{CARDINAL}|an?) )?(?P<of>{SHARE})"
        rf"|(?:(?P<count>{CARDINAL}|an?|(?<!\d)\d{{1,9}})[ -])?(?P<share>{SHARE})(?: an?)?"
        rf"|(?P<plain>{CARDINAL}))"
    ),
    re.IGNORECASE,
)
NUMBER_WORD: Final = re.compile(rf"(?i){CARDINAL}|{SHARE}|point|infinity|infinite|inf")

REASON: Final = re.compile(r"(?i)(?<![^\W\d_])(?:because|since)(?![^\W\d_])")
PLUS_MINUS: Final = re.compile(
    r"(?i)(?:±|\+/-|\+-|(?<![^\W\d_])plus(?: or |[ -])minus(?![^\W\d_])) ?[\d.,]+ ?(?:%|per ?cent)?"
)
AFTER_UNIT: Final = re.compile(
    r"(?i)(?<=[^\W\d_] )(?:±|\+/-|\+-|plus(?: or |[ -])minus) ?[\d.,]+ ?(?:%|per ?cent|[^\W\d_]+)?"
)
NOTE: Final = re.compile(
    r"(?i)\( ?(?:to )?\d+ ?(?:s\.? ?f|d\.? ?p|sig(?:nificant)?\.?[ -]?fig(?:ure)?s?"
    r"|figures?|decimal places?|decimals?)\.? ?\)"
)
BOUND: Final = re.compile(
    r"(?i)(?<![^\W\d_])(?:less than|more than|greater than|at least|at most|under"
    r"|below (?=\d)|above (?=\d))(?![^\W\d_])"
)
DROPPED: Final = (
    "the|an|is|it's|it|its|get|got|make|think|or so|so|thus|hence|therefore|then|answer|ans|final|value|total|about"
    "|around|approximately|approx|roughly|circa|ca|nearly|exactly|equals|be|would|should|each|at|in|of|current|voltage"
    r"|potential|difference|p\.d\.?|pd|emf|resistance|power|energy|charge|efficiency|terminal|cells?|rows?|ish"
    "|to the right|to the left|clockwise|anticlockwise|upwards|downwards"
)
TABLE: Final = re.compile(
    WORD.format(
        r"(?:(?P<lower>lower|less|below|(?:in )?the other way|in the opposite direction)"
        rf"|(?P<drop>(?:{DROPPED})|from (?:[A-Z]|[a-z])\w? to (?:[A-Z]|[a-z])\w?)\.?"
        r"|(?P<higher>higher|more|above)"
        r"|(?P<minus>minus|negative)|(?P<plus>plus)|(?P<times>times)|(?P<over>over|divided by)"
        r"|(?P<share>per ?cent|percent|pct)|(?P<recurring>recurring)|(?P<endless>infinity|infinite|inf))"
    ),
    re.IGNORECASE,
)


def without_reasons(text: str) -> str:
    """The answer up to 'because' or 'since', without notes on figures and without uncertainties.

    Parameters
    ----------
    text : str
        Plain characters.

    Examples
    --------
    >>> without_reasons("1.5 A (2 s.f.) because 12/8 = 1.5"), without_reasons("1.5 ± 0.1 A")
    ('1.5 A', '1.5 A')
    """
    found = REASON.search(text)
    if found:
        text = text[: found.start()]
    if "(" in text:
        text = NOTE.sub(" ", text)
    if "±" in text or "+" in text or "lus" in text:
        text = AFTER_UNIT.sub(" ", text)
        text = PLUS_MINUS.sub(" ", text)
    return re.sub(" +", " ", text).rstrip(" .,;!?")


def is_number_word(word: str) -> bool:
    """Whether a word counts as a number.

    Parameters
    ----------
    word : str
        Letters only.
    """
    return NUMBER_WORD.fullmatch(word) is not None


def without_words(text: str, kept: frozenset[str] = frozenset()) -> str:
    """The answer with words for numbers, signs and operators written out, and empty words dropped.

    Parameters
    ----------
    text : str
        Plain characters, no steps.
    kept : frozenset of str
        Words that are symbols here.

    Raises
    ------
    Unclear
        If it gives a bound.

    Examples
    --------
    >>> without_words("minus three quarters") == f"- {EXACT[0]}3/4{EXACT[1]}"
    True
    """
    if BOUND.search(text):
        raise Unclear("it gives a bound, not a value")

    def written(match: re.Match[str]) -> str:
        return match[0] if match[0] in kept else _operator(match, text)

    words = set(LONG_WORD.findall(text.lower()))
    if not words:
        return text
    if "ish" in words:
        text = re.sub(r"(?i)-ish(?![^\W\d_])", GAP, text)
    if words & SPOKEN_WORDS:
        text = SPOKEN.sub(_number, text)
    if not words & TABLE_WORDS:
        return text
    emptied = EMPTIED.sub(GAP, TABLE.sub(written, text))
    return EDGES.sub(GAP, emptied)


LONG_WORD: Final = re.compile(r"[^\W\d_]{2,}|p\.d")
SPOKEN_WORDS: Final = frozenset((*ONES, *TENS, *NOUGHTS, *SHARES, "point"))
TABLE_WORDS: Final = frozenset(
    re.findall(
        LONG_WORD,
        DROPPED.replace("?", "").replace("\\", "")
        + " cell cells row rows from lower less below other opposite higher more above minus negative plus times over"
        + " divided per percent pct recurring inf infinity infinite",
    )
)
EMPTIED: Final = re.compile(rf"\([ {GAP},.]*{GAP}[ {GAP},.]*\)")
EDGES: Final = re.compile(
    rf"^[ ,.:{GAP}]+(?![\d,.])|(?<={GAP})[ ]?[,.](?=[ {GAP}])|[ ]?[,.;](?=[ ]?{GAP})|[ ,;{GAP}]+$"
)
SIGNS: Final = {
    "minus": "-",
    "plus": "+",
    "times": "*",
    "share": "%",
    "recurring": "...",
    "lower": LOWER,
    "higher": HIGHER,
}


def _operator(match: re.Match[str], text: str) -> str:
    kind = match.lastgroup or "drop"
    if kind == "drop":
        return GAP
    if kind == "over":
        before = text[: match.start()].rstrip()
        if not before or not (before[-1].isalnum() or before[-1] in f"){EXACT[1]}_}}"):
            raise Unclear("it gives a bound, not a value")
        return "/"
    if kind == "endless":
        return "∞"
    return SIGNS[kind]


def _number(match: re.Match[str]) -> str:
    if match["point"]:
        digits = "".join(str(_cardinal(each)) for each in match["point"].split()[1:])
        value = Fraction(f"{_cardinal(match['whole'] or 'zero')}.{digits}")
    elif match["of"]:
        value = _cardinal(match["mixed"]) + Fraction(
            _cardinal(match["times"] or "a"), SHARES[match["of"].lower()]
        )
    elif match["share"]:
        value = Fraction(_cardinal(match["count"] or "a"), SHARES[match["share"].lower()])
    else:
        value = Fraction(_cardinal(match["plain"]))
    return f"{EXACT[0]}{value}{EXACT[1]}"


def _cardinal(words: str) -> int:
    lower = words.lower().strip()
    if lower.isdigit():
        return int(lower)
    if lower in NOUGHTS:
        return 0
    if lower in {"a", "an"}:
        return 1
    total = 0
    for each in re.split("[ -]", lower):
        total += ONES.index(each) if each in ONES else 10 * (TENS.index(each) + 2)
    return total
