"""Every output of a proved lesson, made from one document and one list of moments."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, fields
from datetime import date
from typing import Final

from boardproof import __version__
from boardproof.caution import Caution
from boardproof.kit.compose import Composer
from boardproof.kit.player import explore_page, player_page
from boardproof.kit.proof import Proof
from boardproof.kit.report import json_report
from boardproof.kit.telling import Telling
from boardproof.publish.board_plan import board_plan
from boardproof.publish.document import Document, Stamp
from boardproof.publish.handout import handout
from boardproof.publish.page import page
from boardproof.publish.palette import Theme
from boardproof.publish.script import cue_cards, script
from boardproof.publish.slides import slides
from boardproof.publish.stamped import stamped
from boardproof.publish.svg import frame_svg, labels_in
from boardproof.publish.thumbnail import thumbnail
from boardproof.publish.typeset import Typesetter
from boardproof.record import record

__all__ = ["OUTPUTS", "THEMES", "Built", "Wanted", "make_outputs"]

OUTPUTS: Final = (
    "board",
    "script",
    "cue-cards",
    "board-plan",
    "handout",
    "page",
    "player",
    "explore",
    "slides",
    "thumbnail",
    "proof",
)
THEMES: Final[tuple[Theme, ...]] = ("paper", "slate", "print")
PAPERS: Final = {"a4": "a4", "letter": "us-letter"}


@dataclass(frozen=True)
class Built:
    """A lesson's kit in memory.

    Parameters
    ----------
    files : mapping of str to bytes
        Each output by its name in the kit's folder.
    failed : tuple of (str, str)
        Outputs that could not be made, and why.
    """

    files: Mapping[str, bytes]
    failed: tuple[tuple[str, str], ...] = ()


@record
class Wanted:
    """What to make.

    Parameters
    ----------
    only : frozenset of str
        Of `OUTPUTS`; empty for all.
    papers : tuple of str
        "a4", "letter".
    themes : tuple of str
        Of `THEMES`, for the board's frames.
    png : bool
        Board frames as PNG as well.
    """

    only: frozenset[str] = frozenset()
    papers: tuple[str, ...] = ("a4", "letter")
    themes: tuple[Theme, ...] = ("paper",)
    png: bool = False

    def names(self) -> tuple[str, ...]:
        """Outputs in the order in which they are made."""
        return tuple(name for name in OUTPUTS if not self.only or name in self.only)


def make_outputs(
    proof: Proof,
    wanted: Wanted,
    *,
    made: date,
    draft: bool = False,
    step: Callable[[str], None] = lambda _: None,
) -> Built:
    """Make the outputs of a lesson; one that fails does not stop the others.

    Parameters
    ----------
    proof : Proof
        The lesson, proved.
    wanted : Wanted
        What to make.
    made : date
        The day that stands on every sheet.
    draft : bool
        Stamp every page DRAFT.
    step : callable
        Told the name of each output when it is begun.
    """
    maker = _Maker(proof, wanted, made, draft=draft)
    files: dict[str, bytes] = {}
    failed: list[tuple[str, str]] = []
    for name, make in maker.outputs():
        if name not in wanted.names():
            continue
        step(name)
        try:
            files |= make()
        except Exception as fault:  # noqa: BLE001 - a fault of ours in one output must not cost the teacher the others
            failed.append((name, f"{type(fault).__name__}: {fault}"))
    return Built(files, tuple(failed))


class _Maker:
    """Makes one lesson's outputs, sharing what they share."""

    def __init__(self, proof: Proof, wanted: Wanted, made: date, *, draft: bool) -> None:
        self.proof, self.wanted = proof, wanted
        self.typesetter = Typesetter(Telling(proof).notation)
        self.composer = Composer(proof, self.typesetter)
        self.stamp: Stamp = self.composer.stamp(made, draft=draft)
        self._document: Document | None = None

    def outputs(self) -> Iterator[tuple[str, Callable[[], dict[str, bytes]]]]:
        """Every output with what makes it."""
        yield "board", self.board
        yield "script", lambda: {"script.html": self._page(script)}
        yield "cue-cards", lambda: {"cue-cards.html": self._page(cue_cards)}
        yield "board-plan", self.board_plan
        yield "handout", self.handout
        yield "page", lambda: {"page.html": self._page(page)}
        yield "player", lambda: {"player.html": self._played(player_page)}
        yield "explore", self.explore
        yield "slides", self.slides
        yield "thumbnail", self.thumbnail
        yield "proof", lambda: {"proof.json": self.proof_file()}

    @property
    def document(self) -> Document:
        """Composed once."""
        if self._document is None:
            self._document = self.composer.document()
        return self._document

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """One full caution for the whole lesson, from every circuit that was ever at hand."""
        places = [visit.place for visit in self.proof.walk.visits]
        caution = self.composer.telling.caution(places)
        return (caution,) if caution else ()

    def _page(self, make: Callable[..., str]) -> bytes:
        return make(
            self.document, cautions=self.cautions, stamp=self.stamp, typesetter=self.typesetter
        ).encode()

    def _played(self, make: Callable[..., str]) -> bytes:
        return make(
            self.composer,
            self.document,
            cautions=self.cautions,
            stamp=self.stamp,
            typesetter=self.typesetter,
        ).encode()

    def explore(self) -> dict[str, bytes]:
        """The circuit to play with, if the lesson has one that can be."""
        made = self._played(explore_page)
        return {"explore.html": made} if made else {}

    def _sheet(self, make: Callable[..., bytes], paper: str) -> bytes:
        return make(
            self.document,
            cautions=self.cautions,
            stamp=self.stamp,
            typesetter=self.typesetter,
            paper=PAPERS[paper],
        )

    def board_plan(self) -> dict[str, bytes]:
        """One sheet, in the first paper wanted."""
        return {"board-plan.pdf": self._sheet(board_plan, self.wanted.papers[0])}

    def handout(self) -> dict[str, bytes]:
        """One handout a paper."""
        return {f"handout-{paper}.pdf": self._sheet(handout, paper) for paper in self.wanted.papers}

    def slides(self) -> dict[str, bytes]:
        """One page a moment, and one page a scene."""
        moments = tuple(self.composer.frame(moment, "wide") for moment in self.composer.moments)
        scenes = tuple(scene.board for scene in self.document.scenes if scene.board is not None)
        return {
            f"slides-{name}.pdf": slides(
                self.document,
                [stamped(each, self.stamp, self.typesetter) for each in frames],
                cautions=self.cautions,
                stamp=self.stamp,
                typesetter=self.typesetter,
            )
            for name, frames in (("moments", moments), ("scenes", scenes))
        }

    def thumbnail(self) -> dict[str, bytes]:
        """The lesson's first circuit under its title, with the caution that belongs to it."""
        first = next((moment for moment in self.composer.moments if moment.state.circuit), None)
        if first is None:
            return {}
        figure = stamped(self.composer.frame(first, "figure"), self.stamp, self.typesetter)
        document = self.document
        return {
            "thumbnail.png": thumbnail(figure, document.title, document.line, self.cautions, self.typesetter)
        }

    def board(self) -> dict[str, bytes]:
        """Every moment's frame, wide and near."""
        frames = {}
        counts: dict[int, int] = {}
        for moment in self.composer.moments:
            counts[moment.scene] = counts.get(moment.scene, 0) + 1
            for shape in ("wide", "near"):
                name = f"board/{moment.scene + 1:02}-{counts[moment.scene]:02}-{shape}"
                frames[name] = stamped(self.composer.frame(moment, shape), self.stamp, self.typesetter)
        self.typesetter.prepare(labels_in(frames.values()))
        files = {
            f"{name}.svg" if theme == "paper" else f"{name}-{theme}.svg": frame_svg(
                each, self.typesetter, theme
            ).encode()
            for name, each in frames.items()
            for theme in self.wanted.themes
        }
        if self.wanted.png:
            files |= {
                name.replace(".svg", ".png"): self.typesetter.png(
                    text.decode(), 1920 if "wide" in name else 1080
                )
                for name, text in tuple(files.items())
            }
        return files

    def proof_file(self) -> bytes:
        """Statements, verdicts and where they come from; a report, never read back as truth."""
        report = json.loads(json_report(self.proof.report))
        sources = {self.proof.lesson.source.name: self.proof.lesson.source.sha256}
        sources |= {
            source.name: source.sha256
            for source in self.proof.report.sources.values()
            if source.name.endswith(".circuit")
        }
        whole = {
            "schema": 1,
            "tool": __version__,
            "notation": self.proof.course.notation.set,
            "policy": {
                each.name: getattr(self.proof.course.policy, each.name)
                for each in fields(self.proof.course.policy)
            },
            "sources": sources,
            "statements": report["statements"],
            "findings": report["findings"],
            "summary": report["summary"],
            "cautions": [
                {"tier": each.tier, "kinds": list(each.kinds), "full": each.full} for each in self.cautions
            ],
            "corrections": [
                {"what": each.what, "where": each.where, "since": each.since}
                for each in self.proof.lesson.settings.corrections
            ],
        }
        return (json.dumps(whole, ensure_ascii=False, indent=1) + "\n").encode()
