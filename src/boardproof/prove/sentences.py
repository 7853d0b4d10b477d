"""Plain sentences as claims: "the larger the load, the larger the p.d." becomes ``p.d. across R rises with R``.

Only whole sentences of known forms are read; anything else is left alone, never guessed. Where a word has two readings
("bigger current", "better", "the cell", "negligible") both are given back, to be asked.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Final

from boardproof.circuit.definitions import Definitions
from boardproof.circuit.model import Circuit
from boardproof.prove.nouns import Nouns, bare_words
from boardproof.record import record

__all__ = ["Asked", "Read", "read_sentence"]

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
LETTERS: Final = {
    "current": "I",
    "p.d.": "V",
    "terminal": "V",
    "emf": "E",
    "power": "P",
    "efficiency": "e",
    "resistance": "r",
}
NUMBERS: Final = {
    "twice": "2",
    "half": "1/2",
    "two": "2",
    "three": "3",
    "four": "4",
    "five": "5",
    "ten": "10",
}
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
BETTER: Final = re.compile(r"(?i)\b(?:(?:is|are|works?) )?(?P<word>better|worse|beats?)(?: than)?\b")
NEGLIGIBLE: Final = re.compile(
    r"(?i)(.+?) (?:is|are) negligible(?: (?:beside|against|compared (?:with|to)) (.+))?"
)
THE_CELL: Final = re.compile(r"(?i)\b(?:of|in|across|from|by) the (?:cell|battery)(?! (?-i:[A-Z]))\b")


@record
class Read:
    """A sentence in the lesson language.

    Parameters
    ----------
    means : tuple of str
        Lines as after ``means:``.
    scope : tuple of str
        Conditions as after ``for:``.
    lets : tuple of (str, str)
        Names that the lines need besides the circuit's, with their phrases.
    notes : tuple of str
        What was understood besides.
    """

    means: tuple[str, ...]
    scope: tuple[str, ...] = ()
    lets: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()


@record
class Asked:
    """A sentence of two readings; `word` is what has them, each reading comes with its words."""

    word: str
    readings: tuple[tuple[str, Read], ...]


class _Ask(Exception):  # ends the reading of one sentence with a question
    def __init__(self, word: str, *readings: tuple[str, Read]) -> None:
        super().__init__(word)
        self.word, self.readings = word, readings

    def under(self, joint: str, given: str, scope: list[str]) -> _Ask:
        """The same question about a sentence that goes on with a condition."""
        end = f" {joint} {given}" if given else ""
        return _Ask(
            self.word,
            *(
                (told, replace(read, means=tuple(f"{each}{end}" for each in read.means), scope=tuple(scope)))
                for told, read in self.readings
            ),
        )


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
    except _Ask as ask:
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


class _Sentences:
    def __init__(self, nouns: Nouns) -> None:
        self.nouns = nouns
        self.lets: dict[str, str] = {}
        self.notes: list[str] = []
        self.counted: list[str] = []

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
        except _Ask as ask:
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
        forms: tuple[Callable[[str], list[str] | None], ...] = (
            self.the_more, self.goes_with, self.doing, self.does_not_depend, self.extreme, self.charged, self.has_more,
            self.brighter, self.compared,
        )  # fmt: skip
        return next((lines for form in forms if (lines := form(text))), None)

    def the_more(self, text: str) -> list[str] | None:
        """The larger X, the smaller Y."""
        found = re.fullmatch(
            rf"(?i)the (?:(?P<u1>{UP})|(?P<d1>{DOWN})) (?P<x>[^,]+?)(?: is| gets| becomes)?,? "
            rf"the (?:(?P<u2>{UP})|(?P<d2>{DOWN})) (?P<y>.+?)(?: is| gets| becomes)?",
            text,
        ) or re.fullmatch(
            rf"(?i)an? (?:(?P<u1>{UP})|(?P<d1>{DOWN})) (?P<x>[^,]+?) (?:{GIVES}|means|makes) (?:an? |the )?"
            rf"(?:(?P<u2>{UP})|(?P<d2>{DOWN})) (?P<y>.+)",
            text,
        )
        return found and self.trend(found["y"], found["x"], rises=bool(found["u1"]) == bool(found["u2"]))

    def goes_with(self, text: str) -> list[str] | None:
        """X rises with Y; X falls as Y grows."""
        found = re.fullmatch(
            rf"(?i)(?P<y>.+?) (?:(?P<u1>{RISES})|(?P<d1>{FALLS})) (?:with|as|when|while|if) (?P<x>.+?)"
            rf"(?: (?:(?P<u2>{RISES}|is raised|is increased)|(?P<d2>{FALLS}|is lowered|is reduced)))?",
            text,
        )
        return found and self.trend(found["y"], found["x"], rises=bool(found["u1"]) is not bool(found["d2"]))

    def trend(self, what: str, by: str, *, rises: bool) -> list[str] | None:
        """One thing against another."""
        ends = self.nouns.quantity(what), self.nouns.quantity(by)
        if len(ends[1]) != 1 or not ends[0]:
            return None
        return [f"{each} {'rises' if rises else 'falls'} with {ends[1][0]}" for each in ends[0]]

    def doing(self, text: str) -> list[str] | None:
        """Raising X lowers Y; turning B lowers the current; adding B raises it."""
        found = re.fullmatch(
            rf"(?i)(?P<deed>raising|increasing|lowering|reducing|adding|putting in|joining|turning"
            rf"|reversing|flipping|removing"
            rf"|taking out|taking away|disconnecting|opening|closing|shorting) (?P<x>.+?)(?: round|"
            rf" over)? (?P<never>never )?"
            rf"(?:(?P<up>{RAISES})|(?P<down>{LOWERS})|(?P<keep>{KEEPS})) (?P<y>.+)",
            text,
        )
        if found is None:
            return None
        deed, way = found["deed"].lower(), ">" if found["up"] else "<" if found["down"] else "="
        if deed in {"raising", "increasing", "lowering", "reducing"}:
            if found["never"]:
                return None
            if way == "=":
                return self.does_not_depend(f"{found['y']} does not depend on {found['x']}")
            return self.trend(
                found["y"], found["x"], rises=(way == ">") is (deed in {"raising", "increasing"})
            )
        return self.after(deed, found["x"], found["y"], NEGATED[way] if found["never"] else way)

    def after(self, deed: str, what: str, of: str, way: str) -> list[str] | None:
        """A quantity after something was done, against the same before."""
        part = self.nouns.owners(
            re.sub(r"(?i)\s+(?:in (?:series|parallel)|beside .+|side by side|as well)$", "", what)
        )
        size = re.match(r"(?i)(?:the )?size of (.+)", of)
        now = self.nouns.quantity(size[1] if size else of)
        if len(part) != 1 or len(now) != 1:
            return None
        gone = "remove" if self.nouns.side_by_side or part[0] not in self.nouns.cells else "short"
        word = {"turning": "turn", "reversing": "turn", "flipping": "turn", "opening": "open", "closing": "close",
                "shorting": "short"}.get(deed, gone)  # fmt: skip
        other = self.named(f"{now[0]} when {word} {part[0]}", {"turn": "turned"}.get(word, "without"))
        if word == "short":
            self.notes.append(f"without {part[0]} means: a wire in its place")
        new, old = (now[0], other) if deed in {"adding", "putting in", "joining"} else (other, now[0])
        return [f"abs({new}) {way} abs({old})" if size else f"{new} {way} {old}"]

    def named(self, phrase: str, word: str) -> str:
        """A name for a phrase with its own circuit."""
        for name, known in self.lets.items():
            if known == phrase:
                return name
        letter = LETTERS.get(phrase.split(maxsplit=1)[0], "X")
        name = f"{letter}_{word}"
        while name in self.lets or name in self.nouns.names:
            name += "x"
        self.lets[name] = phrase
        return name

    def does_not_depend(self, text: str) -> list[str] | None:
        """X does not depend on Y."""
        found = re.fullmatch(
            r"(?i)(?P<y>.+?) (?:does not|doesn['’]t|do not) (?:depend on|change with|vary with) (?P<x>.+)"
            r"|(?P<y2>.+?) (?:is|are) independent of (?P<x2>.+)"
            r"|(?P<y3>.+?) (?:is|are|stays|remains) the same (?:for (?:every|any|all)|whatever|no"
            r" matter (?:which|what)) (?P<x3>.+?)"
            r"(?: is)?",
            text,
        )
        if found is None:
            return None
        what = self.nouns.quantity(found["y"] or found["y2"] or found["y3"])
        by = self.nouns.quantity(found["x"] or found["x2"] or found["x3"])
        return [f"{each} does not depend on {by[0]}" for each in what] if len(by) == 1 and what else None

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

    def charged(self, text: str) -> list[str] | None:
        """B is charged; B gives current; no current flows in B."""
        found = re.fullmatch(
            r"(?i)(?P<x>.+?) (?P<no>is never|is not|never gets)? ?(?:is |gets )?(?:being )?charged(?: by .+)?"
            r"|(?P<y>.+?) (?:gives|drives|delivers|supplies)(?: out)?(?: a| some)? current|no"
            r" current flows (?:in|through) (?P<n>.+)"
            r"|(?P<m>.+?) (?:carries|gives) no current",
            text,
        )
        if found is None:
            return None
        cell = self.nouns.cell(found["x"] or found["y"] or found["n"] or found["m"])
        if (not cell and found["n"]) or found["m"]:
            owner = self.nouns.owners(found["n"] or found["m"])
            return [f"current in {owner[0]} = 0"] if len(owner) == 1 else None
        sign = (">=" if found["no"] else "<") if found["x"] else ">" if found["y"] else "="
        return [f"current in {cell} {sign} 0"] if cell else None

    def has_more(self, text: str) -> list[str] | None:
        """A has less internal resistance than B; n like cells in parallel drive more current than one."""
        found = re.fullmatch(
            rf"(?i)(?P<p>.+?) (?P<never>never )?{GIVES} (?:the |a |an )?(?:(?P<up>{UP})"
            rf"|(?P<down>{DOWN})|(?P<same>same|as much)|"
            rf"(?P<times>twice|half|\w+ times)(?: the| as much)?) (?P<x>[^,]+?)(?: (?:than|as|of)(?P<q> .+))?",
            text,
        )
        if found is None:
            return None
        sign = ">" if found["up"] else "<" if found["down"] else "="
        sign = NEGATED[sign] if found["never"] else sign
        other = (found["q"] or " the other").strip()
        left, right = self.held(found["p"], found["x"]), self.held(other, found["x"])
        if len(left) != 1 or not right:
            return None
        ends = self.nouns.cell(found["p"]), self.nouns.cell(other)
        if all(ends) and bare_words(found["x"]).lower() == "current" and len(self.nouns.cells) == 2:
            self.ask_alone(ends, sign)
        times = (found["times"] or "").lower().removesuffix(" times")
        if not times:
            return [f"{left[0]} {sign} {each}" for each in right]
        number = NUMBERS.get(times, times)
        if not number[:1].isdigit() and number not in self.nouns.names:
            return None
        return [f"{left[0]} {sign} {number}*({each})" for each in right]

    def held(self, owner: str, what: str) -> tuple[str, ...]:
        """A quantity of a thing, or of the load fed by an arrangement of like cells."""
        if made := self.nouns.arrangement(owner):
            name, circuit, count = made
            if count and f"{count} = 2, 3, ..." not in self.counted:
                self.counted.append(f"{count} = 2, 3, ...")
            word = bare_words(what).lower()
            if word == "efficiency":
                return (
                    (self.named(f"efficiency of {name} when {circuit}", name),)
                    if name in self.nouns.known.circuits
                    else ()
                )
            phrase = {
                "current": "current in {}",
                "power": "power in {}",
                "pd": "p.d. across {}",
                "voltage": "p.d. across {}",
            }
            if word not in phrase or len(self.nouns.loads) != 1:
                return ()
            return (self.named(f"{phrase[word].format(self.nouns.loads[0])} when {circuit}", name),)
        return self.nouns.quantity(f"{what} of {owner}") or self.nouns.quantity(f"{what} in {owner}")

    def ask_alone(self, cells: tuple[str, str], sign: str) -> None:
        """Whether "A drives more current than B" speaks of the cells in place, or of each alone on the load."""
        gone = "remove" if self.nouns.side_by_side else "short"
        load = self.nouns.loads[0] if len(self.nouns.loads) == 1 else cells[0]
        lets = tuple(
            (f"I_{word}", f"current in {load} when {gone} {off}")
            for word, off in (("first", cells[1]), ("second", cells[0]))
        )
        in_place = Read((f"current in {cells[0]} {sign} current in {cells[1]}",))
        alone = Read((f"I_first {sign} I_second",), lets=lets)
        raise _Ask("the cell", ("in place", in_place), ("each alone on the load", alone))

    def brighter(self, text: str) -> list[str] | None:
        """L is brighter than M: it takes more power."""
        found = re.fullmatch(
            r"(?i)(?P<p>.+?) (?:is|are|burns|shines|gets|glows) (?P<not>not |never"
            r" )?(?:(?P<up>brighter|hotter|warmer)|(?P<down>dimmer|cooler|fainter))"
            r" than (?P<q>.+)",
            text,
        )
        if found is None:
            return None
        ends = self.nouns.owners(found["p"]), self.nouns.owners(found["q"])
        if len(ends[0]) != 1 or len(ends[1]) != 1:
            return None
        sign = ">" if found["up"] else "<"
        self.notes.append("brighter or hotter: takes more power, with fixed resistance")
        return [f"power in {ends[0][0]} {NEGATED[sign] if found['not'] else sign} power in {ends[1][0]}"]

    def compared(self, text: str) -> list[str] | None:
        """X is smaller than Y; X lies between Y and Z; X never exceeds Y."""
        text = re.sub(
            r"(?i)\bexceeds\b",
            "is more than",
            re.sub(r"(?i)\b(?:never|not) exceeds?\b", "is never more than", text),
        )
        text = re.sub(r"(?i)\bdoes not exceed\b", "is never more than", text)
        if found := re.fullmatch(
            r"(?i)(?P<x>.+?) (?:is|are|lies|lie) (?P<not>not |never )?between (?P<a>.+)", text
        ):
            return None if found["not"] else self.between(found["x"], found["a"])
        for pattern, sign in WORD_SIGNS:
            found = re.fullmatch(
                rf"(?i)(?P<x>.+?) (?:is|are|equals?|becomes|stays|remains|was)(?P<not> never| not)?"
                rf" ?{pattern} ?(?P<y>\S.*)",
                text,
            )
            if not found:
                continue
            left, right = self.nouns.quantity(found["x"]), self.nouns.quantity(found["y"])
            if len(left) == 1 and right:
                said = NEGATED[sign] if found["not"] else sign
                self.sized(left[0], right, said, text)
                return [f"{left[0]} {said} {each}" for each in right]
        return None

    def between(self, what: str, ends: str) -> list[str] | None:
        """X lies between Y and Z."""
        middle = self.nouns.quantity(what)
        if re.fullmatch(r"(?i)(?:the )?(?:two|both|them)(?: (?:EMFs?|emfs?))?|(?:the )?emfs", ends.strip()):
            stem = re.match(r"(.*?) (?:of|in|across) ", middle[0]) if len(middle) == 1 else None
            edges = list(self.nouns.quantity(f"{stem[1]} of either")) if stem else []
        else:
            edges = [each for piece in re.split(r"\s+and\s+", ends) for each in self.nouns.quantity(piece)]
        if len(middle) != 1 or len(edges) != 2:
            return None
        low, high, x = edges[0], edges[1], middle[0]
        return [f"{low} < {x} and {x} < {high} or {high} < {x} and {x} < {low}"]

    def sized(self, left: str, right: tuple[str, ...], sign: str, text: str) -> None:
        """Ask whether a current that may flow either way is meant with its sign or in size."""
        if sign not in {"<", ">"} or right == ("0",) or not re.search(r"(?i)\bcurrent\b", text):
            return
        if re.search(r"(?i)\bsize\b|[-−+*/(]", text) or all(map(self.nouns.one_way, (left, *right))):
            return
        word = re.search(rf"(?i)\b(?:{UP}|{DOWN})\b", text)
        plain = [each.strip() for each in (left, *right)]
        if word:
            lets = tuple(self.lets.items())
            readings = (
                (
                    told,
                    Read(
                        tuple(f"{form.format(plain[0])} {sign} {form.format(each)}" for each in plain[1:]),
                        lets=lets,
                    ),
                )
                for told, form in (("with its sign", "{}"), ("in size", "abs({})"))
            )
            raise _Ask(f"{word[0]} current", *readings)
