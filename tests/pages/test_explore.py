"""The circuit to explore and two closed boxes, in a browser: their numbers are Python's, answers are kept back."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from boardproof.circuit.change import changed
from boardproof.circuit.place import remade
from boardproof.circuit.quantity import QuantityRef
from boardproof.kit.compose import Composer
from boardproof.kit.live import live_of
from boardproof.kit.outputs import Wanted, make_outputs
from boardproof.kit.proof import open_course, prove_lessons
from boardproof.kit.telling import Telling
from boardproof.publish.typeset import Typesetter
from boardproof.solve.answers import answers

LESSON = Path("examples/weather-buoy/3-cells-in-parallel.lesson.md")


@pytest.fixture(scope="module")
def proof():
    course, findings, one = open_course(LESSON)
    (proved,) = prove_lessons(course, findings, only=one)
    return proved


@pytest.fixture(scope="module")
def page_file(tmp_path_factory, proof) -> Path:
    built = make_outputs(proof, Wanted(frozenset({"explore"})), made=date(2026, 1, 5))
    path = tmp_path_factory.mktemp("kit") / "explore.html"
    path.write_bytes(built.files["explore.html"])
    return path


def turned(item, path):
    if not hasattr(item, "part"):
        return remade(item, lambda each: turned(each, path))
    return changed(item, "turned") if item.path == path else item


def test_what_the_page_works_out_is_what_python_answers(page_file, visit, proof) -> None:
    """Random values, turned cells: the browser follows the program; Python solves each circuit afresh."""
    live = live_of(Composer(proof, Typesetter(Telling(proof).notation)))
    circuit = next(
        v.place.circuit
        for v in proof.walk.visits
        if v.place.circuit and {leaf.path for leaf in v.place.circuit.leaves} == {p.path for p in live.parts}
    )
    draw, cases, wanted = random.Random(4), [], []
    for _ in range(60):
        values = {
            letter: Fraction(draw.randint(1, 400), draw.choice((10, 20, 100))) for letter in circuit.letters
        }
        item, given = circuit.item, {name: float(value) for name, value in values.items()}
        for cell in ("A", "B"):
            given[cell] = draw.choice((1, -1))
            item = turned(item, cell) if given[cell] == -1 else item
        given |= {"R:a": 1, "R:b": -float(values[live.letter])}
        known = answers(replace(circuit, item=item, values=values))
        one = {
            name: known.ask(QuantityRef(kind, (path,), "")).exact
            for name, kind, path in [
                ("I", "current", "R"), ("V", "pd", "R"), ("P", "power", "R"),
                ("resistance", "resistance", "both"), ("heat:A", "heat", "A"), ("heat:B", "heat", "B"),
            ]
        }  # fmt: skip
        # A turned cell's current is counted along the way it stood before.
        for cell in ("A", "B"):
            one[f"I:{cell}"] = given[cell] * known.ask(QuantityRef("current", (cell,), "")).exact
        one["EMF"] = known.ask(QuantityRef("emf", ("both",), "")).exact
        cases.append(given)
        wanted.append({name: float(value) for name, value in one.items()})
    page = visit.open(page_file)
    made = page.evaluate(
        """cases => cases.map(each => ({...followForm(live.form, each),
        EMF: followForm(live.form, {...each, 'R:a': 0, 'R:b': 1}).V}))""",
        cases,
    )
    for got, right in zip(made, wanted, strict=True):
        for name, value in right.items():
            assert got[name] == pytest.approx(value, rel=1e-9, abs=1e-11), name


def test_open_and_shorted_terminals_are_exact_too(page_file, visit, proof) -> None:
    live = live_of(Composer(proof, Typesetter(Telling(proof).notation)))
    page = visit.open(page_file)
    for a, b in ((0, 1), (1, 0)):
        exact = live.form.run({"R:a": Fraction(a), "R:b": Fraction(b)})
        got = page.evaluate("given => followForm(live.form, given)", {"R:a": a, "R:b": b})
        assert got == pytest.approx({name: float(value) for name, value in exact.items()})


def test_no_answer_is_given_where_there_is_none(page_file, visit) -> None:
    page = visit.open(page_file)
    assert page.evaluate("followForm(live.form, {r_1: 0, r_2: 0, 'R:a': 1, 'R:b': 0})") is None


@pytest.mark.parametrize(("width", "theme"), [(360, "dark"), (1280, "light")])
def test_every_state_is_free_of_faults(
    page_file, visiting, accessibility_faults, width: int, theme: str
) -> None:
    with visiting(width, theme=theme) as seen:
        page = seen.open(page_file)
        assert accessibility_faults(page) == []
        page.get_by_label("B turned round").check()
        page.get_by_label("terminals shorted, in thought").check()
        assert accessibility_faults(page) == []
        page.click("#warned")
        page.click("#read")
        page.get_by_label("no reading can tell").check()
        page.click("#lift")
        page.click("#feel")
        page.wait_for_timeout(300)
        assert accessibility_faults(page) == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_a_short_is_shown_only_after_its_caution(page_file, visit) -> None:
    page = visit.open(page_file)
    before = page.locator("#readings").inner_text()
    assert not page.locator("#warning").is_visible()
    page.get_by_label("terminals shorted, in thought").check()
    assert "Never try it with a real cell" in page.locator("#warning").inner_text()
    assert page.locator("#readings").inner_text() == before
    page.click("#warned")
    assert "4.50" in page.locator("#readings").inner_text()  # 6 V / 2 Ω + 4.5 V / 3 Ω
    page.get_by_label("connected").check()
    assert page.locator("#readings").inner_text() == before


def test_a_field_takes_a_value_and_says_what_it_cannot_take(page_file, visit) -> None:
    page = visit.open(page_file)
    page.fill("#v-E_1", "4.5")
    # Two cells of 4.5 V, 2 Ω and 3 Ω: 4.5 V and 1.2 Ω.
    assert "4.50" in page.locator("#readings tr").last.inner_text()
    page.fill("#v-E_1", "900")
    assert page.get_attribute("#v-E_1", "aria-invalid") == "true"
    assert "goes from" in page.locator("#why").inner_text()


def test_the_lids_lift_only_after_a_choice_and_both_boxes_read_alike(page_file, visit) -> None:
    page = visit.open(page_file)
    assert page.locator("#lift").is_disabled()
    assert "are in A." not in page.content()
    for value in (100, 500, 900):
        page.locator("#try").fill(str(value))
        page.click("#read")
    rows = [row.locator("td").all_inner_texts() for row in page.locator("#tries tbody tr").all()]
    assert len(rows) == 3
    assert all(one == other for one, other in rows)
    page.get_by_label("no reading can tell").check()
    page.click("#lift")
    assert "none of your 3 did" in page.locator("#judged").inner_text()
    page.click("#feel")
    # 1.5 V round 5 Ω: 0.3 A, 0.45 W, all heat.
    assert "0.450" in page.locator("#felt").inner_text()
