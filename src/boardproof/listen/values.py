"""Numbers in a free talk: to what they belong, and whether they are right."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Final

from boardproof.algebra.vocabulary import words_of
from boardproof.listen.board import Board, Fact
from boardproof.listen.frames import HOLDING, Frames, ValueFrame
from boardproof.listen.hear import Speech
from boardproof.listen.judge import agrees_aloud
from boardproof.listen.scope import Scope
from boardproof.listen.sentences import Sentence
from boardproof.listen.slip import Slip
from boardproof.listen.things import Things
from boardproof.quantities import AMPERE, OHM, PURE, VOLT, WATT, si_unit

__all__ = ["Values"]

STAYING: Final = words_of("still stays stay remains same unchanged")
MOST: Final = words_of("most greatest maximum largest biggest highest")
HEDGES: Final = words_of("about roughly nearly almost around approximately just under over some say")
DIFFERENCES: Final = words_of(
    "more less higher lower above below bigger smaller up down change changed difference per apart "
    "rise rose fell falls difference times"
)
ENDING: Final = words_of("ends end warms heats adds makes sums comes sets turns winds warm heat come")
CORRECTING: Final = frozenset({"sorry", "mean", "correction", "wait", "oops", "hang"})


class Values(Frames):
    """Judges the numbers of a talk.

    Parameters
    ----------
    speech : Speech
        What was said.
    things : Things
        The parts.
    """

    def __init__(self, speech: Speech, things: Things) -> None:
        """Nothing is judged yet."""
        super().__init__(speech, things)
        self.heard = self.checked = 0
        self.read: set[int] = set()

    def sentence(self, sentence: Sentence, scope: Scope) -> list[Slip]:
        """Every number of a sentence."""
        tokens = self.speech.tokens
        found: list[Slip] = []
        place = sentence.start
        while place < sentence.end:
            token = tokens[place]
            if token.kind == "number" and (frame := self._frame(sentence, place)) is not None:
                self.heard += 1
                silent = scope.is_asked or scope.is_quoted or not self.things.board.has_values
                here = Scope((self.things.board,)) if scope.since and frame.end <= scope.since else scope
                slip = None if silent else self._judge(frame, here)
                if slip is not None:
                    found.append(slip)
            place += 1
        self.remember(sentence)
        return found

    # -- judging

    def _judge(self, frame: ValueFrame, scope: Scope) -> Slip | None:
        tokens = self.speech.tokens
        around = {token.text for token in tokens[max(frame.start - 1, frame.end - 8, 0) : frame.end]}
        if around & {"not", "never", "than", "if", "when", "suppose"} or self.is_taken_back(frame):
            return None
        if (unit := self.unit_slip(frame)) is not None:
            return unit
        near = {
            tokens[n].text
            for n in range(max(0, frame.end - 4), min(frame.end + 2, len(tokens)))
            if not (tokens[n].text == "up" and n and tokens[n - 1].text in ENDING)
        }
        behind = tokens[frame.end].text if frame.end < len(tokens) else ""
        is_conditional = (
            behind in {"if", "when"} and "," not in self.speech.stops[tokens[frame.end - 1].end - 1]
        )
        if near & DIFFERENCES or scope.is_open or scope.is_vague or is_conditional:
            return None
        hedged = bool({token.text for token in tokens[max(0, frame.end - 4) : frame.end - 1]} & HEDGES)
        frame = self._of_whole(frame, scope)
        candidates = [fact for board in scope.boards for fact in self.candidates(frame, board)]
        if not candidates:
            return None
        if (
            "short" not in {token.text for token in tokens[max(0, frame.end - 14) : frame.end + 4]}
            and "short" not in frame.kinds
        ):
            candidates = [fact for fact in candidates if fact.kind != "short"] or candidates
        self.checked += 1
        self.read.update(range(frame.start, frame.end))
        said = -frame.value.value if frame.is_negative else frame.value.value
        if any(self._fits(fact, said, frame, hedged=hedged) for fact in candidates):
            stays = STAYING & {token.text for token in tokens[max(0, frame.end - 8) : frame.end]}
            if (
                not stays
                or len(scope.boards) < 2
                or any(
                    self._fits(f, said, frame, hedged=hedged) for f in self.candidates(frame, scope.boards[0])
                )
            ):
                return None
            return self._slip(frame, "number", _worded(candidates[0]), 0.7)
        if scope.changed and any(
            fact.dimension == frame.dimension and agrees_aloud(abs(fact.value), said, frame.value.place)
            for board in scope.boards[:-1]
            for fact in board.facts
        ):
            return None
        turned = [
            fact
            for fact in candidates
            if fact.kind == "current" and agrees_aloud(-fact.value, said, frame.value.place, hedged=hedged)
        ]
        if not turned and not frame.kinds and not frame.things:
            return None
        if frame.verb in {"out", "in"} and turned:
            return self._slip(frame, "direction", f"{_worded(turned[0])}, the other way", 0.9)
        sure = self._sureness(frame, scope)
        return self._slip(frame, "number", _worded(candidates[0]), sure)

    def _of_whole(self, frame: ValueFrame, scope: Scope) -> ValueFrame:
        """Said of a changed circuit, like "short it and you'd have two amps": the current of the whole."""
        ahead = [self.speech.word(n) for n in range(max(0, frame.end - 3), frame.end - 1)]
        bare = not frame.kinds and not frame.things and frame.value.unit is not None
        if bare and scope.changed and frame.dimension == AMPERE and {"have", "get", "see"} & set(ahead):
            return replace(frame, kinds=("current",), things=("whole",), verb="")
        return frame

    def _fits(self, fact: Fact, said: Fraction, frame: ValueFrame, *, hedged: bool) -> bool:
        exact = fact.value
        if (
            fact.kind == "current"
            and self._is_cell(fact.of)
            and frame.verb in {"out", "in"}
            and fact.of != "whole"
        ):
            exact = exact if frame.verb == "out" else -exact
            if "charged" in {token.text for token in self.speech.tokens[frame.start : frame.end]}:
                exact = abs(exact)
            return agrees_aloud(exact, said, frame.value.place, hedged=hedged)
        if said < 0 or frame.is_negative:
            return agrees_aloud(exact, said, frame.value.place, hedged=hedged)
        if fact.kind == "pd" and exact < 0:
            return False
        return agrees_aloud(abs(exact), said, frame.value.place, hedged=hedged)

    def candidates(self, frame: ValueFrame, board: Board) -> list[Fact]:
        """Facts that the words may speak of."""
        facts = [fact for fact in board.facts if fact.dimension == frame.dimension]
        behind = 0 if self.speech.ends_sentence(self.speech.tokens[frame.end - 1].end - 1) else 2
        near = self.speech.tokens[max(0, frame.end - 12) : frame.end + behind]
        most = MOST & {token.text for token in near}
        if frame.dimension == WATT and most:
            return [fact for fact in facts if fact.kind == "greatest"]
        facts = [fact for fact in facts if fact.kind != "greatest"]
        if frame.kinds:
            kinds = set(frame.kinds)
            if "current" in kinds and not frame.things:
                kinds.add("short")
            if frame.named_dimension in {None, frame.dimension}:
                facts = [fact for fact in facts if fact.kind in kinds]
            else:
                return []
        elif frame.verb == "lost" and frame.dimension == VOLT:
            facts = [
                fact
                for fact in facts
                if fact.kind in {"lost", "pd"} and (fact.kind == "lost" or not self._is_cell(fact.of))
            ]
        elif frame.verb == "shows" and frame.dimension == VOLT:
            facts = [fact for fact in facts if fact.kind in {"pd", "potential"}]
        elif frame.verb == "lost" and frame.dimension == WATT:
            facts = [fact for fact in facts if fact.kind == "heat"]
        elif frame.verb == "stored":
            facts = [fact for fact in facts if fact.kind in {"power_given", "power_out"}]
        elif frame.verb in {"out", "in"} and frame.dimension == OHM:
            return []  # "A feeds four ohms" tells what stands outside
        elif frame.verb in {"out", "through", "in"} and frame.dimension == AMPERE:
            facts = [fact for fact in facts if fact.kind in {"current", "short"}]
        if not frame.things:
            return facts if frame.kinds else []
        mine = [fact for fact in facts if fact.of in frame.things]
        if frame.things == ("whole",) or "whole" in frame.things:
            mine = [fact for fact in facts if fact.of in {"whole", "loop", *frame.things}]
        node = frame.things[0]
        if frame.kinds and not mine and node in {wire.name for wire in board.wires}:
            return []
        if node in self.things.nodes and frame.dimension == VOLT and not mine:
            mine = [fact for fact in board.facts if fact.kind == "potential" and fact.of == node]
        return mine

    def _sureness(self, frame: ValueFrame, scope: Scope) -> float:
        if scope.changed:
            return (
                0.55
                if len(scope.boards) == 2
                and frame.value.unit is not None
                and (frame.kinds or (frame.things and frame.verb))
                else 0.4
            )
        if frame.value.unit is None:
            return 0.7 if (frame.kinds or frame.verb == "shows") and frame.things else 0.45
        if frame.kinds and frame.things:
            return 0.85
        if frame.kinds or frame.verb or frame.preposition:
            return 0.75
        ahead = [self.speech.word(n) for n in range(frame.start, frame.end - 1)]
        return 0.7 if frame.things and len(ahead) <= 5 and bool(set(ahead) & HOLDING) else 0.45

    def unit_slip(self, frame: ValueFrame) -> Slip | None:
        """The unit of another quantity: a current in volts, amperes across something."""
        unit = frame.value.unit
        if unit is None:
            return None
        wrong = {"across": AMPERE, "through": VOLT}.get(frame.preposition)
        if wrong == unit.dimension:
            return self._slip(
                frame, "unit", f"{'volts' if wrong == AMPERE else 'amperes'} {frame.preposition} it", 0.9
            )
        named = frame.named_dimension
        if named in {None, PURE, frame.dimension} or not frame.kinds:
            return None
        between = self.speech.tokens[frame.start : frame.end - 1]
        links = [n for n, token in enumerate(between) if token.kind == "relation"]
        if (
            not links
            or any(token.kind in {"number", "name", "sign"} for token in between[links[0] :])
            or len(between) - links[0] > 3
        ):
            return None
        if any(self.things.by_value(self.speech.tokens, n) for n in range(frame.start, frame.end)):
            return None
        wanted = si_unit(named)
        return self._slip(frame, "unit", f"in {wanted.symbol}" if wanted else "another unit", 0.9)

    def is_taken_back(self, frame: ValueFrame) -> bool:
        """Whether the speaker mends it in the same breath."""
        behind = self.speech.tokens[frame.end : frame.end + 5]
        words = [token.text for token in behind]
        return any(word in CORRECTING for word in words) or (
            "no" in words[:3] and any(t.kind == "number" for t in behind)
        )

    def _slip(self, frame: ValueFrame, kind: str, right: str, sure: float) -> Slip:
        tokens = self.speech.tokens
        start, end = tokens[frame.start].start, tokens[frame.end - 1].end
        if frame.preposition:
            end = tokens[min(frame.end, len(tokens) - 1)].end
        return Slip(start, end, self.speech.time_of(start), self.speech.quote(start, end), kind, right, sure)


def _worded(fact: Fact) -> str:
    unit = si_unit(fact.dimension)
    value = f"{float(fact.value):.4g}"
    kinds = {
        "pd": "p.d.",
        "power_given": "power given",
        "power_out": "power",
        "short": "short-circuit current",
        "lost": "lost volts",
        "emf": "EMF",
    }
    return f"{kinds.get(fact.kind, fact.kind)} of {fact.of}: {value}{' ' + unit.symbol if unit else ''}"
