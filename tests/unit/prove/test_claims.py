"""Claims: standard facts of the trade with their verdicts, what a refutation shows, and what is not read."""

from __future__ import annotations

from fractions import Fraction

import pytest

from boardproof.algebra import solver
from boardproof.circuit.read import read_circuit
from boardproof.findings import worded
from boardproof.prove.claim_language import Extreme, Phrases, Steady, Trend, WhenClaim, read_claim, read_scope
from boardproof.prove.claims import judge_claim
from boardproof.prove.worlds import Worlds
from boardproof.source import Source
from unit.prove.claim_cases import CASES, ODD, ONE, PACK, PAIR, ROW, SIDE


def world_of(circuit):
    read = read_circuit(Source("circuit", circuit).slice())
    assert not [each for each in read.findings if each.kind.severity == "error"]
    return Worlds(read.definitions).of(read.at_hand)


def judged(circuit, means, for_=None):
    said = Source("for", for_).slice() if for_ else None
    [(_, ruling)] = judge_claim([Source("means", means).slice()], said, world_of(circuit))
    return ruling


def codes(ruling):
    return [each.kind.code for each in ruling.findings]


def plain(text):
    return text.replace("\u202f", " ")


@pytest.mark.parametrize(
    ("fact", "circuit", "means", "for_", "verdict"), CASES, ids=[case[0] for case in CASES]
)
def test_standard_facts(fact, circuit, means, for_, verdict):
    ruling = judged(circuit, means, for_)
    assert ruling.verdict.kind == verdict, fact
    assert ruling.verdict.evidence
    assert ruling.verdict.evidence[0].text
    wanted = {"true": [], "units-differ": ["units-differ"]}.get(verdict, ["refuted-claim"])
    assert codes(ruling) == wanted


def test_enough_facts_and_every_one_decided():
    assert len(CASES) >= 60
    kinds = [case[-1] for case in CASES]
    assert min(kinds.count(kind) for kind in ("true", "true-only-when", "wrong")) >= 5


@pytest.mark.parametrize(
    ("circuit", "means", "for_", "condition"),
    [
        (ONE, "P rises with R", None, "R < r"),
        (PAIR, "2 E_p = E_1 + E_2", None, "E_1 = E_2 or r_1 = r_2"),
        (PAIR, "I < E_1/(R + r_1)", "E_2 < E_1", "E_1 R > E_2 (R + r_1)"),
        (ROW, "I < n E/(R + r)", None, "n > 1"),
        (ONE, "V > 99 E/100", None, "R > 99 r"),
        (PACK, "I rises with m", "N fixed", "m² r < N R"),
        (PAIR, "I_1 > 0 and I_2 > 0", None, "E_1 (R + r_2) > E_2 R and E_1 R < E_2 (R + r_1)"),
    ],
)
def test_condition_of_what_is_said_too_widely(circuit, means, for_, condition):
    ruling = judged(circuit, means, for_)
    assert ruling.verdict.kind == "true-only-when"
    assert ruling.verdict.condition == condition
    assert condition in worded(ruling.findings[0]).help


def test_counterexample_in_small_numbers_with_units():
    ruling = judged(ONE, "V = E")
    evidence = ruling.verdict.evidence[0]
    assert plain(evidence.text) == "E = 6 V, R = 2 Ω and r = 1 Ω give V = 4 V."
    assert plain(evidence.values["R"]) == "2 Ω"
    assert plain(worded(ruling.findings[0]).message).startswith("Not always: E = 6 V")


def test_counterexample_of_a_trend_is_two_values():
    text = plain(judged(ONE, "P rises with R").verdict.evidence[0].text)
    assert text == "With E = 6 V and r = 1 Ω, R = 2 Ω gives P = 8 W, R = 3 Ω gives P = 6.75 W."


def test_counterexample_of_a_greatest_value_is_a_greater_one():
    text = plain(judged(ONE, "P is greatest when r = R", "R fixed").verdict.evidence[0].text)
    assert text == "With E = 6 V and R = 1 Ω, r = 1 Ω gives P = 9 W, r = 0.5 Ω gives P = 16 W."


def test_cells_in_a_counterexample_are_whole():
    values = judged(PACK, "I rises with m", "N fixed").verdict.evidence[0].text
    found = dict(
        piece.split(" = ") for piece in values.replace(" and ", ", ").split(", ") if piece.startswith("N")
    )
    assert Fraction(found["N"]).denominator == 1
    ruling = judged(PACK, "I is greatest when m = n", "N fixed")
    assert ruling.verdict.right == "I is greatest when m² r = N R"


def test_a_refuted_exactly_says_what_would_be_exact():
    ruling = judged(PAIR, "I_2 > 0 exactly when R < r_1", "E_1 > E_2")
    assert ruling.verdict.right == "I_2 > 0 exactly when E_1 R < E_2 (R + r_1)"
    assert "E_1 R < E_2 (R + r_1)" in worded(ruling.findings[0]).help


@pytest.mark.parametrize(
    ("circuit", "means", "text"),
    [
        (
            ONE,
            "V < E",
            "The larger side less the smaller is E r/(R + r), above nought for all positive values.",
        ),
        (ONE, "e does not depend on E", "E cancels out of e."),
        (
            ONE,
            "V falls with I",
            "Per unit of R, V changes by E r/(R + r)², I by −E/(R + r)²: the signs differ.",
        ),
        (
            ONE,
            "P rises with R when R < r",
            "Per unit of R, P changes by E² (r − R)/(R + r)³, above nought when R < r.",
        ),
        (ONE, "P is greatest when R = r", "When R changes, P rises as long as R < r, and falls once R > r."),
        (ODD, "resistance of odd = resistance of plain", "Both sides are the same expression."),
    ],
)
def test_proofs_a_class_can_read(circuit, means, text):
    assert judged(circuit, means).verdict.evidence[0].text == text


def test_what_it_is_proved_for():
    ground = judged(PAIR, "E_2 < E_p", "E_1 > E_2").verdict.ground
    assert ground == "for all positive values with E_1 > E_2"
    assert judged(PACK, "I is greatest when m r/n = R", "N fixed").verdict.ground.endswith("N fixed")


def test_numbers_with_units_take_the_scene():
    pair = PAIR.replace("E_1, r_1", "E_1 = 6 V, r_1 = 2 ohm").replace("E_2, r_2", "E_2 = 4.5 V, r_2 = 3 ohm")
    ruling = judged(pair, "I_2 > 0 exactly when R < 6 ohm")
    assert ruling.verdict.kind == "true"
    assert "as in this scene" in ruling.verdict.ground
    assert judged(pair, "I_2 > 0 exactly when R < 5 ohm").verdict.condition == "R < 5 or R ≥ 6"


def test_changing_a_named_letter():
    assert judged(PAIR, "I_2 falls with V by changing E_1").verdict.kind == "true"
    assert judged(PAIR, "I_2 rises with E_1").verdict.kind == "wrong"
    assert judged(SIDE, "P rises with I by changing n").verdict.kind == "true"


def test_every_line_is_a_statement_of_its_own():
    lines = [Source("a", "V < E").slice(), Source("b", "V > E").slice()]
    rulings = judge_claim(lines, None, world_of(ONE))
    assert [line.text for line, _ in rulings] == ["V < E", "V > E"]
    assert [ruling.verdict.kind for _, ruling in rulings] == ["true", "wrong"]
    assert judge_claim([], None, world_of(ONE)) == ()


def test_limits_are_claims_too():
    assert judged(PAIR, "E_p -> E_1 as r_2 -> infinity").verdict.kind == "true"
    assert judged(PAIR, "E_p -> E_2 as r_2 -> infinity").verdict.kind == "wrong"


@pytest.mark.parametrize(
    ("circuit", "means", "for_", "code"),
    [
        (ONE, "V falls strongly", None, "unread-claim"),
        (ONE, "V", None, "unread-claim"),
        (ONE, "V < E when R > r when r > 0", None, "unread-claim"),
        (ONE, "V < ", None, "unread-maths"),
        (ONE, "V/R r < E", None, "unclear-fraction"),
        (ONE, "V < E_9", None, "unknown-name"),
        (ONE, "current in Z < I", None, "unknown-name"),
        (ONE, "V < E + r", None, "unlike-terms"),
        (ONE, "V < E", "R < 0", "empty-condition"),
        (ONE, "V < E", "n = 2, 5, ...", "unread-claim"),
        (ONE, "V < E", "R -> 0 as R -> 0", "unread-claim"),
        (ONE, "V < E when " + "r " * 200 + "> 0", None, "unread-claim"),
    ],
)
def test_what_is_not_read_or_means_nothing(circuit, means, for_, code):
    ruling = judged(circuit, means, for_)
    assert ruling.verdict.kind in {"not-checked", "units-differ"}
    assert codes(ruling) == [code]
    assert worded(ruling.findings[0]).message
    assert ruling.findings[0].span.source in {"means", "for"}


@pytest.mark.parametrize(
    ("circuit", "means", "for_", "reason"),
    [
        ("A = cell E, r\nR = resistor\nmain = A + R", "E_A rises with the load", None, "there is no load to change"),
        (ODD.replace("across R", "across (R + S)").replace("R = resistor", "R, S = resistor"),
         "I rises with the load", None, "several letters"),
        (ONE, "V rises with I by changing I", None, "no letter of a part"),
        (ONE, "V rises with E by changing r", None, "E does not change with r"),
        (ONE, "P is greatest when R > r", None, "reached at an equation"),
        (ONE, "P is greatest when R + r = 0 ohm", None, "never reached"),
        (ONE, "V < E when R < 0 ohm", None, "never happens"),
        (ONE, "V < E", "n = 2, 3, ...", "no count"),
    ],
)  # fmt: skip
def test_what_can_not_be_judged_says_why(circuit, means, for_, reason):
    ruling = judged(circuit, means, for_)
    assert ruling.verdict.kind == "not-checked"
    assert codes(ruling) == ["unchecked-statement"]
    assert reason in worded(ruling.findings[0]).message


def test_neither_proved_nor_refuted_is_said_plainly(monkeypatch):
    monkeypatch.setattr(solver.importlib.util, "find_spec", lambda name: None)
    # Four means: true (arithmetic and geometric mean), but beyond the proofs that are tried.
    circuit = "R1, R2, R3 = resistor\nA = cell E, r\nmain = A across (R1 + R2 + R3)"
    ruling = judged(circuit, "R_1^4 + R_2^4 + R_3^4 + r^4 >= 4 R_1 R_2 R_3 r")
    assert ruling.verdict.kind == "not-checked"
    assert codes(ruling) == ["undecided-claim"]
    assert "No counterexample among" in worded(ruling.findings[0]).help


def read(text):
    phrases = Phrases(world_of(PAIR), (), ".", {})
    return read_claim(Source("x", text).slice(), phrases), phrases


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("I rises with R", Trend),
        ("I does not depend on R by changing r_1", Steady),
        ("I is least when R = r_1", Extreme),
        ("I < E_1 only when R > r_1", WhenClaim),
        ("I falls with R exactly when R > r_1 or R < r_2", WhenClaim),
    ],
)
def test_forms(text, kind):
    assert isinstance(read(text)[0], kind)


def test_phrases_stand_for_names_at_their_place():
    claimed, phrases = read("current in A + current in B = current in R")
    assert [text for text, _ in phrases.met.values()] == ["current in A", "current in B", "current in R"]
    assert phrases.said("Φ_pa + Φ_pb") == "current in A + current in B"
    assert claimed.parts[0].span.start == 0
    assert judged(PAIR, "current in A + current in B = current in R").verdict.kind == "true"
    assert judged(PAIR, "current in A - current in B = 0").verdict.kind == "true-only-when"


def test_scope():
    phrases = Phrases(world_of(PACK), (), ".", {})
    scope = read_scope(Source("x", "every load, R > r and n = 2, 3, ... and N fixed").slice(), phrases)
    assert len(scope.conditions) == 1
    assert scope.fixed == ("N",)
    assert scope.least == (("n", 2),)
