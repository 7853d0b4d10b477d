"""What single pictures show: marks of a change, equivalents, shorts in thought, counts of a pack."""

from __future__ import annotations

from dataclasses import replace

import pytest

from boardproof.circuit.model import Circuit
from boardproof.circuit.read import read_circuit
from boardproof.picture.board import Arrow, BoardState
from boardproof.picture.drawing import Drawn, Frame, Outline, Readout, Text
from boardproof.picture.frame import frame
from boardproof.source import Slice, Span
from laws.drawn import Plain, crowded, letters, wires

PLAIN = Plain()
PAIR = """A = cell E_1 = 6 V, r_1 = 1 ohm
B = cell E_2 = 4 V, r_2 = 2 ohm
R = resistor 10 ohm
both = A || B
main = both across R
"""


def circuit(text: str) -> Circuit:
    made = read_circuit(Slice(text, Span("typed", 0, len(text)))).at_hand
    assert made is not None
    return made


def drawn(state: BoardState, shape: str = "wide") -> Frame:
    made = frame(replace(state, scene="S"), shape, PLAIN)
    assert crowded(made, PLAIN) == []
    return made


def thing(made: Frame, name: str) -> Drawn:
    return next(each for each in made.drawn if each.id == name)


def words(made: Frame) -> list[str]:
    return [letters(m.label.content) for each in made.drawn for m in each.marks if isinstance(m, Text)]


def plates(each: Drawn) -> dict[str, float]:
    """x of a cell's plates, by role."""
    return {
        m.role: float(m.path[1:].split()[0])
        for m in each.marks
        if isinstance(m, Outline) and m.role in {"plate", "thick plate"}
    }


def test_the_long_plate_is_at_the_right_and_at_the_left_once_turned():
    plain, turned = circuit(PAIR + "main"), circuit(PAIR + "main but turn B")
    stage = (plain, turned)
    before = plates(thing(drawn(BoardState(plain, stage)), "part:B"))
    after = plates(thing(made := drawn(BoardState(turned, stage)), "part:B"))
    assert before["plate"] > before["thick plate"]
    assert (after["plate"], after["thick plate"]) == (before["thick plate"], before["plate"])
    assert "turned round" in words(made)


def test_focus_lights_a_part_and_its_case_and_dim_dims_only_what_it_names():
    made = drawn(BoardState(circuit(PAIR + "main"), focused=("A",), dimmed=("B",)))
    assert [thing(made, f"part:{name}").state for name in "ABR"] == ["focus", "dimmed", "normal"]


def test_a_group_may_be_named_instead_of_its_parts():
    made = drawn(BoardState(circuit(PAIR + "main"), focused=("both",)))
    assert [thing(made, f"part:{name}").state for name in "ABR"] == ["focus", "focus", "normal"]


def test_hidden_parts_leave_no_mark_and_no_wire_that_leads_nowhere():
    state = BoardState(circuit(PAIR + "main"))
    whole, less = drawn(state), drawn(replace(state, hidden=("R",)))
    assert "part:R" not in {each.id for each in less.drawn}
    assert thing(whole, "part:A") == thing(less, "part:A")
    foot = max(s.y2 for each in less.drawn if each.id.startswith("net:") for s in wires(each))
    assert foot <= thing(less, "terminals").box.bottom


def test_a_group_that_is_half_of_a_circuit_of_the_scene_stands_where_it_stands_there():
    main, both = circuit(PAIR + "main"), circuit(PAIR + "both")
    assert thing(drawn(BoardState(main, (main, both))), "part:B") == thing(
        drawn(BoardState(both, (main, both))), "part:B"
    )


def test_an_equivalent_replaces_its_group_by_name():
    state = BoardState(circuit(PAIR + "main"), replaced=(("both", "cell"),), labels=(("both", "E_p, r_p"),))
    made = drawn(state)
    assert thing(made, "same:both").replaces == ("part:A", "part:B")
    assert thing(made, "replaced:both").state == "replaced"
    assert {"Ep", "rp", "A, B"} <= set(words(made))
    assert not {"part:A", "part:B"} & {each.id for each in made.drawn}


def test_an_imagined_short_is_doubled_and_says_what_it_is():
    made = drawn(BoardState(circuit(PAIR + "both"), imagined=(("both", "short"),)))
    short = thing(made, "short:both")
    level = sorted({stroke.y1 for stroke in wires(short)})
    assert short.kind == "imagined short"
    assert level[1] - level[0] == pytest.approx(0.64)
    assert "imagined short" in words(made)


def test_taken_out_emfs_leave_resistances():
    made = drawn(BoardState(circuit(PAIR + "both"), imagined=(("both", "no emf in"),)))
    assert plates(thing(made, "part:A")) == {}
    assert "EMF taken out" in words(made)


def test_an_arrow_is_turned_to_fit_its_value():
    def tip(sense: int) -> float:
        arrow = Arrow("I", "R", sense, Readout("I", "1/2", "A", "0.5\u202fA"))
        each = thing(drawn(BoardState(circuit(PAIR + "main"), arrows=(arrow,))), "arrow:I")
        head = next(m for m in each.marks if isinstance(m, Outline))
        xs = [float(point.split()[0]) for point in head.path.strip("MZ").split("L")]
        return xs[0] - sum(xs) / len(xs)

    assert tip(1) < 0 < tip(-1)  # the load's current runs right to left


def test_a_pack_says_how_many_are_not_drawn_and_draws_the_odd_one():
    text = "A = cell 1.5 V, 0.4 ohm\nR = resistor 4 ohm\npack = 12s8p of A\nmain = pack across R\nmain"
    plain, odd = circuit(text), circuit(text + " but turn pack.2.5")
    seen = {each.id for each in drawn(BoardState(plain)).drawn}
    assert {"part:pack.1.1", "part:pack.3.12", "part:pack.8.12"} <= seen
    assert not {"part:pack.4.1", "part:pack.1.3"} & seen
    assert "12 in series, 9 not drawn" in words(drawn(BoardState(plain)))
    assert "part:pack.2.5" in {each.id for each in drawn(BoardState(odd)).drawn}


def test_letter_counts_are_drawn_with_dots_to_the_last():
    text = "A = cell E, r\nrow = m of A in series\npack = n of row in parallel\npack"
    made = drawn(BoardState(circuit(text)))
    ids = {each.id for each in made.drawn}
    assert {"part:pack.1.1", "part:pack.n.m"} <= ids
    assert any(m.dash for each in made.drawn for m in each.marks if isinstance(m, Outline))


def test_a_family_shows_its_first_and_its_last():
    text = "A = cell E_1, r_1\nA_k = cell E_k, r_k for k = 2 to n\nmany = A || A_2 || ... || A_n\nmany"
    assert {"E1", "E2", "En"} <= set(words(drawn(BoardState(circuit(text)))))


def test_a_bridge_has_no_diagonal_and_its_middle_arm_stands_upright():
    made = drawn(BoardState(circuit(BRIDGE)))
    for each in made.drawn:
        if each.id.startswith(("part:", "net:")):
            assert all(s.x1 == s.x2 or s.y1 == s.y2 for s in wires(each))
    assert all(s.x1 == s.x2 for s in wires(thing(made, "part:M")))
    assert thing(made, "part:P").box.bottom < thing(made, "part:S").box.top


BRIDGE = """P, Q, S, T, M = resistor 2 ohm
G = cell 9 V, 1 ohm
network square from a to d
  P from a to b
  Q from b to d
  S from a to c
  T from c to d
  M from b to c

main = G across square
main
"""


def test_what_would_have_to_cross_stands_below_between_rings():
    names = "abcde"
    pairs = [(x, y) for n, x in enumerate(names) for y in names[n + 1 :]]
    parts = [f"R_{n} = resistor {n + 1} ohm" for n in range(len(pairs))]
    rows = [f"  R_{n} from {x} to {y}" for n, (x, y) in enumerate(pairs)]
    made = drawn(BoardState(circuit("\n".join([*parts, "network full from a to e", *rows, "", "full"]))))
    tied = [each for each in made.drawn if each.id.startswith("words:joined")]
    assert len(tied) == 1
    assert "joins" in tied[0].alternative


def test_the_alternative_tells_connections_and_given_values_only():
    arrow = Arrow("I", "R", 1, Readout("I", "1/2", "A", "0.5\u202fA"))
    made = drawn(BoardState(circuit(PAIR + "main"), arrows=(arrow,)))
    told = made.alternative + "".join(each.alternative for each in made.drawn)
    assert "in parallel: cell A (E_1 = 6\u202fV" in told
    assert "0.5" not in told


@pytest.mark.parametrize("shape", ["figure", "figure near"])
def test_a_figure_alone_is_cut_to_its_size(shape):
    made = frame(BoardState(circuit(PAIR + "main")), shape, PLAIN)
    assert not {each.id for each in made.drawn if each.id.startswith(("rule:", "words:scene"))}
    assert min(each.box.left for each in made.drawn) == pytest.approx(1.0, abs=0.01)
    assert max(each.box.bottom for each in made.drawn) == pytest.approx(made.height - 1.0, abs=0.01)
