from pathlib import Path

import pytest

from boardproof.derive.block import written_block, written_closing
from boardproof.derive.routes import ROUTES, Unfitting, derive, propose
from boardproof.kit.check import check_file
from unit.derive.boards import place, written

A, B = "A = cell E_1 = 6 V, r_1 = 2 ohm", "B = cell E_2 = 4.5 V, r_2 = 3 ohm"
SIDE = [A, B, "R = resistor 4.2 ohm", "g = A || B", "main = g across R"]
ROW = [A, B, "R = resistor 5.5 ohm", "g = A + B", "main = g across R"]
LIKE = ["A = cell E = 6 V, r = 1.5 ohm", "R = resistor 5.5 ohm", "g = {} of A", "main = g across R"]
PACK = [
    "A = cell E = 1.5 V, r = 0.4 ohm", "R = resistor 4 ohm", "row = m of A in series", "pack = n of row in parallel",
    "full = pack across R", "main = full but m = 8, n = 4",
]  # fmt: skip
CASES = {
    "same current": (ROW, "E_g r_g"),
    "by symmetry": ([line.format("3p") for line in LIKE], "E_g r_g"),
    "same terminal p.d.": (SIDE, "E_g r_g"),
    "open, then short": (SIDE, "E_g r_g"),
    "short, then EMFs taken out": (SIDE, "E_g r_g"),
    "potential at the junction": (SIDE, "V I I_2"),
    "inside out": (SIDE, "I I_2"),
    "junctions and loops": (SIDE, "I I_2"),
    "lines on the graph": (ROW, "E_g r_g"),
    "one cell at a time": (ROW, "I"),
    "energy in one second": (ROW, "I"),
    "two, three, n": ([line.format("4s") for line in LIKE], "E_g r_g"),
    "factor pairs": (PACK, "I"),
    "backwards": (ROW, "E_g r_g"),
}


@pytest.mark.parametrize("route", ROUTES)
def test_a_lesson_with_the_written_argument_has_nothing_wrong(route: str, tmp_path: Path) -> None:
    body, targets = CASES[route]
    found = written("\n".join(body), targets, route, numbers=True)
    group = " of g" if targets.startswith("E_") else ""
    text = "\n".join(
        [
            "# Written", "", "## One", "", "```circuit", *body, *found.definitions, "```", "",
            f"```derive {targets.replace(' ', ', ')}{group} by {route}", written_block(found) + "```", "",
            written_closing(found),
        ]
    )  # fmt: skip
    file = tmp_path / "written.lesson.md"
    file.write_text(text, encoding="utf-8")
    (report,) = check_file(file)
    assert [(each.code, each.message) for each in report.diagnostics if each.severity != "note"] == []
    assert report.summary["statements"] == report.summary["true"] >= len(found.steps)


def test_every_route_is_proposed_and_those_that_fit_come_first() -> None:
    fits = propose(place("\n".join(SIDE)), ["E_g", "r_g"])
    assert {fit.route for fit in fits} == set(ROUTES)
    assert fits[0].route == "same terminal p.d."
    assert [fit.fits for fit in fits] == sorted((fit.fits for fit in fits), reverse=True)
    assert all(fit.why_not for fit in fits if not fit.fits)


@pytest.mark.parametrize("tier", ["strong", "paper"])
def test_imagined_shorts_step_aside_in_the_stronger_tiers(tier: str) -> None:
    fitting = [fit for fit in propose(place("\n".join(SIDE)), ["E_g"], tier=tier) if fit.fits]  # type: ignore[arg-type]
    aside = [fit.route for fit in fitting if fit.steps_aside]
    assert aside == ["open, then short", "short, then EMFs taken out"]
    assert [fit.route for fit in fitting][-2:] == aside


def test_routes_that_need_what_the_class_does_not_know_come_later() -> None:
    fits = propose(place("\n".join(SIDE)), ["E_g", "r_g"], taught=("cell rule", "junction rule"))
    fitting = [fit for fit in fits if fit.fits]
    assert fitting[0].not_yet_taught == ()
    lacking = {fit.route: fit.not_yet_taught for fit in fitting if fit.not_yet_taught}
    assert lacking["inside out"] == ("resistances in parallel",)
    assert [bool(fit.not_yet_taught) for fit in fitting] == sorted(
        bool(fit.not_yet_taught) for fit in fitting
    )


def test_an_unknown_route_or_target_is_no_argument() -> None:
    world = place("\n".join(SIDE))
    assert isinstance(derive(world, ["E_g"], "by magic"), Unfitting)
    assert isinstance(derive(world, ["E_nobody"], "same current"), Unfitting)


def test_the_lesson_s_own_arguments_can_be_written_afresh() -> None:
    text = "\n".join(
        [*SIDE, "let E_p = emf of g", "let r_p = resistance of g", "let I_s = short-circuit current of g"]
    )
    found = written(text, "E_p r_p", "short, then EMFs taken out")
    assert found.steps[2].maths == "E_p = I_s r_p"
