"""A little of the maths writer, for the time until the real one is there."""

from __future__ import annotations

import sys
from types import ModuleType

from boardproof.algebra import expression as x


def typst(tree, notation) -> str:
    return write(tree, "typst")


def write(tree, way: str) -> str:
    def w(t):
        return write(t, way)

    match tree:
        case x.Number(unit=unit, typed=typed, value=value):
            text = typed or str(value)
            mark = unit.symbol if unit else ""
            if way == "typst":
                return text + (f' thin upright("{mark}")' if mark else "")
            if way == "mathml":
                return f"<mn>{text}</mn>" + (f"<mtext>{mark}</mtext>" if mark else "")
            return text + (f" {mark}" if mark else "")
        case x.Name(text=text):
            letter, _, below = text.partition("_")
            if way == "typst":
                inner = below if len(below) == 1 else f'upright("{below}")'
                return letter + (f"_({inner})" if below else "")
            if way == "mathml":
                return f"<msub><mi>{letter}</mi><mi>{below}</mi></msub>" if below else f"<mi>{letter}</mi>"
            return text
        case x.Negative(of=of):
            return (f"<mo>−</mo>{w(of)}" if way == "mathml" else f"- {w(of)}")
        case x.Sum(terms=terms):
            out = w(terms[0])
            for t in terms[1:]:
                sign, inner = ("−", t.of) if isinstance(t, x.Negative) else ("+", t)
                out += f"<mo>{sign}</mo>{w(inner)}" if way == "mathml" else f" {'-' if sign == '−' else '+'} {w(inner)}"
            return f"<mrow>{out}</mrow>" if way == "mathml" else out
        case x.Product(factors=factors):
            return "".join(w(f) for f in factors) if way == "mathml" else " ".join(w(f) for f in factors)
        case x.Quotient(over=over, under=under):
            if way == "typst":
                return f"frac({w(over)}, {w(under)})"
            if way == "mathml":
                return f"<mfrac><mrow>{w(over)}</mrow><mrow>{w(under)}</mrow></mfrac>"
            return f"({w(over)})/({w(under)})"
        case x.Relation(left=left, sign=sign, right=right):
            middle = f"<mo>{sign}</mo>" if way == "mathml" else f" {sign} "
            return w(left) + middle + w(right)
        case x.Line(statements=statements, bare=bare):
            out, last = "", None
            for s in statements:
                if s.chain and last is not None:
                    out += (f"<mo>{s.sign}</mo>" if way == "mathml" else f" {s.sign} ") + w(s.right)
                else:
                    out += (("<mtext>, </mtext>" if way == "mathml" else ', quad ' if way == "typst" else ", ") if out else "") + w(s)
                last = s
            return out + "".join(w(b) for b in bare)
    raise TypeError(tree)


def mathml(tree, notation=None, display=False) -> str:
    return f'<math xmlns="http://www.w3.org/1998/Math/MathML">{write(tree, "mathml")}</math>'


def install() -> None:
    module = ModuleType("boardproof.algebra.show")
    module.typst, module.mathml = typst, mathml
    module.plain = lambda tree, notation=None: write(tree, "plain")
    module.spoken = lambda tree, notation=None: write(tree, "plain")
    sys.modules["boardproof.algebra.show"] = module
    import boardproof.algebra

    boardproof.algebra.show = module
