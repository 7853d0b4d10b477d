"""Every formula of the five lessons on the weather buoy, and statements as other teachers type them, can be read."""

from __future__ import annotations

from xml.etree.ElementTree import fromstring

import pytest

from boardproof.algebra.show import mathml, plain, spoken, typst
from boardproof.algebra.written import read_lines
from boardproof.source import Source

LESSONS = (
    "V = E if I = 0",
    "V = 1.25 V",
    r"V = E - I r \tag{cell rule}",
    "I r",
    "I = E/(R + r) = 1.5 V/(2.5 ohm + 0.5 ohm) = 0.5 A",
    "I r = 0.25 V",
    "V = 1.5 V - 0.25 V = 1.25 V",
    "E I = 0.75 W",
    "V I = 0.625 W",
    "r",
    "1.4 V - 1.25 V = 0.15 V",
    "0.5 A - 0.2 A = 0.3 A",
    "r_X = 0.15 V/0.3 A = 0.5 ohm",
    "E_X = 1.25 V + 0.5 A * 0.5 ohm = 1.5 V",
    r"E_s = E_1 + E_2, r_s = r_1 + r_2 \tag{cells in series}",
    "E_s = 1.5 V + 1.2 V = 2.7 V",
    "r_s = 0.5 ohm + 0.4 ohm = 0.9 ohm",
    "R = 4.5 ohm",
    "I = E_s/(R + r_s) = 2.7 V/5.4 ohm = 0.5 A",
    "V = E_s - I r_s = 2.7 V - 0.45 V = 2.25 V",
    "V_1 = 1.25 V",
    "V_2 = 1 V",
    "I_single = 0.3 A",
    "n",
    "E_line = n E, r_line = n r",
    "I = n E/(R + n r)",
    "I = (4 * 1.5 V)/(10 ohm + 4 * 0.5 ohm) = 6 V/12 ohm = 0.5 A",
    "I -> E/r as n -> infinity",
    "I_s",
    "r_p",
    r"\frac{E_p}{r_p} = \frac{E_1}{r_1} + \frac{E_2}{r_2}, \qquad \frac{1}{r_p} = \frac{1}{r_1} \tag{parallel cells}",
    "r_p = (2 * 3)/(2 + 3) = 1.2 ohm",
    "I_s = 6 V/2 ohm + 4.5 V/3 ohm = 3 A + 1.5 A = 4.5 A",
    "E_p = 4.5 A * 1.2 ohm = 5.4 V",
    "I = E_p/(R + r_p) = 1 A",
    "V = 4.2 V",
    "I_1 = (E_1 - V)/r_1 = 0.9 A",
    "I_2 = 0.1 A",
    "R = 9.6 ohm",
    "I = 0.5 A",
    "V = 4.8 V",
    "I_2 = (4.5 V - 4.8 V)/3 ohm = -0.1 A",
    "E_p -> E_1 as r_2 -> infinity",
    "E_p -> E_2 as r_2 -> 0",
    "E_p = E_1, r_p = r_1/2 if E_2 = E_1 and r_2 = r_1",
    r"E_many = \frac{E_1/r_1 + E_2/r_2 + \dots + E_n/r_n}{1/r_1 + 1/r_2 + \dots + 1/r_n}",
    "E_line = 2 E = 3 V",
    "r_line = 4 r = 2 ohm",
    "I = (4 E - 2 E)/(R + 4 r) = 3 V/12 ohm = 0.25 A",
    "I_good = 0.5 A",
    "1/r_t = 1/r_1 + 1/r_2",
    r"\frac{E_t}{r_t} = \frac{E_1}{r_1} - \frac{E_2}{r_2} \tag{reversed cell}",
    "E_t/r_t = 3 A - 1.5 A = 1.5 A",
    "r_t = 1.2 ohm",
    "E_t = 1.8 V",
    "I = 1.8 V/(2.4 ohm + 1.2 ohm) = 0.5 A",
    "I_1 = (6 V - 1.2 V)/2 ohm = 2.4 A",
    "I_2 = (4.5 V + 1.2 V)/3 ohm = 1.9 A",
    "I = I_1 - I_2",
    "E_1 r_1 = E_2 r_2",
    "V_M = 0",
    "V_M = 1.5 V",
    "V_M = -1.5 V",
    "I",
    "I_b = 1.5 V/(1 ohm + 0.5 ohm) = 1 A",
    "E_row = m E",
    "r_row = m r",
    r"E_pack = m E, r_pack = m r/n \tag{rows and columns}",
    r"I = \frac{m E}{R + m r/n}",
    "E_pack = 12 V",
    "r_pack = 0.8 ohm",
    "I = 12 V/4.8 ohm = 2.5 A",
    "V = 10 V",
    "3 A/0.75 A = 4",
    "1.5 V - 0.75 A * 0.4 ohm = 1.2 V",
    "12 V/1.2 V = 10",
    "E_pack = 10 * 1.5 V = 15 V",
    "r_pack = (10 * 0.4 ohm)/4 = 1 ohm",
    "I = 15 V/(4 ohm + 1 ohm) = 3 A, V = 12 V, I_row = 0.75 A",
    "I = 30 V/8 ohm = 3.75 A",
    "I_row = 1.875 A",
    "E_pack.2 = 12 V",
    "E_pack.1 = 15 V",
    "V = 11.4 V, I = 2.85 A",
    "I_row = (15 V - 11.4 V)/4 ohm = 0.9 A",
    "I_bad = (12 V - 11.4 V)/4 ohm = 0.15 A",
)

STATEMENTS = (
    r"E_p = \dfrac{E_1 r_2 + E_2 r_1}{r_1 + r_2}",
    r"I_1 = \frac{E_1 - V}{r_1}",
    "r_p < r_1",
    r"V = \frac{E_1/r_1 + E_2/r_2}{1/r_1 + 1/r_2 + 1/R}",
    r"E_p - E_2 = \frac{r_2}{r_1 + r_2}\,(E_1 - E_2)",
    r"r_p \le \tfrac14 (r_1 + r_2)",
    r"E_p = \frac{E_1 r_2 r_3 + E_2 r_3 r_1 + E_3 r_1 r_2}{r_1 r_2 + r_2 r_3 + r_3 r_1}",
    r"E_p = \frac{E_1 r_2 - E_2 r_1}{r_1 + r_2}",
    "-E_2 < E_p < E_1",
    r"P \le \frac{(E_1+E_2)^2}{4 (r_1 + r_2)} \text{ for all } R > 0",
    "E_s = E_1 + E_2 + E_3",
    r"I = \frac{6E}{2R + 3r}",
    r"E_p = \frac{(E_1 + E_2) r_3 + E_3 (r_1 + r_2)}{r_1 + r_2 + r_3}",
    r"E_p = \frac{E_1 + E_2}{2}",
    "E_p = E_1",
    "r_p = r_1/2",
    "I_1 > I_2",
    "E_p = 0",
    r"E_p = \frac{E_1 - E_2}{2}",
    "V_1 = V_2",
    "P > I^2 (r_1 + r_2)",
    "I = 0 for every load",
    "V_2 > E_2",
    r"r_p = \frac{1}{r_1} + \frac{1}{r_2}",
    r"\frac{1}{r_p} = r_1 + r_2",
    "P = I R",
    r"I = \frac{E_1 r_2 + E_2 r_1}{r_1 r_2 + R}",
    r"I = \frac{E_1 + E_2}{R + r_1 r_2}",
    "E_1 I = I r_1 + V_1 I",
    "V_2 = E_2 + I/r_2",
    r"I = \frac{6E}{2R + 3}",
    "r_p = r_1 + r_2",
    "(E_p - E_1)(E_p - E_2) > 0",
    "V = E_p with the load connected",
    "I = E_1/(R + r_1) for all loads R",
    r"\frac{1}{r_p} = \frac{1}{r_1} - \frac{1}{r_2}",
    r"I = \frac{E_1 + E_2}{R}",
    r"V \ge E_1 + E_2",
    r"r_g = \tfrac{2}{3} r",
)

KNOWN = {"I", "R", "r", "E", "V", "P", "n", "m", "E_1", "E_2", "r_1", "r_2"}


@pytest.mark.parametrize("typed", [*LESSONS, *STATEMENTS])
def test_it_is_read_and_reads_the_same_when_written_again(typed):
    lines, found = read_lines(Source("x", typed).slice(), known=KNOWN)
    assert not found
    assert lines
    for line in lines:
        again, found = read_lines(Source("x", plain(line)).slice(), known=KNOWN)
        assert not found, plain(line)
        assert again == (line,)


@pytest.mark.parametrize("typed", [*LESSONS, *STATEMENTS])
def test_every_part_has_its_place(typed):
    lines, _ = read_lines(Source("x", typed).slice(), known=KNOWN)
    for line in lines:
        for statement in line.statements:
            assert statement.span is not None
            assert 0 <= statement.span.start < statement.span.end <= len(typed)


def test_all_formulas_are_set_by_the_typesetter():
    import typst as compiler  # slow to load

    pieces = []
    for typed in (*LESSONS, *STATEMENTS):
        lines, _ = read_lines(Source("x", typed).slice(), known=KNOWN)
        pieces += [f"$ {typst(line)} $\n\n${typst(line, display=False)}$" for line in lines]
    assert compiler.compile("\n\n".join(pieces).encode(), format="pdf").startswith(b"%PDF")


def test_all_formulas_are_well_formed_for_screens_and_have_words():
    for typed in (*LESSONS, *STATEMENTS):
        lines, _ = read_lines(Source("x", typed).slice(), known=KNOWN)
        for line in lines:
            assert fromstring(mathml(line)).tag == "math"
            assert spoken(line)
            assert not set(spoken(line)) & set("=<>≤≥∥√/^_")
