"""The sheet of a pack design: its proved argument, then what it gives, shares, and does when something is wrong."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from typing import Final

from boardproof.kit.compose import Composer
from boardproof.kit.pack_result import PackResult
from boardproof.kit.pack_words import design_words, fault_row, run_down_words, spread_words
from boardproof.kit.telling import Telling
from boardproof.pack.faults import WhatIf
from boardproof.picture.axes import GraphShape
from boardproof.picture.drawing import Frame
from boardproof.picture.pack_curves import efficiency_curve, run_down_curve, sag_curve, with_mark
from boardproof.picture.pack_histogram import sharing_histogram
from boardproof.publish.document import Document, Figure, Item, Prose, SceneDoc, Words
from boardproof.publish.handout import handout
from boardproof.publish.page import page
from boardproof.publish.sheet import Paper
from boardproof.publish.svg import frame_svg
from boardproof.publish.typeset import Typesetter

__all__ = ["FAULTS_SHOWN", "pack_files"]

FAULTS_SHOWN: Final = 10
PAPERS: Final[tuple[tuple[str, Paper], ...]] = (("pack-a4.pdf", "a4"), ("pack-letter.pdf", "us-letter"))


def pack_files(made: PackResult, *, today: date) -> dict[str, bytes]:
    """Every file of a design: a sheet for A4 and Letter, a page, and the pictures one by one.

    Parameters
    ----------
    made : PackResult
        Worked out.
    today : date
        Stands on every sheet.
    """
    typesetter = Typesetter(Telling(made.proof).notation)
    composer = Composer(made.proof, typesetter)
    document = composer.document()
    scenes = (*_opening(made), *document.scenes, *_closing(made, typesetter))
    document = replace(document, line="Pack design: a sum on paper", scenes=scenes)
    stamp = replace(composer.stamp(today, draft=False), version="")
    cautions = (made.caution,) if made.caution else ()
    files = {
        name: handout(document, cautions=cautions, stamp=stamp, typesetter=typesetter, paper=paper)
        for name, paper in PAPERS
    }
    files["pack.html"] = page(document, cautions=cautions, stamp=stamp, typesetter=typesetter).encode()
    mark = made.caution.short if made.caution and made.caution.tier != "small" else ""
    for each in _figures(document):
        alone = with_mark(each.wide, mark, typesetter) if mark else each.wide
        files[f"{each.wide.moment}.svg"] = frame_svg(alone, typesetter, "paper").encode()
    return files


def _figures(document: Document) -> Iterator[Figure]:
    for scene in document.scenes:
        for item in scene.items:
            if isinstance(item, Figure) and item.wide.moment.startswith("pack-"):
                yield item


def _prose(text: str, bullet: str = "") -> Prose:
    return Prose((Words(text.strip()),), bullet=bullet)


def _opening(made: PackResult) -> Iterator[SceneDoc]:
    """What is asked, what comes out, each limit with its margin."""
    first, *rest = design_words(made.design)
    yield SceneDoc("The design", (_prose(first), *(_prose(each, "-") for each in rest)))


def _closing(made: PackResult, typesetter: Typesetter) -> Iterator[SceneDoc]:
    chosen, brief = made.design.chosen, made.design.brief
    supply = chosen.supply
    emf = float(chosen.voltage(brief.greatest * 0, brief.at_charge))
    resistance, current = float(chosen.resistance), float(brief.greatest)
    limit = brief.limit_of(supply)
    most = None if limit is None else float(limit * chosen.rows)
    yield SceneDoc(
        "Sag and efficiency",
        (
            _figure(
                lambda shape: sag_curve(
                    emf, resistance, current, float(brief.least), typesetter, shape=shape, most=most
                ),
                "P.d. at the load against the current. The fall is the lost volts in cells, contacts and leads.",
            ),
            _figure(
                lambda shape: efficiency_curve(resistance, float(made.design.load), typesetter, shape=shape),
                "Share of the power that reaches the load.",
            ),
        ),
    )
    if made.spreads:
        yield SceneDoc("Cells are not alike", tuple(_spread(made, typesetter)))
    if made.run_downs:
        yield SceneDoc("Running down", tuple(_run_down(made, typesetter)))
    if made.faults:
        rows = [_fault(number, each) for number, each in enumerate(made.faults[:FAULTS_SHOWN], 1)]
        left = len(made.faults) - len(rows)
        start = (
            "Ranked by what it does to the worst cell. First what the load notices, then what one cell does."
        )
        tail = [_prose(f"{left} more in the full list.")] if left > 0 else []
        yield SceneDoc("What if", (_prose(start), *rows, *tail))
    source = supply.cell.source or "the brief"
    yield SceneDoc("Where the figures are from", (_prose(f"{supply.cell.name}: {source}."),))


def _spread(made: PackResult, typesetter: Typesetter) -> Iterator[Item]:
    chosen, brief = made.design.chosen, made.design.brief
    for one in made.spreads:
        for line in spread_words(one):
            yield _prose(line, "-" if line.startswith(" ") else "")
    limit = brief.limit_of(chosen.supply)
    most, fair = None if limit is None else float(limit), float(brief.greatest) / chosen.rows
    cells = made.spreads[0].shares
    yield _figure(
        lambda shape: sharing_histogram(cells, fair, typesetter, limit=most, shape=shape),
        "Currents of all cells of one pack drawn by chance, rows first.",
    )


def _run_down(made: PackResult, typesetter: Typesetter) -> Iterator[Item]:
    for each, alike in zip(made.run_downs, (True, False), strict=True):
        yield _prose(" ".join(line.strip() for line in run_down_words(each, alike=alike)))
    plain = made.run_downs[0]
    hours = [each / 3600 for each in plain.seconds]
    if len(hours) > 1:
        end = float(made.design.brief.least)
        yield _figure(
            lambda shape: run_down_curve(hours, plain.voltage, end, typesetter, shape=shape),
            "P.d. at the load at the steady current; each cell's EMF falls evenly with the charge it has given.",
        )


def _fault(number: int, each: WhatIf) -> Prose:
    name, wiring, load, cell = fault_row(each)
    return Prose(
        (
            Words(f"{name[:1].upper()}{name[1:]}, {wiring}.", "strong"),
            Words(f" Load {load}. Worst cell: {cell}."),
        ),
        bullet=f"{number}.",
    )


def _figure(draw: Callable[[GraphShape], Frame], caption: str) -> Figure:
    return Figure(draw("figure"), draw("figure near"), (Words(caption),))
