"""The `claim` job: one general statement, in words or in maths, proved or refuted on the command line."""

from __future__ import annotations

import json
import re
import sys
import textwrap
from argparse import Namespace
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from boardproof.algebra.expression import names_in
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.product import TERMS_AT_MOST, allow_terms
from boardproof.algebra.worker import TimeUp, shared
from boardproof.caution import Caution, caution_for, dangers
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.model import Circuit
from boardproof.circuit.read import read_circuit
from boardproof.findings import Finding, worded
from boardproof.kit.report import CheckReport, findings_text
from boardproof.lesson.course import Course
from boardproof.prove.bench import Ruling
from boardproof.prove.claim_bench import relations_in
from boardproof.prove.claim_language import Phrases, read_claim
from boardproof.prove.claims import judge_claim
from boardproof.prove.gathered import Asked, Read
from boardproof.prove.sentences import read_sentence
from boardproof.prove.trade_words import in_trade_words
from boardproof.prove.worded import judge_read
from boardproof.prove.world import World
from boardproof.prove.worlds import Worlds
from boardproof.quantities import Style
from boardproof.record import record
from boardproof.source import Source, Span

__all__ = ["Answered", "Line", "judge_words", "run", "told"]

# What a sentence speaks of when no circuit is given; the first whose words occur.
STOCK: Final = (
    (
        r"(?i)\b(?:like|equal|identical) cells\b|\bn cells\b|\bparallel (?:is|beats|gives|drives)\b",
        "A = cell E, r; R = resistor; row = n of A in series; side = n of A in parallel; main = A across R",
    ),
    (r"(?i)\bbrighter\b|\blamps?\b", "A = cell E, r; R_1, R_2 = resistor; main = A across (R_1 + R_2)"),
    (
        r"(?i)\bin series\b|\bin a row\b",
        "A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; both = A + B; main = both across R",
    ),
    (
        r"\b[Pp]arallel\b|\b[Ss]ide by side\b|\bpair\b|\bE_[12p]\b|\b[AB]\b|\btwo\b|\bcharged\b",
        (
            "A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; both = A || B; main = both across R; "
            "let E_p = emf of both; let r_p = resistance of both"
        ),
    ),
    ("", "A = cell E, r; R = resistor; main = A across R; let P = power in R"),
)
WORDS: Final = {
    "true": "always",
    "true-only-when": "only when",
    "not-checked": "undecided",
    "units-differ": "never",
}
MANNERS: Final = {
    "identity": "both sides are the same expression",
    "factors": "factors of one sign",
    "grid": "small whole numbers tried, and checked exactly",
    "squares": "a sum of squares, checked exactly",
    "order": "cases of which letter is larger, checked exactly",
    "z3": "z3",
    "numbers": "the values of the scene",
    "dimensions": "the units",
}
CLAIM_SECONDS: Final = 2.0
LIMITS: Final = (
    "True of the model: every r above nought, every EMF and resistance constant. An"
    " ageing cell or a glowing filament "
    "is neither."
)


@record
class Line:
    """One line that was judged, as it was read, with its ruling and its condition in the trade's words."""

    text: str
    ruling: Ruling
    in_words: str | None = None

    @property
    def verdict(self) -> str:
        """The verdict: always, only when, never, not always, undecided."""
        verdict = self.ruling.verdict
        if verdict.kind == "wrong":
            return "never" if verdict.detail == "never" else "not always"
        return WORDS.get(verdict.kind, "undecided")


@dataclass(frozen=True, slots=True)
class Answered:
    """What was found about a claim.

    Parameters
    ----------
    said : str
        As typed.
    circuit : str
        The circuit it was read in; empty for bare maths.
    given : bool
        Whether that circuit was typed; else it was chosen by the words.
    scope : tuple of str
        What it is said for.
    lets : tuple of (str, str)
        Names that its reading needs.
    notes : tuple of str
        What was understood besides.
    lines : tuple of Line
        Empty if it was not read, or if it must be asked about.
    asked : Asked or None
        Two readings.
    findings : tuple of Finding
        Why nothing could be judged.
    letters : tuple of str
        Every letter that varies.
    caution : Caution or None
        What must be said beside it.
    """

    said: str
    circuit: str = ""
    given: bool = True
    scope: tuple[str, ...] = ()
    lets: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()
    lines: tuple[Line, ...] = ()
    asked: Asked | None = None
    findings: tuple[Finding, ...] = ()
    letters: tuple[str, ...] = ()
    caution: Caution | None = None
    sources: Mapping[str, Source] = field(default_factory=dict)

    @property
    def verdict(self) -> str:
        """Of all lines together."""
        if not self.lines:
            return "asked" if self.asked else "unread"
        order = ("never", "not always", "undecided", "only when", "always")
        return min((each.verdict for each in self.lines), key=order.index)

    @property
    def status(self) -> int:
        """Exit status: 0 if it holds always, 2 if it can't be read, else 1."""
        return {"always": 0, "unread": 2}.get(self.verdict, 1)


def judge_words(
    words: str, circuit: str | None = None, for_: str | None = None, *, style: Style | None = None
) -> Answered:
    """Read a claim and judge it.

    Parameters
    ----------
    words : str
        A plain sentence, or a line of the lesson language.
    circuit : str, optional
        Lines of a circuit, parted by semicolons; chosen by the words if none is given.
    for_ : str, optional
        What the claim is said for: ``E_1 > E_2 and n = 2, 3, ...``.
    style : Style, optional
        How values are shown.

    Examples
    --------
    >>> judge_words("The larger the load, the larger the terminal p.d.").verdict
    'always'
    >>> judge_words("P rises with R").lines[0].in_words
    'the resistance of R is less than the internal resistance'
    """
    chosen = circuit or next(text for pattern, text in STOCK if re.search(pattern, words))
    source = Source("circuit", chosen)
    read = read_circuit(source.slice())
    sources = {"circuit": source, "claim": Source("claim", words)}
    whole = Answered(words, chosen, circuit is not None, sources=sources)
    wrong = [each for each in read.findings if each.kind.severity == "error"]
    if wrong:
        return replace(whole, findings=tuple(wrong))
    hand = read.at_hand or next(reversed(tuple(read.definitions.circuits.values())), None)
    worlds = Worlds(read.definitions)
    if hand is None:
        return replace(whole, findings=())
    letters = tuple(each for each in (*hand.letters, *sorted(hand.counts)) if each not in hand.values)
    caution = caution_for(dangers(hand, style=style or Style()), rules=Course().rules)
    whole = replace(whole, letters=letters, caution=caution)
    if _is_maths(words, worlds, hand):
        scope = (for_,) if for_ else ()
        return _judged(whole, Read((words.strip().rstrip("."),), scope), worlds, hand, style)
    if circuit is None and (bare := _bare(words, for_, style)):
        return bare
    found = read_sentence(words, read.definitions, hand)
    if isinstance(found, Asked):
        return replace(whole, asked=found)
    if found is None:
        return whole
    scope = (*found.scope, *((for_,) if for_ else ()))
    return _judged(whole, replace(found, scope=scope), worlds, hand, style)


def _bare(words: str, for_: str | None, style: Style | None) -> Answered | None:
    """Bare maths without a circuit: every letter is free, and positive."""
    if re.search(
        r"[^\W\d_]{3,}(?<!and)(?<!sqrt)(?<!abs)(?<!when)(?<!only)(?<!exactly)", words
    ) or not re.search(r"[=<>≤≥≠]", words):
        return None
    counts = frozenset(re.findall(r"(\w+)\s*=\s*[0-9]+\s*,[\s0-9,]*\s*(?:\.\.\.|…)", for_ or ""))
    world = World(None, RationalFunction.letter, definitions=Definitions(counts=counts))
    if isinstance(read_claim(Source("claim", words).slice(), Phrases(world, (), ".", {})), Finding):
        return None
    scope = Source("scope", for_).slice() if for_ else None
    found = judge_claim([Source("claim", words).slice()], scope, world, style=style)
    lines = tuple(Line(words.strip(), ruling) for _, ruling in found)
    return Answered(
        words, scope=(for_,) if for_ else (), lines=lines, sources={"claim": Source("claim", words)}
    )


def _is_maths(words: str, worlds: Worlds, circuit: Circuit) -> bool:
    """Whether the words are a line of the lesson language in names that mean something here."""
    world = worlds.of(circuit)
    phrases = Phrases(world, worlds.known(circuit), ".", {})
    claimed = read_claim(Source("claim", words.strip().rstrip(".")).slice(), phrases)
    if isinstance(claimed, Finding):
        return False
    sides = [getattr(claimed, name) for name in ("what", "by") if hasattr(claimed, name)]
    inner = getattr(claimed, "of", None)
    sides += [getattr(inner, name) for name in ("what", "by") if hasattr(inner, name)]
    here = phrases.world_with()
    trees = [each for each in (*relations_in(claimed), *sides) if each is not None]
    return not any(here.trouble(name) for tree in trees for name in names_in(tree))


def _judged(whole: Answered, read: Read, worlds: Worlds, circuit: Circuit, style: Style | None) -> Answered:
    span = Span("claim", 0, len(whole.said))
    rulings = judge_read(read, worlds, circuit, span, style=style)
    lines = tuple(
        Line(line, ruling, in_trade_words(ruling.verdict.condition, worlds.definitions, circuit))
        for line, ruling in rulings
    )
    return replace(whole, lines=lines, scope=read.scope, lets=read.lets, notes=read.notes)


def told(words: str, circuit: str | None, scope: str | None, quiet: str) -> tuple[int, str, str]:
    """Judge a claim beyond the usual limit of terms, in a process that may be killed: status, text and JSON.

    Parameters
    ----------
    words, circuit, scope
        As for `judge_words`.
    quiet : {"", "quiet"}
        Whether the text leaves out what is understood.
    """
    allow_terms(10 * TERMS_AT_MOST)
    found = judge_words(words, circuit, scope)
    return found.status, _text(found, brief=bool(quiet)), json.dumps(_as_json(found), ensure_ascii=False)


def _beyond(options: Namespace) -> tuple[int, str, str] | None:
    """The claim once more with more terms, for as long as a claim may take; None if that was not enough."""
    quiet = "quiet" if options.quiet else ""
    arguments = (options.words, options.circuit, options.scope, quiet)
    try:
        answer: tuple[int, str, str] = shared().ask(
            "boardproof.kit.claim:told", *arguments, seconds=min(CLAIM_SECONDS, options.limit)
        )
    except (TimeUp, RuntimeError):
        return None
    return answer


def _too_large(found: Answered) -> bool:
    verdicts = [line.ruling.verdict for line in found.lines if line.ruling.verdict.kind == "not-checked"]
    return any("too many terms" in each.text for verdict in verdicts for each in verdict.evidence)


def run(options: Namespace) -> int:
    """Judge what the command line says."""
    found = judge_words(options.words, options.circuit, options.scope)
    if _too_large(found) and (beyond := _beyond(options)) is not None:
        status, text, data = beyond
        sys.stdout.write((data if options.json else text) + "\n")
        return status
    if options.json:
        sys.stdout.write(json.dumps(_as_json(found), ensure_ascii=False) + "\n")
    elif found.findings:
        report = CheckReport(found.sources["circuit"], (), tuple(map(worded, found.findings)), {})
        sys.stdout.write(findings_text(report, colour=sys.stdout.isatty() and not options.no_colour) + "\n")
    elif found.verdict == "unread":
        sys.stderr.write(UNREAD)
    else:
        sys.stdout.write(_text(found, brief=options.quiet) + "\n")
    return found.status


UNREAD: Final = (
    "I can't read this claim. It may say: X < Y; X rises with Y; X does not depend on Y;"
    " X is greatest when Y; X when Y;\n"
    'or in words: "the larger the load, the smaller the current"; "the EMF of the pair lies between the two";\n'
    '"adding B raises the current"; "B is charged exactly when ..."; "n like cells in parallel drive more than one".\n'
)


def _text(found: Answered, *, brief: bool = False) -> str:
    """The answer for a terminal."""
    if found.asked is not None:
        rows = [f"  {told}: {'; '.join(read.means)}{_with(read.lets)}" for told, read in found.asked.readings]
        return "\n".join((f"“{found.asked.word}” can be read in {len(rows)} ways. Say which:", *rows))
    head: list[str] = []
    if not brief and found.circuit:
        head.append(f"Circuit: {found.circuit}" + ("" if found.given else "   (chosen by the words)"))
    if not brief and found.scope:
        head.append(f"Said for: {' and '.join(found.scope)}")
    head += [f"With: {name} = {phrase}" for name, phrase in found.lets]
    head += [f"Understood: {note}" for note in found.notes]
    blocks = ["\n".join(head)] if head else []
    blocks += [_line_text(each) for each in found.lines]
    if found.verdict == "always" and not brief:
        blocks.append("\n".join(textwrap.wrap(LIMITS, 100)))
    if found.caution is not None and not brief:
        blocks.append("\n".join(textwrap.wrap(f"Caution. {found.caution.short}", 100)))
    return "\n\n".join(blocks)


def _with(lets: Sequence[tuple[str, str]]) -> str:
    return f"   (with {', '.join(f'{name} = {phrase}' for name, phrase in lets)})" if lets else ""


def _line_text(line: Line) -> str:
    verdict = line.ruling.verdict
    told = f"{line.verdict} {verdict.condition}" if verdict.condition else line.verdict
    rows = [line.text, f"  {told}   ({verdict.ground})"]
    if line.in_words:
        rows.append(f"  in words: only if {line.in_words}")
    if verdict.right:
        rows.append(f"  right: {verdict.right}")
    rows += [
        part
        for each in verdict.evidence
        for part in textwrap.wrap(each.text, 100, initial_indent="  ", subsequent_indent="  ")
    ]
    if verdict.kind != "not-checked":
        rows.append(f"  decided by {MANNERS.get(verdict.decided_by, verdict.decided_by)}")
    return "\n".join(rows)


def _as_json(found: Answered) -> dict[str, object]:
    return {
        "schema": 1,
        "said": found.said,
        "circuit": found.circuit or None,
        "circuit_given": found.given,
        "scope": list(found.scope),
        "with": dict(found.lets),
        "notes": list(found.notes),
        "letters": list(found.letters),
        "verdict": found.verdict,
        "lines": [_line_json(each) for each in found.lines],
        "asked": None
        if found.asked is None
        else {
            "word": found.asked.word,
            "readings": [
                {"words": told, "means": list(read.means), "with": dict(read.lets)}
                for told, read in found.asked.readings
            ],
        },
        "findings": [{"code": each.kind.code, "message": worded(each).message} for each in found.findings],
        "caution": None
        if found.caution is None
        else {"tier": found.caution.tier, "full": found.caution.full},
    }


def _line_json(line: Line) -> dict[str, object]:
    verdict = line.ruling.verdict
    counter = next((each.values for each in verdict.evidence if each.kind == "counterexample"), {})
    return {
        "means": line.text,
        "verdict": line.verdict,
        "condition": verdict.condition,
        "in_words": line.in_words,
        "right": verdict.right,
        "counterexample": dict(counter),
        "evidence": [
            {"kind": each.kind, "text": each.text, "values": dict(each.values)} for each in verdict.evidence
        ],
        "decided_by": verdict.decided_by,
        "ground": verdict.ground,
    }
