"""The table of settings of a course and of a lesson, and reading them from TOML with places."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from typing import Final

from boardproof.findings import Finding
from boardproof.lesson.kinds import finding, nearby
from boardproof.source import Slice

__all__ = ["COURSE", "LESSON", "SETS", "Table", "locate", "read_settings"]

Check = tuple[Callable[[object], bool], str]
Table = Mapping[str, "Check | Table"]


def _words() -> Check:
    return (lambda value: isinstance(value, str) and len(value) <= 500, "words in quotation marks")


def _names() -> Check:
    return (
        lambda value: (
            isinstance(value, list) and all(isinstance(name, str) and name.strip() for name in value)
        ),
        'a list of names: ["one", "two"]',
    )


def _one_of(*choices: str) -> Check:
    return (lambda value: value in choices, "one of " + ", ".join(f'"{choice}"' for choice in choices))


def _number(least: float, most: float, *, whole: bool = True) -> Check:
    def fits(value: object) -> bool:
        kinds = (int,) if whole else (int, float)
        return isinstance(value, kinds) and not isinstance(value, bool) and least <= value <= most

    return fits, f"a {'whole ' if whole else ''}number from {least:g} to {most:g}"


MINUTES: Final = re.compile(r"([0-9]{1,3})(?:\s*min(?:utes?)?)?")


def _minutes(value: object) -> bool:
    if isinstance(value, str):
        said = MINUTES.fullmatch(value.strip())
        value = int(said[1]) if said else None
    return isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= 120


ADDRESS: Final = re.compile(r"https?://[^\s<>\"'`{}|\\^]{3,180}")


def _address(value: object) -> bool:
    return isinstance(value, str) and ADDRESS.fullmatch(value) is not None


def _corrections(value: object) -> bool:
    return isinstance(value, list) and all(
        isinstance(row, dict) and isinstance(row.get("what"), str) and set(row) <= {"what", "where", "since"}
        for row in value
    )


# Rows of the notation table that differ from the usual values; "comma" is common practice there.
SETS: Final[Mapping[str, Mapping[str, str]]] = {
    "Cambridge international": {},
    "England and Wales, A level": {"emf": "ε"},
    "IB": {"emf": "ε"},
    "India": {"emf": "ε", "resistor": "zigzag"},
    "United States": {"emf": "ℰ", "resistor": "zigzag"},
    "German-speaking": {"emf": "U_q", "decimal": "comma"},
    "France": {"decimal": "comma"},
}
TABLES: Final[Table] = {
    "notation": {
        "set": _one_of(*SETS),
        "emf": _one_of("E", "ε", "ℰ", "U_q", "U_0"),
        "resistor": _one_of("box", "zigzag"),
        "decimal": _one_of("point", "comma"),
        "ohm": _one_of("Ω", "ohm"),
        "parallel": _one_of("∥", "||", "//"),
        "labels": _one_of("letters", "values", "both"),
    },
    "policy": {
        "show": _number(1, 15),
        "half": _one_of("up", "even"),
        "rounded": _one_of("either", "≈"),
        "working_units": _one_of("optional", "required"),
        "unit_marks": _one_of("once a question", "every time", "never"),
        "follow_through": _one_of("full", "method only", "none"),
        "mark_letters": _one_of("M A B", "M A B C", "ticks"),
        "show_that": _one_of("as given", "one more"),
    },
    "pace": {
        "words_a_minute": _number(40, 400),
        "longest_lesson": (_minutes, 'minutes, from 1 to 120: "6 min"'),
    },
    "cautions": {"rules": _words()},
}
COURSE: Final[Table] = {
    "title": _words(),
    "level": _words(),
    "language": _words(),
    "author": _words(),
    "licence": _words(),
    "address": (_address, 'an address on the web: "https://..."'),
    "lessons": _names(),
    "known": _names(),
    **TABLES,
}
LESSON: Final[Table] = {
    "leans_on": _names(),
    "establishes": _names(),
    "minutes": (_number(0.5, 240, whole=False)[0], "a number of minutes from 0.5 to 240"),
    "language": _words(),
    "version": _words(),
    "corrections": (_corrections, 'a list of { what = "...", where = "...", since = "..." }'),
    **TABLES,
}


def locate(text: Slice, key: str, table: str = "") -> Slice:
    """Where a setting's name stands: its line in its table, else the beginning.

    Parameters
    ----------
    text : Slice
        TOML.
    key : str
        The setting's name.
    table : str
        The table it stands in, if any.

    Examples
    --------
    >>> from boardproof.source import Source
    >>> locate(Source("a", "title = 1").slice(), "title").span.end
    5
    """
    name = re.escape(key)
    start = 0
    if table and (head := re.search(rf"(?m)^[ \t]*\[\[?[ \t]*{re.escape(table)}[ \t]*\]", text.text)):
        start = head.end()
    pattern = re.compile(
        rf"(?m)^[ \t]*(?:{re.escape(table)}[ \t]*\.[ \t]*)?\[?\[?[\"']?({name})[\"']?[ \t]*(?:=|\.|\]|$)"
    )
    place = pattern.search(text.text, start) or pattern.search(text.text)
    return text.part(place.start(1), place.end(1)) if place else text.part(0, 0)


def _broken(text: Slice, fault: Exception) -> Finding:
    said = str(fault)
    place = re.search(r"\(at line ([0-9]+), column ([0-9]+)\)", said)
    start = len(text.text.rstrip())
    if place:
        lines = [0, *(end.end() for end in re.finditer(r"\r\n|\n", text.text))]
        line = min(int(place[1]), len(lines)) - 1
        start = min(lines[line] + int(place[2]) - 1, len(text.text))
    reason = re.sub(r"\s*\(at [^)]*\)", "", said).rstrip(".") or "too deep"
    reason = "brackets in brackets without end" if isinstance(fault, RecursionError) else reason
    end = text.text.find("\n", start)
    part = text.part(start, end if end > start else len(text.text)).trimmed()
    return finding("unread-setting", part.span, reason=reason[:1].lower() + reason[1:200])


def read_settings(text: Slice, table: Table) -> tuple[dict[str, object], tuple[Finding, ...]]:
    r"""Read settings; what does not fit its row is reported and left out.

    Parameters
    ----------
    text : Slice
        TOML.
    table : Table
        `COURSE` or `LESSON`.

    Returns
    -------
    (dict, tuple of Finding)
        ``unread-setting``, ``unknown-setting``, ``wrong-setting``.

    Examples
    --------
    >>> from boardproof.source import Source
    >>> kept, found = read_settings(Source("a", "minutes = 5\nminuts = 6").slice(), LESSON)
    >>> kept, found[0].kind.code
    ({'minutes': 5}, 'unknown-setting')
    """
    try:
        given = tomllib.loads(text.text)
    except (ValueError, RecursionError) as fault:
        return {}, (_broken(text, fault),)
    return _checked(text, given, table, "")


def _checked(
    text: Slice, given: Mapping[str, object], table: Table, inside: str
) -> tuple[dict[str, object], tuple[Finding, ...]]:
    kept: dict[str, object] = {}
    found: list[Finding] = []
    for key, value in given.items():
        row = table.get(key)
        span = locate(text, key, inside).span
        if row is None:
            found.append(finding("unknown-setting", span, word=key, **nearby(key, table)))
        elif isinstance(row, Mapping):
            if isinstance(value, Mapping):
                kept[key], faults = _checked(text, value, row, key)
                found += faults
            else:
                found.append(
                    finding("wrong-setting", span, word=key, value="a value", wanted=f"a table [{key}]")
                )
        elif row[0](value):
            kept[key] = value
        else:
            shown = f'"{value}"' if isinstance(value, str) else str(value)
            found.append(finding("wrong-setting", span, word=key, value=shown, wanted=row[1]))
    return kept, tuple(found)
