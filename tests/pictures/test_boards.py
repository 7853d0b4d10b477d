"""Whole boards compared as text: what stands where, in which state. `boards.txt` is renewed by hand after looking."""

from __future__ import annotations

from pathlib import Path

from boardproof.picture.board import Arrow, BoardState
from boardproof.picture.drawing import Frame, Readout
from boardproof.picture.frame import frame
from laws.drawn import Plain
from unit.picture.test_figure import BRIDGE, PAIR, circuit

KEPT = Path(__file__).with_name("boards.txt")
AMPERES = Readout("I_1", "1", "A", "1\u202fA")
STATES = {
    "pair": BoardState(
        circuit(PAIR + "main"),
        focused=("A",),
        dimmed=("B",),
        default_label="both",
        arrows=(Arrow("I_1", "A", 1, AMPERES), Arrow("I_2", "B", -1, AMPERES, "being charged")),
        pds=(Arrow("V", "main", 1, Readout("V", "5", "V", "5\u202fV")),),
        lesson="Unequal cells in parallel",
        scene="What each cell does",
        scene_number=4,
        scenes=6,
        caution="Follow your school's rules.",
    ),
    "bridge": BoardState(circuit(BRIDGE), focused=("M",), scene="A bridge", scenes=2),
}


def told(made: Frame) -> str:
    rows = (
        f"{each.id} {each.kind} {each.state} "
        + " ".join(f"{n:.1f}" for n in (each.box.left, each.box.top, each.box.right, each.box.bottom))
        for each in made.drawn
    )
    return "\n".join(rows)


def test_boards_look_as_they_were_last_seen():
    shown = "\n\n".join(
        f"{name}, {shape}\n{told(frame(state, shape, Plain()))}"
        for name, state in STATES.items()
        for shape in ("wide", "near")
    )
    assert shown == KEPT.read_text(encoding="utf-8").rstrip("\n")
