"""Questions as items of the open question standard (1EdTech QTI 3.0, 2.2, 2.1), with marking and feedback.

Everything is written in the names of version 2; version 3 spells the same names with hyphens and a prefix. Numbers are
compared within a tolerance, never by exact match. Expressions, arrows and words are marked outside.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Final, Literal
from xml.etree import ElementTree as ET

from boardproof.belief.catalogue import BELIEFS
from boardproof.practice.filled import filled
from boardproof.practice.prepared import Prepared
from boardproof.practice.records import Asked, Solved, Variant
from boardproof.practice.variants import shown_key
from boardproof.quantities import si_unit

__all__ = ["NAMESPACES", "Version", "element", "is_marked_outside", "item_xml", "serialised"]

Version = Literal["3.0", "2.2", "2.1"]
NAMESPACES: Final[Mapping[str, str]] = {
    "3.0": "http://www.imsglobal.org/xsd/imsqtiasi_v3p0",
    "2.2": "http://www.imsglobal.org/xsd/imsqti_v2p2",
    "2.1": "http://www.imsglobal.org/xsd/imsqti_v2p1",
}
SCHEMAS: Final[Mapping[str, str]] = {
    "3.0": "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_asiv3p0_v1p0.xsd",
    "2.2": "http://www.imsglobal.org/xsd/qti/qtiv2p2/imsqti_v2p2.xsd",
    "2.1": "http://www.imsglobal.org/xsd/qti/qtiv2p1/imsqti_v2p1.xsd",
}
XSI: Final = "http://www.w3.org/2001/XMLSchema-instance"
HTML: Final = frozenset({"p", "div", "img", "strong"})
TOLERANCE: Final = "1 1"
"""Per cent below and above: wrong values are at least two per cent away from the key."""


def element(version: Version, name: str, _text: str = "", **attributes: str) -> ET.Element:
    """An element in the spelling of a version.

    Parameters
    ----------
    version : {"3.0", "2.2", "2.1"}
        Of the standard.
    name : str
        In the spelling of version 2.
    _text : str
        What it holds.
    **attributes : str
        In the spelling of version 2.

    Examples
    --------
    >>> element("3.0", "choiceInteraction", maxChoices="1").attrib
    {'max-choices': '1'}
    """
    is_new = version == "3.0"
    tag = f"qti-{_hyphened(name)}" if is_new and name not in HTML else name
    made = ET.Element(tag, {_hyphened(key) if is_new else key: value for key, value in attributes.items()})
    made.text = _text or None
    return made


def _hyphened(name: str) -> str:
    return re.sub(r"(?<!^)([A-Z])", lambda found: f"-{found[1].lower()}", name)


def serialised(root: ET.Element, version: Version, *, namespace: str = "", schema: str = "") -> bytes:
    """A whole file in UTF-8.

    Parameters
    ----------
    root : Element
        Without namespaces.
    version : {"3.0", "2.2", "2.1"}
        Of the standard.
    namespace, schema : str
        Those of items and tests if not given.
    """
    own = namespace or NAMESPACES[version]
    root.set("xmlns", own)
    root.set("xmlns:xsi", XSI)
    root.set("xsi:schemaLocation", f"{own} {schema or SCHEMAS[version]}")
    ET.indent(root)
    made: bytes = ET.tostring(root, encoding="utf-8", xml_declaration=True)
    return made


def is_marked_outside(asked: Asked, solved: Solved) -> bool:
    """Whether a reader of the standard can't mark it: expressions, arrows, words, orders with equal places."""
    tied = isinstance(solved.key, tuple) and any("=" in each for each in solved.key)
    return asked.form in {"expression", "arrow", "words", "shown"} or tied


def item_xml(
    version: Version, name: str, prepared: Prepared, variant: Variant, *, figure: tuple[str, str] | None
) -> bytes:
    """One question with one student's numbers as an item.

    Parameters
    ----------
    version : {"3.0", "2.2", "2.1"}
        Of the standard.
    name : str
        The item's identifier.
    prepared : Prepared
        The question.
    variant : Variant
        Its numbers.
    figure : tuple of (str, str) or None
        Path and alternative of the figure.
    """
    return serialised(_Item(version, name, prepared, variant).made(figure), version)


class _Item:
    """Builds one item."""

    def __init__(self, version: Version, name: str, prepared: Prepared, variant: Variant) -> None:
        self.version, self.name, self.prepared, self.variant = version, name, prepared, variant
        self.rows = list(zip((part.asked for part in prepared.parts), variant.parts, strict=True))

    def new(self, name: str, _text: str = "", /, *inside: ET.Element, **attributes: str) -> ET.Element:
        made = element(self.version, name, _text, **attributes)
        made.extend(inside)
        return made

    def made(self, figure: tuple[str, str] | None) -> ET.Element:
        title = self.prepared.question.name or "Question"
        root = self.new(
            "assessmentItem", identifier=self.name, title=title, adaptive="false", timeDependent="false"
        )
        root.set("xml:lang", "en")
        root.extend(self.response(asked, solved) for asked, solved in self.rows)
        most = sum(asked.marks for asked, solved in self.rows if not is_marked_outside(asked, solved))
        root.append(self.outcome("SCORE", "float", "0"))
        root.append(self.outcome("MAXSCORE", "float", str(most)))
        root.extend(self.outcome(f"FEEDBACK_{_key(asked)}", "identifier", "NONE") for asked, _ in self.rows)
        root.append(self.body(figure))
        root.append(self.processing())
        root.extend(each for asked, solved in self.rows for each in self.feedback(asked, solved))
        return root

    def response(self, asked: Asked, solved: Solved) -> ET.Element:
        outside = is_marked_outside(asked, solved)
        kind = (
            "string"
            if outside
            else {"choice": "identifier", "ranking": "identifier"}.get(asked.form, "float")
        )
        many = "ordered" if asked.form == "ranking" and not outside else "single"
        made = self.new(
            "responseDeclaration", identifier=f"RESPONSE_{_key(asked)}", cardinality=many, baseType=kind
        )
        if not outside:
            values = self.correct(asked, solved)
            made.append(self.new("correctResponse", "", *(self.new("value", each) for each in values)))
        return made

    def correct(self, asked: Asked, solved: Solved) -> Iterable[str]:
        match solved.key:
            case Fraction():
                return (_decimal(solved.key),)
            case tuple():
                return tuple(f"N{_names(asked).index(each)}" for each in solved.key)
            case _:
                return (str(solved.key),)

    def outcome(self, name: str, kind: str, start: str) -> ET.Element:
        default = self.new("defaultValue", "", self.new("value", start))
        return self.new(
            "outcomeDeclaration", "", default, identifier=name, cardinality="single", baseType=kind
        )

    def body(self, figure: tuple[str, str] | None) -> ET.Element:
        made = self.new("itemBody")
        made.append(self.new("p", self.words(self.prepared.question.stem)))
        if figure is not None:
            made.append(self.new("p", "", self.new("img", src=figure[0], alt=figure[1])))
        for asked, solved in self.rows:
            label = f"({asked.label}) " if asked.label else ""
            worth = f" [{asked.marks} mark{'s' if asked.marks > 1 else ''}]"
            made.append(self.new("p", label + self.words(asked.words) + worth))
            made.append(self.interaction(asked, solved))
        return made

    def words(self, text: str) -> str:
        return filled(text, self.prepared, self.variant.draw).replace("$", "")

    def interaction(self, asked: Asked, solved: Solved) -> ET.Element:
        name = f"RESPONSE_{_key(asked)}"
        if is_marked_outside(asked, solved):
            return self.new("extendedTextInteraction", responseIdentifier=name, expectedLength="200")
        if asked.form == "choice":
            options = (self.new("simpleChoice", each.text, identifier=each.letter) for each in solved.options)
            return self.new(
                "choiceInteraction", "", *options, responseIdentifier=name, maxChoices="1", shuffle="false"
            )
        if asked.form == "ranking":
            places = enumerate(_names(asked))
            choices = (self.new("simpleChoice", each, identifier=f"N{n}") for n, each in places)
            return self.new("orderInteraction", "", *choices, responseIdentifier=name, shuffle="false")
        unit = si_unit(asked.dimension)
        entry = self.new("textEntryInteraction", responseIdentifier=name, expectedLength="10")
        entry.tail = f" {unit.symbol}" if unit is not None and unit.symbol else None
        return self.new("p", "", entry)

    def processing(self) -> ET.Element:
        made = self.new("responseProcessing")
        for asked, solved in self.rows:
            if not is_marked_outside(asked, solved):
                made.append(self.condition(asked, solved))
        return made

    def condition(self, asked: Asked, solved: Solved) -> ET.Element:
        made = self.new("responseCondition")
        right = self.new("responseIf", "", self.test(asked, solved.key, solved))
        more = self.new("baseValue", str(asked.marks), baseType="float")
        total = self.new("sum", "", self.new("variable", identifier="SCORE"), more)
        right.append(self.new("setOutcomeValue", "", total, identifier="SCORE"))
        right.append(self.told(asked, "RIGHT"))
        made.append(right)
        for name, value, _ in self.wrong(asked, solved):
            made.append(
                self.new("responseElseIf", "", self.test(asked, value, solved), self.told(asked, name))
            )
        return made

    def told(self, asked: Asked, name: str) -> ET.Element:
        value = self.new("baseValue", name, baseType="identifier")
        return self.new("setOutcomeValue", "", value, identifier=f"FEEDBACK_{_key(asked)}")

    def test(self, asked: Asked, value: object, solved: Solved) -> ET.Element:
        variable = self.new("variable", identifier=f"RESPONSE_{_key(asked)}")
        if isinstance(value, Fraction):
            base = self.new("baseValue", _decimal(value), baseType="float")
            if value == 0:
                return self.new(
                    "equal", "", variable, base, toleranceMode="absolute", tolerance="0.0000001 0.0000001"
                )
            return self.new("equal", "", variable, base, toleranceMode="relative", tolerance=TOLERANCE)
        if isinstance(value, tuple):
            known = _names(asked)
            places = (self.new("baseValue", f"N{known.index(each)}", baseType="identifier") for each in value)
            return self.new("match", "", variable, self.new("ordered", "", *places))
        del solved
        return self.new("match", "", variable, self.new("baseValue", str(value), baseType="identifier"))

    def wrong(self, asked: Asked, solved: Solved) -> list[tuple[str, object, str]]:
        """An identifier, a value and the words of the belief, one for each different wrong answer."""
        found: dict[str, tuple[str, object, str]] = {}
        for belief, value in solved.wrong.items():
            shown = shown_key(value, asked)
            is_tied = isinstance(value, tuple) and any("=" in each for each in value)
            if shown not in found and shown != solved.shown and not is_tied:
                found[shown] = (f"WRONG_{len(found) + 1}", value, BELIEFS[belief].words)
        return list(found.values())

    def feedback(self, asked: Asked, solved: Solved) -> Iterable[ET.Element]:
        if is_marked_outside(asked, solved):
            return
        where = f"({asked.label}) " if asked.label else ""
        yield self.modal(asked, "RIGHT", f"{where}Right: {solved.shown}.")
        for name, value, words in self.wrong(asked, solved):
            said = shown_key(value, asked)  # type: ignore[arg-type]  # values come from `solved.wrong`
            text = f"{where}{said} is what comes out if one thinks: {words} The answer is {solved.shown}."
            yield self.modal(asked, name, text)

    def modal(self, asked: Asked, name: str, text: str) -> ET.Element:
        made = self.new(
            "modalFeedback", outcomeIdentifier=f"FEEDBACK_{_key(asked)}", identifier=name, showHide="show"
        )
        paragraph = self.new("p", text)
        made.append(self.new("contentBody", "", paragraph) if self.version == "3.0" else paragraph)
        return made


def _names(asked: Asked) -> list[str]:
    return [each.strip() for each in asked.name.split(",")]


def _key(asked: Asked) -> str:
    return asked.label or "1"


def _decimal(value: Fraction) -> str:
    """A number without exponent, exact if it ends within twelve places."""
    text = format(Decimal(value.numerator) / Decimal(value.denominator), "f")
    whole, mark, tail = text.partition(".")
    return f"{whole}.{tail[:12]}".rstrip("0").rstrip(".") if mark else whole
