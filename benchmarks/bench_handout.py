"""A lesson's handout as PDF, in a fresh process and warm, beside typst setting plain text on as many pages."""

from __future__ import annotations

import io
from datetime import date
from functools import partial

import pikepdf
import typst
from course import LESSONS, copied
from timing import call, processes, tell

from boardproof.kit.compose import Composer
from boardproof.kit.proof import open_course, prove_lessons
from boardproof.kit.telling import Telling
from boardproof.publish.handout import handout
from boardproof.publish.typeset import Typesetter

SET_IN_FRESH = (
    "import sys, typst; typst.Compiler(ignore_system_fonts=True).compile(sys.argv[1].encode(), format='pdf')"
)
PEER = "plain text"


def plain(pages):
    """A source of so many pages of text."""
    return '#set page(paper: "a4")\n' + "\n#pagebreak()\n".join(["#lorem(350)"] * pages)


def composed(proof, typesetter):
    """What sets a proved lesson's handout, once it is composed."""
    composer = Composer(proof, typesetter)
    document, stamp = composer.document(), composer.stamp(date(2026, 11, 25), draft=False)
    return partial(handout, document, cautions=(), stamp=stamp, typesetter=typesetter, paper="a4")


def composed_and_set(proof, typesetter):
    return composed(proof, typesetter)()


def plainly(compiler, text):
    return compiler.compile(input=text, format="pdf")


def main():
    for path in LESSONS[1:3]:
        folder, findings, only = open_course(path)
        (proof,) = prove_lessons(folder, findings, only=only)
        typesetter = Typesetter(Telling(proof).notation)
        set_again = composed(proof, typesetter)
        pages = len(pikepdf.open(io.BytesIO(set_again())).pages)
        name = f"{path.name.removesuffix('.lesson.md')}, {pages} pages"
        with copied() as course:
            words = ("-m", "boardproof", "build", course / path.name, "--only", "handout", "--paper", "a4")
            taken = processes({"ours": words, PEER: ("-c", SET_IN_FRESH, plain(pages))}, times=5)
        tell(f"{name}: fresh, lesson proved too", taken["ours"], PEER, taken[PEER], "300 ms without proving")
        peer = call(plainly, typst.Compiler(ignore_system_fonts=True), plain(pages).encode())
        tell(
            f"{name}: composed and set, warm", call(composed_and_set, proof, typesetter), PEER, peer, "50 ms"
        )
        tell(f"{name}: set again, warm", call(set_again), PEER, peer)


if __name__ == "__main__":
    main()
