"""Writing maths in every form: the four writers under one name.

`plain` reads as the same tree again, `typst` goes to the typesetter, `mathml` to screens, `spoken` to the ear.
"""

from boardproof.algebra import aloud, markup
from boardproof.algebra import notation as sets
from boardproof.algebra import plain as text

__all__ = ["NOTATIONS", "Notation", "mathml", "plain", "spoken", "typst"]

NOTATIONS = sets.NOTATIONS
Notation = sets.Notation
mathml = markup.mathml
plain = text.plain
spoken = aloud.spoken
typst = markup.typst
