"""Forms of a clause that tell what a change does: the larger X, the smaller Y; turning B lowers the current."""

from __future__ import annotations

import re

from boardproof.prove.comparatives import DOWN, FALLS, GIVES, KEEPS, LOWERS, NEGATED, RAISES, RISES, UP
from boardproof.prove.gathered import Gathered

__all__ = ["does_not_depend", "doing", "goes_with", "the_more"]


def the_more(gathered: Gathered, text: str) -> list[str] | None:
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
    return found and _trend(gathered, found["y"], found["x"], rises=bool(found["u1"]) == bool(found["u2"]))


def goes_with(gathered: Gathered, text: str) -> list[str] | None:
    """X rises with Y; X falls as Y grows."""
    found = re.fullmatch(
        rf"(?i)(?P<y>.+?) (?:(?P<u1>{RISES})|(?P<d1>{FALLS})) (?:with|as|when|while|if) (?P<x>.+?)"
        rf"(?: (?:(?P<u2>{RISES}|is raised|is increased)|(?P<d2>{FALLS}|is lowered|is reduced)))?",
        text,
    )
    return found and _trend(
        gathered, found["y"], found["x"], rises=bool(found["u1"]) is not bool(found["d2"])
    )


def doing(gathered: Gathered, text: str) -> list[str] | None:
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
            return does_not_depend(gathered, f"{found['y']} does not depend on {found['x']}")
        return _trend(
            gathered, found["y"], found["x"], rises=(way == ">") is (deed in {"raising", "increasing"})
        )
    return _after(gathered, deed, found["x"], found["y"], NEGATED[way] if found["never"] else way)


def does_not_depend(gathered: Gathered, text: str) -> list[str] | None:
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
    what = gathered.nouns.quantity(found["y"] or found["y2"] or found["y3"])
    by = gathered.nouns.quantity(found["x"] or found["x2"] or found["x3"])
    return [f"{each} does not depend on {by[0]}" for each in what] if len(by) == 1 and what else None


def _trend(gathered: Gathered, what: str, by: str, *, rises: bool) -> list[str] | None:
    """One thing against another."""
    ends = gathered.nouns.quantity(what), gathered.nouns.quantity(by)
    if len(ends[1]) != 1 or not ends[0]:
        return None
    return [f"{each} {'rises' if rises else 'falls'} with {ends[1][0]}" for each in ends[0]]


def _after(gathered: Gathered, deed: str, what: str, of: str, way: str) -> list[str] | None:
    """A quantity after something was done, against the same before."""
    part = gathered.nouns.owners(
        re.sub(r"(?i)\s+(?:in (?:series|parallel)|beside .+|side by side|as well)$", "", what)
    )
    size = re.match(r"(?i)(?:the )?size of (.+)", of)
    now = gathered.nouns.quantity(size[1] if size else of)
    if len(part) != 1 or len(now) != 1:
        return None
    gone = "remove" if gathered.nouns.side_by_side or part[0] not in gathered.nouns.cells else "short"
    word = {"turning": "turn", "reversing": "turn", "flipping": "turn", "opening": "open", "closing": "close",
            "shorting": "short"}.get(deed, gone)  # fmt: skip
    other = gathered.named(f"{now[0]} when {word} {part[0]}", {"turn": "turned"}.get(word, "without"))
    if word == "short":
        gathered.notes.append(f"without {part[0]} means: a wire in its place")
    new, old = (now[0], other) if deed in {"adding", "putting in", "joining"} else (other, now[0])
    return [f"abs({new}) {way} abs({old})" if size else f"{new} {way} {old}"]
