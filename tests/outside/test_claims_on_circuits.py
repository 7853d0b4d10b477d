"""The claims of the trade once more, stated on circuits in the lesson language: same keys, same verdicts.

Verdicts are those of the labelled list; what the language can't state (a voltmeter moved about, heat at a given output
power, nested sizes) stays with the formulas in `test_claims.py`.
"""

from __future__ import annotations

import pytest

from boardproof.kit.claim import judge_words

ONE = (
    "A = cell E, r; R = resistor; main = A across R; let P = power in R; let eta = efficiency of A; "
    "let T = power given by A"
)
TWO = (
    "A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; two = A + B; main = two across R; "
    "let J = current in R when short B; let I_x = current in R when turn B"
)
PAIR = (
    "A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; both = A || B; main = both across R; let E_p = emf of both; "
    "let r_p = resistance of both; let J = current in R when remove B; let I_x = current in R when turn B; "
    "let I_a = current in R when no emf in B; let I_b = current in R when no emf in A; "
    "let I_0 = current in A when remove R; let W = power in R"
)
LIKE = (
    "A = cell E, r; R = resistor; row = n of A in series; side = n of A in parallel; main = A across R; "
    "let I_s = current in R when row across R; let I_p = current in R when side across R; "
    "let e_s = efficiency of row when row across R; let e_p = efficiency of side when side across R"
)
PACK = (
    "A = cell E, r; R = resistor; row = s of A in series; pack = p of row in parallel; "
    "main = pack across R; let N = s p"
)
BRIDGE = (
    "X = cell E, r\nP, Q, S, T, G = resistor\nnetwork web\n  P from a to b\n  Q from b to d\n  S from a to c\n"
    "  T from c to d\n  G from b to c\n  X from d to a\nweb\nlet I_m = current in G\n"
    "let J = current in X when remove G"
)
LAMPS = (
    "A = cell E, r; R_1, R_2 = resistor; main = A across (R_1 + R_2); let P_1 = power in R_1; "
    "let P_2 = power in R_2"
)
METERS = (
    "A = cell E, r; R = resistor; M = ammeter R_A; U = voltmeter R_V; main = A across R; "
    "let I_m = current in R when A across (R + M); let V_u = p.d. across R when A across (R || U); "
    "let I_u = current in A when A across (R || U); let V_alone = p.d. across U when A across U"
)
DIVIDER = (
    "A = cell E, r; R_1, R_2 = resistor; D = resistor; C = capacitor; "
    "main = A across (R_1 + (R_2 || (C + D))); let Q = charge on C"
)
COUNT = "n = 2, 3, ..."
PACKS = "s = 2, 3, ... and p = 2, 3, ..."

CASES = (
    ("one-2", ONE, "V rises with R", None, "always"),
    ("one-4", ONE, "P rises with R", None, "only when"),
    ("one-4", ONE, "A larger load takes more power.", None, "only when"),
    ("one-6", ONE, "eta is greatest when R = r", None, "not always"),
    ("one-7", ONE, "eta = 1/2 exactly when R = r", None, "always"),
    ("one-8", ONE, "P falls with r", None, "always"),
    ("one-9", ONE, "T is greatest when R = r", None, "not always"),
    ("one-17", METERS, "V_alone < E", None, "always"),
    ("ser-1", LIKE, "I_s > I_A", COUNT, "always"),
    ("ser-1", LIKE, "n like cells in series drive more current than one.", None, "always"),
    ("ser-4", TWO, "I > J", None, "only when"),
    ("ser-4", TWO, "Adding B raises the current.", None, "only when"),
    ("ser-6", TWO, "I < J exactly when V_B < 0", None, "always"),
    ("ser-7", TWO, "abs(I_x) < I", None, "always"),
    ("ser-7", TWO, "Turning B lowers the size of the current.", None, "always"),
    ("ser-8", TWO, "I_x > 0", None, "only when"),
    ("par-1", PAIR, "r_p < r_1 and r_p < r_2", None, "always"),
    ("par-2", PAIR, "E_2 < E_p and E_p < E_1", "E_1 > E_2", "always"),
    ("par-3", PAIR, "2 E_p = E_1 + E_2", None, "only when"),
    ("par-8", PAIR, "I < J", "E_2 < E_1", "only when"),
    ("par-9", PAIR, "I_2 < 0", "E_1 > E_2", "only when"),
    ("par-14", PAIR, "I_0 = 0", None, "only when"),
    ("par-15", PAIR, "E_p/(R + r_p) = I", None, "always"),
    ("par-16", PAIR, "I_1^2 r_1 + I_2^2 r_2 = I^2 r_p", None, "only when"),
    ("par-18", PAIR, "4 r_p I^2 R <= E_p^2", None, "always"),
    ("par-18", PAIR, "W <= greatest power from both", None, "always"),
    ("par-19", PAIR, "greatest power from both >= greatest power from A", None, "only when"),
    ("par-21", PAIR, "(E_1 + E_2)^2/(r_1 + r_2) <= E_1^2/r_1 + E_2^2/r_2", None, "always"),
    ("par-22", PAIR, "E_1 I_1 + E_2 I_2 = I^2 R + I_1^2 r_1 + I_2^2 r_2", None, "always"),
    ("par-23", PAIR, "I_a^2 R + I_b^2 R = I^2 R", None, "never"),
    ("par-25", PAIR, "abs(I_x) < I", None, "always"),
    ("par-26", PAIR, "J > abs(I_x)", None, "only when"),
    ("par-28", PAIR, "V > E_2 exactly when I_2 < 0", None, "always"),
    ("n-1", LIKE, "I_p > I_s", COUNT, "only when"),
    ("n-1", LIKE, "I_p > I_s exactly when R < r", COUNT, "always"),
    ("n-2", LIKE, "I_p = I_s when R = r", COUNT, "always"),
    ("n-3", LIKE, "I_p = n I_A", COUNT, "never"),
    ("n-4", LIKE, "I_p > I_A", COUNT, "always"),
    ("n-5", LIKE, "e_p > e_s", COUNT, "always"),
    ("n-6", LIKE, "I_p > I_s exactly when e_p > e_s", COUNT, "only when"),
    ("mix-1", PACK, "I^2 <= s p E^2/(4 R r)", PACKS, "always"),
    ("mix-1", PACK, "I is greatest when s r/p = R", "N fixed", "always"),
    ("br-1", BRIDGE, "I_m = 0 exactly when R_P R_T = R_Q R_S", None, "always"),
    ("br-5", BRIDGE, "I_X = J", None, "only when"),
    ("res-1", LAMPS, "R_1 || R_2 < R_1", None, "always"),
    ("res-3", LAMPS, "P_1 > P_2 exactly when R_1 > R_2", None, "always"),
    ("res-3", LAMPS, "R_1 is brighter than R_2 exactly when R_1 > R_2", None, "always"),
    ("met-1", METERS, "I_m < I", None, "always"),
    ("met-2", METERS, "V_u < V and I_u < I", None, "never"),
    ("met-3", METERS, "R R_V/(R + R_V) < R", None, "always"),
    ("cap-2", DIVIDER, "Q does not depend on D", None, "always"),
)  # fmt: skip


@pytest.mark.parametrize(
    ("key", "circuit", "claim", "scope", "verdict"), CASES, ids=[f"{row[0]} {row[2]}" for row in CASES]
)
def test_claim_on_a_circuit(key, circuit, claim, scope, verdict):
    found = judge_words(claim, circuit, scope)
    assert not found.findings, (key, found.findings)
    assert found.verdict == verdict, (key, found.lines)
    assert all(each.ruling.verdict.evidence for each in found.lines)
