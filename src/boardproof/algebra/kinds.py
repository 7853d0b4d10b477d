"""What can be wrong with a piece of maths before any circuit is asked: one row a kind."""

from __future__ import annotations

from typing import Final

from boardproof.findings import Kind, Kinds

__all__ = ["KINDS"]

KINDS: Final = Kinds(
    (
        Kind(
            "unread-maths",
            "error",
            "I can't read this maths: {reason}.",
            "{hint}",
            "A line of maths is read sign by sign; the place marked is where the reading stopped. Nothing after it is "
            "checked, so a mistake there would go unseen.\n\nBefore: `V = E - + I r`\n\nAfter: `V = E - I r`",
        ),
        Kind(
            "unread-command",
            "error",
            "I don't know {word}.",
            "Did you mean {near}?",
            "Only the commands of everyday school maths are read (fractions, roots, sums, Greek letters). Others are "
            "never carried out.\n\nBefore: `$\\binom{E}{r}$`\n\nAfter: `$\\frac{E}{r}$`",
        ),
        Kind(
            "unclear-fraction",
            "error",
            "This can be read as {first} or as {second}.",
            "Put brackets, or a times sign.",
            "Two careful readers can part `V/R r` in two ways, so neither is guessed.\n\nBefore: `V/R r`\n\n"
            "After: `V/(R r)` or `(V/R) r`",
        ),
        Kind(
            "unclear-letters",
            "error",
            "This can be read as {first} or as {second}.",
            "Put a space or a times sign between the letters.",
            "Letters written without a space are cut into names that are known; here that can be done in two ways."
            "\n\nBefore: `I_1R`\n\nAfter: `I_1 R`",
        ),
        Kind(
            "unclear-power-of-ten",
            "error",
            "This can be read as {first} or as {second}.",
            "Write one of them.",
            "`2E3` is a power of ten to a pocket calculator and E₃ to a reader of circuits.\n\nBefore: `2E3`\n\n"
            "After: `2×10^3` or `2 E_3`",
        ),
        Kind(
            "unclear-grouping",
            "error",
            "{first} and || on one level can be read in two ways.",
            "Put brackets round what lies side by side: (R_1 || R_2) + R_3.",
            "The sign for side by side stands alone on its level.\n\nBefore: `R_1 || R_2 + R_3`\n\n"
            "After: `(R_1 || R_2) + R_3`",
        ),
        Kind(
            "decimal-mark",
            "error",
            "{typed}: this course writes {right}.",
            "{right}",
            "A comma parts the items of a list; the decimal mark is set for the whole course.\n\nBefore: `1,5 V`\n\n"
            "After: `1.5 V`",
        ),
        Kind(
            "look-alike",
            "error",
            "This {letter} only looks like {latin}.",
            "Replace it by the {latin} of the keyboard.",
            "A letter of another alphabet is another letter, although it looks the same; it would never be the E of a "
            "cell.\n\nBefore: `Е_1` with a Cyrillic letter\n\nAfter: `E_1`",
        ),
        Kind(
            "overlong-maths",
            "error",
            "This maths has {length} characters; I read {most} at most.",
            "Put it on several lines.",
            "A statement that fills half a page can't be followed on a board either.\n\nBefore: one very long line\n\n"
            "After: the same in steps, each on a line of its own",
        ),
        Kind(
            "deep-maths",
            "error",
            "Brackets stand in brackets more than {most} deep.",
            "Give an inner part a name: `let N = ...`.",
            "Nobody reads brackets that deep.\n\nBefore: `((((...))))`\n\nAfter: a name for an inner part",
        ),
        Kind(
            "long-number",
            "error",
            "This number has {length} digits; I read {most} at most.",
            "Round it, or write a power of ten.",
            "No measurement has so many figures.\n\nBefore: `1.2345678901234567 V`\n\nAfter: `1.23 V`",
        ),
        Kind(
            "unread-power",
            "error",
            "I read whole powers from -8 to 8 only, not {power}.",
            "Write a root as sqrt(...).",
            "Circuits of cells and resistances need no others.\n\nBefore: `I^R`\n\nAfter: `I^2`",
        ),
    )
)
