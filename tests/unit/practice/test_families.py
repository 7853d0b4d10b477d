"""Every variant of every family against sums written here by hand in floating point, and its wrong answers too."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from boardproof.practice.draws import pool_of
from boardproof.practice.families import FAMILIES, difficulty, family
from boardproof.practice.filled import circuit_given, filled
from boardproof.practice.papers import paper_for
from boardproof.practice.prepared import figures_of
from boardproof.practice.selection import exit_slip, hinge, spaced
from boardproof.practice.variants import variant_of
from boardproof.publish.question_figure import question_frame
from boardproof.publish.typeset import Typesetter

TYPE = Typesetter()


def beside(a, b):
    return a * b / (a + b)


def pair(v):
    a, b, x, y = v["E_1"], v["E_2"], v["r_1"], v["r_2"]
    e = (a / x + b / y) / (1 / x + 1 / y)
    return e, e / (beside(x, y) + v["R"])


def bank(v):
    return v["m"] * v["E"], v["m"] * v["r"] / v["n"]


def through(e, r, load):
    return e / (r + load)


# By hand, from the textbook relations: one sum a part; None where the answer is no number.
RIGHT = {
    "one-cell": (lambda v: v["E"] / (v["R"] + v["r"]), lambda v: v["E"] * v["R"] / (v["R"] + v["r"])),
    "lost-volts": (
        lambda v: v["E"] / (v["R"] + v["r"]) * v["r"],
        lambda v: v["E"] - v["E"] / (v["R"] + v["r"]) * v["r"],
    ),
    "open-switch": (lambda v: v["E"], None),
    "straight-line": (lambda v: v["r"], lambda v: v["E"] / (v["R"] + v["r"]), None),
    "short-circuit": (lambda v: v["E"] / (v["R"] + v["r"]), lambda v: v["E"] / v["r"]),
    "two-readings": (lambda v: v["r"], lambda v: v["E"]),
    "greatest-power": (
        lambda v: v["E"] ** 2 / 4 / v["r"],
        lambda v: (v["E"] / (v["R"] + v["r"])) ** 2 * v["R"],
    ),
    "divider": (
        lambda v: v["E"] * v["R_2"] / (v["R_1"] + v["R_2"]),
        lambda v: v["E"] / (v["R_1"] + v["R_2"]),
        None,
    ),
    "branches": (
        lambda v: beside(v["R_2"], v["R_3"]),
        lambda v: v["E"] / (v["R_1"] + beside(v["R_2"], v["R_3"])),
        lambda v: v["E"] / (v["R_1"] + beside(v["R_2"], v["R_3"])) * v["R_3"] / (v["R_2"] + v["R_3"]),
        None,
    ),
    "another-lamp": (
        lambda v: v["E"] / (v["r"] + v["R"]),
        lambda v: v["E"] / (v["r"] + beside(v["R"], v["R_2"])),
    ),
    "bridge": (
        lambda v: v["E"] * v["R_2"] / (v["R_1"] + v["R_2"]),
        lambda v: v["E"] * (v["R_2"] / (v["R_1"] + v["R_2"]) - v["R_4"] / (v["R_3"] + v["R_4"])),
    ),
    "series-cells": (
        lambda v: v["E_1"] + v["E_2"],
        lambda v: through(v["E_1"] + v["E_2"], v["r_1"] + v["r_2"], v["R"]),
    ),
    "turned-cell": (
        lambda v: v["E_1"] - v["E_2"],
        lambda v: through(v["E_1"] - v["E_2"], v["r_1"] + v["r_2"], v["R"]),
    ),
    "like-cells-in-parallel": (lambda v: v["r"] / v["n"], lambda v: through(v["E"], v["r"] / v["n"], v["R"])),
    "unlike-cells-in-parallel": (lambda v: pair(v)[0], None, lambda v: pair(v)[1]),
    "bank": (lambda v: bank(v)[0], lambda v: bank(v)[1], lambda v: through(*bank(v), v["R"])),
    "count-rows": (
        lambda v: v["m"] * v["n"],
        lambda v: through(*bank(v), v["R"]),
        lambda v: through(*bank(v), v["R"]) / v["n"],
    ),
    "capacitors": (
        lambda v: v["C_1"] + v["C_2"],
        lambda v: v["C_1"] * v["E"],
        lambda v: v["C_2"] * v["E"] ** 2 / 2,
    ),
}
# What believers write, by hand from the words of the catalogue: family, part, belief, sum.
WRONG = (
    ("one-cell", 0, "emf_divided_by_load", lambda v: v["E"] / v["R"]),
    ("one-cell", 0, "load_left_out", lambda v: v["E"] / v["r"]),
    ("one-cell", 1, "lost_volts_added", lambda v: v["E"] + v["E"] / (v["R"] + v["r"]) * v["r"]),
    ("one-cell", 1, "terminal_pd_is_emf", lambda v: v["E"]),
    ("straight-line", 1, "r_put_beside_load", lambda v: v["E"] * (1 / v["R"] + 1 / v["r"])),
    ("open-switch", 0, "no_current_no_pd", lambda _: 0.0),
    ("greatest-power", 1, "most_power_at_least_load", lambda v: v["E"] ** 2 / v["R"]),
    ("greatest-power", 1, "all_power_reaches_load", lambda v: v["E"] ** 2 / (v["R"] + v["r"])),
    ("divider", 1, "full_pd_on_each", lambda v: v["E"] / v["R_2"]),
    (
        "branches",
        2,
        "equal_split_at_junction",
        lambda v: v["E"] / (v["R_1"] + beside(v["R_2"], v["R_3"])) / 2,
    ),
    ("branches", 2, "all_takes_easiest_path", lambda _: 0.0),
    ("branches", 1, "series_parallel_swapped", lambda v: v["E"] / (v["R_1"] + v["R_2"] + v["R_3"])),
    ("branches", 1, "reciprocal_forgotten", lambda v: v["E"] / (v["R_1"] + 1 / v["R_2"] + 1 / v["R_3"])),
    ("another-lamp", 1, "constant_current_source", lambda v: v["E"] / (v["r"] + v["R"])),
    ("bridge", 0, "pd_shared_equally_in_series", lambda v: v["E"] / 2),
    ("bridge", 0, "pd_goes_to_smaller", lambda v: v["E"] * v["R_1"] / (v["R_1"] + v["R_2"])),
    ("series-cells", 1, "series_r_not_added", lambda v: through(v["E_1"] + v["E_2"], v["r_1"], v["R"])),
    (
        "turned-cell",
        1,
        "turned_cell_not_noticed",
        lambda v: through(v["E_1"] + v["E_2"], v["r_1"] + v["r_2"], v["R"]),
    ),
    ("turned-cell", 1, "turned_cell_vanishes", lambda v: through(v["E_1"], v["r_1"], v["R"])),
    (
        "turned-cell",
        1,
        "turned_cell_takes_r_away",
        lambda v: through(v["E_1"] - v["E_2"], v["r_1"] - v["r_2"], v["R"]),
    ),
    ("like-cells-in-parallel", 0, "parallel_adds_r", lambda v: v["n"] * v["r"]),
    (
        "like-cells-in-parallel",
        1,
        "n_cells_n_times_current",
        lambda v: v["n"] * through(v["E"], v["r"], v["R"]),
    ),
    ("unlike-cells-in-parallel", 0, "parallel_adds_emfs", lambda v: v["E_1"] + v["E_2"]),
    ("unlike-cells-in-parallel", 0, "parallel_plain_mean", lambda v: (v["E_1"] + v["E_2"]) / 2),
    ("unlike-cells-in-parallel", 0, "parallel_strongest_wins", lambda v: max(v["E_1"], v["E_2"])),
    ("bank", 0, "bank_counts_swapped", lambda v: v["n"] * v["E"]),
    ("bank", 1, "bank_r_from_one_row", lambda v: v["m"] * v["r"]),
    ("bank", 1, "bank_r_all_added", lambda v: v["m"] * v["n"] * v["r"]),
)


def part_value(part, solved):
    """A number's key, or that of the right option."""
    if part.asked.form == "choice":
        return next(each.value for each in solved.options if each.letter == solved.key)
    return solved.key


def judged(key, seeds):
    pool = pool_of(family(key))
    seen = 0
    for seed in seeds:
        variant = variant_of(pool, seed)
        values = {letter: float(value) for letter, value in variant.draw.items()}
        for part, solved, right in zip(pool.prepared.parts, variant.parts, RIGHT[key], strict=True):
            if right is not None:
                value = part_value(part, solved)
                assert float(value) == pytest.approx(right(values), rel=1e-12)
                assert 0 < figures_of(value) <= 3
            clear(part, solved)
            seen += 1
    return seen


def clear(part, solved):
    """No option is ambiguous, and no wrong answer is the right one."""
    texts = [option.text for option in solved.options]
    assert len(set(texts)) == len(texts)
    assert sum(not option.beliefs for option in solved.options) == (1 if solved.options else 0)
    assert all(value != solved.key for value in solved.wrong.values())
    if part.asked.form == "number":
        assert all(
            abs(value - solved.key) > Fraction(1, 100) * abs(solved.key) for value in solved.wrong.values()
        )


@pytest.mark.parametrize("key", FAMILIES)
def test_variants_are_what_sums_by_hand_give(key):
    assert judged(key, range(100)) >= 100


@pytest.mark.deep
@pytest.mark.timeout(1200)
@pytest.mark.parametrize("key", FAMILIES)
def test_ten_thousand_variants_are_what_sums_by_hand_give(key):
    assert judged(key, range(10_000)) >= 10_000


@pytest.mark.parametrize(("key", "at", "belief", "value"), WRONG, ids=[f"{row[0]} {row[2]}" for row in WRONG])
def test_wrong_answers_are_what_their_believers_write(key, at, belief, value):
    pool = pool_of(family(key))
    for seed in range(20):
        variant = variant_of(pool, seed)
        found = variant.parts[at].wrong[belief]
        values = {letter: float(each) for letter, each in variant.draw.items()}
        assert float(found) == pytest.approx(value(values), rel=1e-12, abs=1e-15)


def numbers(text):
    return set(re.findall(r"\d+(?:\.\d+)?", text))


@pytest.mark.parametrize("key", FAMILIES)
def test_a_figure_tells_no_more_than_the_words(key):
    pool = pool_of(family(key))
    variant = variant_of(pool, 3)
    question = pool.prepared.question
    words = " ".join([question.stem, *(part.asked.words for part in pool.prepared.parts)])
    circuit = circuit_given(pool.prepared, variant.draw)
    told = question_frame(circuit, TYPE, question.topic).alternative
    assert told
    letters = {
        digit
        for letter in (*circuit.letters, *(leaf.path for leaf in circuit.leaves))
        for digit in numbers(letter)
    }
    counted = {str(int(value)) for letter, value in variant.draw.items() if letter in circuit.counts}
    given = numbers(filled(words, pool.prepared, variant.draw))
    values = set(re.findall(r"\d+(?:\.\d+)?(?=\s*[mkµ]?[VAΩWFCJ])", told.replace("\u202f", " ")))
    assert values <= given
    assert numbers(told) - values <= letters | counted | given | {str(n) for n in range(10)}


def test_the_same_seed_gives_the_same_paper_whoever_else_gets_one():
    pools = [pool_of(family(key)) for key in ("one-cell", "branches")]
    alone = paper_for(pools, 5, "S07")
    assert alone == paper_for(pools, 5, "S07")
    assert alone.variants[1] == paper_for(pools[::-1], 5, "S07").variants[0]
    assert len({paper_for(pools, 5, f"S{n:02}").code for n in range(200)}) == 200


def test_older_topics_come_at_widening_gaps_and_hinges_hold_four_rules():
    assert spaced("bridge")[0] == "bridge"
    assert len(spaced("bridge")) == 4
    made = hinge(family("bank"))
    variant = variant_of(pool_of(made), 1)
    assert len(variant.parts[0].options) == 5
    assert sum(bool(option.beliefs) for option in variant.parts[0].options) == 4
    assert hinge(family("capacitors")) is None
    assert len(exit_slip(family("branches")).parts) == 1


def test_difficulty_is_stated_for_every_family():
    found = [family(key).question.difficulty for key in FAMILIES]
    assert all(0 < each <= 1 for each in found)
    assert difficulty(family("one-cell")) < difficulty(family("unlike-cells-in-parallel"))
