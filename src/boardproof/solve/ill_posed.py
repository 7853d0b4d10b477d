"""Why a question about a circuit has no answer: the kinds of finding, and the structure that shows the cause.

Causes are found from how the parts are joined, before anything is solved, and name the parts. Everything that the
cause does not touch is still answered.
"""

from __future__ import annotations

from collections.abc import Iterable

from boardproof.circuit.network import Branch
from boardproof.findings import Finding, Kind, Kinds, Severity
from boardproof.source import Span

__all__ = ["KINDS", "NoAnswer", "because", "listed", "place_of"]


def _kind(
    code: str, page: str, severity: Severity = "error", message: str = "{what}", help_: str = "{mend}"
) -> Kind:
    """A row; most say what would have to happen and why it can't, and the one change that mends it."""
    return Kind(code, severity, message, help_, page)


def _page(why: str, sample: str, better: str) -> str:
    indented = ["".join(f"    {line}\n" for line in text.splitlines()) for text in (sample, better)]
    return f"{why}\n\n{indented[0]}\nput right:\n\n{indented[1]}"


KINDS = Kinds(
    [
        _kind(
            "clashing-sources",
            _page(
                "A source without resistance holds its p.d. whatever the current. Two of them between the same ends "
                "can't both hold theirs, so no current and no p.d. there means anything. Everything that does not "
                "hang on these ends is still answered.",
                "X = source 6 V\nY = source 9 V\nR = resistor 10 ohm\nmain = (X || Y) across R",
                "X = cell 6 V, 1 ohm\nY = source 9 V\nR = resistor 10 ohm\nmain = (X || Y) across R",
            ),
        ),
        _kind(
            "shorted-source",
            _page(
                "A wire gives both its ends one potential; a source without resistance keeps them apart. With a real "
                "cell the short-circuit current E/r settles it.",
                "X = source 6 V\nW = wire\nmain = X across W",
                "X = cell 6 V, 1 ohm\nW = wire\nmain = X across W",
            ),
        ),
        _kind(
            "wire-loop",
            _page(
                "Round a loop without resistance any current could go, and nothing would stop it. The p.d.s are fixed, "
                "and so is every current outside the loop.",
                "A = cell 6 V, 1 ohm\nW = wire\nN = ammeter\nmain = A across (W || N)",
                "A = cell 6 V, 1 ohm\nW = wire\nN = ammeter 0.1 ohm\nmain = A across (W || N)",
            ),
        ),
        _kind(
            "floating-part",
            _page(
                "A part that nothing joins to the rest has no p.d. to it, as a voltmeter with one lead in the air "
                "reads nothing that means anything.",
                "A = cell 6 V, 1 ohm\nR = resistor 10 ohm\nS = switch\nM = voltmeter\nmain = A across (R + S + M)",
                "A = cell 6 V, 1 ohm\nR = resistor 10 ohm\nS = switch closed\nM = voltmeter\n"
                "main = A across (R + S + M)",
            ),
        ),
        _kind(
            "no-closed-path",
            _page(
                "A group that is open inside has no EMF and no resistance between its ends.",
                "A = cell 6 V, 1 ohm\nS = switch\nR = resistor 10 ohm\nrow = A + S\nmain = row across R\n"
                "let E = emf of row",
                "A = cell 6 V, 1 ohm\nS = switch closed\nR = resistor 10 ohm\nrow = A + S\nmain = row across R\n"
                "let E = emf of row",
            ),
        ),
        _kind(
            "not-fixed",
            _page(
                "Each letter without a value needs a reading of its own; a reading that follows from the others adds "
                "nothing. One current through a cell fixes E and r together, not each.",
                "A = cell\nR = resistor 5 ohm\nmain = A across R\ngiven I = 1 A",
                "A = cell\nR = resistor 5 ohm\nmain = A across R\ngiven I = 1 A, E_A = 6 V",
            ),
            message="The readings leave {letters} open.",
            help_="One more would fix it: {which}.",
        ),
        _kind(
            "impossible-value",
            _page(
                "No resistance is below nought, and a number of cells is whole. A reading that asks for such a value "
                "is misread, or the circuit is another one.",
                "A = cell E = 6 V\nR = resistor 5 ohm\nmain = A across R\ngiven I = 2 A",
                "A = cell E = 6 V\nR = resistor 5 ohm\nmain = A across R\ngiven I = 1 A",
            ),
            message="{letter} = {value} cannot be.",
            help_="{forced}",
        ),
        _kind(
            "clashing-readings",
            _page(
                "Readings of one circuit must agree with each other. Rounded ones may not, if there are more of them "
                "than letters; then it is a case for a fit.",
                "A = cell E = 6 V\nR = resistor 5 ohm\nmain = A across R\ngiven I = 1 A, V = 4 V",
                "A = cell E = 6 V\nR = resistor 5 ohm\nmain = A across R\ngiven I = 1 A, V = 5 V",
            ),
            message="No value of {letters} fits all the readings.",
            help_="{which}",
        ),
        _kind(
            "no-value",
            "Letters may stand without values, and then answers come in letters. A number needs them all.\n\n"
            "Before: `R = resistor` and the question for a current in amperes\n\n"
            "After: `take main but R = 10 ohm`",
            "warning",
            "There is no value for {letter}, so {what} has no number.",
            "Give it one: `but {letter} = ...`.",
        ),
        _kind(
            "unlike-cells",
            "The equivalent of unlike cells gives the right p.d. and current at the terminals and nothing else. Which "
            "of them drive and which are charged depends on their values.\n\n"
            "Before: `boardproof solve` for `efficiency of both` with E_1 and E_2 as letters\n\n"
            "After: the same with values",
            "note",
            "{what}: with unlike cells it can't be told by letters alone.",
        ),
        _kind(
            "overlong-formula",
            "A formula of thousands of terms helps nobody, and would hold up everything else.\n\n"
            "Before: `boardproof solve` for `heat in bank` of fourteen unlike cells in letters\n\n"
            "After: the same with values",
            "note",
            "The formula for {what} has over {limit} terms.",
            "Give values to some letters.",
        ),
        _kind(
            "no-such-quantity",
            "Not everything that can be named has a value: a resistor has no time constant, a node no potential "
            "before some node counts as zero.\n\n"
            "Before: `let t = time constant of R`\n\nAfter: `let t = time constant of C`",
            message="{what} has no meaning here: {reason}.",
            help_="",
        ),
        _kind(
            "curved-part",
            _page(
                "A diode's current is not in proportion to its p.d., so the rules for constant resistances do not hold "
                "for it. A circuit with one is drawn, but not worked out.",
                "A = cell 6 V, 1 ohm\nD = diode\nA across D",
                "A = cell 6 V, 1 ohm\nD = resistor 2 ohm\nA across D",
            ),
            message="{name} is a {kind}: it has no constant resistance, so this circuit can't be worked out.",
            help_="For one working point put a resistor in its place.",
            severity="warning",
        ),
    ]
)
NOWHERE = Span("", 0, 0)


class NoAnswer(Exception):  # a state of the calculation, not a slip of a programmer
    """Carries the reason for there being no answer from where it is found to `Answers`, and no further."""

    def __init__(self, reason: Finding) -> None:
        super().__init__(reason.kind.code)
        self.reason = reason


def listed(names: Iterable[str], word: str = "and") -> str:
    """Names as in a sentence.

    Parameters
    ----------
    names : iterable of str
        In order; none gives an empty text.
    word : str
        Before the last one.

    Examples
    --------
    >>> listed(["A", "B", "C"])
    'A, B and C'
    """
    *most, last = list(names) or [""]
    return f"{', '.join(most)} {word} {last}" if most else last


def place_of(branches: Iterable[Branch]) -> Span:
    """Where the first of these parts stands in the text.

    Parameters
    ----------
    branches : iterable of Branch
        In the order in which they matter.

    Examples
    --------
    >>> place_of([Branch(None, "short:A", 0, 1)])
    Span(source='', start=0, end=0)
    """
    spans = (branch.leaf.span or branch.leaf.part.span for branch in branches if branch.leaf is not None)
    return next((span for span in spans if span is not None), NOWHERE)


def because(code: str, span: Span | None = None, **facts: str) -> Finding:
    """A finding of this room.

    Parameters
    ----------
    code : str
        Row of `KINDS`.
    span : Span or None
        Where; None if no text is known.
    facts : str
        What the row's sentences speak of.

    Examples
    --------
    >>> because("no-value", letter="R", what="the current").kind.severity
    'warning'
    """
    return Finding(KINDS[code], span or NOWHERE, facts)
