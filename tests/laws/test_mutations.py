"""Slips of the pen: a true equation, spoiled at random, is called wrong exactly where it is; true ones are not blamed.

Letters are swapped, a fraction is turned over, a sign or a digit changed: in the equations of the example lessons and
in formulas of random circuits. Whether a spoiled line is still true is decided apart from the judge, at exact points.
"""

from __future__ import annotations

import dataclasses
import random
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boardproof.algebra import meaning
from boardproof.algebra.expression import Name, Negative, Number, Quotient, Relation, Sum
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.tidy import to_expression
from boardproof.circuit.quantity import QuantityRef
from boardproof.kit.files import read_folder
from boardproof.kit.proof import prove_lessons
from boardproof.prove.judge import judge
from boardproof.prove.world import World
from boardproof.solve.answers import Value, answers
from boardproof.source import Span
from laws.circuits import circuits

EXAMPLES = Path(__file__).parents[2] / "examples" / "weather-buoy"
WRONG = {"wrong", "true-only-when", "units-differ", "right-number-wrong-reason"}
SPAN = Span("spoiled", 0, 1)


def children(tree):
    for each in dataclasses.fields(tree):
        inner = getattr(tree, each.name)
        if isinstance(inner, tuple):
            yield from (
                (each.name, place, one) for place, one in enumerate(inner) if dataclasses.is_dataclass(one)
            )
        elif dataclasses.is_dataclass(inner) and each.name in {"of", "over", "under", "base", "term"}:
            yield each.name, None, inner


def put(tree, name, place, inner):
    if place is None:
        return dataclasses.replace(tree, **{name: inner})
    many = list(getattr(tree, name))
    many[place] = inner
    return dataclasses.replace(tree, **{name: tuple(many)})


def turned_about(tree):
    """The same said in another order: no slip at all."""
    inner = {}
    for name, place, each in children(tree):
        inner.setdefault(name, {})[place] = turned_about(each)
    for name, made in inner.items():
        if None in made:
            tree = dataclasses.replace(tree, **{name: made[None]})
        else:
            order = [made[place] for place in sorted(made)]
            tree = dataclasses.replace(tree, **{name: tuple(reversed(order))})
    return tree


def mutations(tree, letters):
    """Every tree that differs from this one by one slip."""
    match tree:
        case Name(text=text):
            yield from (dataclasses.replace(tree, text=other) for other in letters if other != text)
        case Number(value=value, unit=unit):
            scale = unit.scale if unit else 1
            yield dataclasses.replace(tree, value=value + scale, typed=str(value / scale + 1))
        case Quotient(over=over, under=under):
            yield Quotient(under, over, tree.span)
        case Sum(terms=terms):
            for place, term in enumerate(terms):
                turned = term.of if isinstance(term, Negative) else Negative(term, term.span)
                yield Sum((*terms[:place], turned, *terms[place + 1 :]), tree.span)
    for name, place, inner in list(children(tree)):
        for spoiled in mutations(inner, letters):
            yield put(tree, name, place, spoiled)


def is_true(relation, world, dice):
    """Whether an equation holds at random exact points; None if it can't be worked out there."""
    sides = [
        meaning.value(side, world.in_letters, first=world.first_index)
        for side in (relation.left, relation.right)
    ]
    if any(isinstance(side, Unknown) for side in sides):
        return None
    letters = sides[0].letters | sides[1].letters
    for _ in range(4):
        point = {letter: Fraction(dice.randint(1, 60), dice.randint(1, 7)) for letter in letters}
        point |= {count: Fraction(dice.randint(2, 9)) for count in set(world.counts) & letters}
        try:
            if sides[0].evaluate(point) != sides[1].evaluate(point):
                return False
        except ZeroDivisionError:
            continue
    return True


@cache
def example_equations():
    found = []
    for proof in prove_lessons(read_folder(EXAMPLES)[0]):
        places = {visit.place.number: visit.place for visit in proof.walk.visits}
        for each in proof.checked.judged:
            relation = each.said.relation
            if not isinstance(relation, Relation) or relation.sign != "=" or each.said.condition is not None:
                continue
            world = proof.worlds.at(places[each.said.place])
            if (
                each.verdict.kind == "true"
                and each.verdict.decided_by != "numbers"
                and each.expected == "true"
            ):
                found.append((proof, relation, world))
    return found


def test_there_are_enough_equations():
    assert len(example_equations()) >= 30


@pytest.mark.timeout(60)
def test_spoiled_equations_of_the_lessons():
    dice, wrong, true = random.Random(3), 0, 0
    for proof, relation, world in example_equations():
        if is_true(relation, world, dice) is not True:
            continue
        letters = sorted(name for name in world.values() if world.dimension(name))[:6]
        spoiled = [
            dataclasses.replace(relation, right=each, chain=0) for each in mutations(relation.right, letters)
        ]
        same = dataclasses.replace(relation, right=turned_about(relation.right), chain=0)
        for each in (same, *dice.sample(spoiled, min(12, len(spoiled)))):
            truth = is_true(each, world, dice)
            if truth is None:
                continue
            kind = judge(each, world, policy=proof.course.policy).verdict.kind
            if truth:
                true += 1
                assert kind == "true", each
            else:
                wrong += 1
                assert kind in WRONG, (each, kind)
    assert wrong >= 100
    assert true >= 30


@given(circuits(most=5, with_values=False), st.integers(0, 10**6))
@settings(max_examples=60, deadline=None)
def test_spoiled_formulas_of_random_circuits(circuit, seed):
    dice = random.Random(seed)
    path = dice.choice([each.path for each in circuit.leaves])
    value = answers(circuit, "letters").ask(QuantityRef("current", (path,), circuit.id))
    if not isinstance(value, Value) or value.exact.is_zero:
        return
    names = {"X": value.exact}
    world = World(None, lambda name: names.get(name) or RationalFunction.letter(name))
    right = Relation(Name("X", SPAN), "=", to_expression(value.exact), span=SPAN)
    for same in (right.right, turned_about(right.right)):
        assert judge(dataclasses.replace(right, right=same), world).verdict.kind == "true"
    spoiled = list(mutations(right.right, list(circuit.letters)))
    for each in dice.sample(spoiled, min(6, len(spoiled))):
        line = dataclasses.replace(right, right=each)
        try:
            truth = is_true(line, world, dice)
        except ZeroDivisionError:
            continue
        if truth is not None:
            kind = judge(line, world).verdict.kind
            assert kind == "true" if truth else kind in WRONG, (line, kind)


@pytest.mark.timeout(60)
def test_a_changed_digit_of_a_number_is_found():
    dice, found = random.Random(5), 0
    for proof in prove_lessons(read_folder(EXAMPLES)[0]):
        places = {visit.place.number: visit.place for visit in proof.walk.visits}
        for each in proof.checked.judged:
            relation = each.said.relation
            if (
                not isinstance(relation, Relation)
                or relation.chain
                or relation.sign != "="
                or each.verdict.kind != "true"
            ):
                continue
            if (
                not isinstance(relation.right, Number)
                or not isinstance(relation.left, Name)
                or relation.right.unit is None
            ):
                continue
            world = proof.worlds.at(places[each.said.place])
            exact, number = world.in_numbers(relation.left.text), relation.right
            if not isinstance(exact, Fraction) or not number.place:
                continue
            step = number.place * dice.choice([1, 2, 3, 10])
            spoiled = dataclasses.replace(number, value=number.value + step, typed="")
            assert abs(exact - spoiled.value) > number.place / 2
            ruling = judge(dataclasses.replace(relation, right=spoiled), world, policy=proof.course.policy)
            found += 1
            told = {each.kind.code for each in ruling.findings}
            # A last digit that is off by one is told as a slip of rounding.
            assert ruling.verdict.kind in WRONG or "wrong-rounding" in told, (relation, ruling)
    assert found >= 20
