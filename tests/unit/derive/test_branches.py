import pytest

from boardproof.derive.branches import branches, joined
from boardproof.derive.naming import Nameless, Naming
from boardproof.derive.typed import bracketed, letter, listed, lost_volts, signed_sum, text
from unit.derive.boards import place

CELLS = "A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; S = switch; "


def members(body: str):
    world = place(CELLS + body)
    names = Naming(world)
    return branches(names.entry("g").item, names)


def test_pieces_of_text() -> None:
    both = letter("r_1") + letter("r_2")
    assert (text(both), bracketed(both), lost_volts("I", both)) == (
        "r_1 + r_2",
        "(r_1 + r_2)",
        "I (r_1 + r_2)",
    )
    assert lost_volts("I", 2 * letter("r")) == "2 r I"
    assert signed_sum([(-1, "a"), (1, "b")]) == "-a + b"
    assert listed(["A"]) == "A"


def test_a_turned_cell_is_known_by_its_sign() -> None:
    one, other = members("g = A || -B; main = g across R")
    assert (one.sign, other.sign, other.line("V")) == (1, -1, "V = I_2 r_2 - E_2")
    assert other.own_current("V") == "I_2 = (E_2 + V)/r_2"


def test_a_wire_neither_drives_nor_hinders() -> None:
    assert len(members("W = wire; g = A + W; main = g across R")) == 1


@pytest.mark.parametrize(
    "body", ["g = A + S; main = g across R", "g = A || B; main = g across R; main but open A"]
)
def test_what_an_argument_cannot_speak_of_is_refused(body: str) -> None:
    with pytest.raises(Nameless):
        members(body)


def test_how_a_group_is_joined() -> None:
    for body, how in (("g = A + B", "series"), ("g = 3p of A", "parallel"), ("g = 2s of A", "series")):
        world = place(CELLS + f"{body}; main = g across R")
        assert joined(Naming(world).entry("g").item) == how
