"""Simulated students: a program of its own that works circuits out in floating point, rightly or by a wrong rule.

It shares no code with the diagnosis or the solver: formulas are written out here by hand, slips are arithmetic errors.
"""

from __future__ import annotations

import random
from collections.abc import Callable

Rules = dict[str, float]


def one_cell(e: float, r: float, load: float) -> tuple[Rules, Rules]:
    current = e / (r + load)
    return (
        {
            "": current,
            "emf_divided_by_load": e / load,
            "load_left_out": e / r,
            "r_put_beside_load": e * (1 / load + 1 / r),
        },
        {
            "": e - current * r,
            "terminal_pd_is_emf": e,
            "lost_volts_added": e + current * r,
        },
    )


def pair(e1: float, r1: float, e2: float, r2: float) -> tuple[Rules, Rules]:
    return (
        {
            "": (e1 * r2 + e2 * r1) / (r1 + r2),
            "parallel_adds_emfs": e1 + e2,
            "parallel_plain_mean": (e1 + e2) / 2,
            "parallel_strongest_wins": max(e1, e2),
            "parallel_weights_upside_down": (e1 * r1 + e2 * r2) / (r1 + r2),
        },
        {
            "": r1 * r2 / (r1 + r2),
            "parallel_adds_r": r1 + r2,
            "parallel_r_not_turned_over": 1 / r1 + 1 / r2,
            "parallel_r_mean_over_n": (r1 + r2) / 4,
            "parallel_r_unchanged": r1,
        },
    )


def bank(series: int, rows: int, e: float, r: float) -> tuple[Rules, Rules]:
    return (
        {"": series * e, "bank_counts_swapped": rows * e},
        {
            "": series * r / rows,
            "bank_counts_swapped": rows * r / series,
            "bank_r_from_one_row": series * r,
            "bank_r_all_added": series * rows * r,
        },
    )


def parted(e: float, first: float, upper: float, lower: float) -> tuple[Rules, Rules]:
    beside = upper * lower / (upper + lower)
    total = e / (first + beside)
    return (
        {
            "": total * lower / (upper + lower),
            "equal_split_at_junction": total / 2,
            "more_resistance_more_current": total * upper / (upper + lower),
            "all_takes_easiest_path": total if upper < lower else 0.0,
        },
        {
            "": total * beside,
            "pd_shared_equally_in_series": e / 2,
            "full_pd_on_each": e,
            "parallel_shares_pd": total * beside / 2,
        },
    )


def draw(luck: random.Random) -> list[Rules]:
    """Eight questions with numbers of their own, two from each circuit; alike values are drawn again."""
    makers: tuple[Callable[[], tuple[Rules, Rules]], ...] = (
        lambda: one_cell(luck.randint(3, 12), luck.choice((0.5, 1, 1.5, 2)), luck.randint(3, 11)),
        lambda: pair(
            luck.randint(6, 12), luck.choice((0.5, 1, 2)), luck.randint(2, 5), luck.choice((0.8, 1.5, 3))
        ),
        lambda: bank(luck.randint(3, 6), luck.choice((2, 7)), 1.5, luck.choice((0.2, 0.3, 0.5))),
        lambda: parted(luck.randint(6, 18), luck.randint(1, 4), luck.randint(8, 15), luck.randint(3, 7)),
    )
    found: list[Rules] = []
    for make in makers:
        rules = make()
        while any(abs(a - b) < 0.02 * max(abs(a), abs(b)) for one in rules for a, b in _pairs(one)):
            rules = make()
        found += rules
    return found


def _pairs(rules: Rules) -> list[tuple[float, float]]:
    values = list(rules.values())
    return [(a, b) for at, a in enumerate(values) for b in values[:at]]


def answer(rules: Rules, belief: str, luck: random.Random, slips: float = 0.1) -> float:
    """What a student writes: by the belief where it says something, and now and then with an error of arithmetic."""
    value = rules.get(belief, rules[""])
    if luck.random() >= slips:
        return value
    return luck.choice(
        (
            lambda: value * 10,
            lambda: -value,
            lambda: value + luck.choice((-1, 1)) * luck.randint(1, 3) / 2,
            lambda: value * luck.choice((2, 0.5)),
            lambda: rules[luck.choice(list(rules))],
            lambda: round(value * luck.uniform(0.6, 1.6), 1),
        )
    )()


def planted(luck: random.Random) -> tuple[list[Rules], list[float], str]:
    """One student with a wrong rule that the questions can show at least twice, or, empty, with none."""
    questions = draw(luck) + draw(luck)
    counts: dict[str, int] = {}
    for each in questions:
        for belief in each:
            counts[belief] = counts.get(belief, 0) + 1
    belief = luck.choice(sorted(each for each in counts if each))
    about = [each for each in questions if belief in each]
    rest = [each for each in questions if belief not in each]
    chosen = [*about, *rest[: 8 - len(about)]]
    luck.shuffle(chosen)
    return chosen, [answer(each, belief, luck) for each in chosen], belief
