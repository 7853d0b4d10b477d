"""The lab sheet for students, made for the cell and the meters at hand."""

from __future__ import annotations

from boardproof.caution import caution_for, dangers
from boardproof.circuit.read import read_circuit
from boardproof.kit.measure_report import Measured
from boardproof.lab.bench import Bench
from boardproof.lab.design import Design
from boardproof.lab.simulate import Truth
from boardproof.lab.told import give_or_take
from boardproof.picture.board import BoardState
from boardproof.picture.drawing import Frame
from boardproof.picture.frame import frame
from boardproof.publish.lab_page import Blank, Caution, Head, LabPage, Part, Picture, Table, Words
from boardproof.publish.typeset import Typesetter
from boardproof.quantities import NARROW_SPACE
from boardproof.source import Source

__all__ = ["ENDING", "lab_page"]

CIRCUITS = {
    "cell": "main = A across V || (S + M + R)",
    "load": "main = A across S + M + (R || V)",
}
STEPS = (
    "Wire the circuit with the switch open. Ask your teacher to look before you close it.",
    "Set the first load of the table. Close the switch, read both meters within ten seconds, open it again.",
    "Write both readings down at once, with every digit that the meters show, and which range they are on.",
    "Wait half a minute, take the next load. Keep to the order of the table: it goes up and down on purpose.",
    "Read the first load once more at the end. If it has changed, the cell has changed: say so in the note.",
    "If a reading looks wrong, write it down all the same, and why you think so. Nothing is rubbed out.",
)
ENDING = (
    "Follow the rules of your school and country, read the maker's sheet, and have a qualified person decide about "
    "anything beyond small primary cells."
)


def lab_page(measured: Measured, plan: Design, truth: Truth, typesetter: Typesetter, *, foot: str) -> LabPage:
    """The students' sheet.

    Parameters
    ----------
    measured : Measured
        Meters and title.
    plan : Design
        Loads.
    truth : Truth
        What the cell should be.
    typesetter : Typesetter
        Measures labels.
    foot : str
        What stands at its foot.
    """
    bench, mark = measured.bench, measured.mark
    heat = f"{plan.heat * 1000:.0f}{NARROW_SPACE}mW"
    load = f"{min(plan.loads):g}{NARROW_SPACE}Ω to {max(plan.loads):g}{NARROW_SPACE}Ω".replace(".", mark)
    greatest = f"{max(plan.currents):.2g}{NARROW_SPACE}A".replace(".", mark)
    range_words = (
        f"Loads from {load}. The greatest current is {greatest}, because {plan.why}; the cell then warms itself with "
        f"{heat}. Smaller loads than these are not used."
    )
    if plan.u_r:
        e, r = (give_or_take(u, s, decimal=mark) for u, s in ((plan.u_E, "V"), (plan.u_r, "Ω")))
        range_words += (
            f" With these meters and loads E can be known to {e} and r to {r} (one standard uncertainty)."
        )
    rows = tuple((str(n), f"{each:g}".replace(".", mark), "", "", "") for n, each in enumerate(plan.loads, 1))
    parts: list[Part] = [
        Blank("Your code and the date:"),
        Picture(_circuit(bench, typesetter), _caption(bench), 120.0),
        Caution(_caution(truth)),
        Head("What to do"),
        *(Words(each, f"{n}.") for n, each in enumerate(STEPS, 1)),
        Head("Loads", breaks=True),
        Words(range_words),
        Table(("no.", "load / Ω", "I / A", "V / V", "note"), rows, (0.5, 1.0, 1.4, 1.4, 2.4), 8.0),
        Head("What the meters do to the result"),
        *(Words(each, "–") for each in _meter_words(bench, truth, mark)),
        Head("Then"),
        Words(
            "Draw V against I. Rule the best line, then the steepest and the shallowest that pass every bar.",
            "1.",
        ),
        Words(
            "Where the line meets I = 0 read E; from its slope find r. Give both with what they could just be.",
            "2.",
        ),
        Blank("E =                    r ="),
        Blank("What would make your r surer, and why?", 2),
    ]
    return LabPage("A real cell: EMF and internal resistance", "Lab sheet", foot, tuple(parts))


def _caption(bench: Bench) -> str:
    where = "the cell" if bench.across == "cell" else "the load"
    return f"The voltmeter stands across {where}, the ammeter is in line with the load."


def _circuit(bench: Bench, typesetter: Typesetter) -> Frame:
    text = "\n".join(
        (
            "A = cell E, r",
            "S = switch open",
            "M = ammeter",
            "R = resistor",
            "V = voltmeter",
            CIRCUITS[bench.across],
        )
    )
    circuit = read_circuit(Source("lab", text).slice()).at_hand
    assert circuit is not None, text
    return frame(BoardState(circuit, (circuit,)), "figure", typesetter, "lab")


def _caution(truth: Truth) -> str:
    """What the circuit's own sums ask for, short circuit of the leads included."""
    text = f"A = cell {truth.emf:.4f} V, {truth.internal:.5f} ohm\nR = resistor 1 ohm\nmain = A across R"
    circuit = read_circuit(Source("lab", text).slice()).at_hand
    found = caution_for(dangers(circuit), rules="the rules of your school and country") if circuit else None
    shorted = truth.emf / truth.internal
    start = (
        f"Never join the cell's ends or the two leads without the load: about {shorted:.2g} A would flow and the "
        "cell and leads get hot at once. Switch closed for ten seconds at most. A cell that is hot, swollen or leaks: "
        "open the switch, leave it, call your teacher. Do not charge these cells. "
    )
    return start + (found.full if found else ENDING)


def _meter_words(bench: Bench, truth: Truth, mark: str) -> list[str]:
    """The sign of each meter's error at its place, with its size where it is known."""
    inner, volts = bench.ammeter.resistance, bench.voltmeter.resistance
    if bench.across == "cell":
        share = _tiny(truth.internal / volts, mark) if volts else ""
        first = (
            "The voltmeter takes a little current of its own that the ammeter does not show. So the cell gives more "
            f"than you read: E and r both come out too small, by r over the voltmeter's resistance{share}."
        )
        second = "The ammeter's own resistance does no harm here: it counts as a part of the load."
    else:
        size = f" ({inner:g}{NARROW_SPACE}Ω here)".replace(".", mark) if inner else ""
        first = (
            f"The ammeter's own resistance{size} lies between the cell and the voltmeter: r comes out too large by "
            "just that; E stays right."
        )
        second = "The voltmeter's current passes the ammeter too, so it does no harm here."
    known = (volts if bench.across == "cell" else inner) is not None
    third = (
        "The results sheet puts this right, because the meter's resistance is known."
        if known
        else "The meter's resistance is not stated, so this is not put right: look for it in the meter's leaflet."
    )
    zero = (
        "A meter that does not show nought with nothing connected shifts all readings alike: more readings do not "
        "help. Look at its zero first."
    )
    return [first, second, third, zero]


def _tiny(share: float, mark: str) -> str:
    """A share in words that a class can picture."""
    if share < 1e-6:
        return " (less than a millionth of each here)"
    return f" ({share * 100:.1g} % of each here)".replace(".", mark)
