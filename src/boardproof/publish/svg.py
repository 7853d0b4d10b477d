"""A picture as SVG: weights and colours by role and state, text as outlines, words for whoever can't see it.

Conventions for whoever draws:

- a filled `plate`, `thick plate` or `solid` has no line of its own; unfilled ones are drawn at their weight;
- `wash` is never outlined; `case` loses its outline while in focus and takes the wash's colour;
- a `rule` is a pale hairline when dimmed, 0.1 when normal, the thick one (0.34) in focus; a thing of kind "rule" is
  ink in every state (to come, past, now);
- words in italics are quiet, and ink in focus; kind "caution" is always ink; kind "imagined short" is thin and
  always in the focus colour; kind "small" (scene number, lesson's name) is quiet;
- `hidden` things leave no trace in the file, their words included.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from html import escape
from types import MappingProxyType

from boardproof.picture.drawing import Box, Drawn, Frame, Label, Outline, Role, State, Text
from boardproof.publish.palette import Ink, Theme, colour
from boardproof.publish.typeset import Setting, Typesetter

__all__ = [
    "InlinePicture",
    "frame_svg",
    "inline_picture",
    "labels_in",
    "letters",
    "print_rules",
    "thing_svg",
    "weight",
]

WEIGHTS: Mapping[str, float] = MappingProxyType(
    {
        "wire": 0.16, "outline": 0.18, "case": 0.07, "measure": 0.10, "axis": 0.09, "curve": 0.24,
        "plate": 0.18, "thick plate": 0.46, "rule": 0.10, "wash": 0.0, "solid": 0.0,
    }
)  # fmt: skip
FOCUS, NEAR, PRINT_THIN = 1.8, 1.35, 0.5
NEAR_FLOOR = 1.5 / 6.67  # 1.5 CSS pixels where a near board is 360 pixels wide
# Measure lines and axes stay finer than wires on a phone too, or the circuit is lost among them.
FINE, FINE_FLOOR = frozenset({"measure", "axis"}), 0.16
LETTER_OUTLINE = 1.8  # hundredths of the letter size, on letters in focus
_NOT_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
REPLACED_DASH = (0.5, 0.45)
# Left margin, letter size and baselines of the caption's lines, in u.
_CAPTION_BANDS: Mapping[str, tuple[float, float, tuple[float, float]]] = MappingProxyType(
    {"wide": (4, 1.75, (50.2, 52.5)), "near": (3, 2.45, (88.4, 91.9))}
)
NOWHERE = Box(0, 0, 0, 0)
_THIN_IN_PRINT: tuple[Role, ...] = (
    "wire", "outline", "measure", "axis", "curve", "plate", "thick plate",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class InlinePicture:
    """SVG for a page that holds the glyphs once, and the keys of the glyphs it uses."""

    svg: str
    glyphs: frozenset[str]


@dataclass(frozen=True, slots=True)
class _Look:
    """What decides an element's look."""

    theme: Theme
    near: bool
    state: State
    kind: str

    def ink(self, name: Ink) -> str:
        return colour(name, self.theme)

    @property
    def line(self) -> Ink:
        """Ink of lines and solid shapes."""
        match self.kind, self.state:
            case "imagined short", _:
                return "focus"
            case (("caution" | "rule"), _):
                return "ink"
            case _, "focus":
                return "focus"
            case _, ("dimmed" | "replaced"):
                return "dim"
            case _:
                return "ink"

    def words(self, label: Label) -> Ink:
        """Ink of a label."""
        if self.kind == "caution":
            return "ink"
        if self.state in {"dimmed", "replaced"}:
            return "dimtext"
        is_quiet = isinstance(label.content, str) and label.style == "italic"
        if self.state == "focus":
            return "ink" if is_quiet else "focus"
        return "quiet" if is_quiet or self.kind == "small" else "ink"


def weight(role: Role, state: State, *, near: bool = False, thin: bool = False, kind: str = "") -> float:
    """Weight of a line in u.

    Parameters
    ----------
    role : Role
        What the line is.
    state : State
        How it stands out.
    near : bool
        For a narrow screen.
    thin : bool
        For print, where dimmed lines are thin instead of pale.
    kind : str
        Kind of the thing drawn.

    Examples
    --------
    >>> round(weight("wire", "focus") / weight("wire", "normal"), 2)
    1.8
    """
    base = WEIGHTS[role]
    if kind == "imagined short" and role == "wire":
        return max(0.12, NEAR_FLOOR / 1.2 if near else 0.0)
    factor = NEAR if near else 1.0
    if role == "rule":
        return {"focus": 0.34, "dimmed": 0.08}.get(state, base) * factor
    if state == "focus" and role != "case":
        factor *= 1.2 if role == "thick plate" else FOCUS
    floor = (
        (FINE_FLOOR if role in FINE else NEAR_FLOOR)
        if near and role not in {"case", "wash", "solid"}
        else 0.0
    )
    made = max(base * factor, floor)
    if thin and state in {"dimmed", "replaced"} and role not in {"case", "rule"}:
        made *= 0.7 if role == "thick plate" else PRINT_THIN
    return made


def labels_in(frames: Iterable[Frame]) -> list[Label]:
    """Every label of some pictures, hidden things left out, to set them all at once.

    Parameters
    ----------
    frames : iterable of Frame
        In any order.

    Examples
    --------
    >>> labels_in([])
    []
    """
    return [
        mark.label
        for frame in frames
        for drawn in frame.drawn
        if drawn.state != "hidden"
        for mark in drawn.marks
        if isinstance(mark, Text)
    ]


def frame_svg(frame: Frame, typesetter: Typesetter, theme: Theme, *, captions: bool = False) -> str:
    """A picture as a file of its own, ground and glyphs included.

    Parameters
    ----------
    frame : Frame
        What to draw.
    typesetter : Typesetter
        Sets its labels.
    theme : Theme
        "paper", "slate" or "print"; "css" for a page that defines the colours.
    captions : bool
        Write the frame's caption into the band kept free for it; at most two lines.

    Examples
    --------
    >>> frame_svg(Frame("m", "figure", 56, 36, (), "Two cells"), Typesetter(), "paper")[-34:]
    'height="36" fill="#FBF8F0"/></svg>'
    """
    if captions:
        frame = replace(frame, drawn=(*frame.drawn, *_captions(frame)))
    made = _picture(frame, typesetter, theme, prefix="")
    sheet = typesetter.glyph_sheet(made.glyphs)
    opening, marker, rest = made.svg.partition("<!--glyphs-->")
    assert marker
    ground = f'<rect width="{frame.width:g}" height="{frame.height:g}" fill="{colour("paper", theme)}"/>'
    return f"{opening}<defs>{sheet}</defs>{ground}{rest}"


def inline_picture(frame: Frame, typesetter: Typesetter, prefix: str, theme: Theme = "css") -> InlinePicture:
    """A picture to stand in a page that holds the glyph sheet and the colours.

    Parameters
    ----------
    frame : Frame
        What to draw.
    typesetter : Typesetter
        Sets its labels.
    prefix : str
        Makes its ids differ from those of other pictures in the page.
    theme : Theme
        Whose colours; a page that switches has "css".
    """
    made = _picture(frame, typesetter, theme, prefix)
    return InlinePicture(made.svg.replace("<!--glyphs-->", ""), made.glyphs)


def _captions(frame: Frame) -> list[Drawn]:
    if frame.shape not in _CAPTION_BANDS:
        return []
    left, size, baselines = _CAPTION_BANDS[frame.shape]
    if len(frame.caption) > len(baselines):
        raise ValueError(f"a board has room for {len(baselines)} lines of caption, not {len(frame.caption)}")
    return [
        Drawn(f"caption:{at}", "caption", "normal", NOWHERE, (Text(Label(words, size), left, y, "start"),))
        for at, (words, y) in enumerate(zip(frame.caption, baselines, strict=False))
    ]


def _picture(frame: Frame, typesetter: Typesetter, theme: Theme, prefix: str) -> InlinePicture:
    typesetter.prepare(labels_in([frame]))
    near = frame.shape in {"near", "figure near"}
    made = [thing_svg(each, typesetter, theme, near=near, prefix=prefix) for each in frame.drawn]
    body = "".join(each.svg for each in made)
    title, words = f"{prefix}title", f"{prefix}words"
    told = f'<desc id="{words}">{_clean(frame.alternative)}</desc>' if frame.alternative else ""
    names = f"{title} {words}" if told else title
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {frame.width:g} {frame.height:g}" '
        f'class="board {"near" if near else "wide"}" role="img" aria-labelledby="{names}" '
        f'stroke-linejoin="round">'
        f'<title id="{title}">{_clean(frame.title or "Circuit")}</title>{told}<!--glyphs-->{body}</svg>'
    )
    return InlinePicture(svg, frozenset().union(*(each.glyphs for each in made)))


def thing_svg(
    drawn: Drawn, typesetter: Typesetter, theme: Theme = "css", *, near: bool = False, prefix: str = ""
) -> InlinePicture:
    """One thing of a picture; nothing at all if it is hidden.

    Parameters
    ----------
    drawn : Drawn
        The thing.
    typesetter, theme, prefix
        As for `inline_picture`.
    near : bool
        For a narrow screen.
    """
    if drawn.state == "hidden":
        return InlinePicture("", frozenset())
    look, glyphs = _Look(theme, near, drawn.state, drawn.kind), set[str]()
    parts = [
        (
            f'<g id="{prefix}{_id(drawn.id)}" class="s-{drawn.state} k-{_id(drawn.kind)}" '
            f'data-id="{_clean(drawn.id)}">'
        )
    ]
    if drawn.alternative:
        parts.append(f"<title>{_clean(drawn.alternative)}</title>")
    if drawn.readout is not None:
        parts.append(f"<desc>{_clean(f'{drawn.readout.of} = {drawn.readout.shown}')}</desc>")
    for mark in drawn.marks:
        match mark:
            case Outline():
                parts.append(_outline(mark, look))
            case Text():
                made = typesetter.setting(mark.label)
                glyphs |= {glyph.key for glyph in made.glyphs}
                parts.append(_text(mark, made, look))
    return InlinePicture("".join(parts) + "</g>", frozenset(glyphs))


def _outline(mark: Outline, look: _Look) -> str:
    has_line = mark.role not in {"wash", "solid"} and not (mark.role == "case" and look.state == "focus")
    if mark.fill == "ink" and mark.role in {"plate", "thick plate"}:
        has_line = False
    dash = mark.dash
    if look.state == "replaced" and has_line and not dash:
        dash = REPLACED_DASH
    attributes = {"class": f"r-{_id(mark.role)}", "d": mark.path, "fill": _fill(mark, look)}
    if has_line:
        thin = look.theme == "print"
        attributes["stroke"] = look.ink(_stroke(mark.role, look))
        made = weight(mark.role, look.state, near=look.near, thin=thin, kind=look.kind)
        attributes["stroke-width"] = f"{made:.3g}"
    if dash and has_line:
        attributes["stroke-dasharray"] = " ".join(f"{each:g}" for each in dash)
        if dash[0] < 0.1:  # dots: a round end makes a short dash a point
            attributes["stroke-linecap"] = "round"
    return "<path " + " ".join(f'{name}="{_clean(value)}"' for name, value in attributes.items()) + "/>"


def _stroke(role: Role, look: _Look) -> Ink:
    if role == "case":
        return "casel"
    if role == "rule" and look.state == "dimmed":
        return "line"
    if role == "axis" and look.state == "normal":
        return "quiet"
    return look.line


def _fill(mark: Outline, look: _Look) -> str:
    match mark.fill:
        case "none":
            return "none"
        case "ink":
            return look.ink(look.line)
        case "paper" | "shade" if look.state == "focus":
            return look.ink("lamp")
        case "paper" | "shade" | "lamp" as name:
            return look.ink(name)


def _text(mark: Text, made: Setting, look: _Look) -> str:
    scale = mark.label.size / 100
    left = mark.x - {"start": 0.0, "middle": made.width / 2, "end": made.width}[mark.anchor] * scale
    ink = look.ink(look.words(mark.label))
    outlined = look.state == "focus" and not isinstance(mark.label.content, str)
    body = letters(made, ink, outlined=outlined)
    return f'<g class="text" transform="translate({left:.6g} {mark.y:.6g})scale({scale:.6g})">{body}</g>'


def letters(made: Setting, ink: str, *, outlined: bool = False) -> str:
    """Glyphs and strokes of a label, in hundredths of its letter size.

    Parameters
    ----------
    made, ink
        The label and its colour.
    outlined : bool
        Make it heavier by an outline; only glyphs get one, never fraction bars.

    Examples
    --------
    >>> from boardproof.publish.typeset import Glyph
    >>> letters(Setting(50, 40, 0, (Glyph("g1", 0, 0),), ()), "red")
    '<g fill="red"><use href="#g1"/></g>'
    """
    edge = f' stroke="{ink}" stroke-width="{LETTER_OUTLINE}"' if outlined else ""
    glyphs = "".join(f'<use href="#{each.key}"{_at("x", each.x)}{_at("y", each.y)}/>' for each in made.glyphs)
    bars = "".join(
        f'<path transform="translate({bar.x:.6g} {bar.y:.6g})" d="{bar.path}" stroke="{ink}" '
        f'stroke-width="{bar.weight:g}" fill="none"/>'
        for bar in made.bars
    )
    return f'<g fill="{ink}"{edge}>{glyphs}</g>{bars}'


def _at(name: str, value: float) -> str:
    """An attribute to a thousandth of the letter size, left out where it is nought."""
    rounded = round(value, 1)
    return f' {name}="{rounded:g}"' if rounded else ""


def _clean(text: str) -> str:
    """Words for an attribute or an element; characters that no XML may hold are left out."""
    return escape(_NOT_XML.sub("", text))


def _id(text: str) -> str:
    """A name that every reader of SVG accepts; different texts stay different."""
    return "".join(
        each if each.isascii() and (each.isalnum() or each == "-") else f"_{ord(each):x}_" for each in text
    )


def print_rules(where: str = "") -> str:
    """Style rules that draw dimmed lines thin, for a page whose colours switch to print.

    Parameters
    ----------
    where : str
        Selector of the place where they apply.

    Examples
    --------
    >>> print_rules("main")[:35]
    'main .wide .s-dimmed .r-wire,main .'
    """
    rules = []
    for near in (False, True):
        for role in _THIN_IN_PRINT:
            made = weight(role, "dimmed", near=near, thin=True)
            place = f"{where} .near" if near else f"{where} .wide"
            states = ",".join(f"{place} .s-{state} .r-{_id(role)}" for state in ("dimmed", "replaced"))
            rules.append(f"{states}{{stroke-width:{made:.3g}}}")
    return "".join(rules)
