"""Forms of a clause that compare two things: A gives more current than B; X lies between Y and Z; L is brighter."""

from __future__ import annotations

import re
from typing import Final

from boardproof.prove.comparatives import DOWN, GIVES, NEGATED, UP, WORD_SIGNS
from boardproof.prove.gathered import Gathered, Question, Read
from boardproof.prove.nouns import bare_words

__all__ = ["brighter", "charged", "compared", "has_more"]

NUMBERS: Final = {
    "twice": "2",
    "half": "1/2",
    "two": "2",
    "three": "3",
    "four": "4",
    "five": "5",
    "ten": "10",
}


def charged(gathered: Gathered, text: str) -> list[str] | None:
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
    cell = gathered.nouns.cell(found["x"] or found["y"] or found["n"] or found["m"])
    if (not cell and found["n"]) or found["m"]:
        owner = gathered.nouns.owners(found["n"] or found["m"])
        return [f"current in {owner[0]} = 0"] if len(owner) == 1 else None
    sign = (">=" if found["no"] else "<") if found["x"] else ">" if found["y"] else "="
    return [f"current in {cell} {sign} 0"] if cell else None


def has_more(gathered: Gathered, text: str) -> list[str] | None:
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
    left, right = _held(gathered, found["p"], found["x"]), _held(gathered, other, found["x"])
    if len(left) != 1 or not right:
        return None
    ends = gathered.nouns.cell(found["p"]), gathered.nouns.cell(other)
    if all(ends) and bare_words(found["x"]).lower() == "current" and len(gathered.nouns.cells) == 2:
        _ask_alone(gathered, ends, sign)
    times = (found["times"] or "").lower().removesuffix(" times")
    if not times:
        return [f"{left[0]} {sign} {each}" for each in right]
    number = NUMBERS.get(times, times)
    if not number[:1].isdigit() and number not in gathered.nouns.names:
        return None
    return [f"{left[0]} {sign} {number}*({each})" for each in right]


def brighter(gathered: Gathered, text: str) -> list[str] | None:
    """L is brighter than M: it takes more power."""
    found = re.fullmatch(
        r"(?i)(?P<p>.+?) (?:is|are|burns|shines|gets|glows) (?P<not>not |never"
        r" )?(?:(?P<up>brighter|hotter|warmer)|(?P<down>dimmer|cooler|fainter))"
        r" than (?P<q>.+)",
        text,
    )
    if found is None:
        return None
    ends = gathered.nouns.owners(found["p"]), gathered.nouns.owners(found["q"])
    if len(ends[0]) != 1 or len(ends[1]) != 1:
        return None
    sign = ">" if found["up"] else "<"
    gathered.notes.append("brighter or hotter: takes more power, with fixed resistance")
    return [f"power in {ends[0][0]} {NEGATED[sign] if found['not'] else sign} power in {ends[1][0]}"]


def compared(gathered: Gathered, text: str) -> list[str] | None:
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
        return None if found["not"] else _between(gathered, found["x"], found["a"])
    for pattern, sign in WORD_SIGNS:
        found = re.fullmatch(
            rf"(?i)(?P<x>.+?) (?:is|are|equals?|becomes|stays|remains|was)(?P<not> never| not)?"
            rf" ?{pattern} ?(?P<y>\S.*)",
            text,
        )
        if not found:
            continue
        left, right = gathered.nouns.quantity(found["x"]), gathered.nouns.quantity(found["y"])
        if len(left) == 1 and right:
            said = NEGATED[sign] if found["not"] else sign
            _sized(gathered, left[0], right, said, text)
            return [f"{left[0]} {said} {each}" for each in right]
    return None


def _held(gathered: Gathered, owner: str, what: str) -> tuple[str, ...]:
    """A quantity of a thing, or of the load fed by an arrangement of like cells."""
    if made := gathered.nouns.arrangement(owner):
        name, circuit, count = made
        if count and f"{count} = 2, 3, ..." not in gathered.counted:
            gathered.counted.append(f"{count} = 2, 3, ...")
        word = bare_words(what).lower()
        if word == "efficiency":
            return (
                (gathered.named(f"efficiency of {name} when {circuit}", name),)
                if name in gathered.nouns.known.circuits
                else ()
            )
        phrase = {
            "current": "current in {}",
            "power": "power in {}",
            "pd": "p.d. across {}",
            "voltage": "p.d. across {}",
        }
        if word not in phrase or len(gathered.nouns.loads) != 1:
            return ()
        return (gathered.named(f"{phrase[word].format(gathered.nouns.loads[0])} when {circuit}", name),)
    return gathered.nouns.quantity(f"{what} of {owner}") or gathered.nouns.quantity(f"{what} in {owner}")


def _ask_alone(gathered: Gathered, cells: tuple[str, str], sign: str) -> None:
    """Whether "A drives more current than B" speaks of the cells in place, or of each alone on the load."""
    gone = "remove" if gathered.nouns.side_by_side else "short"
    load = gathered.nouns.loads[0] if len(gathered.nouns.loads) == 1 else cells[0]
    lets = tuple(
        (f"I_{word}", f"current in {load} when {gone} {off}")
        for word, off in (("first", cells[1]), ("second", cells[0]))
    )
    in_place = Read((f"current in {cells[0]} {sign} current in {cells[1]}",))
    alone = Read((f"I_first {sign} I_second",), lets=lets)
    raise Question("the cell", ("in place", in_place), ("each alone on the load", alone))


def _between(gathered: Gathered, what: str, ends: str) -> list[str] | None:
    """X lies between Y and Z."""
    middle = gathered.nouns.quantity(what)
    if re.fullmatch(r"(?i)(?:the )?(?:two|both|them)(?: (?:EMFs?|emfs?))?|(?:the )?emfs", ends.strip()):
        stem = re.match(r"(.*?) (?:of|in|across) ", middle[0]) if len(middle) == 1 else None
        edges = list(gathered.nouns.quantity(f"{stem[1]} of either")) if stem else []
    else:
        edges = [each for piece in re.split(r"\s+and\s+", ends) for each in gathered.nouns.quantity(piece)]
    if len(middle) != 1 or len(edges) != 2:
        return None
    low, high, x = edges[0], edges[1], middle[0]
    return [f"{low} < {x} and {x} < {high} or {high} < {x} and {x} < {low}"]


def _sized(gathered: Gathered, left: str, right: tuple[str, ...], sign: str, text: str) -> None:
    """Ask whether a current that may flow either way is meant with its sign or in size."""
    if sign not in {"<", ">"} or right == ("0",) or not re.search(r"(?i)\bcurrent\b", text):
        return
    if re.search(r"(?i)\bsize\b|[-−+*/(]", text) or all(map(gathered.nouns.one_way, (left, *right))):
        return
    word = re.search(rf"(?i)\b(?:{UP}|{DOWN})\b", text)
    plain = [each.strip() for each in (left, *right)]
    if word:
        lets = tuple(gathered.lets.items())
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
        raise Question(f"{word[0]} current", *readings)
