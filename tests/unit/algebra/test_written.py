"""What is read, what is refused with which words, and where the finding points."""

from __future__ import annotations

from fractions import Fraction

import pytest

from boardproof.algebra import meaning
from boardproof.algebra.expression import (
    Condition,
    Infinity,
    Limit,
    Name,
    Negative,
    Number,
    Parallel,
    Product,
    Quotient,
    Relation,
    Sum,
    SumOver,
    names_in,
)
from boardproof.algebra.kinds import KINDS
from boardproof.algebra.written import read_line, read_lines
from boardproof.findings import worded
from boardproof.quantities import OHM, VOLT
from boardproof.source import Slice, Source, Span

KNOWN = {"I", "R", "r", "E", "V", "n", "E_1", "r_2"}


def read(typed, decimal="."):
    line, found = read_line(Source("x", typed).slice(), known=KNOWN, decimal=decimal)
    assert not found, [worded(each).message for each in found]
    return line


def bare(typed, decimal="."):
    (tree,) = read(typed, decimal).bare
    return tree


def refused(typed, decimal="."):
    line, (finding,) = read_line(Source("x", typed).slice(), known=KNOWN, decimal=decimal)
    assert line is None
    return finding


@pytest.mark.parametrize(
    ("typed", "same"),
    [
        ("ε_1", "E_1"),
        (r"\varepsilon_{1}", "E1"),
        (r"\mathcal{E}_1", "E₁"),
        (r"E_\text{p}", "E_p"),
        (r"E_{\mathrm{p}}", r"\epsilon_p"),
        ("I²r", "I^2*r"),
        (r"I^{2} \cdot r", "I^2 × r"),
        ("IR", "I R"),
        ("E_1r_2", "E_1 r_2"),
        ("6 V/2 ohm", "6V/2Ω"),
        (r"5\,\mathrm{mA}", "5 milliamperes"),
        (r"\frac12 r", "(1/2) r"),
        (
            r"\tfrac14\left(r + R\right)",
            "(1/4)(R*0 + r + R - R*0)".replace("R*0 + ", "").replace(" - R*0", ""),
        ),
        (r"\dfrac{E}{R+r}", "E/(R + r)"),
        ("R_1 ∥ R_2", r"R_1 \parallel R_2"),
        (r"\lvert I \rvert", "abs(I)"),
        (r"\sqrt{R r}", "sqrt(R*r)"),
        ("10 000 ohm", "10000 Ω"),
        ("[E - V]/r", "(E − V)÷r"),
        ("r_1 + ... + r_n", r"r_1 + \dots + r_n"),
    ],
)
def test_spellings_that_read_alike(typed, same):
    assert bare(typed) == bare(same)


def test_a_number_keeps_its_unit_figures_and_place():
    number = bare("0.50 kohm")
    assert (number.value, number.figures, number.place) == (Fraction(500), 2, Fraction(10))
    assert number.unit.symbol == "kΩ"
    assert bare("1/3 ohm") == Number(Fraction(1, 3), number.unit.__class__("Ω", OHM))
    assert bare("2×10^3 V").value == 2000
    assert bare("2 V").unit.dimension == VOLT
    assert bare("2*V") == Product((Number(Fraction(2), figures=1, place=Fraction(1)), Name("V")))


def test_a_letter_after_a_number_is_a_unit_only_if_it_stands_alone():
    assert isinstance(bare("2 V_1"), Product)
    assert isinstance(bare("2 E"), Product)
    assert isinstance(bare("I^2 V"), Product)


def test_from_left_to_right_where_a_sign_says_so():
    assert bare("V/R*r") == Product((Quotient(Name("V"), Name("R")), Name("r")))
    assert bare("E_1 r_2/(R + r)").over == Product((Name("E_1"), Name("r_2")))


def test_a_chain_is_counted_and_a_list_is_parted():
    line = read("I = E/(R + r) = 0.5 A, V = 1.25 V and r = 0.5 ohm")
    assert [relation.chain for relation in line.statements] == [0, 1, 0, 0]
    assert [relation.sign for relation in read("E_2 < E_p <= E_1").statements] == ["<", "≤"]


@pytest.mark.parametrize(
    ("typed", "word", "count"),
    [
        ("V = E if I = 0", "if", 1),
        ("V = E  when r_1 = r_2 and E_1 = E_2", "if", 2),
        ("P < E \\text{ for all } R > 0", "if", 1),
        ("I = 0 for every load", "every load", 0),
        ("I = E/(R + r) for all loads R", "every load", 0),
        ("V = E with no load", "no load", 0),
        ("V = E with the load connected", "with load", 0),
        ("V = E with the load", "with load", 0),
        ("V = E only when I = 0", "only when", 1),
        ("I_2 > 0 exactly when R < r", "exactly when", 1),
        ("I = 2 A here", "here", 0),
    ],
)
def test_conditions(typed, word, count):
    condition = read(typed).condition
    assert isinstance(condition, Condition)
    assert (condition.word, len(condition.statements)) == (word, count)


def test_limits_sums_and_tags():
    (limit,) = read("I -> E/r as n -> infinity").statements
    assert limit == Limit(Name("I"), Quotient(Name("E"), Name("r")), "n", Infinity())
    assert read(r"I \to E/r as n \to \infty").statements == (limit,)
    assert bare(r"\sum_{k=1}^{n} E_k/r_k") == SumOver("k", 1, Name("n"), Quotient(Name("E_k"), Name("r_k")))
    line = read(r"V = E - I r \tag{cell rule}")
    assert line.tag == "cell rule"
    assert line.statements == (
        Relation(Name("V"), "=", Sum((Name("E"), Negative(Product((Name("I"), Name("r"))))))),
    )
    assert bare("(R_1 || R_2) + R_3") == Sum((Parallel((Name("R_1"), Name("R_2"))), Name("R_3")))


def test_a_comment_and_a_comma_at_the_end_are_left_out():
    assert read("V = E - I r,  # the cell rule").statements == read("V = E - I r").statements


def test_lines_of_a_display_block():
    block = "\\begin{aligned}\nV &= E - I r \\\\\n  &= 1.25 V\n\\end{aligned}"
    lines, found = read_lines(Source("x", "V &= E - I r \\\\ I &= V/R").slice(), known=KNOWN)
    assert (len(lines), found) == (2, ())
    assert lines[1].statements[0].left == Name("I")
    (line,), found = read_lines(
        Source("x", block).slice(), known=KNOWN
    )  # a row may go on with the one above it
    assert (len(line.statements), line.statements[1].chain, found) == (2, 1, ())
    assert (
        len(read_lines(Source("x", "= E - I r").slice(), known=KNOWN)[1]) == 1
    )  # but nothing begins with a sign


REFUSED = [
    ("V/R r", "unclear-fraction", {"first": "V/(R r)", "second": "(V/R) r"}),
    ("E/2r", "unclear-fraction", {"first": "E/(2 r)", "second": "(E/2) r"}),
    ("a/b/c", "unclear-fraction", {"first": "a/(b/c)", "second": "(a/b)/c"}),
    ("2E3", "unclear-power-of-ten", {"first": "2 E_3", "second": "2×10^3"}),
    ("1.5e3 V", "unclear-power-of-ten", {"second": "1.5×10^3"}),
    ("1,5 V", "decimal-mark", {"right": "1.5"}),
    (r"\binom{E}{r}", "unread-command", {"word": "\\binom"}),
    (r"\fraction{E}{r}", "unread-command", {"near": "\\frac or \\tfrac or \\dfrac"}),
    ("Е_1 = 2 V", "look-alike", {"latin": "E"}),  # a Cyrillic letter
    ("R_1 || R_2 + R_3", "unclear-grouping", {"first": "+"}),
    ("R_3 + R_1 || R_2", "unclear-grouping", {"first": "+"}),
    ("2 R_1 || R_2", "unclear-grouping", {}),
    ("I^9", "unread-power", {"power": "9"}),
    ("I^R", "unread-power", {"power": "R"}),
    ("(" * 41 + "I" + ")" * 41, "deep-maths", {"most": "40"}),
    ("I + " * 101 + "I", "overlong-maths", {"most": "400"}),
    ("1234567890123456", "long-number", {"length": "16"}),
    ("", "unread-maths", {}),
    ("I = ", "unread-maths", {}),
    ("2 3", "unread-maths", {}),
    ("I 3", "unread-maths", {}),
    ("(I", "unread-maths", {}),
    ("I)", "unread-maths", {}),
    ("I = 5 %", "unread-maths", {}),
    ("V = E if I", "unread-maths", {}),
    ("x^2^3", "unread-maths", {}),
]


@pytest.mark.parametrize(("typed", "code", "facts"), REFUSED)
def test_what_is_refused_and_why(typed, code, facts):
    finding = refused(typed)
    assert finding.kind is KINDS[code]
    assert facts.items() <= dict(finding.facts).items()
    assert worded(finding).message


def test_letters_that_can_be_cut_in_two_ways():
    known = {"E", "r", "Er", "rE", "EE"}
    _, (finding,) = read_line(Source("x", "ErE").slice(), known=known)
    assert finding.kind.code == "unclear-letters"
    assert finding.facts["first"] != finding.facts["second"]
    line, _ = read_line(Source("x", "Er").slice(), known=known)
    assert line.bare == (Name("Er"),)  # a known whole name goes first


def test_a_course_with_a_decimal_comma():
    assert bare("1,5 V", ",").value == Fraction(3, 2)
    assert len(read("I = 1, V = 2", ",").statements) == 2


def test_the_place_of_a_finding_and_of_a_part_is_exact():
    text = r"see $V = \frac{E}{R} + Е$ here"
    start, end = text.index("$") + 1, text.rindex("$")
    _, (finding,) = read_line(Slice(text[start:end], Span("x", start, end)), known=KNOWN)
    assert text[finding.span.start : finding.span.end] == "Е"
    assert finding.edit.changes == ((finding.span, "E"),)
    typed = r"V = \frac{E_1}{r_2} - I r"
    (relation,) = read(typed).statements
    quotient, lost = relation.right.terms
    assert typed[quotient.span.start : quotient.span.end] == r"\frac{E_1}{r_2}"
    assert typed[quotient.over.span.start : quotient.over.span.end] == "E_1"
    assert typed[lost.span.start : lost.span.end] == "- I r"


def test_every_kind_has_a_page_and_words_without_holes():
    for kind in KINDS.values():
        assert "Before" in kind.page
        assert "After" in kind.page


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        (r"\frac{33}{20}\,\mathrm{A}", "33/20"),
        (r"\tfrac14\,\text{mA}", "1/4000"),
        (r"(10 * 4)/(10 + 4)\,\mathrm{k\Omega}", "20000/7"),
        (r"\frac{4}{2} kohm", "2000"),
        (r"5 \cdot 10^{-4}\,\mathrm{A}", "1/2000"),
        (r"10^4\,\Omega", "10000"),
        (r"500\,\mu A", "1/2000"),
    ],
)
def test_a_unit_behind_a_bracket_or_a_power(typed, value):
    line, found = read_line(Source("x", typed).slice(), known={"V", "I"})
    assert found == ()
    assert meaning.number(line.bare[0]) == Fraction(value)


def test_a_letter_behind_letters_or_that_is_known_is_no_unit():
    line, _ = read_line(Source("x", r"\frac{1}{2} V + (R + r) A").slice(), known={"V"})
    assert {name.text for name in names_in(line.bare[0])} == {"V", "R", "r", "A"}


def test_dots_stand_between_plus_signs():
    assert refused("E_1 - ... + E_n").facts["reason"] == "three dots stand between plus signs"
