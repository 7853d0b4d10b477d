"""Plain sentences as claims: "the larger the load, the larger the p.d." becomes ``p.d. across R rises with R``.

Only whole sentences of known forms are read; anything else is left alone, never guessed. Where a word has two readings
("bigger current", "better", "the cell", "negligible") both are given back, to be asked.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final

from boardproof.circuit.definitions import Definitions
from boardproof.circuit.model import Circuit
from boardproof.prove.change_words import does_not_depend, doing, goes_with, the_more
from boardproof.prove.comparison_words import brighter, charged, compared, has_more
from boardproof.prove.gathered import Asked, Gathered, Question, Read
from boardproof.prove.nouns import Nouns

__all__ = ["read_sentence"]

MARKS: Final = re.compile(
    r"(?i)[\s,]*\b(?P<word>exactly (?:when|if|as long as|while|where)|if and only if|just"
    r" when|only (?:when|if|as long as|"
    r"while|where)|when|whenever|if|as long as|so long as|provided(?: that)?)\b\s*"
)
LEADING: Final = re.compile(
    r"(?i)^(?:if|when|whenever|provided(?: that)?|as long as)\s+(?P<given>.+?),\s*(?:then\s+)?(?P<rest>.+)$"
)
WHATEVER: Final = re.compile(
    r"(?i)[\s,]*\b(?:whatever (?:the )?(?P<a>[\w ]+?)(?: is| may be)?|(?:for|at|with|into)"
    r" (?:any|every|all) (?P<b>[\w ]+?)|"
    r"no matter (?:which|what|how (?:large|small|big)) (?:the )?(?P<c>[\w ]+?)(?: is)?|in"
    r" every case|in all cases)\s*$"
)
ALWAYS: Final = re.compile(r"(?i)\b(?:always|in general|generally)\s+|\s+always\b")
BETTER: Final = re.compile(r"(?i)\b(?:(?:is|are|works?) )?(?P<word>better|worse|beats?)(?: than)?\b")
NEGLIGIBLE: Final = re.compile(
    r"(?i)(.+?) (?:is|are) negligible(?: (?:beside|against|compared (?:with|to)) (.+))?"
)
THE_CELL: Final = re.compile(r"(?i)\b(?:of|in|across|from|by) the (?:cell|battery)(?! (?-i:[A-Z]))\b")


def read_sentence(
    words: str, known: Definitions, circuit: Circuit, *, decimal: str = "."
) -> Read | Asked | None:
    """A claim in plain words.

    Parameters
    ----------
    words : str
        One sentence, or several that are all claimed.
    known : Definitions
        What the lesson defines.
    circuit : Circuit
        The one at hand.
    decimal : str
        The course's decimal mark.

    Returns
    -------
    Read, Asked or None
        None if no form fits.

    Examples
    --------
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.source import Source
    >>> read = read_circuit(Source("x", "A = cell; R = resistor; main = A across R").slice())
    >>> read_sentence("The larger the load, the smaller the current.", read.definitions, read.at_hand).means
    ('current in R falls with R',)
    """
    text = " ".join(words.replace("$", " ").split()).strip()
    nouns = Nouns(known, circuit, decimal)
    if question := _two_readings(text, nouns):
        word, choices = question
        found = [(told, read_sentence(said, known, circuit, decimal=decimal)) for told, said in choices]
        kept = tuple((told, read) for told, read in found if isinstance(read, Read))
        return Asked(word, kept) if len(kept) == len(choices) else None
    try:
        return _Sentences(nouns).whole(text)
    except Question as ask:
        return Asked(ask.word, ask.readings)


def _two_readings(text: str, nouns: Nouns) -> tuple[str, list[tuple[str, str]]] | None:
    """A word that must be asked about, and the sentence without it in each of its readings."""
    if found := BETTER.search(text):
        more = "less" if found["word"].lower() == "worse" else "more"
        verbs = (
            ("current", "give {} current than"),
            ("power", "give {} power than"),
            ("efficiency", "have {} efficiency than"),
        )
        choices = [
            (told, f"{text[: found.start()]} {verb.format(more)} {text[found.end() :]}")
            for told, verb in verbs
        ]
        return found["word"], choices
    if found := NEGLIGIBLE.fullmatch(text.rstrip(".")):
        beside = found[2] or ("the load resistance" if "resistance" in found[1] else "the EMF")
        parts = (("1", "1/100"), ("5", "1/20"))
        told = [
            (f"within {each} per cent", f"{found[1]} is less than {part} of {beside}") for each, part in parts
        ]
        return "negligible", told
    if len(nouns.cells) > 1 and (found := THE_CELL.search(text)):
        named = re.compile(r"(?i)the (?:cell|battery)")
        choices = [
            (f"the cell {cell}", text[: found.start()] + named.sub(cell, found[0]) + text[found.end() :])
            for cell in nouns.cells
        ]
        return "the cell", choices
    return None


class _Sentences(Gathered):
    """One text, sentence by sentence."""

    def whole(self, text: str) -> Read | None:
        means: list[str] = []
        scope: list[str] = []
        for each in re.split(r"(?<!p\.d)(?<!m\.f)\.(?:\s+|$)|;\s*", text):
            if not each.strip():
                continue
            found = self.sentence(each.strip())
            if found is None:
                return None
            means += found[0]
            scope += found[1]
        if not means:
            return None
        scope += self.counted
        return Read(tuple(means), tuple(scope), tuple(self.lets.items()), tuple(dict.fromkeys(self.notes)))

    def sentence(self, text: str) -> tuple[list[str], list[str]] | None:
        """Lines and conditions of one sentence."""
        scope: list[str] = []
        text = self.with_owners(text)
        if (found := LEADING.match(text)) and (given := self.condition(found["given"])):
            scope, text = [given], found["rest"]
        text = self.plain(text)
        if whole := self.asking(text, "", "", scope):
            return whole, scope
        marks = list(MARKS.finditer(text))
        for mark in marks:
            given = self.condition(text[mark.end() :])
            word = mark["word"].lower()
            exact = word.startswith(("exactly", "just")) or word == "if and only if"
            joint = "exactly when" if exact else "only when" if word.startswith("only") else "when"
            lines = given and self.asking(text[: mark.start()].strip(" ,"), joint, given, scope)
            if lines:
                return [f"{line} {joint} {given}" for line in lines], scope
        return None

    def with_owners(self, text: str) -> str:
        """The sentence with "its EMF" as "the EMF of B", where B is the first cell it names."""
        names = (word for word in re.findall(r"[^\W\d_][\w.]*", text) if word in self.nouns.cells)
        owner = next(names, None)
        if owner is None:
            return text
        return re.sub(
            r"(?i)\bits (?:own )?((?:e\.?m\.?f\.?|internal resistance|terminal p\.?d\.?"
            r"|short-circuit current))(?!\w)",
            rf"the \1 of {owner}",
            text,
        )

    def asking(self, text: str, joint: str, given: str, scope: list[str]) -> list[str] | None:
        """One clause; a question about it takes its condition along."""
        try:
            return self.clause(text)
        except Question as ask:
            raise ask.under(joint, given, scope) from None

    def plain(self, text: str) -> str:
        """Without the words that only say how general it is."""
        text = " ".join(ALWAYS.sub(" ", f" {text}").split())
        text = re.sub(
            r"(?i)^for (?:n|any number of|several|two) (?:like |equal |identical )?cells,\s*", "", text
        )
        found = WHATEVER.search(text)
        if found and not text[: found.start()].endswith("the same"):
            what = next((each for each in (found["a"], found["b"], found["c"]) if each), "")
            if (
                not what
                or self.nouns.quantity(what)
                or what in {"values", "numbers", "cells", "kind of load"}
            ):
                text = text[: found.start()]
                self.notes.append("for all positive values")
        return re.sub(r"(?i)^(?:so|then|and|now),?\s+", "", text).strip(" ,")

    def condition(self, text: str) -> str:
        """A condition: maths, or a comparison in words; empty if it can't be read."""
        text = text.strip(" ,.")
        if re.search(r"[=<>≤≥≠]", text) and not re.search(r"[^\W\d_]{3,}", text):
            return text
        lines = self.clause(self.plain(text))
        return (
            " and ".join(lines)
            if lines and not any(re.search(r"\b(?:rises|falls|depend)\b", each) for each in lines)
            else ""
        )

    # One clause, by its forms

    def clause(self, text: str) -> list[str] | None:
        """Lines of one clause; the first form that fits."""
        if not text:
            return None
        if re.search(r"[=<>≤≥≠]", text) and not re.search(r"[^\W\d_]{4,}", text):
            return [text]
        text = re.sub(r"(?i)\bp\.\s?d\.(?=\s|$|,)", "pd", re.sub(r"(?i)\be\.m\.f\.(?=\s|$|,)", "emf", text))
        forms: tuple[Callable[[_Sentences, str], list[str] | None], ...] = (
            the_more,
            goes_with,
            doing,
            does_not_depend,
            _Sentences.extreme,
            charged,
            has_more,
            brighter,
            compared,
        )
        return next((lines for form in forms if (lines := form(self, text))), None)

    def extreme(self, text: str) -> list[str] | None:
        """X is greatest when Y = Z."""
        found = re.fullmatch(
            r"(?i)(?P<y>.+?) (?:is|are|has its|have their)(?: an?| at (?:its|a))?"
            r" (?:(?P<most>greatest|largest|highest|biggest|maximum|"
            r"most)|(?P<least>least|smallest|lowest|minimum))(?: value)? (?:when|where|if|at|for) (?P<at>.+)"
            r"|(?P<z>.+?) (?:takes|gets|receives) the (?P<top>greatest|most|largest|maximum) power"
            r" (?:when|where|if|at) (?P<at2>.+)",
            text,
        )
        if found is None:
            return None
        what = self.nouns.quantity(found["y"] or f"power in {found['z']}")
        at = self.condition(found["at"] or found["at2"])
        way = "least" if found["least"] else "greatest"
        return [f"{what[0]} is {way} when {at}"] if len(what) == 1 and at else None
