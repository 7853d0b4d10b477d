"""What the nouns of a plain sentence stand for: "the terminal p.d.", "the load", "either of them", "twice the EMF".

A noun becomes maths or a phrase of the lesson language, read in the circuit at hand; what it could mean twice is asked.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from boardproof.algebra.answer import Always
from boardproof.algebra.expression import names_in
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.sign import sign_of
from boardproof.algebra.written import read_line
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.look_up import Resolved, Unresolved
from boardproof.circuit.model import Across, Changed, Circuit, Copies, Item, Leaf, Parallel, has_cells, leaves
from boardproof.circuit.names import known_names
from boardproof.circuit.phrases import read_phrase
from boardproof.circuit.place import named_items
from boardproof.circuit.spelling import normal_name
from boardproof.solve.answers import Value, answers
from boardproof.source import Slice, Span

__all__ = ["Nouns", "bare_words"]

# What is said of a thing, the phrase for it, and whose it is when nobody is named: the load, or what feeds it.
QUANTITIES: Final = (
    (r"short[- ]circuit current", "short-circuit current of {}", "source"),
    (r"(?:terminal|output) (?:pd|voltage|potential difference)", "terminal p.d. of {}", "source"),
    (r"lost volts", "lost volts in {}", "source"),
    (r"(?:load )?(?:pd|voltage|potential difference)", "p.d. across {}", "load"),
    (r"(?:emf|electromotive force|open[- ]circuit (?:pd|voltage))s?", "emf of {}", "source"),
    (r"(?:internal|inside|inner) resistances?", "resistance of {}", "source"),
    (r"load resistance", "resistance of {}", "load"),
    (r"resistances?", "resistance of {}", ""),
    (r"(?:load |main )?currents?", "current in {}", "load"),
    (r"(?:total|whole) power", "power given by {}", "source"),
    (r"(?:greatest|largest|maximum|most) (?:possible )?power", "greatest power from {}", "source"),
    (r"(?:load |output |useful )?power|brightness", "power in {}", "load"),
    (r"(?:heat|wasted power|power lost|power wasted)", "heat in {}", "source"),
    (r"efficiency", "efficiency of {}", "source"),
    (r"charge", "charge on {}", ""),
    (r"number of cells", "number of cells in {}", "source"),
)
TIMES: Final = {
    "twice": "2", "double": "2", "half": "1/2", "half of": "1/2", "a half of": "1/2", "a third of": "1/3",
    "a quarter of": "1/4", "three quarters of": "3/4", "two thirds of": "2/3", "two times": "2", "three times": "3",
    "four times": "4", "five times": "5", "ten times": "10",
}  # fmt: skip
CELL_WORDS: Final = r"(?:cell|battery|source|supply|one)"
LOAD_WORDS: Final = frozenset(
    ("load", "lamp", "bulb", "resistor", "heater", "motor", "transmitter", "external resistor")
)
GROUP_WORDS: Final = re.compile(
    r"(?:pair|battery|group|row|bank|stack|pack|combination|set|arrangement|whole|cells|both(?: cells| batteries)?"
    r"|(?:two|both|the two|these) (?:\w+ )?(?:cells|batteries)(?: (?:in (?:a )?(?:series"
    r"|parallel|row)|side by side))?)"
)
EITHER: Final = re.compile(
    r"(?:either|each|any)(?: (?:one )?of (?:them|the two|these)| (?:cell|battery))?(?:"
    r" (?:alone|by itself|on its own))?"
)
PAIRED: Final = re.compile(r"(?:the )?(sum|mean|average|middle|plain mean|product) of (.+)")
OWNED: Final = re.compile(r"(?:of|in|through|across|from|inside|over|at|taken by|given to|from inside) (.+)")


def bare_words(text: str) -> str:
    """A noun in lower case where it is words, without articles and full stops in "p.d." and "e.m.f.".

    Parameters
    ----------
    text : str
        A noun with whatever stands before it.

    Examples
    --------
    >>> bare_words("The  terminal p.d. of A")
    'terminal pd of A'
    """
    text = " ".join(text.split()).strip(" ,;:$")
    text = re.sub(r"(?i)\bp\.\s?d\b\.?", "pd", re.sub(r"(?i)\be\.m\.f\b\.?|\bEMF\b", "emf", text))
    return re.sub(r"(?i)^(?:the|a|an|its|their|this|that|our)\s+(?=\S{2})", "", text).strip(" .")


@dataclass(frozen=True)
class Nouns:
    """Reads the nouns of sentences about one circuit.

    Parameters
    ----------
    known : Definitions
        What the lesson defines.
    circuit : Circuit
        The one at hand.
    decimal : str
        The course's decimal mark.
    """

    known: Definitions
    circuit: Circuit
    decimal: str = "."

    @cached_property
    def closed(self) -> Across | None:
        """The closed circuit under every change."""
        item: Item = self.circuit.item
        while isinstance(item, Changed):
            item = item.item
        return item if isinstance(item, Across) else None

    @cached_property
    def cells(self) -> tuple[str, ...]:
        """Paths of the cells."""
        return tuple(each.path for each in self.circuit.leaves if each.part.kind in {"cell", "source"})

    @cached_property
    def loads(self) -> tuple[str, ...]:
        """Paths of the parts of the load."""
        side = leaves(self.closed.load) if self.closed else self.circuit.leaves
        return tuple(each.path for each in side if each.part.kind not in {"cell", "source", "wire"})

    @cached_property
    def group(self) -> str:
        """Path of what feeds the load; empty if it has no name."""
        item: Item = self.closed.source if self.closed else self.circuit.item
        while isinstance(item, Changed):
            item = item.item
        if item.path or not self.closed:
            return item.path
        same = (name for name, circuit in self.known.circuits.items() if _same(circuit.item, item))
        return next(same, "")

    @cached_property
    def names(self) -> frozenset[str]:
        """Names that mean something here."""
        return known_names(self.known, self.circuit)

    @cached_property
    def side_by_side(self) -> bool:
        """Whether what feeds the load is joined in parallel."""
        item: Item = self.closed.source if self.closed else self.circuit.item
        while isinstance(item, Changed):
            item = item.item
        return isinstance(item, Parallel) or (isinstance(item, Copies) and item.joined == "parallel")

    # Things

    def owners(self, text: str) -> tuple[str, ...]:
        """Paths of what a noun names: one, or each of several; none if it names nothing here."""
        typed = bare_words(text)
        word = typed.lower()
        if word in {"load resistance", "load resistor", "external resistance"}:
            word = "load"
        if EITHER.fullmatch(word):
            return self.cells
        if (path := self.path(typed)) or (path := self.path(re.sub(rf"(?i)^{CELL_WORDS}\s+", "", typed))):
            return (path,)
        if word in {"other", "other cell", "other battery", "other one"} and len(self.cells) == 2:
            return (self.cells[1],)
        if word in LOAD_WORDS:
            return self.loads if len(self.loads) == 1 else ()
        if re.fullmatch(CELL_WORDS, word) and len(self.cells) == 1:
            return self.cells
        if GROUP_WORDS.fullmatch(word) or word in {"them", "it", "source", "supply"}:
            return (self.group,) if self.group else ()
        return ()

    def path(self, word: str) -> str:
        """The path of a part or group by its own name."""
        name = normal_name(word) if re.fullmatch(r"[^\W\d][\w.]*", word) else ""
        there = {each.path for each in self.circuit.leaves} | set(self.known.circuits) | {self.group}
        return next((each for each in (word, name) if each and each in there), "")

    def cell(self, text: str) -> str:
        """The one cell that a noun names; empty if it names none, or several."""
        found = self.owners(text)
        return found[0] if len(found) == 1 and found[0] in self.cells else ""

    # Quantities

    def quantity(self, text: str) -> tuple[str, ...]:
        """What a noun is in the lesson language: one term, or one for each of several things; none if it isn't read."""
        typed = bare_words(text)
        word = typed.lower()
        if word in {"half", "a half", "one half", "one"}:
            return ("1" if word == "one" else "1/2",)
        if word in {"zero", "nought", "nothing", "naught"}:
            return ("0",)
        if (
            word in {"load", "load resistance", "load resistor", "external resistance"}
            and len(self.loads) == 1
        ):
            return (self.worded("resistance of {}", self.loads[0]),)
        for said, number in TIMES.items():
            if word.startswith(f"{said} "):
                return tuple(f"{number}*({each})" for each in self.quantity(typed[len(said) :]))
        if found := re.fullmatch(r"(?i)(\w+) times (.+)", typed):
            return tuple(f"{found[1]}*({each})" for each in self.quantity(found[2]) if found[1] in self.names)
        if found := PAIRED.fullmatch(word):
            return self.paired(found[1], typed[found.start(2) :])
        for pattern, phrase, whose in QUANTITIES:
            if found := re.match(rf"(?i)(?:{pattern})(?=\s|$)", typed):
                return self.owned(phrase, whose, typed[found.end() :].strip())
            if found := re.fullmatch(rf"(?i)(.+?)['’]s? (?:{pattern})", typed):
                return self.of(phrase, found[1])
        if found := re.fullmatch(r"(\d+/\d+|\d+) (?:of|times) (.+)", typed):
            return tuple(f"{found[1]}*({each})" for each in self.quantity(found[2]))
        if self.is_maths(typed):
            return (typed,)
        part = self.path(typed)
        return (self.worded("resistance of {}", part),) if part in self.loads else ()

    def owned(self, phrase: str, whose: str, rest: str) -> tuple[str, ...]:
        """A quantity of the thing that is named after it, or of the usual one."""
        if rest:
            found = OWNED.fullmatch(rest)
            return self.of(phrase, found[1]) if found else ()
        if whose == "load":
            return self.of(phrase, "load")
        usual = self.group or (self.cells[0] if len(self.cells) == 1 else "")
        return (self.worded(phrase, usual),) if whose == "source" and usual else ()

    def of(self, phrase: str, owner: str) -> tuple[str, ...]:
        """A quantity of a thing, or of each of several."""
        return tuple(self.worded(phrase, each) for each in self.owners(owner))

    def worded(self, phrase: str, path: str) -> str:
        """The shortest name for a quantity: its letter if it is one, else the phrase."""
        text = phrase.format(path)
        found = self.meant(text)
        if isinstance(found, Resolved) and found.ref.kind == "letter":
            return found.ref.of[0]
        return text

    def meant(self, text: str) -> Resolved | Unresolved | None:
        """What a phrase means here."""
        return read_phrase(
            Slice(text, Span("", 0, len(text))), self.known, self.circuit, decimal=self.decimal
        )

    def paired(self, how: str, what: str) -> tuple[str, ...]:
        """The sum or the mean of two things."""
        pieces = re.split(r"\s+and\s+", what)
        terms = [term for each in pieces for term in self.quantity(each)]
        if len(pieces) == 1:
            plural = re.sub(r"(?i)^(?:the\s+)?(?:two|both|their)?\s*", "", bare_words(what))
            stem = re.fullmatch(r"(?i)((?:internal |short-circuit )?\w+?)s?(?: of (?:.+))?", plural)
            terms = list(self.quantity(f"{stem[1]} of either")) if stem else []
        if len(terms) < 2:
            return ()
        if how == "product":
            return ("*".join(f"({each})" for each in terms),)
        total = " + ".join(terms)
        return (total,) if how == "sum" else (f"({total})/{len(terms)}",)

    def is_maths(self, text: str) -> bool:
        """Whether a text is one expression in names that mean something here."""
        line, _ = read_line(Slice(text, Span("", 0, len(text))), known=self.names, decimal=self.decimal)
        if line is None or len(line.bare) != 1 or line.statements:
            return False
        return all(name.text in self.names for name in names_in(line.bare[0]))

    # Arrangements of like cells

    def arrangement(self, text: str) -> tuple[str, str, str] | None:
        """An arrangement of like cells on the load: its name, its circuit, and its count if that is a letter."""
        if len(self.cells) != 1 or len(self.loads) != 1 or self.closed is None:
            return None
        leaf = next(each for each in self.circuit.leaves if each.path == self.cells[0])
        cell, load = leaf.part.name, self.loads[0]
        word = bare_words(text).lower()
        if re.fullmatch(
            r"(?:one|a single|single|one single)(?: cell| one)?(?: alone| by itself)?|one of them", word
        ):
            return "one", f"{cell} across {load}", ""
        found = re.fullmatch(
            r"(?:(?P<n>two|three|four|\w) )?(?:(?:like |equal |identical )?cells )?(?:in"
            r" )?(?P<how>parallel|series|a row|side by side)"
            r"(?: arrangement| connection)?(?: they| the cells| cells)?",
            word,
        )
        if found is None:
            return None
        how = "parallel" if found["how"] in {"parallel", "side by side"} else "series"
        count = {"two": "2", "three": "3", "four": "4"}.get(found["n"] or "", found["n"] or "n")
        if not count.isdigit() and count not in self.known.counts:
            return None
        name = next((path for path, item in self.groups.items() if item == (how, count)), how)
        if name in self.known.circuits:
            return name, f"{name} across {load}", "" if count.isdigit() else count
        short = (
            f"{count}{'p' if how == 'parallel' else 's'} of {cell}"
            if count.isdigit()
            else f"{count} of {cell} in {how}"
        )
        return name, f"{short} across {load}", "" if count.isdigit() else count

    @cached_property
    def groups(self) -> dict[str, tuple[str, str]]:
        """Named groups of like cells: how they are joined, and how many."""
        found: dict[str, tuple[str, str]] = {}
        for name, circuit in self.known.circuits.items():
            item = circuit.item
            if isinstance(item, Copies):
                found[name] = (item.joined, str(item.count))
        for path in named_items(self.circuit.item):
            found.setdefault(path, ("", ""))
        return found

    def one_way(self, term: str) -> bool:
        """Whether a quantity is never below nought."""
        found = self.meant(term)
        if not isinstance(found, Resolved):
            return True
        value = answers(found.circuit, "letters").ask(found.ref)
        if not isinstance(value, Value) or not isinstance(value.exact, RationalFunction):
            return True
        return isinstance(sign_of(value.exact, "≥", counts=self.known.counts), Always)


def _same(one: Item, other: Item) -> bool:
    """Whether two items are built of the same parts in the same way, whatever they are called."""
    if isinstance(one, Leaf) and isinstance(other, Leaf):
        return one.part == other.part
    return (
        type(one) is type(other)
        and has_cells(one)
        and [each.path for each in leaves(one)] == [each.path for each in leaves(other)]
    )
