"""Numbers in a free talk: to what they seem to belong."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from boardproof.algebra import meaning
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.readings import readings
from boardproof.algebra.spoken import PERCENT, Token
from boardproof.algebra.vocabulary import words_of
from boardproof.listen.hear import Speech
from boardproof.listen.sentences import Sentence
from boardproof.listen.things import Quantity, Thing, Things, quantity_at
from boardproof.quantities import AMPERE, OHM, PURE, VOLT, WATT, Dimension

__all__ = ["HOLDING", "NAMED", "Frames", "ValueFrame"]

GIVING: Final = words_of(
    "gives give giving gave delivers deliver delivering supplies supply supplying provides provide "
    "contributes contribute chips pushes push sends drives drive puts put pumps feeds feed "
    "discharging"
)
TAKING: Final = words_of(
    "takes take taking draws draw drawing absorbs swallows swallowing receives gets get charged sinks dissipates uses "
    "consumes"
)
LOSING: Final = words_of(
    "loses lose losing drops drop dropping lost wastes waste wasted heat heats warms warm"
)
HOLDING: Final = words_of(
    "has have is are shows show reads read sits sit sitting at carries carry sees equals was were be worth make makes "
    "amounts counts"
)
SHOWING: Final = words_of("shows show showing reads reading")
CARRYING: Final = words_of("carries carry carrying passes pass runs flows flow")
STORING: Final = words_of("stored store stores storage storing")
DESCRIBED: Final = words_of("cell one battery resistor resistors lamp load ones cells heater bulb")
PREFIXES: Final = words_of("milli micro kilo mega k m")
REACH: Final = 16


@dataclass(frozen=True)
class ValueFrame:
    """A number with what it seems to belong to.

    Parameters
    ----------
    start, end : int
        Tokens of the whole statement.
    value : Token
        The number.
    dimension : Dimension
        What it is a value of.
    kinds : tuple of str
        Kinds of facts; empty if no quantity was named.
    things : tuple of str
        Whose; empty if nothing was named.
    verb : str
        "out", "in", "lost", "stored" or "".
    named_dimension : Dimension or None
        What the named quantity is measured in.
    """

    start: int
    end: int
    value: Token
    dimension: Dimension
    kinds: tuple[str, ...]
    things: tuple[str, ...]
    verb: str
    is_each: bool
    named_dimension: Dimension | None
    preposition: str
    is_negative: bool


NAMED: Final = {
    "emf": VOLT,
    "pd": VOLT,
    "potential": VOLT,
    "lost": VOLT,
    "current": AMPERE,
    "short": AMPERE,
    "resistance": OHM,
    "power_out": WATT,
    "heat": WATT,
    "power_given": WATT,
    "efficiency": PURE,
}


class Frames:
    """Finds to what a number seems to belong.

    Parameters
    ----------
    speech : Speech
        What was said.
    things : Things
        The parts.
    """

    def __init__(self, speech: Speech, things: Things) -> None:
        """No topic yet."""
        self.speech, self.things = speech, things
        self.topic: Thing | None = None
        self.quantity: Quantity | None = None

    def remember(self, sentence: Sentence) -> None:
        """The last thing and quantity named stay the topic."""
        for thing in self._named(sentence.start, sentence.end):
            if thing.of != ("whole",) or self.topic is None:
                self.topic = thing
        quantity = self._last_quantity(sentence.start, sentence.end)
        self.quantity = quantity or (self.quantity if sentence.is_question else None)

    def _named(self, start: int, end: int) -> list[Thing]:
        found = []
        place = start
        while place < end:
            quantity = quantity_at(self.speech.tokens, place)
            if quantity is not None:
                place = quantity.end
                continue
            thing = self.things.at(self.speech.tokens, self.speech.raw, place)
            if thing is not None and thing.end <= end + 1:
                found.append(thing)
                place = max(thing.end, place + 1)
            else:
                place += 1
        return found

    def _last_quantity(self, start: int, end: int) -> Quantity | None:
        found = None
        place = start
        while place < end:
            quantity = quantity_at(self.speech.tokens, place)
            if quantity is not None and quantity.end <= end:
                found = found if self._is_circumstance(place) else quantity
                place = quantity.end
            else:
                place += 1
        return found

    def _is_circumstance(self, place: int) -> bool:
        """Said like "at no current it's ...": under which, not of which."""
        before = self.speech.tokens[place - 1] if place else None
        return before is not None and (
            before.text in {"no", "zero"} or (before.kind == "number" and not before.value)
        )

    # -- framing

    def _frame(self, sentence: Sentence, place: int) -> ValueFrame | None:
        """What a number seems to belong to; None if it is no value, or nobody's."""
        tokens = self.speech.tokens
        value = self._valued(sentence, place)
        if value is None:
            return None
        if self.heads(sentence, place):
            return self.headed(sentence, place)
        clause = self.clause_start(sentence, place)
        quantity = self._last_quantity(self.after_value(clause, place), place)
        thing = self.thing_for(clause, sentence, place)
        behind = {token.text for token in tokens[place + 1 : min(place + 5, sentence.end)]}
        is_heat = (
            value.unit is not None
            and value.unit.dimension == WATT
            and bool(behind & {"heat", "wasted", "lost"})
        )
        verb = "lost" if is_heat else self._verb_between(clause, place)
        dimension = self._measured_in(value, quantity, thing, verb, place)
        if dimension is None:
            return None
        if (
            quantity is None
            and thing is None
            and clause > sentence.start
            and self.speech.word(place - 1) in {"so", "then", "is"}
        ):
            early = max(sentence.start, clause - 14)
            quantity, thing = self._last_quantity(early, clause), self.thing_for(early, sentence, place)
            clause = quantity.start if quantity else clause
        after = tokens[place + 1].text if place + 1 < sentence.end else ""
        starts = [
            each.start for each in (quantity, thing) if each is not None and clause <= each.start <= place
        ]
        return ValueFrame(
            min(starts, default=place), place + 1, value, dimension, self._kinds(quantity, dimension, behind, after),
            self._owners(quantity, thing), verb, bool(thing and thing.is_each),
            NAMED[quantity.kinds[0]] if quantity else None,
            after if after in {"across", "through", "inside", "each"} else "",
            value.start == tokens[place].start and place > 0 and tokens[place - 1].text == "-",
        )  # fmt: skip

    def _kinds(
        self, quantity: Quantity | None, dimension: Dimension, behind: set[str], after: str
    ) -> tuple[str, ...]:
        """The kinds of facts that are meant: "three volts at its terminals" is no EMF."""
        if quantity is not None:
            return quantity.kinds
        return (
            ("pd", "potential")
            if dimension == VOLT and ({"at", "terminals"} <= behind or after == "across")
            else ()
        )

    def _valued(self, sentence: Sentence, place: int) -> Token | None:
        """A number that is a value by itself, or ends a sum that is all that is said."""
        tokens = self.speech.tokens
        value = tokens[place]
        behind = tokens[place + 1] if place + 1 < sentence.end else None
        if behind is not None and behind.text in PREFIXES:
            return None
        if value.text == PERCENT or self.things.by_value(tokens, place) is not None:
            return None
        if behind is not None and (behind.kind == "sign" or (behind.kind == "name" and value.unit is None)):
            return None
        if behind is not None and value.unit is not None and behind.text in DESCRIBED:
            return None
        ahead = tokens[place - 1] if place else None
        if (
            ahead is None
            or ahead.kind != "sign"
            or (ahead.text == "-" and not (place > 1 and tokens[place - 2].is_operand))
        ):
            return value
        if not self.is_last_word(sentence, place):
            return None  # an expression, not a value: its result comes behind it
        start = self._run_start(place, sentence.start)
        found = _value(tokens[start : place + 1])
        return replace(value, value=found.pop(), start=tokens[start].start) if len(found) == 1 else None

    def _measured_in(
        self, value: Token, quantity: Quantity | None, thing: Thing | None, verb: str, place: int
    ) -> Dimension | None:
        """The dimension of a value: by its unit, by the quantity that is named, by the verb."""
        if value.unit is not None:
            return value.unit.dimension
        start = next(n for n in range(place, -1, -1) if self.speech.tokens[n].start <= value.start)
        if quantity is not None and self.is_joined(quantity.end, start):
            return NAMED[quantity.kinds[0]]
        if thing is not None and value.place and value.place < 1:
            return {"shows": VOLT, "out": AMPERE, "in": AMPERE}.get(verb)
        return None

    def _owners(self, quantity: Quantity | None, thing: Thing | None) -> tuple[str, ...]:
        """Whose the quantity is: of the thing behind it, of the thing that owns it, of what its words say."""
        if quantity is None:
            return thing.of if thing else ()
        is_behind = thing is not None and thing.end > quantity.start
        if quantity.of and not is_behind:
            return quantity.of
        return thing.of if thing is not None and (is_behind or self.owns(thing, quantity)) else ()

    def headed(self, sentence: Sentence, place: int) -> ValueFrame | None:
        """Said like "Fifteen watts is stored in the battery": what it belongs to stands behind it."""
        tokens = self.speech.tokens
        value = tokens[place]
        end = min(sentence.end, place + 8)
        end = next((n for n in range(place + 1, end) if tokens[n].kind == "number"), end)
        words = {token.text for token in tokens[place:end]}
        named = self._named(place + 1, end)
        if not named and "inside" in words and len(self.things.board.cells) == 1:
            named = [Thing((self.things.board.cells[0].name,), place, place + 1)]
        if value.unit is None or not named or value.text == PERCENT:
            return None
        if value.unit.dimension == WATT:
            verb = "stored" if words & STORING else "heat" if words & (LOSING | {"wasted"}) else ""
        else:
            verb = "in" if words & {"into"} else ""
        if not verb or (verb == "in" and not self._is_cell(named[0].of[0])):
            return None
        kinds = {"stored": ("power_given",), "heat": ("heat",), "in": ("current",)}[verb]
        return ValueFrame(
            place,
            max(named[0].end, place + 1),
            value,
            value.unit.dimension,
            kinds,
            named[0].of,
            verb,
            named[0].is_each,
            value.unit.dimension,
            "",
            False,
        )

    def owns(self, thing: Thing, quantity: Quantity) -> bool:
        """Whether a thing named ahead of a quantity is its owner: "B's terminal voltage", "the load current"."""
        between = [token.text for token in self.speech.tokens[thing.end : quantity.start]]
        return len(between) <= 2 and set(between) <= {
            "'s",
            "own",
            "terminal",
            "is",
            "the",
            "has",
            "have",
            "having",
            "with",
            "a",
            "an",
            "its",
            "internal",
            "total",
        }

    def is_last_word(self, sentence: Sentence, place: int) -> bool:
        """Whether an expression is all that is said: "the net EMF is 12.6 plus 11.4", and no result behind it."""
        tokens = self.speech.tokens
        behind = tokens[place + 1 : min(place + 4, sentence.end)]
        run = tokens[self._run_start(place, sentence.start) : place + 1]
        plain = all(token.kind != "name" for token in run)
        return plain and not any(token.kind in {"number", "relation", "name", "sign"} for token in behind)

    def heads(self, sentence: Sentence, place: int) -> bool:
        """Whether a number begins a clause of its own: "and 1 watt is heat"."""
        tokens = self.speech.tokens
        behind = tokens[place + 1].text if place + 1 < sentence.end else ""
        if (
            tokens[place + 1 : place + 2]
            and tokens[place + 1].kind == "relation"
            and tokens[place + 1].text == "="
        ):
            behind = "is"
        ahead = tokens[place - 1] if place > sentence.start else None
        led = ahead is not None and (
            ahead.kind == "relation" or self.speech.word(place - 1) in GIVING | TAKING | LOSING | HOLDING
        )
        joined = ahead is not None and ahead.text == "and" and behind in {"never", "always", "make", "stay"}
        return (behind in {"is", "goes", "go", "are", "flow", "flows", "get", "gets"} or joined) and not led

    def _run_start(self, place: int, least: int) -> int:
        tokens = self.speech.tokens
        while place > least and tokens[place - 1].kind in {"number", "name", "sign"}:
            place -= 1
        return place

    def clause_start(self, sentence: Sentence, place: int) -> int:
        """Where the clause of a number begins: behind the last stop, or behind "but", "so", "because"."""
        tokens = self.speech.tokens
        start = place
        while start > sentence.start and place - start < REACH:
            before = tokens[start - 1]
            if (
                before.kind == "number"
                and before.unit is not None
                and tokens[start].kind == "number"
                and self.things.by_value(tokens, start) is None
            ):
                break
            if before.kind == "word" and before.text in {
                "but",
                "because",
                "so",
                "then",
                "while",
                "whereas",
                "now",
                "since",
                "which",
            }:
                break
            start -= 1
        return start

    def after_value(self, clause: int, place: int) -> int:
        """Behind the last number with a unit before this one: a quantity named ahead of that belongs to it."""
        tokens = self.speech.tokens
        for n in range(place - 1, clause - 1, -1):
            if (
                tokens[n].kind == "number"
                and tokens[n].unit is not None
                and self.things.by_value(tokens, n) is None
                and not self._is_described(n)
            ):
                return n + 1
        return clause

    def _is_described(self, n: int) -> bool:
        tokens = self.speech.tokens
        return n + 1 < len(tokens) and tokens[n + 1].text in {
            "cell",
            "one",
            "battery",
            "resistor",
            "load",
            "lamp",
        }

    def is_joined(self, start: int, place: int) -> bool:
        """Whether only a relation and small words stand between a quantity and a bare number."""
        between = self.speech.tokens[start:place]
        return (
            len(between) <= 7
            and any(
                token.kind == "relation" or token.text in HOLDING or token.text == "of" for token in between
            )
            and not any(token.kind == "number" for token in between)
        )

    def thing_for(self, clause: int, sentence: Sentence, place: int) -> Thing | None:
        """Whose value it is: what stands right behind ("across the load"), else the last thing named ahead."""
        tokens = self.speech.tokens
        after = place + 1
        if after + 1 < sentence.end and tokens[after].text in {
            "in",
            "across",
            "through",
            "for",
            "of",
            "from",
        }:
            thing = self.things.at(tokens, self.speech.raw, after + 1)
            if thing is not None:
                return thing
        if after < sentence.end and tokens[after].text == "each":
            plural = [thing for thing in self._named(clause, place) if thing.is_each]
            return plural[-1] if plural else Thing((), place, place, True)
        named = [thing for thing in self._named(clause, place) if thing.end <= place]
        if named:
            return named[-1] if not (len(named) > 1 and self.is_goal(named[-1])) else named[-2]
        words = [token.text for token in tokens[clause:place]]
        pronoun = next((n for n, word in enumerate(words) if word in {"it", "its"}), None)
        if (
            pronoun is not None
            and pronoun <= 2
            and len(words) - pronoun <= 6
            and self.topic is not None
            and len(self.topic.of) == 1
        ):
            return self.topic
        return None

    def is_goal(self, thing: Thing) -> bool:
        """Whether a thing is where something goes to: "into the load"."""
        before = self.speech.tokens[thing.start - 1].text if thing.start else ""
        return before in {"to", "into", "over", "through", "from", "than", "with"}

    def _verb_between(self, clause: int, place: int) -> str:
        words = [self.speech.word(n) for n in range(clause, place)]
        for word in reversed(words):
            if word in STORING:
                return "stored"
            if word in GIVING:
                return "out"
            if word in TAKING:
                return "in"
            if word in LOSING:
                return "lost"
            if word in SHOWING:
                return "shows"
            if word in CARRYING:
                return "through"
        return ""

    def _is_cell(self, name: str) -> bool:
        wire = self.things.board.of(name)
        return (wire is not None and wire.is_cell) or name.startswith("row")


def _value(tokens: Sequence[Token]) -> set[Fraction]:
    """The values that a sum of numbers may have."""
    found = set()
    for tree in readings(tokens).trees:
        value = meaning.value(tree, lambda _: Unknown("a letter"))
        if isinstance(value, RationalFunction) and value.as_number is not None:
            found.add(value.as_number)
    return found
