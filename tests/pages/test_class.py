"""The page of a class and a student's page: no fault for an accessibility checker, no sideways scroll on a phone."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe

from boardproof.practice.class_evidence import student_words
from boardproof.practice.class_view import class_view
from boardproof.publish.class_page import FigureRow, catch_up_page, class_page, student_page
from unit.practice.test_class_view import CLASS

STANDARD = {"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]}


@pytest.fixture(scope="module")
def pages(tmp_path_factory):
    folder = tmp_path_factory.mktemp("class")
    view = class_view(CLASS)
    figures = (FigureRow("1a", "3 of 4", "0.8 (0.3 to 1.0)", "–", "0.4"),)
    evidence = (("S02", "2 of 2 answers are exactly what this gives."),)
    row = view.rows[0]
    paper = next(each for each in CLASS if each.student == row.student)
    words = student_words(row, view, paper, {each.name: ("Find I.", "Find V.") for each in view.ideas})
    texts = {
        "class": class_page(view, title="One cell", day="1 May 2027", figures=figures, evidence=evidence),
        "student": student_page(words, title="One cell", day="1 May 2027"),
        "catch-up": catch_up_page(
            view.absent, ("one cell",), ("Find I.",), title="One cell", day="1 May 2027"
        ),
    }
    for name, text in texts.items():
        (folder / f"{name}.html").write_text(text, encoding="utf-8")
    return folder


@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("name", ["class", "student", "catch-up"])
def test_a_page_is_open_to_everyone(visiting, pages, name, theme, width):
    with visiting(width, theme=theme) as visit:
        page = visit.open(pages / f"{name}.html")
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        found = Axe().run(page, options=STANDARD).response["violations"]
        assert [(each["id"], [node["html"] for node in each["nodes"]][:2]) for each in found] == []
