"""What all web outputs share: one file each, no network, a strict policy, glyphs once a page.

Maths is drawn in `currentColor` with its MathML beside it, visually hidden. Themes and plain letters are style rules
over native radio buttons and a check box, so they work without a script; the style sheet's hash stands in the policy.
"""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Iterable
from functools import cache
from html import escape
from importlib.resources import files
from typing import TYPE_CHECKING

from boardproof.algebra.expression import Line
from boardproof.caution import Caution
from boardproof.picture.drawing import Frame, Label
from boardproof.publish.document import Document, Maths, Prose, Run, Stamp, Words
from boardproof.publish.inline import inline_maths
from boardproof.publish.marks import MARKS, VerdictKind, mark_shapes
from boardproof.publish.palette import custom_properties
from boardproof.publish.svg import inline_picture, print_rules
from boardproof.publish.typeset import Typesetter, curled
from boardproof.publish.walk import PAPER_ONLY, labels

if TYPE_CHECKING:
    from jinja2 import Environment

__all__ = ["Html", "WebPage", "clock"]

MATHS_SIZE = 1.15
COLUMN = 720  # CSS pixels between the margins of a sheet; a page with a whole board on it is broader
_POLICY = "default-src 'none'; img-src data:; style-src 'sha256-{}'; base-uri 'none'; form-action 'none'"


def clock(seconds: float) -> str:
    """Minutes and seconds.

    Parameters
    ----------
    seconds : float
        A length of time.

    Examples
    --------
    >>> clock(95.2)
    '1:35'
    """
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02}"


class Html(str):
    """Text that is HTML already: templates leave it as it is."""

    __slots__ = ()

    def __html__(self) -> str:
        """Itself."""
        return self


class WebPage:
    """One page in the making: gathers the glyphs and depths that its maths and pictures use.

    Parameters
    ----------
    typesetter : Typesetter
        Sets maths and labels.
    document : Document
        The lesson; all its maths is set at once.
    """

    def __init__(self, typesetter: Typesetter, document: Document) -> None:
        """Set the type."""
        self.typesetter, self.document = typesetter, document
        self._glyphs: set[str] = set()
        self._depths: set[int] = set()
        self._pictures, self._widest = 0, 0.0
        typesetter.prepare(labels(document, MATHS_SIZE))

    def runs(self, runs: Iterable[Run]) -> Html:
        """Words and maths of a sentence.

        Parameters
        ----------
        runs : iterable of Run
            In order.
        """
        return Html("".join(self._run(run) for run in runs))

    def display(self, line: Line) -> Html:
        """A line of maths on a line of its own.

        Parameters
        ----------
        line : Line
            With stacked fractions.
        """
        return self._maths(Label(line, MATHS_SIZE, display=True))

    def picture(self, frame: Frame, unit: float) -> Html:
        """A picture, at most `unit` CSS pixels a board unit.

        Parameters
        ----------
        frame : Frame
            What to draw.
        unit : float
            CSS pixels.
        """
        self._pictures += 1
        self._widest = max(self._widest, frame.width * unit)
        made = inline_picture(frame, self.typesetter, f"p{self._pictures}-")
        self._glyphs |= made.glyphs
        size = f'<svg width="{frame.width * unit:.0f}" height="{frame.height * unit:.0f}" '
        return Html(made.svg.replace("<svg ", size, 1))

    def mark(self, kind: VerdictKind, words: str = "") -> Html:
        """A verdict's mark and word.

        Parameters
        ----------
        kind : VerdictKind
            Which.
        words : str
            Instead of the verdict's own word.
        """
        return Html(
            '<svg class="mark" viewBox="0 0 20 20" aria-hidden="true" focusable="false">'
            f'<use href="#v-{kind}"/></svg> <strong class="verdict">{escape(words or MARKS[kind].word)}</strong>'
        )

    def need(self, glyphs: Iterable[str]) -> None:
        """Glyphs of drawings that were made elsewhere.

        Parameters
        ----------
        glyphs : iterable of str
            Their keys.
        """
        self._glyphs |= set(glyphs)

    def render(
        self,
        template: str,
        *,
        cautions: tuple[Caution, ...],
        above: tuple[Caution, ...],
        stamp: Stamp,
        title: str,
        data: object = None,
        scripts: tuple[str, ...] = (),
        **more: object,
    ) -> str:
        """The whole page.

        Parameters
        ----------
        template : str
            Name of its body's template.
        cautions : tuple of Caution
            All that the lesson's circuits ask for.
        above : tuple of Caution
            Those that stand in full under the title, because no item shows them.
        stamp : Stamp
            Version, date, draft.
        title : str
            Of the window.
        data : object
            For the page's script, as JSON; it is taken out of the page as soon as it is read.
        scripts : tuple of str
            Templates' scripts, one program in this order; each with a style sheet of its name if there is one.
        **more : object
            What the template asks for besides.
        """
        values = {
            "page": self,
            "document": self.document,
            "stamp": stamp,
            "first": above,
            "paper_only": PAPER_ONLY if any(each.tier == "paper" for each in cautions) else "",
            "title": title,
            **more,
        }
        body = Html(curled(_templates().get_template(f"{template}.html").render(values)))
        style = self._style(scripts)
        program = "".join(_file(f"{name}.js") for name in scripts)
        policy = _POLICY.format(_digest(style))
        if program:
            policy += f"; script-src 'sha256-{_digest(program)}'; media-src data:"
        return (
            _templates()
            .get_template("shell.html")
            .render(
                values,
                body=body,
                broad=self._widest > COLUMN,
                style=Html(style),
                policy=policy,
                data=Html(_json(data)),
                program=Html(program),
                sheet=Html(self.typesetter.glyph_sheet(self._glyphs) + _marks()),
            )
        )

    def _run(self, run: Run) -> str:
        match run:
            case Maths(tree=tree):
                return self._maths(Label(tree, MATHS_SIZE))
            case Words(text=text, style="emphasis"):
                return f"<em>{escape(text)}</em>"
            case Words(text=text, style="strong"):
                return f"<strong>{escape(text)}</strong>"
            case Words(text=text, style="value"):
                return f'<span class="value">{escape(text)}</span>'
            case Words(text=text):
                return escape(text)

    def _maths(self, label: Label) -> Html:
        assert not isinstance(label.content, str)
        made = inline_maths(label, self.typesetter)
        self._glyphs |= made.glyphs
        hundredths = round(made.depth * 100)
        self._depths.add(hundredths)
        words = self.typesetter.mathml(label.content, display=label.display)
        drawn = "".join(made.pieces).replace('class="maths"', f'class="maths d{hundredths}"')
        kind = "m" if len(made.pieces) == 1 else "m in-pieces"
        return Html(f'<span class="{kind}">{drawn}<span class="unseen">{words}</span></span>')

    def _style(self, scripts: tuple[str, ...]) -> str:
        depths = "".join(f".d{each}{{vertical-align:-{each / 100:g}em}}" for each in sorted(self._depths))
        return _themes() + "".join(_file(f"{name}.css") for name in ("page", *scripts)) + depths


@cache
def _file(name: str) -> str:
    """Text of a style sheet or script; empty where there is none of that name."""
    found = files("boardproof.publish") / "templates" / name
    return found.read_text(encoding="utf-8") if found.is_file() else ""


def _digest(text: str) -> str:
    return base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


def _json(thing: object) -> str:
    """JSON that cannot end its script element."""
    told = json.dumps(thing, ensure_ascii=False, separators=(",", ":"))
    return told.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")


@cache
def _marks() -> str:
    return "".join(
        f'<symbol id="v-{kind}" viewBox="0 0 20 20">{mark_shapes(kind, "css")}</symbol>' for kind in MARKS
    )


def _themes() -> str:
    paper, slate, plain = custom_properties("paper"), custom_properties("slate"), custom_properties("print")
    chosen = ":root:has(#theme-{}:checked)"
    thin = print_rules(chosen.format("print"))
    return (
        f":root{{color-scheme:light;{paper}}}"
        f"@media (prefers-color-scheme:dark){{:root{{color-scheme:dark;{slate}}}}}"
        f"{chosen.format('paper')}{{color-scheme:light;{paper}}}"
        f"{chosen.format('slate')}{{color-scheme:dark;{slate}}}"
        f"{chosen.format('print')}{{color-scheme:light;{plain}}}{thin}"
        f"@media print{{:root:root:root{{color-scheme:light;{plain}}}{print_rules(':root')}}}"
    )


@cache
def _templates() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined  # slow, and many jobs write no page

    made = Environment(
        loader=PackageLoader("boardproof.publish", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["clock"] = clock
    made.filters["bullet"] = lambda item: item.bullet if isinstance(item, Prose) else ""
    made.filters["kind"] = lambda thing: type(thing).__name__
    return made
