"""What can be wrong with a statement, a trap, a claim or an argument: one row a kind."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from boardproof.findings import Evidence, Finding, Kind, Kinds
from boardproof.source import Edit, Span

__all__ = ["KINDS", "finding"]

KINDS: Final = Kinds(
    (
        Kind(
            "wrong-equation",
            "error",
            "{statement} is not what this circuit gives.",
            "It gives {right}.",
            "The equation was compared with the circuit that is on the board at that place, in letters, and the two "
            "are different things. A class that copies it copies a mistake.\n\nBefore: `$$ r_p = r_1 + r_2 $$` for "
            "two cells side by side\n\nAfter: `$$ 1/r_p = 1/r_1 + 1/r_2 $$`",
        ),
        Kind(
            "overwide-equation",
            "error",
            "This is true only when {condition}.",
            "Write `if {condition}`, or `here` if only these numbers are meant.",
            "Letters stand for all positive values. An equation that holds for some of them only needs its condition "
            "beside it, or students will use it everywhere. Where the scene's numbers meet the "
            "condition it is a warning only.\n\nBefore: `$$ E_p = (E_1 + E_2)/2 $$`\n\n"
            "After: `$$ E_p = (E_1 + E_2)/2  if r_1 = r_2 $$`",
        ),
        Kind(
            "units-differ",
            "error",
            "The left side is {left}, the right side {right}.",
            "",
            "Two things can be equal only if they are of one kind. Units come before values: a line whose units "
            "differ is wrong whatever the numbers.\n\nBefore: `$$ r_p = 1/r_1 + 1/r_2 $$`\n\n"
            "After: `$$ 1/r_p = 1/r_1 + 1/r_2 $$`",
        ),
        Kind(
            "unlike-terms",
            "error",
            "{left} and {right} are added or compared here.",
            "",
            "Only like things can be added: volts to volts, ohms to ohms.\n\nBefore: `$$ V = E - r $$`\n\n"
            "After: `$$ V = E - I r $$`",
        ),
        Kind(
            "wrong-number",
            "error",
            "{typed} should be {right}.",
            "{working}",
            "The number was compared with the exact value that the circuit gives, rounded to the figures shown.\n\n"
            "Before: `$I = 0.6 A$` where the circuit gives 0.5 A\n\nAfter: `$I = 0.5 A$`",
        ),
        Kind(
            "wrong-rounding",
            "warning",
            "{typed} has the right figures but for the last one: it should be {right}.",
            "Exact: {exact}.",
            "A rounded number is the nearest one with its figures (ISO 80000-1). Cutting off is not rounding.\n\n"
            "Before: `$I = 0.66 A$` for 2/3 A\n\nAfter: `$I = 0.67 A$`",
        ),
        Kind(
            "rounded-value",
            "warning",
            "{typed} is rounded, and this course writes ≈ before a rounded value.",
            "Exact: {exact}.",
            'A course may keep the equals sign for exact values (`rounded = "≈"` in course.toml).\n\n'
            "Before: `$I = 0.333 A$`\n\nAfter: `$I ≈ 0.333 A$`",
        ),
        Kind(
            "early-rounding",
            "warning",
            "{typed} comes from a rounded step before it.",
            "Unrounded: {right}.",
            "Numbers are carried on unrounded and rounded once, at the end; else the last figure drifts.\n\n"
            "Before: `$V = 0.33 A * 17 ohm = 5.61 V$`\n\nAfter: `$V = 5.67 V$`",
        ),
        Kind(
            "other-direction",
            "error",
            "The size is right, the direction is not.",
            "{name} counts {sense}, so it is {right}.",
            "A current has a counting direction. A cell's is out of its own plus, a group's out of its plus end; a "
            "minus says that it flows the other way.\n\nBefore: `$I_2 = 0.1 A$` for a cell that is being charged\n\n"
            "After: `$I_2 = -0.1 A$`",
        ),
        Kind(
            "wrong-reason",
            "warning",
            "The number is right, but {formula} is not why.",
            "In letters: {right}.",
            "With these numbers a wrong formula happens to give the right answer. Next year's numbers will not be so "
            "kind.\n\nBefore: `$E_p = (E_1 + E_2)/2 = 5 V$` where r_1 = r_2\n\nAfter: the general formula",
        ),
        Kind(
            "near-enough",
            "note",
            "{typed} is within {percent} per cent of {right} {condition}.",
            "",
            "An approximation is worth something only with its size and the case it is good in.\n\n"
            "Before: `$$ V = E $$`\n\nAfter: `$$ V ≈ E $$`, and when: a load many times the internal resistance",
        ),
        Kind(
            "unchecked-statement",
            "note",
            "I can't check this: {reason}.",
            "",
            "What cannot be checked is listed and counted; it never passes in silence.\n\nBefore: a line about a "
            "letter that no part carries\n\nAfter: `let X = ...` above it",
        ),
        Kind(
            "empty-condition",
            "warning",
            "{condition} never happens in this circuit, so the line says nothing.",
            "",
            "From a condition that cannot be met anything follows.\n\nBefore: `$$ V = 0  if r = -R $$`\n\n"
            "After: a condition that some positive values meet",
        ),
        Kind(
            "no-value",
            "warning",
            "{letter} has no value in this scene, so {typed} can't be compared.",
            "Give it one: `but {letter} = ...`.",
            "A number is compared with the scene's values; a letter without a value leaves it open.\n\n"
            "Before: `R = resistor` and `$I = 0.5 A$`\n\nAfter: `take main but R = 10 ohm`",
        ),
        Kind(
            "missing-unit",
            "error",
            "{typed} what?",
            "{right}",
            "A number of volts without its volts is not a p.d. In the middle of a working units may be left out, at "
            "its end they may not.\n\nBefore: `$I = 0.5$`\n\nAfter: `$I = 0.5 A$`",
        ),
        Kind(
            "unit-or-letter",
            "error",
            "I read {typed} as a number with its unit, and then the units differ.",
            "For a number times the letter write `{product}`.",
            "`2 V` is two volts to every reader. Twice the p.d. V needs its times sign.\n\nBefore: `$$ E = 2 V $$`"
            "\n\nAfter: `$$ E = 2*V $$`",
        ),
        Kind(
            "loose-number",
            "warning",
            "I can't tell which quantity {typed} is.",
            "Write `$I = {typed}$` or `[{typed}](=I)`. {matches}",
            "A number in a sentence is checked like any other, so it must be clear what it is a value of.\n\n"
            'Before: `Somebody measured 3.3 A.`\n\nAfter: `Somebody measured [3.3 A](=free "last year\'s class").`',
        ),
        Kind(
            "bare-symbol",
            "note",
            "{symbol} stands in the sentence as plain text.",
            "Put `$` round it.",
            "Letters between dollar signs are set as maths, read aloud rightly and checked.\n\nBefore: `so E_1 wins`"
            "\n\nAfter: `so $E_1$ wins`",
        ),
        Kind(
            "true-trap",
            "error",
            "This is no mistake: it holds here.",
            "Move it to `$$`.",
            "A trap shows a tempting line that is wrong on the circuit at hand. This one is right.\n\n"
            "Before: `wrong: r_p = r_1 r_2/(r_1 + r_2)`\n\nAfter: `wrong: r_p = r_1 + r_2`",
        ),
        Kind(
            "hidden-trap",
            "warning",
            "With these numbers the mistake gives the right answer.",
            "Choose numbers for which it is wrong: {numbers}",
            "The trap is wrong in general, but whoever walks into it here comes out unharmed and learns nothing.\n\n"
            "Before: the plain mean with r_1 = r_2\n\nAfter: different internal resistances",
        ),
        Kind(
            "unknown-belief",
            "error",
            "I don't know the belief {word}.",
            "Did you mean {near}?",
            "Beliefs have names, so that practice and marking can look for the same one.\n\n"
            "Before: `belief: parallel plane mean`\n\nAfter: `belief: parallel plain mean`",
        ),
        Kind(
            "other-belief",
            "warning",
            "Who believes “{belief}” would say {says}, not this.",
            "What fits is: {fits}.",
            "Practice and marking look for a belief by what it computes, so the trap must show that belief's own "
            "mistake.\n\nBefore: `wrong: E_p = E_1 + E_2` with `belief: parallel plain mean`\n\n"
            "After: `belief: parallel adds emfs`",
        ),
        Kind(
            "refuted-claim",
            "error",
            "Not always: {counterexample}.",
            "It holds exactly when {condition}.",
            "A general statement is proved or refuted for all positive values (or those after `for:`). One case in "
            "which it fails is enough.\n\nBefore: `means: E_p < E_1`\n\nAfter: `means: E_p < E_1` with "
            "`for: E_1 > E_2`",
        ),
        Kind(
            "undecided-claim",
            "warning",
            "Neither proved nor refuted: {reason}.",
            "No counterexample among {tries} tries.",
            'The claim may be true, but no proof was found, and we do not say "always" without one.\n\n'
            "Before: a claim with many letters\n\nAfter: a narrower one, or two",
        ),
        Kind(
            "unread-claim",
            "error",
            "I can't read this claim: {reason}.",
            "It may say: X < Y, X when Y, X exactly when Y, X rises with Y, X does not depend on Y, X is greatest "
            "when Y.",
            "A claim in symbols is a comparison, or says how one thing goes with another.\n\n"
            "Before: `means: V is smaller with I`\n\nAfter: `means: V falls with I`",
        ),
        Kind(
            "read-claim",
            "note",
            "I read these words as: {reading}.",
            "Keep it as a `means:` line, or put it right.",
            "A claim without `means` is read by its sentence, if that is of a known form. The reading is shown, so "
            "that nothing is proved that was not meant.\n\nBefore: `The larger the load, the smaller the current.`\n\n"
            "After: the same, and below it `means: I falls with R`",
        ),
        Kind(
            "unclear-claim",
            "warning",
            "“{word}” can be read in more than one way.",
            "Say which: {choices}.",
            "A current may be larger with its sign or in size; parallel may be better in current, power or efficiency; "
            "a cell may be meant alone or in its place. What can be read in two ways is asked, never guessed.\n\n"
            "Before: `Parallel is better than series.`\n\nAfter: `Parallel gives more current than series.`",
        ),
        Kind(
            "words-and-symbols",
            "error",
            "The sentence says {words}, `means` says {symbols}.",
            "The symbols are true, the sentence is not.",
            "The class hears the sentence, so it must say what is proved.\n\nBefore: `The larger the load, the larger "
            "the current.` with `means: I falls with R`\n\nAfter: `The larger the load, the smaller the current.`",
        ),
        Kind(
            "line-does-not-follow",
            "error",
            "This is true, but it doesn't follow from {lines} by {rules}.",
            "Also needs: {missing}.",
            "A class follows an argument line by line. Each line must come from those named and the rules named, "
            "nothing else.\n\nBefore: `2. V = E - I r   by algebra from 1`\n\nAfter: `... by cell rule`",
        ),
        Kind(
            "wrong-premise",
            "error",
            "This builds on line {line}, which is wrong.",
            "",
            "From a wrong line anything can follow.\n\nBefore: a step `from 1` after a wrong line 1\n\n"
            "After: line 1 put right",
        ),
        Kind(
            "too-few-lines",
            "error",
            "{unknowns} unknowns, {lines} independent lines.",
            "Still needed: {needed}.",
            "Each unknown needs an equation of its own; repeating one does not help.\n\nBefore: two loop equations for "
            "three currents\n\nAfter: a junction as well",
        ),
        Kind(
            "repeated-line",
            "warning",
            "Line {line} says the same as {earlier}.",
            "",
            "A repeated line adds nothing to an argument.\n\nBefore: 1. I = E/R and 2. E = I R\n\nAfter: one of them",
        ),
        Kind(
            "missing-reason",
            "note",
            "No rule is named for this line.",
            "`by {rule}` would do.",
            "A step without its reason is a step a class can't check.\n\nBefore: `1. V = E - I r`\n\n"
            "After: `1. V = E - I r   by cell rule`",
        ),
        Kind(
            "not-yet-taught",
            "warning",
            "{result} is used before it is taught.",
            "{where}",
            "A lesson may lean on what the course knows and on what earlier lessons established.\n\n"
            "Before: `by cell rule` in lesson 1, taught in lesson 2\n\nAfter: the lessons in another order",
        ),
        Kind(
            "not-established",
            "warning",
            "{result} is promised but not found.",
            "Tag the line that establishes it: `\\tag{{{result}}}`.",
            "What a lesson establishes is what later lessons may use, so it must stand there.\n\n"
            'Before: `establishes = ["cell rule"]` and no such tag\n\nAfter: `$$ V = E - I r \\tag{cell rule} $$`',
        ),
        Kind(
            "taught-twice",
            "warning",
            "{result} is taught in “{first}” and again in “{second}”.",
            "{letters} Lean on it instead, or give one of them another name.",
            "A result has one home. Taught again in other letters, it looks like another law.\n\n"
            "Before: `\\tag{cell rule}` in two lessons\n\nAfter: once; in the later lesson `recall cell rule`",
        ),
        Kind(
            "changed-meaning",
            "warning",
            "{letter} was {before} in “{lesson}”; here it is {now}.",
            "Use another letter: one letter, one meaning in a course.",
            "Who missed a lesson, or comes back to it, reads the letter as it was met first.\n\n"
            "Before: `I_s` for a short-circuit current, later for the current in S\n\nAfter: `I_S` for that one",
        ),
        Kind(
            "no-circuit",
            "note",
            "I can't check this: no circuit stands on the board before it.",
            "Put its circuit above it.",
            "A statement is judged against the circuit at hand.\n\nBefore: maths above the first `circuit` block\n\n"
            "After: the circuit first",
        ),
        Kind(
            "long-lesson",
            "warning",
            "About {time} at your pace, longer than {longest}.",
            "A natural cut: line {line}.",
            "Short lessons are watched to their end.\n\nBefore: nine minutes\n\nAfter: two lessons",
        ),
        Kind(
            "hidden-focus",
            "warning",
            "{part} is in focus but hidden.",
            "`show {part}` first.",
            "What the sentence is about should be on the board.\n\nBefore: `hide B`, then `focus B`\n\n"
            "After: `show B`, then `focus B`",
        ),
    )
)


def finding(
    code: str,
    span: Span,
    *,
    evidence: tuple[Evidence, ...] = (),
    related: tuple[tuple[Span, str], ...] = (),
    edit: Edit | None = None,
    facts: Mapping[str, str] | None = None,
) -> Finding:
    """A finding of this room's kinds.

    Parameters
    ----------
    code : str
        Its kind.
    span : Span
        Where.
    evidence, related, edit, facts
        As in `Finding`.

    Examples
    --------
    >>> finding("unchecked-statement", Span("x", 0, 1), facts={"reason": "it ends here"}).kind.severity
    'note'
    """
    return Finding(KINDS[code], span, facts or {}, evidence, related, edit)
