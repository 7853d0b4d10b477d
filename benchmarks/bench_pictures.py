"""Frames and formulas once everything is warm, beside typst setting one formula; then frames from cold labels."""

from __future__ import annotations

import typst
from course import LESSONS
from timing import call, calls, percentile, tell

from boardproof.algebra.written import read_line
from boardproof.kit.compose import Composer
from boardproof.kit.proof import open_course, prove_lessons
from boardproof.kit.telling import Telling
from boardproof.picture.drawing import Label
from boardproof.publish.svg import frame_svg
from boardproof.publish.typeset import Typesetter
from boardproof.source import Source

PEER = "typst, one formula to SVG"
FORMULA = "#set page(width: auto, height: auto)\n$ E_p = (E_{0} r_2 + E_2 r_1)/(r_1 + r_2) $"
LETTERS = ("E_p", "E_1", "E_2", "r_1", "r_2")


def drawn(composer, moment, shape):
    return frame_svg(composer.frame(moment, shape), composer.lettering, "paper")


def main():
    compiler = typst.Compiler(ignore_system_fonts=True)
    # Each another one, for the compiler remembers.
    cases = [(FORMULA.replace("{0}", str(number)).encode(),) for number in range(30)]
    peer = percentile(calls(lambda text: compiler.compile(input=text, format="svg"), cases)[5:], 50)
    for path in LESSONS:
        folder, findings, only = open_course(path)
        (proof,) = prove_lessons(folder, findings, only=only)
        typesetter = Typesetter(Telling(proof).notation)
        composer = Composer(proof, typesetter)
        cases = [(composer, moment, shape) for moment in composer.moments for shape in ("wide", "near")]
        cold, warm = calls(drawn, cases), calls(drawn, cases)
        name = path.name.removesuffix(".lesson.md")
        tell(f"{name}: a frame, warm, 50 % under", percentile(warm, 50), PEER, peer, "5 ms")
        tell(f"{name}: a frame, cold labels, mean of {len(cold)}", sum(cold) / len(cold), PEER, peer)
    line, _ = read_line(Source("x", "E_p = (E_1 r_2 + E_2 r_1)/(r_1 + r_2)").slice(), known=LETTERS)
    label, typesetter = Label(line, 2.0, display=True), Typesetter()
    tell("formula to outlines, warm", call(typesetter.extent, label), PEER, peer, "1 ms")
    tell("formula to MathML", call(typesetter.mathml, line), PEER, peer, "1 ms")
    fresh = [(Typesetter(), Label(line, 2.0)) for _ in range(5)]
    for each, _ in fresh:
        each.extent(Label("warm", 1.0))
    tell(
        "formula to outlines, first time",
        percentile(calls(lambda t, it: t.extent(it), fresh), 50),
        PEER,
        peer,
    )


if __name__ == "__main__":
    main()
