"""Textbook facts about cells and loads as claims: name, circuit, claim, what it is said for, verdict."""

from __future__ import annotations

ONE = "A = cell E, r\nR = resistor\nmain = A across R\nlet P = power in R\nlet e = efficiency of A"
ROW = "A = cell E, r\nR = resistor\nrow = n of A in series\nmain = row across R\nlet P = power in R"
SIDE = "A = cell E, r\nR = resistor\nside = n of A in parallel\nmain = side across R\nlet P = power in R"
BOTH = (
    "A = cell E, r\nR = resistor\nrow = n of A in series\nside = n of A in parallel\nin_row = row across R\n"
    "main = side across R"
)
PACK = (
    "A = cell E, r\nR = resistor\nrow = m of A in series\npack = n of row in parallel\nmain = pack across R\n"
    "let N = m n\nlet P = power in R"
)
PAIR = (
    "A = cell E_1, r_1\nB = cell E_2, r_2\nR = resistor\npair = A || B\nmain = pair across R\nlet I = current in R\n"
    "let E_p = emf of pair\nlet r_p = resistance of pair"
)
TWO = "A = cell E_1, r_1\nB = cell E_2, r_2\nR = resistor\ntwo = A + B\nmain = two across R"
ODD = (
    "A = cell E_1, r_1\nB = cell E_2, r_2\nR = resistor\nplain = A || B\nodd = A || -B\nmain = odd across R\n"
    "upright = plain across R"
)
DIVIDER = "A = cell E, r\nR1, R2 = resistor\nmain = A across (R1 + R2)\nlet P_1 = power in R1\nlet P_2 = power in R2"
SHUNTS = "A = cell E, r\nR1, R2 = resistor\nmain = A across (R1 || R2)\nlet P_1 = power in R1\nlet P_2 = power in R2"

# fact, circuit, means, for, verdict
CASES = (
    ("terminal p.d. rises with the load", ONE, "V rises with R", None, "true"),
    ("terminal p.d. rises with the load, in words", ONE, "V rises with the load", None, "true"),
    ("the current falls with the load", ONE, "I falls with R", None, "true"),
    ("the current is below the short-circuit current", ONE, "I < short-circuit current of A", None, "true"),
    ("efficiency rises with R", ONE, "e rises with R", None, "true"),
    ("efficiency is a half exactly when R = r", ONE, "e = 1/2 exactly when R = r", None, "true"),
    ("greatest load power at R = r", ONE, "P is greatest when R = r", None, "true"),
    ("power rises up to the match only", ONE, "P rises with R when R < r", None, "true"),
    ("power falls beyond the match", ONE, "P falls with R when R > r", None, "true"),
    ("power rises with the load exactly below the match", ONE, "P rises with R exactly when R < r", None, "true"),
    ("a larger load takes more power", ONE, "P rises with R", None, "true-only-when"),
    ("the misused matching rule: r chosen for a given load", ONE, "P is greatest when r = R", "R fixed", "wrong"),
    ("with the load given, less r is always better", ONE, "P falls with r", None, "true"),
    ("greatest power is E²/4r", ONE, "P <= E^2/(4 r)", None, "true"),
    ("greatest power by name", ONE, "P <= greatest power from A", None, "true"),
    ("efficiency does not depend on the EMF", ONE, "e does not depend on E", None, "true"),
    ("the current does depend on r", ONE, "I does not depend on r", None, "wrong"),
    ("terminal p.d. equals the EMF", ONE, "V = E", None, "wrong"),
    ("more than half the EMF outside exactly when R > r", ONE, "V > E/2 exactly when R > r", None, "true"),
    ("the total power is greatest at R = r", ONE, "E I is greatest when R = r", None, "wrong"),
    ("the heat in the cell falls with the load", ONE, "heat in A falls with R", None, "true"),
    ("lost volts rise with the current", ONE, "lost volts in A rises with I", None, "true"),
    ("doubling: a row of n like cells drives less than n times", ROW, "I < n E/(R + r)", "n = 2, 3, ...", "true"),
    ("... and for one cell just as much", ROW, "I < n E/(R + r)", None, "true-only-when"),
    ("a row's current rises with n", ROW, "I rises with n", None, "true"),
    ("a row into a load: power rises with n", ROW, "P rises with n", "n = 1, 2, 3, ...", "true"),
    ("side by side the current rises with n", SIDE, "I rises with n", None, "true"),
    ("side by side: below E/R", SIDE, "I < E/R", None, "true"),
    ("like cells side by side keep their EMF", SIDE, "emf of side does not depend on n", None, "true"),
    ("resistance falls with n", SIDE, "resistance of side falls with n", None, "true"),
    ("series beats parallel for like cells exactly when R > r", BOTH,
     "current in R when in_row > current in R exactly when R > r", "n = 2, 3, ...", "true"),
    ("parallel beats series exactly when R < r", BOTH,
     "current in R > current in R when in_row exactly when R < r", "n = 2, 3, ...", "true"),
    ("parallel always beats series", BOTH,
     "current in R > current in R when in_row", "n = 2, 3, ...", "true-only-when"),
    ("best arrangement of N cells", PACK, "I is greatest when m r/n = R", "N fixed", "true"),
    ("best arrangement for power too", PACK, "P is greatest when m r = n R", "N fixed", "true"),
    ("a square arrangement is best", PACK, "I is greatest when m = n", "N fixed", "wrong"),
    ("more in a row, more current, with N cells", PACK, "I rises with m", "N fixed", "true-only-when"),
    ("resistance of a pair below either", PAIR, "r_p < r_1 and r_p < r_2", None, "true"),
    ("EMF of a pair between the two", PAIR, "E_2 < E_p < E_1", "E_1 > E_2", "true"),
    ("EMF of a pair is at least the smaller", PAIR, "E_p >= E_1 or E_p >= E_2", None, "true"),
    ("EMF of a pair is the mean", PAIR, "2 E_p = E_1 + E_2", None, "true-only-when"),
    ("EMF of a pair is the mean of like resistances", PAIR, "2 E_p = E_1 + E_2", "r_1 = r_2", "true"),
    ("both cells always give current", PAIR, "I_1 > 0 and I_2 > 0", None, "true-only-when"),
    ("the stronger cell always gives current", PAIR, "I_1 > 0", "E_1 > E_2", "true"),
    ("the weaker one is charged exactly when V > E_2", PAIR, "I_2 < 0 exactly when V > E_2", None, "true"),
    ("the border of charging", PAIR, "I_2 < 0 exactly when R (E_1 - E_2) > r_1 E_2", None, "true"),
    ("the border of charging, by phrase", PAIR, "I_2 < 0 when R > R that makes I_2 = 0", "E_1 > E_2", "true"),
    ("a wrong border", PAIR, "I_2 > 0 exactly when R < r_1", "E_1 > E_2", "true-only-when"),
    ("a second cell in parallel lowers the current only when it is weak", PAIR,
     "I < E_1/(R + r_1) only when E_2 < E_1", None, "true"),
    ("... but being weaker is not enough", PAIR, "I < E_1/(R + r_1) when E_2 < E_1", None, "true-only-when"),
    ("EMFs in a row add", TWO, "emf of two = E_1 + E_2", None, "true"),
    ("one more in the row always raises the current", TWO, "I > E_1/(R + r_1)", None, "true-only-when"),
    ("... exactly when its own short-circuit current is larger", TWO,
     "I > E_1/(R + r_1) exactly when E_2/r_2 > E_1/(R + r_1)", None, "true"),
    ("... exactly when its terminal p.d. stays positive", TWO, "I > E_1/(R + r_1) exactly when V_B > 0", None, "true"),
    ("turning a cell leaves the resistance", ODD, "resistance of odd = resistance of plain", None, "true"),
    ("turning a cell lowers the current", ODD, "current in R < current in R when upright", None, "true"),
    ("resistors in series: the larger takes more power", DIVIDER, "P_1 > P_2 exactly when R1 > R2", None, "true"),
    ("side by side: the smaller takes more power", SHUNTS, "P_1 > P_2 exactly when R1 < R2", None, "true"),
    ("side by side: the larger takes more power", SHUNTS, "P_1 > P_2 exactly when R1 > R2", None, "true-only-when"),
    ("two side by side are below each", SHUNTS, "R1 R2/(R1 + R2) < R1 and R1 R2/(R1 + R2) < R2", None, "true"),
    ("harmonic below arithmetic mean", SHUNTS, "2 R1 R2/(R1 + R2) <= (R1 + R2)/2", None, "true"),
    ("one of two is the larger or they are equal", SHUNTS, "R1 > R2 or R1 = R2 or R1 < R2", None, "true"),
    ("turning a cell in a pair lowers the size of the current", ODD,
     "abs(current in R) < current in R when upright", None, "true"),
    ("the load current is at least as large as B's in size", PAIR, "I >= abs(I_2)", None, "true-only-when"),
    ("a p.d. is no current", ONE, "V < I", None, "units-differ"),
)  # fmt: skip
