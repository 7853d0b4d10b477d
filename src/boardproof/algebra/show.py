"""Writing maths in every form: the four writers under one name.

`plain` reads as the same tree again, `typst` goes to the typesetter, `mathml` to screens, `spoken` to the ear.
"""

from boardproof.algebra.aloud import spoken
from boardproof.algebra.markup import mathml, typst
from boardproof.algebra.notation import NOTATIONS, Notation
from boardproof.algebra.plain import plain

__all__ = ["NOTATIONS", "Notation", "mathml", "plain", "spoken", "typst"]
