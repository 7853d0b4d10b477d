"""Every argument that the tool writes is true, follows line by line, and reaches its targets."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from boardproof.circuit.read import read_circuit
from boardproof.derive.routes import ROUTES, Unfitting, derive
from boardproof.prove.world import World
from boardproof.prove.worlds import Worlds
from boardproof.source import Source

if TYPE_CHECKING:
    from collections.abc import Sequence

EQUIVALENT = (
    "same terminal p.d.",
    "same current",
    "short, then EMFs taken out",
    "lines on the graph",
    "inside out",
)
FLOWING = ("potential at the junction", "inside out", "junctions and loops", "one cell at a time")


@st.composite
def boards(draw: st.DrawFn, *, most: int = 8) -> str:
    """Up to `most` unlike cells in a mixed group, all groups named, across one resistor."""
    count = draw(st.integers(2, most))
    lines = [f"A{k} = cell E_{k}, r_{k}" for k in range(1, count + 1)]
    items = [f"A{k}" for k in range(1, count + 1)]
    names = iter("bcdfghjk")
    while len(items) > 1:
        size = draw(st.integers(2, len(items)))
        some = [("-" if draw(st.integers(0, 4)) == 0 else "") + each for each in items[:size]]
        name = f"group{next(names)}"
        lines.append(f"{name} = {draw(st.sampled_from([' + ', ' || '])).join(some)}")
        items = [*items[size:], name]
    return "\n".join([*lines, "R = resistor", f"main = {items[0]} across R"])


@st.composite
def bridges(draw: st.DrawFn) -> str:
    """A bridge of cells and resistors, unlike or alike, some turned."""
    kinds = [draw(st.sampled_from(["cell E, r", "cell", "resistor"])) for _ in range(5)]
    kinds[0] = "cell"
    parts = [f"{name} = {kind}" for name, kind in zip("PQSTM", kinds, strict=True)]
    sides = ("a to b", "b to d", "a to c", "c to d", "b to c")
    turned = ["-" if draw(st.integers(0, 3)) == 0 else "" for _ in sides]
    rows = [f"  {sign}{name} from {side}" for sign, name, side in zip(turned, "PQSTM", sides, strict=True)]
    return "\n".join([*parts, "network web", *rows, "web"])


def place(text: str) -> World:
    read = read_circuit(Source("drawn", text).slice())
    assert not read.findings, (text, read.findings)
    assert read.at_hand is not None
    return Worlds(read.definitions).of(read.at_hand)


def holds_up(text: str, targets: Sequence[str], routes: Sequence[str]) -> int:
    """How many routes fitted; each was proved."""
    world, count = place(text), 0
    for route in routes:
        found = derive(world, targets, route)
        if isinstance(found, Unfitting):
            assert found.why
            continue
        count += 1
        assert [(route, step.maths, step.checks) for step in found.steps if not step.is_proved] == []
    return count


@given(boards(most=6))
@settings(max_examples=6)
def test_equivalents_of_random_groups(text: str) -> None:
    name = text.rsplit("main = ", 1)[1].split(" across", maxsplit=1)[0].lstrip("-")
    assert holds_up(text, [f"E_{name}", f"r_{name}"], EQUIVALENT) >= 1


@given(boards(most=4))
@settings(max_examples=5)
def test_currents_of_random_groups(text: str) -> None:
    holds_up(text, ["I", "I_1"], FLOWING)


@given(bridges())
@settings(max_examples=5)
def test_bridges(text: str) -> None:
    holds_up(text, ["I_M"], ("junctions and loops",))


def test_eight_unlike_cells_side_by_side() -> None:
    cells = "\n".join(f"A{k} = cell E_{k}, r_{k}" for k in range(1, 9))
    text = f"{cells}\nR = resistor\nall = {' || '.join(f'A{k}' for k in range(1, 9))}\nmain = all across R"
    assert holds_up(text, ["E_all", "r_all"], ("same terminal p.d.", "short, then EMFs taken out")) == 2


def test_every_route_has_a_circuit_that_it_fits() -> None:
    pair = "A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; g = A {} B; main = g across R"
    like = "A = cell E, r; R = resistor; g = 3{} of A; main = g across R"
    rows = "A = cell E, r; R = resistor; row = m of A in series; pack = n of row in parallel; main = pack across R"
    cases = {
        "same current": (pair.format("+"), ["E_g", "r_g"]),
        "by symmetry": (like.format("p"), ["E_g", "r_g"]),
        "same terminal p.d.": (pair.format("||"), ["E_g", "r_g"]),
        "open, then short": (pair.format("||"), ["E_g", "r_g"]),
        "short, then EMFs taken out": (pair.format("||"), ["E_g", "r_g"]),
        "potential at the junction": (pair.format("||"), ["V", "I", "I_2"]),
        "inside out": (pair.format("||"), ["I", "I_2"]),
        "junctions and loops": (pair.format("||"), ["I", "I_2"]),
        "lines on the graph": (pair.format("+"), ["E_g", "r_g"]),
        "one cell at a time": (pair.format("+"), ["I"]),
        "energy in one second": (pair.format("+"), ["I"]),
        "two, three, n": (like.format("s"), ["E_g", "r_g"]),
        "factor pairs": (rows, ["I"]),
        "backwards": (pair.format("+"), ["E_g", "r_g"]),
    }
    assert set(cases) == set(ROUTES)
    for route, (text, targets) in cases.items():
        assert holds_up(text, targets, (route,)) == 1, route
