"""Handout and board plan: tagged, dated by no clock, answers last, one plan on one page."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pikepdf
import pytest

from boardproof.publish.board_plan import board_plan
from boardproof.publish.document import Prose, SceneDoc, Words
from boardproof.publish.handout import handout
from boardproof.publish.sheet import Sheet
from boardproof.publish.typeset import Typesetter
from unit.publish import sample

SETTER = Typesetter()


def made(output, document=None, *, cautions=(sample.CAUTION,), stamp=sample.STAMP, paper="a4") -> bytes:
    document = document or sample.document()
    return output(document, cautions=cautions, stamp=stamp, typesetter=SETTER, paper=paper)


def opened(data: bytes) -> pikepdf.Pdf:
    return pikepdf.open(BytesIO(data))


def structure(data: bytes) -> list[tuple[str, str]]:
    """Kind and words of every element of the tag tree."""
    pdf = opened(data)
    found, to_read = [], [pdf.Root.StructTreeRoot]
    while to_read:
        element = to_read.pop()
        children = element.get("/K", [])
        children = list(children) if isinstance(children, pikepdf.Array) else [children]
        to_read += [each for each in children if isinstance(each, pikepdf.Dictionary) and "/S" in each]
        found.append((str(element.get("/S")), str(element.get("/Alt", ""))))
    return found


def size_of(data: bytes) -> list[int]:
    pdf = opened(data)
    return [round(float(each)) for each in pdf.pages[0].MediaBox][2:]


@pytest.mark.parametrize("output", [handout, board_plan])
def test_no_sheet_can_be_made_without_cautions_and_stamp(output) -> None:
    with pytest.raises(TypeError, match="cautions"):
        output(sample.document(), stamp=sample.STAMP, typesetter=SETTER)
    with pytest.raises(TypeError, match="stamp"):
        output(sample.document(), cautions=(), typesetter=SETTER)


@pytest.mark.parametrize("output", [handout, board_plan])
def test_a_sheet_is_tagged_titled_and_in_a_language(output) -> None:
    pdf = opened(made(output))
    assert pdf.Root.MarkInfo.Marked
    assert str(pdf.Root.Lang) == "en-GB"
    assert pdf.Root.ViewerPreferences.DisplayDocTitle
    assert "Unequal cells in parallel" in str(pdf.docinfo.Title)
    with pdf.open_metadata() as metadata:
        assert metadata["pdfuaid:part"] == "1"


def test_every_figure_and_formula_has_words() -> None:
    words = [alt for kind, alt in structure(made(handout)) if kind in {"/Figure", "/Formula"}]
    assert sample.ALTERNATIVE in words
    assert len(words) > 12
    assert all(words)


def test_headings_do_not_skip_a_level() -> None:
    kinds = {kind for kind, _ in structure(made(handout))}
    assert {"/H1", "/H2", "/H3"} <= kinds
    assert not kinds & {"/H4", "/H5"}


@pytest.mark.parametrize(("paper", "size"), [("a4", (595, 842)), ("us-letter", (612, 792))])
def test_sizes_of_paper(paper: str, size: tuple[int, int]) -> None:
    assert size_of(made(handout, paper=paper)) == list(size)
    assert size_of(made(board_plan, paper=paper)) == list(reversed(size))


def test_same_document_same_bytes() -> None:
    again = handout(
        sample.document(), cautions=(sample.CAUTION,), stamp=sample.STAMP, typesetter=Typesetter()
    )
    assert made(handout) == again


def test_answers_stand_on_a_sheet_after_everything_else() -> None:
    values = Sheet(SETTER, sample.document()).values(cautions=(), stamp=sample.STAMP, paper="a4")
    assert "lies between" in repr(values["answers"])
    assert "lies between" not in repr(values["scenes"])
    document = sample.document()
    unasked = replace(document, scenes=document.scenes[1:])
    asked = replace(document, scenes=(replace(document.scenes[0], items=document.scenes[0].items[-1:]),))
    assert len(opened(made(handout, asked)).pages) == 2
    without = Sheet(SETTER, unasked).values(cautions=(), stamp=sample.STAMP, paper="a4")
    assert without["answers"] == []


def test_a_caution_is_given_in_full_once() -> None:
    for cautions in ((sample.CAUTION,), ()):
        values = Sheet(SETTER, sample.document()).values(cautions=cautions, stamp=sample.STAMP, paper="a4")
        assert repr(values).count("drive a current round each other even with no load") == 1
    other = replace(sample.CAUTION, full="Lithium cells can catch fire.")
    values = Sheet(SETTER, sample.document()).values(cautions=(other,), stamp=sample.STAMP, paper="a4")
    assert values["cautions"] == ["Lithium cells can catch fire."]


def test_draft_and_paper_only_change_every_page() -> None:
    plain = opened(made(handout))
    paper = replace(sample.CAUTION, tier="paper")
    marked = opened(made(handout, stamp=sample.DRAFT, cautions=(paper,)))
    background = [len(page.Contents.read_bytes()) for page in marked.pages]
    assert len(background) >= len(plain.pages)
    assert min(background) > 100


@pytest.mark.parametrize("count", [1, 4, 9, 14])
def test_the_plan_is_one_page_however_many_scenes(count: int) -> None:
    document = sample.document()
    scenes = (document.scenes[1],) * count
    assert len(opened(made(board_plan, replace(document, scenes=scenes))).pages) == 1


def test_hostile_words_are_set_as_words() -> None:
    hostile = '#import "@preview/x:1.0.0" $x^2$ \\ *b* `raw` <label> @ref "] #read("/etc/passwd") // gone'
    scene = SceneDoc(
        hostile, (Prose((Words(hostile), Words(hostile, "strong"), Words(hostile, "emphasis"))),)
    )
    document = replace(sample.document(), title=hostile, line=hostile, scenes=(scene,))
    assert opened(made(handout, document)).docinfo.Title == hostile
    assert made(board_plan, document).startswith(b"%PDF")


@pytest.mark.parametrize(
    ("tag", "told"),
    [
        ("en-GB", "en-GB"),
        ("de", "de"),
        ("pt-br", "pt-BR"),
        ("zh-Hant-TW", "zh-TW"),
        ("x'><b", "und"),
        ("", "und"),
    ],
)
def test_any_language_tag_makes_a_sheet(tag: str, told: str) -> None:
    assert str(opened(made(handout, replace(sample.document(), scenes=(), language=tag))).Root.Lang) == told
