"""Page, script and cue cards: one file each, cautions and stamps on all, answers behind their button."""

from __future__ import annotations

import base64
import hashlib
import re
from dataclasses import replace

import pytest
from lxml import html

from boardproof.publish.document import (
    ClaimItem,
    Cue,
    Figure,
    Judged,
    Prose,
    SceneDoc,
    StepItem,
    Steps,
    Words,
)
from boardproof.publish.page import page
from boardproof.publish.script import cue_cards, script
from boardproof.publish.typeset import Typesetter
from unit.publish import sample

HOSTILE = "<script>alert(1)</script><img src=x onerror=alert(1)> {{ 7*7 }} {% raw %} ]]> &amp; \" ' </style>"
OUTPUTS = (page, script, cue_cards)
SETTER = Typesetter()


def made(output, document=None, *, cautions=(sample.CAUTION,), stamp=sample.STAMP) -> str:
    document = document or sample.document()
    return output(document, cautions=cautions, stamp=stamp, typesetter=SETTER)


@pytest.mark.parametrize("output", OUTPUTS)
def test_no_output_can_be_made_without_cautions_and_stamp(output) -> None:
    with pytest.raises(TypeError, match="cautions"):
        output(sample.document(), stamp=sample.STAMP, typesetter=SETTER)
    with pytest.raises(TypeError, match="stamp"):
        output(sample.document(), cautions=(), typesetter=SETTER)


@pytest.mark.parametrize("output", OUTPUTS)
def test_caution_version_date_and_corrections_stand_in_each(output) -> None:
    text = html.fromstring(made(output)).text_content()
    assert text.count(sample.CAUTION.full) == 1
    assert "version 2" in text
    assert "25 November 2026" in text
    assert "the arrow of B was the wrong way round" in text


@pytest.mark.parametrize("output", OUTPUTS)
def test_a_draft_says_so_on_every_sheet_and_says_why(output) -> None:
    draft = made(output, stamp=sample.DRAFT)
    assert "DRAFT" in html.fromstring(draft).text_content()
    assert 'class="stamped"' in draft, "printed on each sheet"
    assert sample.DRAFT.unproved[0] in html.fromstring(draft).text_content()
    assert 'class="stamped"' not in made(output)


@pytest.mark.parametrize("output", OUTPUTS)
def test_the_paper_tier_marks_every_sheet(output) -> None:
    paper = replace(sample.CAUTION, tier="paper")
    assert "Nothing here is to be built" in made(output, cautions=(paper,))
    assert "nothing here is to be built" not in made(output).lower()


@pytest.mark.parametrize("output", OUTPUTS)
def test_the_policy_allows_exactly_the_style_sheet(output) -> None:
    text = made(output)
    (policy,) = re.findall(r'Content-Security-Policy" content="([^"]+)"', text)
    (style,) = re.findall(r"<style>(.*?)</style>", text, re.DOTALL)
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    assert html.fromstring(f"<p>{policy}</p>").text == (
        f"default-src 'none'; img-src data:; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"
    )
    assert "<script" not in text
    assert not re.search(r'\s(style|on\w+)="', text.split("</style>")[1])
    assert not re.search(r'(?:src|href)="(?!#|data:,)', text), "nothing is fetched"


@pytest.mark.parametrize("output", OUTPUTS)
def test_hostile_words_stay_words(output) -> None:
    words = (Words(HOSTILE),)
    items = (
        Prose((*words, Words(HOSTILE, "strong"), Words(HOSTILE, "value"), Words(HOSTILE, "emphasis"))),
        Steps(words, (StepItem(1, words, sample.SHORT),)),
        ClaimItem(HOSTILE, (Prose(words),), (), Judged("wrong", words)),
    )
    document = sample.document()
    cue = replace(document.scenes[0].cues[0], words=HOSTILE, said=words, moves=(HOSTILE,))
    scene = SceneDoc(HOSTILE, items, (cue,))
    text = made(output, replace(document, title=HOSTILE, line=HOSTILE, scenes=(scene,)))
    root = html.fromstring(text)
    assert not list(root.iter("script", "img"))
    assert "49" not in root.text_content()
    assert HOSTILE in root.text_content()


def test_a_pause_keeps_its_answer_behind_the_button() -> None:
    root = html.fromstring(made(page))
    (pause,) = root.find_class("pause")
    (details,) = pause.findall(".//details")
    assert "it lies between the two" in details.text_content()
    assert details.get("open") is None
    for each in pause.findall("details"):
        pause.remove(each)
    assert "lies between" not in root.text_content()
    assert "lies between" not in made(script) + made(cue_cards)


def test_ids_are_unique_and_every_reference_finds_its_target() -> None:
    root = html.fromstring(made(page))
    ids = root.xpath("//@id")
    assert len(ids) == len(set(ids))
    wanted = {word for each in root.xpath("//@aria-labelledby") for word in each.split()}
    wanted |= {each[1:] for each in root.xpath("//@href") if each.startswith("#")}
    assert wanted <= set(ids)


def test_every_item_stands_on_the_page_in_order() -> None:
    text = html.fromstring(made(page)).text_content()
    places = [
        text.index(words)
        for words in ("The buoy came back", "Figure 1.", "Pause and try", "cell rule, junction rule",
                      "(parallel cells)",
                      "near enough", "Trap", "plain mean", "Claim: less than the least", "Printed only",
                      "Question: pair and load", "3 marks")
    ]  # fmt: skip
    assert places == sorted(places)
    assert "1 mark" in text


def test_points_of_one_list_stand_in_one_list() -> None:
    (found,) = html.fromstring(made(page)).find_class("bullet")
    assert [each.text_content() for each in found] == ["One term a cell.", "Both sums have it."]


def test_maths_is_drawn_and_said() -> None:
    root = html.fromstring(made(page))
    drawn, said = root.find_class("maths"), root.findall(".//math")
    assert len(root.find_class("m")) == len(said) > 10
    assert all(each.get("aria-hidden") == "true" for each in drawn)


def test_the_page_is_small() -> None:
    document = sample.document()
    many = replace(document, scenes=document.scenes * 7)
    assert len(made(page, many).encode()) < 1_500_000


def test_the_script_adds_up_the_time() -> None:
    text = html.fromstring(made(script)).text_content()
    assert "0:34, from 0:00" in text
    assert "0:25, from 0:34" in text
    assert "1:17 in all" in text
    assert "Short the pair, on paper only." in text


def test_cue_cards_hold_a_few_words_and_the_time() -> None:
    cards = html.fromstring(made(cue_cards)).find_class("card")
    assert len(cards) == 3
    assert [each.text_content() for each in cards[0].find_class("time")] == ["0:00", "0:14"]
    assert "wait 0:20" in cards[0].text_content()


def test_same_document_same_page() -> None:
    assert made(page) == page(
        sample.document(), cautions=(sample.CAUTION,), stamp=sample.STAMP, typesetter=Typesetter()
    )


def test_apostrophes_are_set_as_a_book_sets_them() -> None:
    scene = SceneDoc("The maker's sheet", (Prose((Words("Don't guess: 'read' it at 5'."),)),))
    text = html.fromstring(made(page, replace(sample.document(), scenes=(scene,)))).text_content()
    assert "The maker’s sheet" in text
    assert "Don’t guess: 'read' it at 5'." in text


def test_a_page_with_a_whole_board_is_broader() -> None:
    document = sample.document()
    scene = SceneDoc("Board", (Figure(sample.board(), sample.figure(near=True), ()),))
    assert "broad" not in html.fromstring(made(page, document)).find("body").get("class")
    assert "broad" in html.fromstring(made(page, replace(document, scenes=(scene,)))).find("body").get(
        "class"
    )


def test_a_moment_without_words_takes_its_time_but_no_line() -> None:
    document = sample.document()
    silent = Cue("", (), (), (), 7)
    scene = replace(document.scenes[0], cues=(silent, *document.scenes[0].cues))
    times = html.fromstring(made(cue_cards, replace(document, scenes=(scene,)))).find_class("time")
    assert [each.text_content() for each in times] == ["0:07", "0:21"]
