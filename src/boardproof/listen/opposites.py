"""Words that turn a sentence round: pairs of opposites, quantities, denials; and words that say the same.

A word belongs to one class and stands at one pole of it. Two words of one class at different poles, one in place of the
other, change what is claimed; at the same pole they are a matter of style.
"""

from __future__ import annotations

from functools import cache
from typing import Final

from boardproof.algebra.vocabulary import words_of

__all__ = ["CONDITIONS", "FUNCTION_WORDS", "NEGATIONS", "pole_of", "stem", "strength_of"]

POLES: Final[dict[str, dict[str, str]]] = {
    "size": {
        "up": "big large huge more most larger largest bigger biggest higher highest greater greatest above exceeds "
        "exceed rises rise rose rising increases"
        " increase increased increasing grows grow up bigger's maximum raises raise double doubles longer",
        "down": "small tiny less least smaller smallest lower lowest below falls fall fell falling drops drop dropped "
        "decreases decrease"
        " decreased decreasing shrinks down fewer fewest minimum lowers under",
    },
    "strength": {"strong": "stronger strongest strong", "weak": "weaker weakest weak"},
    "near": {"near": "nearer closer nearest closest", "far": "further farther furthest"},
    "giving": {
        "out": "gives give giving gave delivers deliver delivering supplies supply supplying drives drive pushes "
        "push feeds"
        " feed sends provides discharges discharging discharged",
        "in": "takes take taking absorbs absorb absorbing swallows swallow swallowing receives receive charged "
        "charging charges",
    },
    "way": {"in": "into enters inwards onto", "out": "out leaves outwards leaving"},
    "end": {"plus": "plus positive positives", "minus": "minus negative negatives"},
    "joined": {"series": "series", "parallel": "parallel"},
    "sum": {
        "add": "add adds added adding sum",
        "take": "subtract subtracts subtracted subtracting difference",
        "times": "multiply multiplies multiplied multiplying product",
        "over": "divide divides divided dividing quotient ratio",
        "mean": "mean average",
    },
    "often": {"always": "always", "never": "never", "sometimes": "sometimes"},
    "same": {
        "same": "same equal alike identical equals",
        "other": "different unequal unlike opposite differ differs",
    },
    "both": {"both": "both", "neither": "neither none"},
    "open": {"open": "open opened", "closed": "closed shut close"},
    "with": {"with": "with", "without": "without"},
    "inside": {"inside": "inside", "outside": "outside"},
    "order": {"1": "first", "2": "second", "3": "third", "4": "fourth", "last": "last"},
    "gain": {"lose": "loses lose lost losing loss", "gain": "gains gain gained"},
    "age": {"new": "new fresh", "old": "tired old stale worn"},
    "worth": {"good": "good", "bad": "bad"},
    "side": {"left": "left", "right": "right"},
    "time": {"before": "before", "after": "after"},
    "height": {"top": "top", "bottom": "bottom"},
    "ease": {"helps": "helps help", "hurts": "hurts hinders"},
    "factor": {"half": "halves halved", "double": "doubles doubled", "third": "trebles triples tripled"},
    "slow": {"better": "better best", "worse": "worse worst"},
    "extreme": {"ends": "zero nothing nought", "infinity": "infinity infinite"},
    "quantity": {
        "current": "current currents amps amperes",
        "pd": "voltage voltages pd emf emfs volts",
        "resistance": "resistance resistances ohms",
        "power": "power powers watts",
        "energy": "energy",
        "charge": "charge",
        "conductance": "reciprocal reciprocals conductance conductances",
    },
}
NEGATIONS: Final = frozenset({"not", "no", "never", "nor", "neither", "hardly"})
CONDITIONS: Final = frozenset(
    {"if", "when", "while", "unless", "only", "provided", "whenever", "until", "sometimes", "usually", "long"}
)
FUNCTION_WORDS: Final = words_of(
    "a an the of to and in on at is are be been was were it its this that these those there here we "
    "you i they he she so then now for by as with from or but what which who how do does did have "
    "has had will would can could may might us our your their my me them than too also just very "
    "quite well right okay ok oh yes let get gets got go goes going say says look see again still "
    "even some such each all any about"
)
SYNONYMS: Final = {
    "battery": "cell", "batteries": "cell", "cells": "cell", "lamp": "load", "bulb": "load", "terminals": "terminal",
    "batterys": "cell", "ampere": "amp", "amperes": "amp", "amps": "amp", "potential": "voltage", "wires": "wire",
    "huge": "large", "large": "large", "tiny": "small", "loop": "loop", "round": "round", "around": "round",
}  # fmt: skip
_TABLE: Final = {
    word: (kind, pole)
    for kind, poles in POLES.items()
    for pole, words in poles.items()
    for word in words.split()
}


def pole_of(word: str) -> tuple[str, str] | None:
    """The class of opposites that a word belongs to, and where in it.

    Examples
    --------
    >>> pole_of("bigger"), pole_of("smaller"), pole_of("lamp")
    (('size', 'up'), ('size', 'down'), None)
    """
    return _TABLE.get(word)


@cache
def stem(word: str) -> str:
    """A word without its ending, for comparing; words that say the same become one.

    Examples
    --------
    >>> stem("batteries"), stem("carries"), stem("carrying")
    ('cell', 'carr', 'carr')
    """
    word = SYNONYMS.get(word, word)
    for ending in ("ying", "ings", "ing", "ies", "ied", "es", "ed", "s", "y", "e"):
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            return word[: -len(ending)]
    return word


def strength_of(word: str) -> float:
    """How much a plain word tells about where in a text one is."""
    return 0.4 if word in FUNCTION_WORDS else 2.0
