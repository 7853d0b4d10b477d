"""Pictures of random circuits: nothing overlaps, labels keep their distance, wires join what the circuit joins."""

from __future__ import annotations

import itertools
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boardproof.algebra.expression import Name, Relation
from boardproof.circuit.lay_flat import lay_flat
from boardproof.circuit.model import Across, Changed, Circuit, Copies, Leaf, Network, Parallel, Series, leaves
from boardproof.picture.board import Arrow, BoardState, Written
from boardproof.picture.drawing import Readout, Text
from boardproof.picture.frame import frame
from laws.circuits import any_circuits, groups, networks
from laws.drawn import Plain, bodies, crossings, crowded, joined_ends, overlaps, wires

PLAIN = Plain()
SHAPES = ("wide", "near")
SOME = settings(max_examples=25)
shapes = st.sampled_from(SHAPES)
LEAST = {"wide": (1.2, 1.6), "near": (2.1, 2.2)}


def state_of(circuit: Circuit, **more: object) -> BoardState:
    return BoardState(circuit, (circuit,), scene="A scene", scenes=3, **more)


def parts(circuit: Circuit) -> list[str]:
    return [leaf.path for leaf in leaves(circuit.item)]


def has_copies(item: object) -> bool:
    match item:
        case Copies():
            return True
        case Series(items=items) | Parallel(items=items):
            return any(map(has_copies, items))
        case Across(source=a, load=b):
            return has_copies(a) or has_copies(b)
        case Changed(item=inner):
            return has_copies(inner)
        case Network(branches=branches):
            return any(has_copies(each) for each, _, _ in branches)
    return False


@SOME
@given(st.one_of(any_circuits(), groups()), shapes, st.sampled_from(["letters", "both"]))
def test_labels_keep_their_distance_and_stay_on_the_page(circuit, shape, labels):
    drawn = frame(state_of(circuit, default_label=labels), shape, PLAIN)
    assert crowded(drawn, PLAIN) == []


@SOME
@given(any_circuits(), shapes)
def test_no_wire_crosses_another_and_no_symbol_is_crossed(circuit, shape):
    drawn = frame(state_of(circuit), shape, PLAIN)
    assert crossings(drawn) == []
    assert overlaps(drawn) == []


@SOME
@given(st.one_of(any_circuits(), groups()), shapes)
def test_the_drawn_wires_join_what_the_circuit_joins(circuit, shape):
    if has_copies(circuit.item):
        return  # copies stand as one branch in the flat network
    drawn = joined_ends(frame(state_of(circuit), shape, PLAIN))
    flat = {f"part:{branch.path}": (branch.tail, branch.head) for branch in lay_flat(circuit).branches}
    assert drawn.keys() == flat.keys()
    for a, b in itertools.combinations(drawn, 2):
        assert len({*drawn[a]} & {*drawn[b]}) == len({*flat[a]} & {*flat[b]}), (a, b)
    for each in drawn:
        assert len({*drawn[each]}) == len({*flat[each]}), each


@SOME
@given(st.data(), any_circuits(), shapes)
def test_a_change_or_another_value_moves_no_part(data, circuit, shape):
    chosen = data.draw(st.sampled_from(parts(circuit)))
    how = data.draw(st.sampled_from(["turned", "open", "removed", "shorted", "without emf"]))
    changed = replace(circuit, item=with_change(circuit.item, chosen, how))
    letters = {letter: Fraction(1234, 1000) for letter in circuit.values}
    valued = replace(circuit, values=letters)
    stage = (circuit, changed, valued)
    places, shorted = [], set()
    for each in stage:
        drawn = frame(replace(state_of(each), stage=stage, default_label="both"), shape, PLAIN)
        made = [thing for thing in drawn.drawn if thing.id.startswith("part:")]
        places.append({thing.id: (wires(thing)[0][:2], wires(thing)[-1][2:]) for thing in made})
        shorted |= {thing.id for thing in made if "shorted" in thing.alternative}
    assert places[0] == places[2]
    assert places[0].keys() == places[1].keys()
    for path, ends in places[0].items():
        if path not in shorted:  # the last wire of a shorted part is the one laid past it
            assert places[1][path] == ends


def with_change(item, path: str, how: str):
    """The tree with one part changed."""
    match item:
        case Leaf() if item.path == path:
            return Changed(item, how)
        case Series(items=items) | Parallel(items=items):
            return replace(item, items=tuple(with_change(each, path, how) for each in items))
        case Across(source=source, load=load):
            return replace(item, source=with_change(source, path, how), load=with_change(load, path, how))
        case Changed(item=inner):
            return replace(item, item=with_change(inner, path, how))
        case Network(branches=branches):
            return replace(
                item, branches=tuple((with_change(each, path, how), a, b) for each, a, b in branches)
            )
        case Copies(runs=runs):
            # Only the first run can hold the path that `leaves` gives.
            return replace(
                item, runs=tuple(replace(run, item=with_change(run.item, path, how)) for run in runs)
            )
    return item


@SOME
@given(st.data(), any_circuits(), shapes)
def test_arrows_and_state_words_never_run_over_anything(data, circuit, shape):
    some = data.draw(st.lists(st.sampled_from(parts(circuit)), min_size=1, max_size=4, unique=True))
    arrows = tuple(
        Arrow(
            f"I_{n}",
            path,
            data.draw(st.sampled_from([1, -1])),
            Readout(f"I_{n}", "1/2", "A", "0.5\u202fA"),
            "idle",
        )
        for n, path in enumerate(some)
    )
    state = state_of(
        circuit,
        default_label="both",
        arrows=arrows,
        pds=(Arrow("V", some[0], 1, Readout("V", "1", "V", "1\u202fV")),),
        notes=((some[-1], "turned round"),),
        focused=tuple(some[:1]),
    )
    drawn = frame(state, shape, PLAIN)
    assert crowded(drawn, PLAIN) == []
    for each in drawn.drawn:
        for mark in each.marks:
            if isinstance(mark, Text):
                assert mark.label.size >= LEAST[shape][0]


@settings(max_examples=12)
@given(st.data(), st.one_of(any_circuits(), groups()), shapes)
def test_what_is_imagined_or_replaced_runs_over_nothing(data, circuit, shape):
    named = sorted(lay_flat(circuit).ends)
    path = data.draw(st.sampled_from(named))
    short = state_of(circuit, imagined=((path, "short"),), default_label="both")
    spent = state_of(circuit, imagined=((path, "no emf in"),))
    group = state_of(circuit, replaced=((path, "cell"),), focused=(path,))
    for state in (short, spent, group):
        assert crowded(frame(state, shape, PLAIN), PLAIN) == []
    assert overlaps(frame(spent, shape, PLAIN)) == []


@SOME
@given(networks(), shapes)
def test_a_frame_is_the_same_each_time(circuit, shape):
    assert frame(state_of(circuit), shape, PLAIN) == frame(state_of(circuit), shape, Plain())


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("count", [1, 3, 12])
def test_the_oldest_lines_leave_together_and_the_newest_stays(shape, count):
    line = Relation(Name("V"), "=", Name("I"))
    written = tuple(
        Written(f"k{n}", f"line {n} {line.sign}", "a reason", n == count - 1) for n in range(count)
    )
    drawn = frame(BoardState(None, written=written, caution="Cells get hot. " * 6, scene="S"), shape, PLAIN)
    ids = [each.id for each in drawn.drawn if each.id.startswith("line:")]
    assert ids == [f"line:k{n}" for n in range(count - len(ids), count)]
    assert ("words:handout" in {each.id for each in drawn.drawn}) == (len(ids) < count)
    boxes = [each.box for each in drawn.drawn if each.id.startswith(("line:", "caution"))]
    assert not any(a.meets(b) for a, b in itertools.combinations(boxes, 2))


def test_these_checks_can_fail():
    """A label moved onto a wire, and a symbol moved onto another, are seen."""
    circuit = Circuit(Series((Leaf("R", part("R")), Leaf("L", part("L")))))
    drawn = frame(state_of(circuit), "wide", PLAIN)
    first = next(each for each in drawn.drawn if each.id == "part:R")
    marks = tuple(replace(m, y=m.y + 2.5) if isinstance(m, Text) else m for m in first.marks)
    spoiled = replace(drawn, drawn=(*drawn.drawn, replace(first, id="part:X", marks=marks)))
    assert crowded(spoiled, PLAIN)
    assert overlaps(spoiled)
    assert len(bodies(spoiled)) == 3


def part(name: str):
    from boardproof.circuit.model import Part, Worth

    return Part(name, "resistor", resistance=Worth(name, Fraction(2)))
