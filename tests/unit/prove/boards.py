"""Circuits of the buoy course for tests of arguments, and steps as a teacher types them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from boardproof.algebra.written import read_line
from boardproof.circuit.read import circuit_at, read_circuit
from boardproof.prove.follows import Following, Premise, follows
from boardproof.prove.world import World
from boardproof.prove.worlds import Worlds
from boardproof.source import Source

if TYPE_CHECKING:
    from collections.abc import Sequence

    from boardproof.algebra.expression import Relation

ROW = """
A = cell E_1 = 1.5 V, r_1 = 0.5 ohm
B = cell E_2 = 1.2 V, r_2 = 0.4 ohm
R = resistor 4.5 ohm
row  = A + B
main = row across R
let E_s = emf of row
let r_s = resistance of row
"""
PAIR = """
A = cell E_1 = 6 V, r_1 = 2 ohm
B = cell E_2 = 4.5 V, r_2 = 3 ohm
R = resistor 4.2 ohm
both = A || B
main = both across R
let E_p = emf of both
let r_p = resistance of both
let I_s = short-circuit current of both
"""
LOOP = """
A = cell E = 1.5 V, r = 0.5 ohm
S = switch closed
R = resistor 2.5 ohm
main = (A + S) across R
let P_warm = heat in A
"""
BRIDGE = """
P, Q, S, T = cell E = 1.5 V, r = 0.5 ohm
M = resistor 1 ohm
network square from a to d
  P from a to b
  Q from b to d
  S from a to c
  T from c to d
  M from b to c
square but turn Q
let I_b = current in M
"""


@dataclass(frozen=True)
class Typed:
    """A step: its maths, its rules, the steps it leans on, what is imagined."""

    maths: str
    rules: tuple[str, ...]
    from_: tuple[int, ...] | None = None
    imagined: str = ""


ROW_STEPS = (
    Typed("V_row = V_1 + V_2", ("loop rule",)),
    Typed("V_row = (E_1 - I r_1) + (E_2 - I r_2)", ("cell rule",), (1,)),
    Typed("V_row = (E_1 + E_2) - I (r_1 + r_2)", ("algebra",), (2,)),
    Typed("E_s = E_1 + E_2", ("definition",), (3,)),
    Typed("r_s = r_1 + r_2", ("definition",), (3,)),
)
PAIR_STEPS = (
    Typed("I_s = E_1/r_1 + E_2/r_2", ("cell rule", "junction rule"), (), "short both"),
    Typed("1/r_p = 1/r_1 + 1/r_2", ("resistances in parallel",), (), "no emf in both"),
    Typed("E_p = I_s r_p", ("cell rule",), ()),
    Typed("E_p = (E_1/r_1 + E_2/r_2)/(1/r_1 + 1/r_2)", ("algebra",), (1, 2, 3)),
)
LOOP_STEPS = (Typed("E = I R + I r", ("loop rule",)), Typed("I = E/(R + r)", ("algebra",), (1,)))
BRIDGE_STEPS = (
    Typed("I_b = I_P + I_Q", ("junction rule",), ()),
    Typed("I_T = I_S + I_b", ("junction rule",), ()),
    Typed("I_Q = I_T", ("junction rule",), ()),
    Typed("I_S = -I_P", ("junction rule",), ()),
    Typed("I_b R_M = (I_S - I_P) r", ("loop rule",), ()),
    Typed("2*E = I_b R_M + (I_T + I_Q) r", ("loop rule",), ()),
    Typed("I_b = E/(R_M + r)", ("algebra",), (1, 2, 3, 4, 5, 6)),
)
ARGUMENTS = ((LOOP, LOOP_STEPS), (ROW, ROW_STEPS), (PAIR, PAIR_STEPS), (BRIDGE, BRIDGE_STEPS))


def at(text: str, imagined: str = "") -> World:
    """The place after a circuit block, with something imagined."""
    read = read_circuit(Source("board", text).slice())
    assert not read.findings, read.findings
    assert read.at_hand is not None
    world = Worlds(read.definitions).of(read.at_hand)
    if not imagined:
        return world
    circuit, wrong = circuit_at(Source("move", imagined).slice(), read.definitions, read.at_hand)
    assert not wrong
    return Worlds(read.definitions).of(read.at_hand, circuit)


def equation(maths: str) -> Relation:
    """One equation, as typed."""
    line, wrong = read_line(Source("line", maths).slice(), known=())
    assert line is not None, wrong
    (relation,) = line.statements
    return relation  # type: ignore[return-value]


def asked(text: str, steps: Sequence[Typed], number: int, **changed: object) -> Following:
    """Whether step `number` follows, with something changed in it."""
    step = replace(steps[number - 1], **changed)  # type: ignore[arg-type]
    premises = [
        Premise(equation(each.maths), at(text, each.imagined), place)
        for place, each in enumerate(steps[: number - 1], 1)
    ]
    named = [each for each in premises if step.from_ is None or each.number in step.from_]
    others = [each for each in premises if each not in named]
    return follows(equation(step.maths), named, step.rules, at(text, step.imagined), others=others)
