"""The `build` job: a proved lesson becomes a kit."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path
from typing import Final

from boardproof import __version__
from boardproof.caution import Caution
from boardproof.findings import Finding, worded
from boardproof.kit.compose import Composer
from boardproof.kit.files import write_kit
from boardproof.kit.progress import Progress
from boardproof.kit.proof import Proof, open_course, prove_lessons
from boardproof.kit.report import json_report, text_report
from boardproof.kit.telling import Telling
from boardproof.publish.board_plan import board_plan
from boardproof.publish.document import Document, Stamp
from boardproof.publish.handout import handout
from boardproof.publish.page import page
from boardproof.publish.script import cue_cards, script
from boardproof.publish.svg import frame_svg, labels_in
from boardproof.publish.typeset import Typesetter

__all__ = ["Built", "build_lesson", "run"]

OUTPUTS: Final = ("board", "script", "cue-cards", "board-plan", "handout", "page", "proof")
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


def build_lesson(
    proof: Proof,
    *,
    made: date,
    draft: bool = False,
    only: frozenset[str] = frozenset(),
    papers: tuple[str, ...] = ("a4", "letter"),
    png: bool = False,
    step: Callable[[str], None] = lambda _: None,
) -> Built:
    """Make every output of a lesson; one that fails does not stop the others.

    Parameters
    ----------
    proof : Proof
        The lesson, proved.
    made : date
        The day that stands on every sheet.
    draft : bool
        Stamp every page DRAFT.
    only : frozenset of str
        Outputs wanted: "board", "script", "cue-cards", "board-plan", "handout", "page", "proof"; empty for all.
    papers : tuple of str
        "a4", "letter".
    png : bool
        Board frames as PNG as well.
    step : callable
        Told the name of each output when it is begun.
    """
    maker = _Maker(proof, made, draft, papers, png)
    files: dict[str, bytes] = {}
    failed: list[tuple[str, str]] = []
    for name, make in maker.outputs():
        if only and name not in only:
            continue
        step(name)
        try:
            files |= make()
        except Exception as fault:  # noqa: BLE001 - a fault of ours in one output must not cost the teacher the others
            failed.append((name, f"{type(fault).__name__}: {fault}"))
    return Built(files, tuple(failed))


class _Maker:
    """Makes one lesson's outputs, sharing what they share."""

    def __init__(self, proof: Proof, made: date, draft: bool, papers: tuple[str, ...], png: bool) -> None:  # noqa: FBT001 - one caller
        self.proof, self.papers, self.png = proof, papers, png
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
        return {"board-plan.pdf": self._sheet(board_plan, self.papers[0])}

    def handout(self) -> dict[str, bytes]:
        """One handout a paper."""
        return {f"handout-{paper}.pdf": self._sheet(handout, paper) for paper in self.papers}

    def board(self) -> dict[str, bytes]:
        """Every moment's frame, wide and near."""
        frames = {}
        counts: dict[int, int] = {}
        for moment in self.composer.moments:
            counts[moment.scene] = counts.get(moment.scene, 0) + 1
            for shape in ("wide", "near"):
                name = f"board/{moment.scene + 1:02}-{counts[moment.scene]:02}-{shape}"
                frames[name] = self.composer.frame(moment, shape)
        self.typesetter.prepare(labels_in(frames.values()))
        files = {
            f"{name}.svg": frame_svg(each, self.typesetter, "paper").encode() for name, each in frames.items()
        }
        if self.png:
            files |= {
                f"{name}.png": self.typesetter.png(
                    files[f"{name}.svg"].decode(), 1920 if name.endswith("wide") else 1080
                )
                for name in frames
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
                name: getattr(self.proof.course.policy, name) for name in self.proof.course.policy.__slots__
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


def run(options: Namespace) -> int:
    """Build what the command line names."""
    folder, findings, one = open_course(options.file)
    if not folder.lessons:
        return _nothing(findings, options.file)
    only = frozenset(filter(None, (options.only or "").replace(" ", "").split(",")))
    if unknown := only - set(OUTPUTS):
        sys.stderr.write(
            f"There is no output called {', '.join(sorted(unknown))}. There are: {', '.join(OUTPUTS)}.\n"
        )
        return 2
    papers = (options.paper,) if options.paper else ("a4", "letter")
    root = options.to or folder.root / "kits"
    status = 0
    names = [one] if one else [source.name for source in folder.lessons]
    with Progress(len(names) * (len(only) or len(OUTPUTS)), quiet=options.quiet or options.json) as progress:
        for proof in prove_lessons(folder, findings, only=one):
            name = proof.lesson.source.name.removesuffix(".lesson.md")
            if proof.report.has_errors and not options.draft:
                progress.say(text_report(proof.report))
                progress.say(f"{name}: not built. Put it right, or build a draft with --draft.")
                progress.skip(len(only) or len(OUTPUTS))
                status = max(status, 1)
                continue
            built = build_lesson(
                proof,
                made=date.today(),  # noqa: DTZ011 - the teacher's own day
                draft=proof.report.has_errors,
                only=only,
                papers=papers,
                png=options.png,
                step=partial(_told, progress, name),
            )
            status = max(status, _written(built, root / name, proof, progress))
    return status


def _told(progress: Progress, lesson: str, output: str) -> None:
    progress.step(f"{lesson}: {output}")


def _written(built: Built, folder: Path, proof: Proof, progress: Progress) -> int:
    draft = proof.report.has_errors
    refused = write_kit(folder, built.files, version=__version__, made=date.today().isoformat(), draft=draft)  # noqa: DTZ011 - as above
    for each in refused:
        progress.say(f"{worded(each).message} {worded(each).help}")
    for name, why in built.failed:
        progress.say(
            f"{folder.name}: {name} could not be made ({why}). This is a fault of the tool; please report it."
        )
    if not refused:
        progress.say(f"{folder.name}: {proof.report.counts_line()} -> {folder}")
    return 2 if refused else 1 if built.failed else 0


def _nothing(findings: tuple[Finding, ...], path: Path) -> int:
    for each in findings:
        sys.stderr.write(f"{worded(each).message} {worded(each).help}".rstrip() + "\n")
    if not findings:
        sys.stderr.write(f"There is no lesson in {path}: lessons are called NAME.lesson.md.\n")
    return 2
