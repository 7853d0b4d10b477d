"""Markdown's blocks with our places: paragraphs, list items, quotations, headings, board lines, fenced blocks.

markdown-it-py says which lines belong together; where a word stands is worked out from the lines themselves.
Indented lines are ordinary text here, and nothing is HTML.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from markdown_it import MarkdownIt
from markdown_it.rules_block import StateBlock
from markdown_it.token import Token

from boardproof.findings import Finding
from boardproof.lesson.inline import Piece, Running, read_inline
from boardproof.lesson.kinds import finding
from boardproof.lesson.model import Display
from boardproof.lesson.page import Page
from boardproof.lesson.sentence import Inline, Maths, Paragraph
from boardproof.record import record
from boardproof.source import Slice, Span

__all__ = ["Chunk", "Fence", "chunks", "paragraphs", "read_paragraph", "read_text"]

NOTHING: Final[Mapping[int, int]] = MappingProxyType({})
DEEPEST: Final = 20
SPACE: Final = re.compile(r"\s")
STOPS_MATHS: Final = ("```", "~~~", "# ", "## ")


def _display_rule(state: StateBlock, first: int, end: int, silent: bool) -> bool:  # noqa: FBT001  # markdown-it's form
    """Board maths: from a line that begins with $$ to one that ends with it, blank lines included."""

    def line(number: int) -> str:
        return state.src[state.bMarks[number] + state.tShift[number] : state.eMarks[number]].rstrip()

    text = line(first)
    if not text.startswith("$$"):
        return False
    last, rest = first, text[2:]
    while "$$" not in rest:
        last += 1
        if last >= end or line(last).startswith(STOPS_MATHS):
            return False
        rest = line(last)
    if not rest.endswith("$$") or rest.count("$$") != 1:
        return False
    if not silent:
        state.line = last + 1
        token = state.push("display", "", 0)
        token.map = [first, state.line]
    return True


MARKDOWN: Final = MarkdownIt("commonmark").disable(["code", "html_block", "reference"])
MARKDOWN.block.ruler.before(
    "fence", "display", _display_rule, {"alt": ["paragraph", "reference", "blockquote", "list"]}
)


@record
class Fence:
    """A fenced block, its body not read yet.

    Parameters
    ----------
    word, headline : Slice
        The word after the marks, and the rest of that line.
    first, last : int
        The rows of its body, half open.
    span : Span
        From the opening marks to the closing ones.
    closed : bool
        False if the closing marks are missing.
    """

    word: Slice
    headline: Slice
    first: int
    last: int
    span: Span
    closed: bool


@record
class Chunk:
    """One block of Markdown: what it is, its text, and what it stands in.

    Parameters
    ----------
    content : Running, Display or Fence
        Text to be read on, board maths, or a fenced block.
    span : Span
        Its place.
    heading : int
        1 to 6 for a heading, else 0.
    quoted : bool
        Whether it stands in a block quote.
    bullet : str
        The list mark before it.
    nested : bool
        Whether it stands in a list or a quotation.
    """

    content: Running | Display | Fence
    span: Span
    heading: int = 0
    quoted: bool = False
    bullet: str = ""
    nested: bool = False


def _lines(page: Page, first: int, last: int, blanked: Mapping[int, int]) -> list[str]:
    lines = []
    for row in page.rows[first:last]:
        shown = SPACE.sub(" ", page.shown(row))
        blank = min(blanked.get(row.number, 0), len(shown))
        lines.append(" " * blank + shown[blank:])
    return lines


def _running(page: Page, token: Token, first: int, lines: list[str]) -> Running:
    start, _ = token.map or (0, 0)
    stretches = []
    for number, text in enumerate(token.content.split("\n"), start):
        words = text.strip()
        place = lines[number].rfind(words) if number < len(lines) else -1
        if words and place >= 0:
            begin = page.rows[first + number].start + place
            stretches.append((begin, begin + len(words)))
    return Running.of(page, stretches)


def _fence(page: Page, token: Token, first: int) -> Fence:
    start, end = token.map or (0, 1)
    top, bottom = page.rows[first + start], page.rows[first + end - 1]
    opening = top.start + page.shown(top).find(token.markup)
    info = page.slice(opening + len(token.markup), top.end)
    word = re.match(r"\S*", info.text)
    cut = word.end() if word else 0
    closing = page.shown(bottom).strip(" \t>")
    closed = end - start > 1 and closing.startswith(token.markup) and not closing.strip(token.markup[0])
    return Fence(
        info.part(0, cut),
        info.part(cut, len(info.text)).trimmed(),
        first + start + 1,
        first + end - closed,
        page.span(opening, bottom.end),
        closed,
    )


def _display(page: Page, token: Token, first: int) -> Display:
    start, end = token.map or (0, 1)
    top, bottom = page.rows[first + start], page.rows[first + end - 1]
    opening = top.start + page.shown(top).find("$$")
    closing = bottom.start + page.shown(bottom).rfind("$$")
    return Display(page.slice(opening + 2, closing), page.span(opening, closing + 2))


def chunks(
    page: Page, first: int, last: int, blanked: Mapping[int, int] = NOTHING
) -> Iterator[Chunk | Finding]:
    r"""Cut rows `first` up to `last` into blocks of Markdown.

    Parameters
    ----------
    page : Page
        The text.
    first, last : int
        Rows, half open.
    blanked : mapping of int to int
        For a row, how many characters at its beginning are not text.

    Yields
    ------
    Chunk or Finding
        In reading order; ``over-limit`` where lists and quotations are nested too deep.

    Examples
    --------
    >>> from boardproof.lesson.page import read_page
    >>> from boardproof.source import Source
    >>> page, _ = read_page(Source("a", "# One\n\n- two"))
    >>> [(chunk.heading, chunk.bullet) for chunk in chunks(page, 0, len(page.rows))]
    [(1, ''), (0, '-')]
    """
    lines = _lines(page, first, last, blanked)
    tokens: list[Token] = []
    MARKDOWN.block.parse("\n".join(lines), MARKDOWN, {}, tokens)
    quotes, items, heading = 0, [""], 0
    for token in tokens:
        if token.level >= DEEPEST - 1 and token.map:
            place = page.rows[first + token.map[0]]
            yield finding(
                "over-limit",
                page.span(place.start, place.end),
                what="This nest of lists",
                limit=f"{DEEPEST} levels",
            )
        match token.type:
            case "blockquote_open" | "blockquote_close":
                quotes += token.nesting
            case "list_item_open":
                items.append(f"{token.info}{token.markup}")
            case "list_item_close":
                items.pop()
            case "heading_open":
                heading = int(token.tag[1])
            case "heading_close":
                heading = 0
            case "fence" | "display" | "inline":
                content: Running | Display | Fence
                if token.type == "inline":
                    content = _running(page, token, first, lines)
                    top = page.rows[first + (token.map or [0])[0]].start
                    span = content.span(0, len(content.text)) if content.text else page.span(top, top)
                else:
                    content = (_fence if token.type == "fence" else _display)(page, token, first)
                    span = content.span
                yield Chunk(content, span, heading, quotes > 0, items[-1], quotes > 0 or len(items) > 1)
                items[-1] = ""


def read_paragraph(chunk: Chunk) -> tuple[tuple[Paragraph | Display, ...], tuple[Finding, ...]]:
    """Read the words of a paragraph; board maths in the middle of it parts it.

    Parameters
    ----------
    chunk : Chunk
        One whose content is running text or board maths.
    """
    if isinstance(chunk.content, Display):
        return (chunk.content,), ()
    if isinstance(chunk.content, Fence):
        return (), (finding("misplaced-block", chunk.span, word=chunk.content.word.text or "fenced"),)
    pieces, found = read_inline(chunk.content)
    blocks: list[Paragraph | Display] = []
    line: list[Inline] = []
    for piece in (*pieces, None):
        if piece is not None and not isinstance(piece, Display):
            line.append(piece)
            continue
        if _says_something(line):
            span = _place(line[0]).to(_place(line[-1]))
            blocks.append(Paragraph(tuple(line), span, not chunk.quoted, "" if blocks else chunk.bullet))
        line = []
        if piece is not None:
            blocks.append(piece)
    return tuple(blocks), found


def _says_something(line: list[Inline]) -> bool:
    return any(
        getattr(piece, "text", "x").strip() if not isinstance(piece, Maths) else True for piece in line
    )


def _place(piece: Piece) -> Span:
    return piece.span


def read_text(
    page: Page, first: int, last: int, blanked: Mapping[int, int] = NOTHING
) -> tuple[tuple[Paragraph | Display, ...], tuple[Finding, ...]]:
    r"""Read the text of a block: its paragraphs, list items and board lines.

    Parameters
    ----------
    page : Page
        The text.
    first, last : int
        Rows, half open.
    blanked : mapping of int to int
        For a row, how many characters at its beginning are not text.

    Examples
    --------
    >>> from boardproof.lesson.page import read_page
    >>> from boardproof.source import Source
    >>> page, _ = read_page(Source("a", "The current is\n$$ I = E/R $$\nand not more."))
    >>> [type(block).__name__ for block in read_text(page, 0, 3)[0]]
    ['Paragraph', 'Display', 'Paragraph']
    """
    blocks: list[Paragraph | Display] = []
    found: list[Finding] = []
    for chunk in chunks(page, first, last, blanked):
        if isinstance(chunk, Finding):
            found.append(chunk)
            continue
        more, faults = read_paragraph(chunk)
        blocks += more
        found += faults
    return tuple(blocks), tuple(found)


def paragraphs(blocks: tuple[Paragraph | Display, ...]) -> tuple[Paragraph, ...]:
    """The same text where there is no board line of its own: display maths is read as maths in a sentence.

    Parameters
    ----------
    blocks : tuple of (Paragraph or Display)
        What `read_text` gives.

    Examples
    --------
    >>> from boardproof.lesson.page import read_page
    >>> from boardproof.source import Source
    >>> page, _ = read_page(Source("a", "$$ V = E $$"))
    >>> [block.content[0].text.text for block in paragraphs(read_text(page, 0, 1)[0])]
    ['V = E']
    """
    return tuple(
        Paragraph((Maths(block.text, block.span),), block.span) if isinstance(block, Display) else block
        for block in blocks
    )
