"""The `derive` block: what is to be found, by which route, and the steps that the teacher kept."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final, Literal

from boardproof.findings import Finding
from boardproof.lesson.kinds import finding, nearby
from boardproof.lesson.model import Derive, DeriveStep
from boardproof.lesson.moves import split_names
from boardproof.lesson.page import Page, Row
from boardproof.lesson.text import Fence, paragraphs, read_text
from boardproof.source import Slice

__all__ = ["ROUTES", "RULES", "read_derive", "split_known"]

ROUTES: Final = (
    "same terminal p.d.", "open, then short", "short, then EMFs taken out", "potential at the junction",
    "same current", "by symmetry", "one cell at a time", "lines on the graph", "energy in one second",
    "two, three, n", "backwards", "factor pairs", "junctions and loops", "inside out",
)  # fmt: skip
AFTER_BY: Final = tuple(route.removeprefix("by ") for route in ROUTES if route.startswith("by "))
RULES: Final = (
    "junction rule", "loop rule", "cell rule", "Ohm's law", "power", "resistances in series",
    "resistances in parallel", "definition", "algebra", "numbers",
)  # fmt: skip
MANNERS: Final[tuple[Literal["with numbers", "briefly"], ...]] = ("with numbers", "briefly")
STEP: Final = re.compile(r"\s*([0-9]{1,3})\.(?=\s|\Z)")
FROM: Final = re.compile(
    r"(?<!\s)\s+from\s+(?:lines?\s+)?([0-9]{1,3}(?:(?:\s*,\s*|\s+and\s+)[0-9]{1,3})*)\s*\Z"
)
BY: Final = re.compile(r"(?<!\s)\s+by(?:\s+|\Z)")
OF: Final = re.compile(r"(?<!\s)\s+of\s+")
WHOLE_LINE: Final = 1 << 30
MOST_STEPS: Final = 200


def _same(text: str) -> str:
    """One spelling of a name: small letters, one kind of apostrophe, no full stops, single spaces."""
    return " ".join(text.lower().replace("’", "'").replace(".", "").split())


def split_known(text: Slice, table: Iterable[str]) -> tuple[tuple[Slice, ...], bool]:
    """Cut a list of names at commas, longest known name first, since names may hold commas.

    Parameters
    ----------
    text : Slice
        The list.
    table : iterable of str
        The known names.

    Returns
    -------
    (tuple of Slice, bool)
        The names, and whether all of them are known.

    Examples
    --------
    >>> from boardproof.source import Source
    >>> text = Source("a", "algebra, more current, less p.d.").slice()
    >>> names, known = split_known(text, [*RULES, "more current, less p.d."])
    >>> [name.text for name in names], known
    (['algebra', 'more current, less p.d.'], True)
    """
    known = {_same(name) for name in table}
    pieces = split_names(text)
    names: list[Slice] = []
    all_known, at = True, 0
    while at < len(pieces):
        for end in range(min(len(pieces), at + 4), at, -1):
            start = pieces[at].span.start - text.span.start
            name = text.part(start, pieces[end - 1].span.end - text.span.start)
            if _same(name.text) in known or end == at + 1:
                all_known &= _same(name.text) in known
                names.append(name)
                at = end
                break
    return tuple(names), all_known


def _cut(text: Slice, table: Iterable[str]) -> tuple[Slice, tuple[Slice, ...], bool]:
    """Part a text at the last ` by ` that a list of known names follows, else at the last ` by ` of all."""
    choices = []
    for by in reversed(list(BY.finditer(text.text))[-8:]):
        names, known = split_known(text.part(by.end(), len(text.text)), table)
        choices.append((text.part(0, by.start()).trimmed(), names, known))
        if known and names:
            return choices[-1]
    return choices[0] if choices else (text.trimmed(), (), True)


def _headline(fence: Fence) -> tuple[Derive, tuple[Finding, ...]]:
    text, found = fence.headline, []
    manner: list[Literal["with numbers", "briefly"]] = []
    while True:
        last = next((word for word in MANNERS if _ends(text.text, word)), None)
        if last is None:
            break
        manner.insert(0, last)
        text = text.part(0, text.text.rindex(",")).trimmed()
    head, names, known = _cut(text, (*ROUTES, *AFTER_BY))
    route = None
    if names:
        start = names[0].span.start - text.span.start
        route = text.part(start, names[-1].span.end - text.span.start)
        if not known or len(names) > 1:
            near = nearby(route.text, ROUTES) or {"near": "; ".join(ROUTES)}
            found.append(finding("unknown-route", route.span, word=route.text, **near))
    of = OF.search(head.text)
    targets = split_names(head.part(0, of.start()) if of else head)
    group = head.part(of.end(), len(head.text)).trimmed() if of else None
    if not targets:
        found.append(finding("no-target", (fence.headline if fence.headline.text else fence.word).span))
    return Derive(targets, group, route, tuple(manner), (), fence.span), tuple(found)


def _ends(text: str, manner: str) -> bool:
    head, comma, tail = text.rpartition(",")
    return bool(comma and head.strip()) and _same(tail) == manner


def read_derive(page: Page, fence: Fence, known: tuple[str, ...] = ()) -> tuple[Derive, tuple[Finding, ...]]:
    r"""Read a `derive` block.

    Parameters
    ----------
    page : Page
        The text.
    fence : Fence
        The block.
    known : tuple of str
        Names of results that may stand among the rules, beside `RULES`.

    Returns
    -------
    (Derive, tuple of Finding)
        ``unknown-route``, ``no-target``, ``step-order``, ``later-line``, ``loose-words``.

    Examples
    --------
    >>> from boardproof.lesson.page import read_page
    >>> from boardproof.lesson.text import chunks
    >>> from boardproof.source import Source
    >>> page, _ = read_page(Source("a", "```derive I by backwards\n1. a = b by algebra\n```"))
    >>> fence = next(chunks(page, 0, len(page.rows))).content
    >>> read_derive(page, fence)[0].steps[0].maths.text
    'a = b'
    """
    derive, found = _headline(fence)
    rows = page.rows[fence.first : fence.last]
    blanked = {row.number: WHOLE_LINE for row in rows if page.shown(row).lstrip().startswith("#")}
    heads = [(row, mark) for row in rows if (mark := STEP.match(page.shown(row)))]
    ends = [*(row.number for row, _ in heads), fence.last]
    before, faults = read_text(page, fence.first, ends[0], blanked)
    if before:
        faults += (finding("loose-words", before[0].span),)
    if len(heads) > MOST_STEPS:
        faults += (finding("over-limit", fence.word.span, what="A derivation", limit=f"{MOST_STEPS} lines"),)
        heads, ends = heads[:MOST_STEPS], ends[: MOST_STEPS + 1]
    steps: list[DeriveStep] = []
    for place, ((row, mark), end) in enumerate(zip(heads, ends[1:], strict=True), 1):
        step, more = _step(page, row, mark, end, (*RULES, *known), blanked)
        if step.number != place:
            number = page.slice(row.start, row.start + mark.end())
            more += (finding("step-order", number.span, number=str(step.number), place=str(place)),)
        steps.append(step)
        faults += more
    whole = Derive(derive.targets, derive.group, derive.route, derive.manner, tuple(steps), fence.span)
    return whole, (*found, *faults)


def _step(
    page: Page, row: Row, mark: re.Match[str], end: int, rules: tuple[str, ...], blanked: dict[int, int]
) -> tuple[DeriveStep, tuple[Finding, ...]]:
    line = page.slice(row.start + mark.end(), row.end)
    number, found = int(mark[1]), []
    from_: tuple[int, ...] = ()
    text = line
    if leans := FROM.search(line.text):
        from_ = tuple(int(digits) for digits in re.findall(r"[0-9]+", leans[1]))
        text = line.part(0, leans.start()).trimmed()
        for later in sorted({other for other in from_ if not 1 <= other < number}):
            place = line.part(leans.start(1), leans.end(1))
            found.append(finding("later-line", place.span, number=str(number), other=str(later)))
    maths, named, _ = _cut(text, rules)
    words, faults = read_text(page, row.number + 1, end, blanked)
    last = words[-1].span.end if words else line.span.end
    start = row.start + mark.start(1)
    step = DeriveStep(number, maths, named, from_, paragraphs(words), page.span(start, max(start, last)))
    return step, (*found, *faults)
