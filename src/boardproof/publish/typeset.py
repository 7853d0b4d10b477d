"""Type: the only door to the `typst` package; sizes and outlines of labels, PDF documents, PNG pictures.

A label is set once at 100 pt and kept as outlines in hundredths of its letter size, so it can stand at any size in
any picture; all pictures share one store of glyphs. Whatever a person typed reaches the compiler as JSON text,
never as markup; fonts are those inside the package, the date is fixed, nothing is fetched: equal input gives equal
bytes.
"""

from __future__ import annotations

import hashlib
import json
import re
import threading
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from importlib.resources import files
from typing import TYPE_CHECKING, Literal
from xml.etree import ElementTree as ET

from boardproof.algebra import show
from boardproof.algebra.expression import Expression, Line
from boardproof.algebra.notation import Notation
from boardproof.picture.drawing import Label

if TYPE_CHECKING:
    from typst import Compiler

__all__ = ["Bar", "Glyph", "Setting", "Typesetter", "curled"]

# One label a page; an invisible strut fixes the baseline, the page's width is the label's advance.
_LABELS = r"""
#set page(width: auto, height: auto, margin: 0pt, fill: none)
#set text(font: "Libertinus Serif", size: 100pt, top-edge: "baseline", bottom-edge: "baseline", lang: "en")
#show math.equation: set text(font: "New Computer Modern Math", weight: 450)
#let strut = box(height: 1400pt, width: 0pt, baseline: 700pt)
#let maths(it) = {
  let body = eval(it.text, mode: "math")
  math.equation(block: false, if it.display { math.display(body) } else { body })
}
#let words(it) = text(
  style: if it.style == "italic" { "italic" } else { "normal" },
  weight: if it.style == "semibold" { 600 } else { 400 },
  it.text,
)
#for it in json(bytes(sys.inputs.labels)) {
  page(box(strut + if it.maths { maths(it) } else { words(it) }))
}
"""
_BASELINE = 700.0
_PICTURE = r"""
#set page(width: auto, height: auto, margin: 0pt, fill: none)
#image(bytes(sys.inputs.picture), format: "svg", width: int(sys.inputs.width) * 1pt)
"""
_SVG = "{http://www.w3.org/2000/svg}"
_HREF = "{http://www.w3.org/1999/xlink}href"
_NUMBERS = re.compile(r"-?(?:\d+\.?\d*|\.\d+)(?:e-?\d+)?")
_CONTROL = re.compile(r"[\x00-\x1f\x7f\u2028\u2029]+")
_APOSTROPHE = re.compile(r"(?<=[^\W\d_])(?:'|&#39;|&#x27;)(?=[^\W\d_])")
_PIECES = re.compile(r"([A-Za-z])([^A-Za-z]*)")


def curled(text: str) -> str:
    """Text with the typewriter's apostrophes inside words set as a book sets them; also in HTML that is escaped.

    Parameters
    ----------
    text : str
        Words, or HTML.

    Examples
    --------
    >>> curled("the maker's sheet; 5' x 3'")
    "the maker’s sheet; 5' x 3'"
    """
    return _APOSTROPHE.sub("’", text)


@dataclass(frozen=True, slots=True)
class Glyph:
    """A letter's outline at a place: its key in the store, and its point in hundredths of the size."""

    key: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Bar:
    """A stroke of the maths, such as a fraction bar: path from (x, y), and its weight."""

    path: str
    x: float
    y: float
    weight: float


@dataclass(frozen=True, slots=True)
class Setting:
    """A label set in type, in hundredths of its letter size; y grows downwards from the baseline.

    Parameters
    ----------
    width : float
        What it advances.
    height, depth : float
        What its ink reaches above and below the baseline.
    glyphs : tuple of Glyph
        Letters.
    bars : tuple of Bar
        Strokes.
    """

    width: float
    height: float
    depth: float
    glyphs: tuple[Glyph, ...]
    bars: tuple[Bar, ...]


@dataclass(frozen=True, slots=True)
class _Asked:
    """What decides how a label looks, apart from its size."""

    text: str
    maths: bool
    style: str
    display: bool


class Typesetter:
    """Sets labels and documents in one notation; may be used from several threads.

    Parameters
    ----------
    notation : Notation
        How letters and values are written.
    """

    def __init__(self, notation: Notation | None = None) -> None:
        """Keep the notation; the compiler starts with its first work."""
        self.notation = notation or Notation()
        self._compilers = threading.local()
        self._settings: dict[_Asked, Setting] = {}
        # By the tree itself, which is kept so that its place is not given to another.
        self._asked: dict[tuple[int, bool], tuple[Expression | Line, _Asked]] = {}
        self._names: dict[str, str] = {}
        self._outlines: dict[str, str] = {}
        self._reaches: dict[str, tuple[float, float]] = {}

    def prepare(self, labels: Iterable[Label]) -> None:
        """Set many labels at once: forty take as long as two or three alone.

        Parameters
        ----------
        labels : iterable of Label
            Those already known cost nothing.
        """
        wanted = [ask for ask in dict.fromkeys(map(self._ask, labels)) if ask not in self._settings]
        if not wanted:
            return
        asked = json.dumps(
            [{"text": a.text, "maths": a.maths, "style": a.style, "display": a.display} for a in wanted]
        )
        made = self._compile(_LABELS, "svg", {"labels": asked})
        for ask, page in zip(wanted, made, strict=True):
            self._settings[ask] = self._read(page)

    def setting(self, label: Label) -> Setting:
        """The label in type.

        Parameters
        ----------
        label : Label
            Its size plays no part.
        """
        ask = self._ask(label)
        if ask not in self._settings:
            self.prepare((label,))
        return self._settings[ask]

    def extent(self, label: Label) -> tuple[float, float, float]:
        """Width, height above the baseline and depth below it, in u.

        Parameters
        ----------
        label : Label
            With its size in u.
        """
        made, scale = self.setting(label), label.size / 100
        return made.width * scale, made.height * scale, made.depth * scale

    def glyph_sheet(self, keys: Iterable[str]) -> str:
        """SVG definitions of glyphs, to stand once in a file or page; `<use href="#KEY">` sets one.

        Parameters
        ----------
        keys : iterable of str
            Of the settings that are used; each is written once, in a fixed order.
        """
        return "".join(
            f'<path id="{key}" transform="scale(1-1)" d="{self._outlines[key]}"/>'
            for key in sorted(set(keys))
        )

    def pdf(self, template: str, values: Mapping[str, object]) -> bytes:
        """A document as tagged PDF (PDF/UA-1); the compiler refuses it if a picture has no words.

        Parameters
        ----------
        template : str
            Name of a file in `templates`, without ``.typ``.
        values : mapping
            What the template reads, as JSON.
        """
        folder = files("boardproof.publish") / "templates"
        text = "".join((folder / f"{name}.typ").read_text(encoding="utf-8") for name in ("parts", template))
        (made,) = self._compile(text, "pdf", {"values": json.dumps(values)})
        return made

    def png(self, picture: str, width: int = 1920) -> bytes:
        """An SVG picture as PNG.

        Parameters
        ----------
        picture : str
            SVG text with its own glyphs and plain colours (theme "paper", "slate" or "print").
        width : int
            In pixels.
        """
        # A pixel a point: at any other size a part of a picture stands a little beside where the whole has it.
        (made,) = self._compile(_PICTURE, "png", {"picture": picture, "width": str(width)}, ppi=72)
        return made

    def _compile(
        self, text: str, kind: Literal["svg", "pdf", "png"], inputs: dict[str, str], ppi: float | None = None
    ) -> list[bytes]:
        made = self._compiler().compile(
            input=text.encode(),
            format=kind,
            sys_inputs=inputs,
            ppi=ppi,
            timestamp=0,
            pdf_standards="ua-1" if kind == "pdf" else [],
        )
        return made if isinstance(made, list) else [made] if made is not None else []

    def _compiler(self) -> Compiler:
        """One a thread: most calls of a shared one fail."""
        if not hasattr(self._compilers, "own"):
            from typst import Compiler  # its fonts take 40 ms, and many jobs set nothing

            self._compilers.own = Compiler(ignore_system_fonts=True)
        own: Compiler = self._compilers.own
        return own

    def _ask(self, label: Label) -> _Asked:
        if isinstance(label.content, str):
            return _Asked(
                curled(_CONTROL.sub(" ", label.content)), maths=False, style=label.style, display=False
            )
        key = (id(label.content), label.display)
        known = self._asked.get(key)
        if known is None:
            markup = self.markup(label.content, display=label.display)
            known = self._asked[key] = (
                label.content,
                _Asked(markup, maths=True, style="", display=label.display),
            )
        return known[1]

    def markup(self, tree: Expression | Line, *, display: bool = False) -> str:
        """The compiler's own text for a tree of maths, for templates that set maths.

        Parameters
        ----------
        tree : Expression or Line
            A tree, so never a person's own characters.
        display : bool
            Stacked fractions, or slashes.
        """
        return show.typst(tree, self.notation, display=display)

    def mathml(self, tree: Expression | Line, *, display: bool = False) -> str:
        """Maths as MathML, for screen readers beside the drawn one.

        Parameters
        ----------
        tree : Expression or Line
            The maths.
        display : bool
            On a line of its own.
        """
        made = show.mathml(tree, self.notation)
        return made.replace("<math>", '<math display="block">', 1) if display else made

    def spoken(self, tree: Expression | Line) -> str:
        """Maths as a sentence says it, for alternatives.

        Parameters
        ----------
        tree : Expression or Line
            The maths.
        """
        return show.spoken(tree)

    def _read(self, page: bytes) -> Setting:
        """Take a page's outlines; the compiler wrote it, so it is not hostile."""
        root = ET.fromstring(page)  # noqa: S314 - made a moment ago from our own template
        names = {
            symbol.get("id", ""): self._keep(symbol.get("id", ""), symbol[0].get("d", ""))
            for symbol in root.iter(f"{_SVG}symbol")
        }
        glyphs: list[Glyph] = []
        bars: list[Bar] = []
        for group in root.iter(f"{_SVG}g"):
            x, y = _shift(group.get("transform", ""))
            for each in group:
                if each.tag == f"{_SVG}use":
                    key = names[each.get(_HREF, "")[1:]]
                    glyphs.append(
                        Glyph(key, x + float(each.get("x", 0)), y - float(each.get("y", 0)) - _BASELINE)
                    )
                elif each.tag == f"{_SVG}path" and each.get("stroke"):
                    dx, dy = _shift(each.get("transform", ""))
                    weight = float(each.get("stroke-width", 1))
                    bars.append(Bar(_tight(each.get("d", "")), x + dx, y + dy - _BASELINE, weight))
        inked = [self._reach(glyph) for glyph in glyphs] + [(bar.y, bar.y) for bar in bars]
        top, bottom = min((t for t, _ in inked), default=0.0), max((b for _, b in inked), default=0.0)
        width = float(root.get("width", "0").removesuffix("pt"))
        # A page is never narrower than a point, even with nothing on it.
        return Setting(
            width if width > 1 else 0.0, max(0.0, -top), max(0.0, bottom), tuple(glyphs), tuple(bars)
        )

    def _keep(self, name: str, path: str) -> str:
        """Store an outline and how far it reaches, under a key made from itself; `name` is the compiler's."""
        if name not in self._names:
            tight = _tight(path)
            key = "g" + hashlib.sha256(tight.encode()).hexdigest()[:7]
            ys = _heights(tight)
            self._outlines[key], self._reaches[key] = tight, (max(ys, default=0.0), min(ys, default=0.0))
            self._names[name] = key
        return self._names[name]

    def _reach(self, glyph: Glyph) -> tuple[float, float]:
        """Top and bottom of a glyph in its label; the font's curves have points at their extremes."""
        above, below = self._reaches[glyph.key]
        return glyph.y - above, glyph.y - below


def _shift(transform: str) -> tuple[float, float]:
    numbers = [float(found) for found in _NUMBERS.findall(transform)]
    return (numbers[-2], numbers[-1]) if numbers else (0.0, 0.0)


def _tight(path: str) -> str:
    """Path without needless spaces."""
    return re.sub(r"\s*([A-Za-z])\s*", r"\1", path.strip()).replace(" -", "-")


def _heights(path: str) -> list[float]:
    """Every y that a relative path's points reach, control points included."""
    y, start, reached = 0.0, 0.0, []
    for command, rest in _PIECES.findall(path):
        numbers = [float(found) for found in _NUMBERS.findall(rest)]
        match command:
            case "M" | "m":
                y = start = numbers[1] + (y if command == "m" else 0.0)
            case "Z":
                y = start
            case "v":
                y += numbers[0]
            case "l" | "c" | "q":
                reached += [y + each for each in numbers[1::2]]
                y += numbers[-1]
            case "h":
                pass
            case _:
                raise ValueError(f"the compiler wrote a path command that we don't know: {command}")
        reached.append(y)
    return reached
