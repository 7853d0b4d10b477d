"""The ``ask:`` line of a question and its ranges, read into what they say.

ask: I as number to 2 figures in mA, 2 marks, after (a)
r_1, r_2 = 1 to 6 ohm in steps of 0.5
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from boardproof.practice.records import Form
from boardproof.quantities import PURE, Dimension
from boardproof.quantities.reading import read_quantity
from boardproof.record import record

__all__ = ["AskLine", "Range", "read_ask", "read_range"]

TAIL: Final = re.compile(
    r"^(?P<what>.*?)(?P<tail>(?:,\s*(?:\d+\s+marks?|after\s+\([a-z]\)(?:\s+and\s+\([a-z]\))*))*)$", re.DOTALL
)
MARKS: Final = re.compile(r"(\d+)\s+marks?")
FORM: Final = re.compile(
    r"(?P<form>number|expression|choice|ranking|arrow|shown)"
    r"(?:\s+in\s+(?P<letters>(?:[A-Za-z]\w*)(?:\s*,\s*[A-Za-z]\w*)*))?"
    r"(?:\s+of\s+(?P<count>[2-6]))?(?:\s+to\s+(?P<figures>[1-6])\s+figures?)?(?:\s+in\s+(?P<unit>\S+))?"
)
MOST_VALUES: Final = 400
MOST_MARKS: Final = 20


@record
class AskLine:
    """What an ask line says; `names` are the quantities in the teacher's words."""

    names: tuple[str, ...]
    form: Form
    marks: int
    after: tuple[str, ...] = ()
    letters: tuple[str, ...] = ()
    options: int = 4
    figures: int = 3
    unit: str = ""


@record
class Range:
    """Letters as written, and their values in SI units."""

    names: tuple[str, ...]
    values: tuple[Fraction, ...]
    dimension: Dimension


def read_ask(text: str) -> AskLine | str:
    """What an ask line says, or why it can't be read.

    Parameters
    ----------
    text : str
        After ``ask:``.

    Examples
    --------
    >>> read_ask("E_p as number, 3 marks").form, read_ask("words, 2 marks").marks
    ('number', 2)
    >>> read_ask("I_1, I_2 as ranking, 1 mark").names
    ('I_1', 'I_2')
    >>> read_ask("I as picture")
    'picture is no form of answer'
    """
    cut = TAIL.match(text.strip())
    assert cut is not None
    marks = MARKS.search(cut["tail"])
    after = tuple(re.findall(r"\(([a-z])\)", cut["tail"]))
    many = int(marks[1]) if marks else 1
    if not 1 <= many <= MOST_MARKS:
        return f"a part has 1 to {MOST_MARKS} marks"
    if cut["what"].strip() == "words":
        return AskLine((), "words", many, after)
    what, found, form = cut["what"].rpartition(" as ")
    said = FORM.fullmatch(form.strip()) if found else None
    if not found:
        return "it names no form of answer"
    if said is None:
        return f"{form.strip()[:40]} is no form of answer"
    kind: Form = said["form"]  # type: ignore[assignment]  # the pattern lets only forms through
    names = (
        tuple(each.strip() for each in what.split(","))
        if kind == "ranking"
        else (what.partition("=")[0].strip(),)
    )
    if kind == "ranking" and len(names) < 2:
        return "a ranking names two things or more"
    letters, unit = said["letters"] or "", said["unit"] or ""
    if kind != "expression" and letters and not unit:
        letters, unit = "", letters
    return AskLine(
        names,
        kind,
        many,
        after,
        tuple(each.strip() for each in letters.split(",") if each.strip()),
        int(said["count"] or 4),
        int(said["figures"] or 3),
        unit,
    )


def read_range(text: str, decimal: str = ".") -> Range | str:
    """The values that letters may take, or why they can't be read.

    Parameters
    ----------
    text : str
        A line of ``vary:``.
    decimal : str
        The course's decimal mark.

    Examples
    --------
    >>> read_range("E = one of 1.5, 2 V").values
    (Fraction(3, 2), Fraction(2, 1))
    >>> [str(each) for each in read_range("r_1, r_2 = 1 to 2 ohm in steps of 0.5").values]
    ['1', '3/2', '2']
    >>> read_range("n = 2 to 4").values
    (Fraction(2, 1), Fraction(3, 1), Fraction(4, 1))
    """
    left, equals, right = text.partition("=")
    names = tuple(each.strip() for each in left.split(",") if each.strip())
    if not equals or not names:
        return "it has no letter and equals sign"
    right = right.strip()
    if right.startswith("one of"):
        return _listed(names, right.removeprefix("one of"), decimal)
    steps = re.fullmatch(r"(.+?)\s+to\s+(.+?)(?:\s+in\s+steps\s+of\s+(.+))?", right)
    return _stepped(names, steps, decimal) if steps else "it says neither `one of` nor `from ... to ...`"


def _listed(names: tuple[str, ...], text: str, decimal: str) -> Range | str:
    pieces = [
        each.strip() for each in re.split(r";|,(?=\s)" if decimal == "," else ",", text) if each.strip()
    ]
    last = read_quantity(pieces[-1], decimal) if pieces else None
    if last is None:
        return "its last value can't be read"
    unit = re.sub(r"^[-+0-9.,/\s]*", "", pieces[-1])
    values = [
        read_quantity(each if re.search(r"[^\W\d]", each) else f"{each} {unit}", decimal) for each in pieces
    ]
    if any(each is None or each.dimension != last.dimension for each in values):
        return "its values are not of one kind"
    return _range(names, [each.value for each in values if each is not None], last.dimension)


def _stepped(names: tuple[str, ...], found: re.Match[str], decimal: str) -> Range | str:
    last = read_quantity(found[2], decimal)
    if last is None:
        return f"{found[2][:40]} is no value"
    unit = re.sub(r"^[-+0-9.,/\s]*", "", found[2])
    first, step = (
        read_quantity(each if re.search(r"[^\W\d]", each) else f"{each} {unit}", decimal)
        for each in (found[1], found[3] or "1")
    )
    if first is None or step is None or first.dimension != last.dimension or step.dimension != last.dimension:
        return "its ends and its step are not of one kind"
    if step.value <= 0 or last.value < first.value:
        return "it does not rise"
    if found[3] is None and last.dimension != PURE:
        return "it names no step"
    many = int((last.value - first.value) / step.value) + 1
    if many > MOST_VALUES:
        return f"it has more than {MOST_VALUES} values"
    return _range(names, [first.value + step.value * k for k in range(many)], last.dimension)


def _range(names: tuple[str, ...], values: list[Fraction], dimension: Dimension) -> Range:
    return Range(names, tuple(sorted(set(values))), dimension)
