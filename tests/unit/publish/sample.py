"""The buoy's third lesson by hand: two unlike cells in parallel with a load, as documents and frames."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from itertools import pairwise

from boardproof.algebra.expression import Line, Name, Negative, Number, Product, Quotient, Relation, Sum
from boardproof.caution import Caution
from boardproof.lesson.model import Correction
from boardproof.picture.drawing import Box, Drawn, Frame, Label, Outline, Readout, State, Text
from boardproof.publish.document import (
    CautionItem,
    ClaimItem,
    Cue,
    Document,
    Figure,
    Formula,
    Judged,
    Maths,
    PauseItem,
    Prose,
    QuestionItem,
    QuestionLine,
    SceneDoc,
    Stamp,
    StepItem,
    Steps,
    TrapItem,
    Words,
)
from boardproof.quantities import read_unit


def number(text: str, unit: str = "") -> Number:
    return Number(Fraction(text), read_unit(unit) if unit else None, len(text), Fraction(0), text)


def line(*pairs, sign: str = "=") -> Line:
    """A chain of equals."""
    relations = tuple(Relation(left, sign, right, at) for at, (left, right) in enumerate(pairwise(pairs)))
    return Line(relations)


E_1, E_2, r_1, r_2, E_p, r_p, I_1, I_2, I, V, R, I_s = map(
    Name, ("E_1", "E_2", "r_1", "r_2", "E_p", "r_p", "I_1", "I_2", "I", "V", "R", "I_s")
)
PAIR = line(
    E_p,
    Quotient(
        Sum((Quotient(E_1, r_1), Quotient(E_2, r_2))),
        Sum((Quotient(number("1"), r_1), Quotient(number("1"), r_2))),
    ),
)
SHORT = line(I_s, Sum((Quotient(E_1, r_1), Quotient(E_2, r_2))))
RECIPROCALS = line(Quotient(number("1"), r_p), Sum((Quotient(number("1"), r_1), Quotient(number("1"), r_2))))
TOGETHER = line(E_p, Product((I_s, r_p)))
MEAN = line(E_p, Quotient(Sum((E_1, E_2)), number("2")))
OWN_PARTS = (
    I_1,
    Quotient(Sum((E_1, Negative(V))), r_1),
    Quotient(Sum((number("6", "V"), Negative(number("5", "V")))), number("1", "ohm")),
    number("1", "A"),
)
OWN = line(*OWN_PARTS)
BOX = Box(0, 0, 0, 0)


def text(content, x: float, y: float, size: float, **kw) -> Text:
    anchor = kw.pop("anchor", "middle")
    return Text(Label(content, size, **kw), x, y, anchor)


def barb(x: float, y: float, sense: int) -> Outline:
    s = sense
    return Outline(
        f"M{x + 0.95 * s} {y}L{x - 0.85 * s} {y - 0.62}L{x - 0.4 * s} {y}L{x - 0.85 * s} {y + 0.62}Z",
        "solid",
        "ink",
    )


def disc(x: float, y: float, r: float) -> str:
    return f"M{x - r} {y}A{r} {r} 0 1 1 {x + r} {y}A{r} {r} 0 1 1 {x - r} {y}Z"


def cell_row(
    n: int, y: float, state: State, size: float, left: float, right: float, turn: int
) -> list[Drawn]:
    c = (left + right) / 2 - 9
    names = {1: ("E_1", "6", "r_1", "1"), 2: ("E_2", "4", "r_2", "2")}[n]
    up = 2.95 if size > 2 else 2.45
    body = (
        Outline(
            f"M{c - 6} {y - 4.4}H{c + 18.5}V{y + 2.6}H{c - 6}Z",
            "wash" if state == "focus" else "case",
            "lamp" if state == "focus" else "shade",
        ),
        Outline(f"M{left} {y}H{c - 0.55}M{c + 0.55} {y}H{c + 8.6}M{c + 13.4} {y}H{right}", "wire"),
        Outline(f"M{c - 0.55} {y - 0.85}V{y + 0.85}", "thick plate"),
        Outline(f"M{c + 0.55} {y - 1.75}V{y + 1.75}", "plate"),
        Outline(f"M{c + 1.32} {y - 1.15}H{c + 2.08}M{c + 1.7} {y - 1.53}V{y - 0.77}", "outline"),
        Outline(f"M{c + 8.6} {y - 0.8}H{c + 13.4}V{y + 0.8}H{c + 8.6}Z", "outline", "paper"),
        text(line(Name(names[0]), number(names[1], "V")), c + 1.2, y - up, size),
        text(line(Name(names[2]), number(names[3], "ohm")), c + 11, y - up, size),
    )
    x = right - 5
    arrow = [
        barb(x, y, turn),
        text(line(Name(f"I_{n}"), number("1" if n == 1 else "0.5", "A")), x, y - up, size),
    ]
    if n == 2:
        arrow.append(text("being charged", x, y + 2.1, 2.1 if size > 2 else 1.2, style="italic"))
    return [
        Drawn(
            f"part:{'AB'[n - 1]}",
            "cell",
            state,
            BOX,
            body,
            f"cell {'AB'[n - 1]}, {names[1]} V and {names[3]} Ω",
        ),
        Drawn(
            f"arrow:I_{n}",
            "current",
            state,
            BOX,
            tuple(arrow),
            f"current I_{n}",
            Readout(f"I_{n}", "1" if n == 1 else "1/2", "A", "1 A" if n == 1 else "0.5 A"),
        ),
    ]


def circuit(states: tuple[State, State, State], size: float, width: float, top: float) -> list[Drawn]:
    one, two, load = states
    left, right, y = 4.5, width - 4.5, top + 5.5
    pitch = 12 if size > 2 else 10.5
    y2, yt, yl = y + pitch, y + pitch + 7.1, y + 2 * pitch + 5
    middle = (left + right) / 2
    drawn = [
        Drawn(
            "net:A-B-R",
            "wire",
            "normal",
            BOX,
            (*(Outline(f"M{x} {y}V{yt - 0.48}M{x} {yt + 0.48}V{yl}", "wire") for x in (left, right)),),
        ),
        *cell_row(1, y, one, size, left, right, 1),
        *cell_row(2, y2, two, size, left, right, -1),
        Drawn(
            "part:R",
            "resistor",
            load,
            BOX,
            (
                Outline(f"M{left} {yl}H{middle - 3}M{middle + 3} {yl}H{right}", "wire"),
                Outline(f"M{middle - 3} {yl - 1}H{middle + 3}V{yl + 1}H{middle - 3}Z", "outline", "paper"),
                text(line(R, number("10", "ohm")), middle, yl + (3.9 if size > 2 else 3), size),
            ),
            "resistor R, 10 Ω",
        ),
        Drawn(
            "pd:V",
            "pd",
            "normal",
            BOX,
            (
                Outline(f"M{left + 1.2} {yt}H{middle - 4.6}M{middle + 4.6} {yt}H{right - 1.2}", "measure"),
                Outline(
                    f"M{left + 1.2} {yt - 0.8}V{yt + 0.8}M{right - 1.2} {yt - 0.8}V{yt + 0.8}", "measure"
                ),
                Outline(f"M{right - 2.1} {yt - 0.6}L{right - 1.2} {yt}L{right - 2.1} {yt + 0.6}", "measure"),
                text(line(V, number("5", "V")), middle, yt + 0.55, size),
            ),
            "terminal p.d. V = 5 V",
        ),
    ]
    for x, sign, at in ((left, "−", -1.6), (right, "+", 1.6)):
        drawn.append(
            Drawn(
                f"terminal:{sign}",
                "terminal",
                "normal",
                BOX,
                (
                    Outline(disc(x, yt, 0.48), "outline", "paper"),
                    text(sign, x + at, yt + 0.5, size),
                ),
            )
        )
        drawn.append(
            Drawn(
                f"junction:{sign}", "junction", "normal", BOX, (Outline(disc(x, y2, 0.34), "solid", "ink"),)
            )
        )
    return drawn


ALTERNATIVE = (
    "Cell A (6 V, 1 Ω) and cell B (4 V, 2 Ω) in parallel, plus to plus; a resistor R of 10 Ω across both. "
    "Cell A is in focus, cell B is dimmed. I_1 = 1 A out of A, I_2 = 0.5 A into the plus of B, V = 5 V."
)


def figure(
    *, near: bool = False, states: tuple[State, State, State] = ("focus", "dimmed", "normal")
) -> Frame:
    width, size = (48, 2.2) if near else (56, 1.6)
    height = 40 if near else 36
    return Frame(
        "figure",
        "figure near" if near else "figure",
        width,
        height,
        tuple(circuit(states, size, width, 0)),
        "Two unlike cells in parallel and a load",
        ALTERNATIVE,
    )


def board() -> Frame:
    """The wide board at the moment when cell A is in focus."""
    written = [
        ("the pair as one cell", line(E_p, Quotient(number("16"), number("3"))), 13.4, 17, "normal"),
        ("one loop", line(I, Quotient(E_p, Sum((r_p, R))), number("0.5", "A")), 21, 24.6, "normal"),
        ("across the load", line(V, Product((I, R)), number("5", "V")), 29.4, 31.7, "normal"),
        ("what cell A has left for its own resistance", OWN, 35.5, 39, "focus"),
    ]
    drawn = [
        Drawn("words:1", "small", "normal", BOX, (text("Scene 4 of 6", 4, 4.1, 1.3, anchor="start"),)),
        Drawn(
            "words:2",
            "words",
            "normal",
            BOX,
            (text("What each cell does", 4, 7.3, 2.5, anchor="start", style="semibold"),),
        ),
        Drawn(
            "words:3",
            "small",
            "normal",
            BOX,
            (text("Unequal cells in parallel", 92, 4.1, 1.3, anchor="end"),),
        ),
    ]
    for k in range(6):
        x = 4 + k * 14.75
        state: State = "normal" if k < 3 else "focus" if k == 3 else "dimmed"
        drawn.append(Drawn(f"rule:{k}", "rule", state, BOX, (Outline(f"M{x} 9.2H{x + 14.25}", "rule"),)))
    drawn += circuit(("focus", "dimmed", "normal"), 1.6, 60, 11)
    for k, (reason, maths, y, y2, state) in enumerate(written):
        marks = [
            text(reason, 63, y, 1.2, anchor="start", style="italic"),
            text(maths, 63, y2, 1.75, anchor="start", display=True),
        ]
        if state == "focus":
            marks[:0] = [
                Outline("M61.4 33.6H92V41.9H61.4Z", "wash", "lamp"),
                Outline("M61.4 33.6H61.82V41.9H61.4Z", "solid", "ink"),
            ]
        drawn.append(Drawn(f"line:{k}", "line", state, BOX, tuple(marks), reason))
    drawn += [
        Drawn(
            "caution",
            "caution",
            "normal",
            BOX,
            (
                Outline("M64.2 43.4L65.6 45.8H62.8Z", "outline"),
                Outline("M64.2 44.2V44.9M64.2 45.15V45.4", "outline"),
                text("Unlike cells in parallel drive a current round each", 66.6, 44.3, 1.2, anchor="start"),
                text("other, load or no load. Follow your school’s rules.", 66.6, 46, 1.2, anchor="start"),
            ),
        ),
        Drawn("rule:low", "rule", "dimmed", BOX, (Outline("M4 47.6H92", "rule"),)),
        Drawn(
            "words:4",
            "words",
            "normal",
            BOX,
            (text("Cell A has 6 V and 5 V reach the terminals.", 4, 50.2, 1.75, anchor="start"),),
        ),
        Drawn(
            "line:secret",
            "line",
            "hidden",
            BOX,
            (text("the hidden answer", 4, 52, 1.75),),
            "the hidden answer",
        ),
    ]
    return Frame("cells-4", "wide", 96, 54, tuple(drawn), "What each cell does", ALTERNATIVE)


MADE = date(2026, 11, 25)
CAUTION = Caution(
    "small",
    ("unlike",),
    "Unlike cells in parallel drive a current round each other even with no load. Do not leave real ones joined. "
    "Follow the rules of your school and country, read the maker’s sheet, and have a qualified person decide "
    "about anything beyond small primary cells.",
    "Don’t leave unlike cells joined; see the caution above.",
)


def document() -> Document:
    """Three scenes with one item of each kind."""
    first = SceneDoc(
        "Two batteries side by side",
        (
            Prose(
                (
                    Words(
                        "The buoy came back with two batteries on one pair of wires, a new one and a tired one. "
                        "What is the pair’s EMF "
                    ),
                    Maths(E_p),
                    Words(", and what is its internal resistance "),
                    Maths(r_p),
                    Words("?"),
                )
            ),
            Figure(
                figure(states=("normal", "normal", "normal")),
                figure(near=True, states=("normal", "normal", "normal")),
                (
                    Words(
                        "Cells A and B in parallel, plus to plus, and a load of 10 Ω across both. "
                        "The current in B runs into its plus."
                    ),
                ),
            ),
            CautionItem(CAUTION, in_full=True),
            PauseItem(
                20,
                (
                    Prose(
                        (
                            Words(
                                "If A says more than B, what will the pair say: the sum, the mean, the larger, "
                                "or something else?"
                            ),
                        )
                    ),
                ),
                (
                    Prose(
                        (
                            Words("Something else: "),
                            Words("it lies between the two", "strong"),
                            Words(", nearer to the one with less resistance."),
                        )
                    ),
                    Formula(PAIR),
                ),
            ),
        ),
        (
            Cue(
                "Two batteries, one wire",
                (Words("The buoy came back with two batteries."),),
                ("Hide R.", "Focus the pair."),
                (),
                14,
            ),
            Cue("Guess the pair’s EMF", (Words("Take a guess and keep it."),), (), (), 20, waits=True),
        ),
        figure(states=("focus", "dimmed", "normal")),
        ((Words("the pair, plus to plus"),), (Words("the load "), Maths(R))),
    )
    second = SceneDoc(
        "Short it, then take the EMFs out",
        (
            Steps(
                (Words("EMF and internal resistance of the pair"),),
                (
                    StepItem(
                        1,
                        (Words("cell rule, junction rule"),),
                        SHORT,
                        (
                            Prose(
                                (
                                    Words(
                                        "In thought, lay a bare wire over the terminals. "
                                        "Each drives its own short-circuit current."
                                    ),
                                )
                            ),
                        ),
                    ),
                    StepItem(2, (Words("resistances in parallel"),), RECIPROCALS),
                    StepItem(3, (Words("cell rule"),), TOGETHER),
                    StepItem(4, (Words("algebra from 1, 2, 3"),), PAIR),
                ),
            ),
            Formula(PAIR, "parallel cells"),
            Formula(line(*OWN_PARTS, *OWN_PARTS), "", Judged("near-enough", (Words("within 1 % here"),))),
            TrapItem(
                MEAN,
                PAIR,
                (Maths(line(r_1, r_2)), Words(" or "), Maths(line(E_1, E_2))),
                "the EMF of a pair is the plain mean",
                (
                    Prose(
                        (
                            Words(
                                "A battery that can hardly push should not have the same say as one that can."
                            ),
                        )
                    ),
                ),
            ),
            TrapItem(
                MEAN,
                PAIR,
                (Maths(line(r_1, r_2)), Words(" or "), Maths(line(E_1, E_2))),
                "the EMF of a pair is the plain mean",
                (
                    Prose(
                        (
                            Words(
                                "A battery that can hardly push should not have the same say as one that can."
                            ),
                        )
                    ),
                ),
            ),
            CautionItem(CAUTION),
        ),
        (
            Cue(
                "Short it in thought",
                (Words("In the wire the currents add, "), Maths(SHORT), Words(".")),
                ("Short the pair, on paper only.",),
                (SHORT,),
                25,
            ),
        ),
        board(),
        ((Maths(SHORT),), (Maths(RECIPROCALS),), (Maths(PAIR),)),
    )
    third = SceneDoc(
        "Check the ends",
        (
            ClaimItem(
                "less than the least",
                (
                    Prose(
                        (
                            Words(
                                "Two batteries side by side have less internal resistance than either alone."
                            ),
                        )
                    ),
                ),
                (line(r_p, r_1, sign="<"),),
                Judged("true", (Words("for all positive values"),)),
            ),
            Prose((Words("One term a cell."),), bullet="-"),
            Prose((Words("Both sums have it."),), bullet="-"),
            Prose(
                (Words("Printed only: "), Words("keep the wires short", "emphasis"), Words(".")), said=False
            ),
            QuestionItem(
                "pair and load",
                (
                    Prose(
                        (
                            Words("Two batteries are joined plus to plus: A with "),
                            Words("9 V", "value"),
                            Words(" and "),
                            Words("2 Ω", "value"),
                            Words("."),
                        )
                    ),
                ),
                Figure(
                    figure(states=("normal", "normal", "normal")),
                    figure(near=True, states=("normal", "normal", "normal")),
                    (Words("The pair and its load."),),
                ),
                (
                    QuestionLine("a", (Prose((Words("Find the EMF of the pair."),)),), 3),
                    QuestionLine("b", (Prose((Words("Draw an arrow for the current in B."),)),), 1),
                ),
            ),
        ),
        (Cue("Ends: tired, fresh, alike", (Words("Let B be very tired, then very fresh."),), (), (), 18),),
        figure(),
        ((Words("the pair again"),),),
    )
    return Document(
        "Unequal cells in parallel",
        "Cells that are not alike, lesson 3 of 5",
        "en-GB",
        (Correction("In figure 2 the arrow of B was the wrong way round.", "scene 2", "3 November"),),
        (first, second, third),
    )


STAMP = Stamp("2", MADE, draft=False, statements=23)
DRAFT = Stamp(
    "", MADE, draft=True, statements=23, unproved=("Scene 2, line 4: E_p = (E_1 + E_2)/2 is wrong.",)
)
