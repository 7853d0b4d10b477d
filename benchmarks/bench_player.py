"""The player's page for each demo lesson: size at forty stages, and one way between boards beside drawing a board."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

from course import LESSONS
from timing import calls, percentile, tell

from boardproof.kit.compose import Composer
from boardproof.kit.outputs import Wanted, make_outputs
from boardproof.kit.proof import open_course, prove_lessons
from boardproof.kit.telling import Telling
from boardproof.picture.transition import layers_at, transition
from boardproof.publish.svg import frame_svg
from boardproof.publish.typeset import Typesetter

PEER = "drawing a board as SVG"


def half_way(old, new):
    return layers_at(old, new, transition(old, new), 0.5)


def main():
    for path in LESSONS:
        folder, findings, only = open_course(path)
        (proof,) = prove_lessons(folder, findings, only=only)
        typesetter = Typesetter(Telling(proof).notation)
        composer = Composer(proof, typesetter)
        boards = [composer.frame(moment, "wide") for moment in composer.moments]
        cases = [(board, typesetter, "paper") for board in boards]
        calls(frame_svg, cases)
        peer = percentile(calls(frame_svg, cases), 50)
        name = path.name.removesuffix(".lesson.md")
        tell(
            f"{name}: half way, 50 % under",
            percentile(calls(half_way, list(pairwise(boards))), 50),
            PEER,
            peer,
        )
        built = make_outputs(proof, Wanted(frozenset({"player"})), made=date(2026, 1, 5))
        size = len(built.files["player.html"]) * 40 / len(boards) / 1e6
        print(f"{name}: player page at 40 stages {size:.2f} MB; goal 1.50 MB")


if __name__ == "__main__":
    main()
