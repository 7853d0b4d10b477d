"""Numbers in plain words, tied to what they are numbers of.

A number with a unit in a sentence is tied to a quantity named in its own clause, or to a value that is given or was
proved; else it is loose.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import replace
from fractions import Fraction
from typing import Final, Literal

from boardproof.algebra.number_words import SaidNumber
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.model import Across, Changed, Circuit, Copies, Item, leaves
from boardproof.circuit.phrases import read_phrase
from boardproof.circuit.place import named_items
from boardproof.prove.loose_number import LooseNumber
from boardproof.prove.world import World
from boardproof.quantities import (
    AMPERE,
    OHM,
    VOLT,
    WATT,
    Dimension,
    agrees,
)
from boardproof.source import Slice, Span

__all__ = [
    "SUBSCRIPTED",
    "agreeing_quantity",
    "equal_values",
    "given_by_part",
    "named_quantity",
    "names_kind",
    "taken_by_part",
]

SUBSCRIPTED: Final = re.compile(r"(?<![\w$\\{])[A-Za-zεℰ]_(?:\{[\w.]+\}|[A-Za-z]+|\d+(?:\.\d+)*)")
QUANTITY: Final = re.compile(
    r"(?i)\b(short[- ]circuit current|current|terminal (?:p\.?d\.?|voltage)|p\.?d\.?|potential difference|voltage"
    r"|e\.?m\.?f\.?|internal resistance|resistance|power|heat|lost volts)"
    r"(?:\s+(?:of|in|through|across|round|over|inside|at)\s+(?:(?:the|this|that|our|each|every|any|either|(?-i:an?)|one)\s+"
    r"(?:of\s+(?:the|these|its)\s+(?:two\s+|three\s+|four\s+)?)?)?(?:(?:whole|little|small|single)\s+)?"
    r"([^\W\d][\w.]*))?(?=[\s,.;:]|$)"
)
FORMS: Final = {
    "current": "current in {0}",
    "short-circuit current": "short-circuit current of {0}",
    "pd": "p.d. across {0}",
    "potential difference": "p.d. across {0}",
    "voltage": "p.d. across {0}",
    "terminal pd": "terminal p.d. of {0}",
    "terminal voltage": "terminal p.d. of {0}",
    "emf": "emf of {0}",
    "resistance": "resistance of {0}",
    "internal resistance": "resistance of {0}",
    "power": "power in {0}",
    "heat": "heat in {0}",
    "lost volts": "lost volts in {0}",
}
OWN: Final = frozenset(
    {"emf", "resistance", "internal resistance", "terminal pd", "terminal voltage", "short-circuit current"}
)
# What a lesson calls its one load, and the group that feeds it.
LOADS: Final = frozenset(
    {"load", "resistor", "lamp", "bulb", "heater", "motor", "sensor", "buzzer", "light", "lantern", "beacon"}
    | {"transmitter", "radio", "fan", "pump", "ring"}
)
FEEDS: Final = frozenset({"battery", "pair", "row", "bank", "pack", "stack", "group"})
KINDS: Final = {"current": AMPERE} | dict.fromkeys(
    ("pd", "voltage", "potential difference", "terminal pd", "terminal voltage"), VOLT
)
OWN_KINDS: Final = {"emf": VOLT, "internal resistance": OHM, "short-circuit current": AMPERE}
TOGETHER: Final = re.compile(
    r"(?i)\b(?:cells|together|total|whole|row|battery|pack|pair|stack|between them)\b"
)
SINGLE: Final = re.compile(r"(?i)\b(?:each|every|one|single|apiece|per)\b")
TAKES: Final = re.compile(
    r"(?i)\b([^\W\d][\w.]*)\s+(?:(?:now|then|only|still|just|therefore)\s+)*(?:gets|takes|receives|carries|has)"
    r"\s+(?:(?:only|just|now|still)\s+)*$"
)
TAKEN: Final = {
    AMPERE: "current in {0}",
    VOLT: "p.d. across {0}",
    OHM: "resistance of {0}",
    WATT: "power in {0}",
}
# What a part may give or take, by the unit of the number: "A gives 0.9 A", "the lamp has 2.4 V".
GIVEN: Final = {
    AMPERE: ("current in {0}",),
    VOLT: ("p.d. across {0}", "emf of {0}", "lost volts in {0}"),
    OHM: ("resistance of {0}",),
    WATT: ("power in {0}", "power given by {0}", "power out of {0}", "heat in {0}"),
}
WORD: Final = re.compile(r"[^\W\d][\w.]*")


def named_quantity(number: LooseNumber, world: World, circuit: Circuit | None) -> tuple[str, Resolved] | None:
    """The one quantity of the number's kind that its clause names, and its phrase: "the current in the load".

    Parameters
    ----------
    number : LooseNumber
        A number in words, with its clause.
    world : World
        What names mean there.
    circuit : Circuit or None
        On the board.

    Returns
    -------
    (str, Resolved) or None
        None if the clause names none, or several.
    """
    if circuit is None or number.is_elsewhere:
        return None
    for text in (number.ahead, number.behind):
        found = [each for match in QUANTITY.finditer(text) if (each := _meant(match, number, world, circuit))]
        if found:
            return found[0] if len(found) == 1 else None
    return None


def names_kind(number: LooseNumber, circuit: Circuit | None) -> Literal["", "flow", "own"]:
    """Whether words ahead name a quantity of the number's kind, as it is now: "the current is 0.5 A".

    Parameters
    ----------
    number : LooseNumber
        A number in words, with its clause.
    circuit : Circuit or None
        On the board.

    Returns
    -------
    {"", "flow", "own"}
        "flow" for a current or a p.d., "own" for what cells have of their own: EMF, internal resistance.
    """
    if circuit is None or number.is_elsewhere:
        return ""
    words = [_word(match) for match in QUANTITY.finditer(number.ahead)]
    if (takes := TAKES.search(number.ahead)) and takes[1].lower() in LOADS:
        words.append("pd")
    if number.said.unit.dimension in {OWN_KINDS.get(word) for word in words}:
        return "own" if circuit.values else ""
    return "flow" if number.said.unit.dimension in {KINDS.get(word) for word in words} else ""


def taken_by_part(number: LooseNumber, world: World, circuit: Circuit | None) -> tuple[str, Resolved] | None:
    """What a part is said to get or take, whatever the number: "the lamp gets 5.4 V".

    Parameters
    ----------
    number : LooseNumber
        A number in words, with its clause.
    world : World
        What names mean there.
    circuit : Circuit or None
        On the board.
    """
    found = TAKES.search(number.ahead)
    form = TAKEN.get(number.said.unit.dimension)
    if circuit is None or number.is_elsewhere or found is None or form is None:
        return None
    parts = {leaf.path: leaf.part.kind for leaf in leaves(circuit.item)}
    path = next((each for each in (found[1], _thing(found[1], circuit)) if each in parts), None)
    if path is None or parts[path] in {"cell", "source"}:
        return None
    text = form.format(path)
    phrase = read_phrase(Slice(text, Span("", 0, len(text))), world.definitions, circuit)
    if not isinstance(phrase, Resolved):
        return None
    return (text, phrase) if isinstance(world.with_name(text, phrase).in_numbers(text), Fraction) else None


def given_by_part(number: LooseNumber, world: World, circuit: Circuit | None) -> tuple[str, Resolved] | None:
    """What a part that the clause names gives or takes, if the number is just that: "A gives 0.9 A".

    Parameters
    ----------
    number : LooseNumber
        A number in words, with its clause.
    world : World
        What names mean there.
    circuit : Circuit or None
        On the board.
    """
    if circuit is None or number.is_elsewhere or number.sign not in "=≈":
        return None
    for word in dict.fromkeys(WORD.findall(number.clause)):
        for what in {word.rstrip("."), _thing(word, circuit)} - {None}:
            for form in GIVEN.get(number.said.unit.dimension, ()):
                text = form.format(what)
                phrase = read_phrase(Slice(text, Span("", 0, len(text))), world.definitions, circuit)
                if isinstance(phrase, Resolved) and (found := _agreeing(number.said, text, phrase, world)):
                    return text, found
    return None


def agreeing_quantity(
    number: LooseNumber, world: World, circuit: Circuit | None
) -> tuple[str, Resolved] | None:
    """A quantity of the kind that the clause names and of the number's value, where its thing is named in other words.

    "The current in the driver is 0.4 A", "the EMF is only 6 V": some part or group at hand has just that.

    Parameters
    ----------
    number : LooseNumber
        A number in words, with its clause.
    world : World
        What names mean there.
    circuit : Circuit or None
        On the board.
    """
    if circuit is None or number.is_elsewhere or number.sign not in "=≈":
        return None
    if number.behind.startswith(" each") and (shared := _shared(number, world, circuit)):
        return shared
    takes = TAKES.search(number.ahead)
    if takes and takes[1].lower() in LOADS and (taken := _some_load(number, world, circuit)):
        return taken
    for match in QUANTITY.finditer(f"{number.ahead}\0{number.behind}"):
        word = _word(match)
        if word not in FORMS or (match[2] is None and word not in OWN):
            continue
        together = TOGETHER.search(number.clause) and not SINGLE.search(number.clause)
        for what in _things(circuit, feeding=match[2] is None)[
            : 1 if together and match[2] is None else None
        ]:
            text = FORMS[word].format(what)
            phrase = read_phrase(Slice(text, Span("", 0, len(text))), world.definitions, circuit)
            if (
                isinstance(phrase, Resolved)
                and world.dimension_of_ref(phrase) == number.said.unit.dimension
                and (found := _agreeing(number.said, text, phrase, world))
            ):
                return text, found
    return None


def _some_load(number: LooseNumber, world: World, circuit: Circuit) -> tuple[str, Resolved] | None:
    """What one of several loads gets or takes: "the lamp gets 5 V" where there are two."""
    form = TAKEN.get(number.said.unit.dimension)
    for leaf in leaves(circuit.item) if form else ():
        text = form.format(leaf.path) if form and leaf.part.kind not in {"cell", "source"} else ""
        phrase = (
            read_phrase(Slice(text, Span("", 0, len(text))), world.definitions, circuit) if text else None
        )
        if isinstance(phrase, Resolved) and (found := _agreeing(number.said, text, phrase, world)):
            return text, found
    return None


def _shared(number: LooseNumber, world: World, circuit: Circuit) -> tuple[str, Resolved] | None:
    """What several parts have alike: "5 V each"."""
    for form in GIVEN.get(number.said.unit.dimension, ()):
        found = []
        for leaf in leaves(circuit.item):
            text = form.format(leaf.path)
            phrase = read_phrase(Slice(text, Span("", 0, len(text))), world.definitions, circuit)
            if isinstance(phrase, Resolved) and (each := _agreeing(number.said, text, phrase, world)):
                found.append((text, each))
        if len(found) > 1:
            return found[0]
    return None


def _things(circuit: Circuit, *, feeding: bool) -> tuple[str, ...]:
    """Paths of the parts and groups at hand, or only of what feeds the load and of its cells."""
    item = circuit.item
    while isinstance(item, Changed):
        item = item.item
    whole = item.source if feeding and isinstance(item, Across) else circuit.item
    paths = [whole.path, *named_items(whole), *(leaf.path for leaf in leaves(whole))]
    return tuple(dict.fromkeys(path for path in paths if path))


def _agreeing(said: SaidNumber, name: str, quantity: Resolved, world: World) -> Resolved | None:
    """The quantity, in the direction in which it has the number's value; None if it has another size."""
    value = world.with_name(name, quantity).in_numbers(name)
    if not isinstance(value, Fraction):
        return None
    senses = [sense for sense in (1, -1) if agrees(sense * value, said.value, said.place)]
    ref = quantity.ref
    return Resolved(replace(ref, sense=senses[0] * ref.sense), quantity.circuit) if senses else None


def _word(match: re.Match[str]) -> str:
    word = " ".join(match[1].lower().replace(".", "").split())
    return "short-circuit current" if word.startswith("short") else word


def _meant(
    match: re.Match[str], number: LooseNumber, world: World, circuit: Circuit
) -> tuple[str, Resolved] | None:
    """What a quantity and its thing mean, if that is of the number's kind."""
    if match[2] is None or (form := FORMS.get(_word(match))) is None:
        return None
    word = match[2].rstrip(".")
    for what in (word, _thing(word, circuit)):
        text = form.format(what)
        phrase = read_phrase(Slice(text, Span("", 0, len(text))), world.definitions, circuit)
        if isinstance(phrase, Resolved) and world.dimension_of_ref(phrase) == number.said.unit.dimension:
            return text, phrase
    return None


def _thing(word: str, circuit: Circuit) -> str | None:
    """The path that "the lamp", "the cell" or "the pair" stands for, where there is only one such thing."""
    item = circuit.item
    while isinstance(item, Changed):
        item = item.item
    noun = word.lower()
    sides = (item.load, circuit.item) if isinstance(item, Across) else (circuit.item,)
    if isinstance(item, Across) and (member := _member(noun, item.source)):
        return member
    if noun in FEEDS and isinstance(item, Across) and item.source.path:
        return item.source.path
    kinds = (
        ("resistor", "lamp")
        if noun in LOADS
        else ("cell",)
        if noun in {"cell", "cells", "battery"}
        else (noun,)
    )
    for side in sides:
        alike = [leaf.path for leaf in leaves(side) if leaf.part.kind in kinds]
        if alike:
            return alike[0] if len(alike) == 1 else None
    return None


def _member(noun: str, source: Item) -> str | None:
    """The first of alike rows side by side, or of alike blocks one behind the other, for "each row"."""
    joined = {"row": "parallel", "rows": "parallel", "block": "series", "blocks": "series"}.get(noun)
    is_bank = isinstance(source, Copies) and source.joined == joined and len(source.runs) == 1
    return f"{source.path}.1" if is_bank and source.path else None


def equal_values(
    said: SaidNumber, values: Collection[tuple[Dimension, Fraction]]
) -> tuple[tuple[Dimension, Fraction], ...]:
    """The known values that a number is, or is the rounding of; number words may be a hundredth off.

    Parameters
    ----------
    said : SaidNumber
        As said, in SI units, with the place of its last figure.
    values : collection of (Dimension, Fraction)
        What is known, in SI units.
    """
    return tuple(
        (dimension, value)
        for dimension, value in values
        if dimension == said.unit.dimension
        and (
            agrees(value, said.value, said.place)
            or (not said.place and abs(said.value - value) * 100 < abs(value))
        )
    )
