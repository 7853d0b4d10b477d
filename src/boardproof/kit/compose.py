"""From a proved lesson to its document: what page, handout, script, cue cards and board plan all print."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from functools import cached_property
from itertools import groupby
from typing import Final

from boardproof.algebra.expression import Line, Name
from boardproof.algebra.show import plain
from boardproof.belief.catalogue import read_belief
from boardproof.circuit.describe import described
from boardproof.circuit.model import Circuit
from boardproof.derive.steps import Derivation
from boardproof.kit.argument import Sought, argument
from boardproof.kit.proof import Proof
from boardproof.kit.telling import Telling
from boardproof.lesson.model import (
    Block,
    BoardBlock,
    CircuitBlock,
    Claim,
    Derive,
    DeriveStep,
    Display,
    Pause,
    Question,
    Trap,
)
from boardproof.lesson.said import word_count
from boardproof.lesson.sentence import Fill, Move, Paragraph, Tie
from boardproof.lesson.sentence import Maths as InlineMaths
from boardproof.lesson.sentence import Words as InlineWords
from boardproof.picture.board import BoardState, Written
from boardproof.picture.drawing import Frame, Lettering, Shape
from boardproof.picture.frame import frame
from boardproof.picture.moments import Facts, Moment, moments_of
from boardproof.prove.verdict import Judged as JudgedStatement
from boardproof.prove.walk import Place, Visit
from boardproof.publish.document import (
    CautionItem,
    ClaimItem,
    Cue,
    Document,
    Figure,
    Formula,
    Item,
    Judged,
    Maths,
    PauseItem,
    Prose,
    QuestionItem,
    QuestionLine,
    Run,
    SceneDoc,
    Stamp,
    StepItem,
    Steps,
    TrapItem,
    Words,
)
from boardproof.source import Source

__all__ = ["Composer"]

CUE_WORDS: Final = 6
CUE_LETTERS: Final = 36
MOVES: Final = {
    "show": "Show {0}.", "hide": "Take {0} off the board.", "focus": "Point to {0}.", "dim": "Let {0} step back.",
    "plain": "Everything alike again.", "label": "Label {0} with {1}.", "arrow": "Draw the arrow for {0}.",
    "height": "Draw the potential round the loop.", "replace": "Draw one {1} in place of {0}.",
    "write": "Write “{0}”.", "recall": "Write {0} again.", "take": "Now the circuit is {0}.",
    "turn": "Turn {0} round.", "open": "Open {0}.", "close": "Close {0}.", "remove": "Take {0} away.",
    "short": "In thought, short {0}.", "no emf in": "In thought, take the EMFs out of {0}.",
}  # fmt: skip


@dataclass(frozen=True)
class Composer:
    """Makes the document and the frames of one proved lesson.

    Parameters
    ----------
    proof : Proof
        The lesson.
    lettering : Lettering
        Measures labels.
    """

    proof: Proof
    lettering: Lettering

    @cached_property
    def telling(self) -> Telling:
        """The lesson's elements as shown and said."""
        return Telling(self.proof)

    # -- moments

    @cached_property
    def moments(self) -> tuple[Moment, ...]:
        """The lesson in time."""
        tagged = {
            line.tag: line
            for visit in self.proof.walk.visits
            if isinstance(visit.element, Display)
            for line in self.telling.lines(visit.element.text, visit.place)
            if line.tag
        }
        telling = self.telling
        facts = Facts(
            telling.written,
            telling.arrow,
            telling.readouts,
            tagged,
            self._caution_of,
            telling.equivalent,
            telling.heights,
        )
        notation = self.proof.course.notation
        derived = {
            visit.element.span.start: self._derived_lines(visit)
            for visit in self.proof.walk.visits
            if isinstance(visit.element, Derive) and not visit.element.steps
        }
        return moments_of(
            self.proof.walk, facts, labels=notation.labels, resistor=notation.resistor, derived=derived
        )

    def _caution_of(self, circuit: Circuit, shorted: bool) -> str:  # noqa: FBT001 - the table of Facts calls it so
        imagined = (("", "short"),) if shorted else ()
        caution = self.telling.caution([Place(0, 0, circuit, imagined)])
        return caution.short if caution else ""

    def frame(self, moment: Moment, shape: Shape) -> Frame:
        """The picture of a moment."""
        return frame(moment.state, shape, self.lettering, moment.key)

    def seconds(self, moment: Moment) -> Fraction:
        """How long a moment takes: its words at the course's pace, and the wait of a pause."""
        words = sum(word_count(self.telling.spoken(visit)) for visit in moment.said)
        spoken = Fraction(60 * words, self.proof.course.pace.words_a_minute)
        return spoken + (moment.pause.seconds if moment.pause and moment.waits else 0)

    # -- derived arguments

    def derivation(self, visit: Visit) -> Derivation | None:
        """The argument that the tool writes for a block without steps; None if its route doesn't fit."""
        block = visit.element
        if not isinstance(block, Derive):
            return None
        found = argument(self.proof.worlds, Sought(block, visit.place))
        return found if isinstance(found, Derivation) else None

    def _derived_lines(self, visit: Visit) -> tuple[Written, ...]:
        found = self.derivation(visit)
        if found is None:
            return ()
        lines = ((step, self._typed(step.maths, visit)) for step in found.steps)
        return tuple(
            Written(f"derived-{step.number}-{visit.place.number}", line, ", ".join(step.rules))
            for step, line in lines
            if line is not None
        )

    def _typed(self, maths: str, visit: Visit) -> Line | None:
        return self.telling.line(Source("derived", maths).slice(), visit.place)

    # -- the document

    def document(self) -> Document:
        """The whole lesson, ready to be set."""
        lesson, course = self.proof.lesson, self.proof.course
        name = lesson.source.name.removesuffix(".lesson.md")
        line = course.title
        if name in course.lessons:
            line = f"{course.title}, lesson {course.lessons.index(name) + 1} of {len(course.lessons)}".lstrip(
                ", "
            )
        page = _Page(self)
        scenes = tuple(self._scene(number, page) for number in range(len(lesson.scenes)))
        return Document(
            lesson.title, line, lesson.settings.language, lesson.settings.corrections, scenes,
            course.author, course.licence, course.address,
        )  # fmt: skip

    def stamp(self, made: date, *, draft: bool) -> Stamp:
        """What every sheet carries."""
        source = self.proof.lesson.source
        unproved = tuple(
            f"Line {source.position(each.said.span.start)[0]}: {' '.join(each.said.text.split())}"
            for each in self.proof.checked.judged
            if not each.met and each.verdict.kind != "true"
        )
        counted = sum(each.said.kind != "sentence" for each in self.proof.checked.judged)
        return Stamp(self.proof.lesson.settings.version, made, draft, counted, unproved)

    def block_items(self, block: Block, visits: Sequence[Visit]) -> tuple[Item, ...]:
        """One block's items, for whoever shows a lesson block by block."""
        return tuple(_Page(self).block(block, visits)) if visits else ()

    def _scene(self, number: int, page: _Page) -> SceneDoc:
        visits = [visit for visit in self.proof.walk.visits if visit.place.scene == number]
        moments = [moment for moment in self.moments if moment.scene == number]
        items = tuple(page.items(visits, moments))
        board = (
            frame(replace(_plain(moments[-1].state), caution=""), "wide", self.lettering, f"{number + 1}-end")
            if moments
            else None
        )
        order = (
            tuple(
                (Maths(line.line),) if isinstance(line.line, Line) else (Words(str(line.line)),)
                for line in moments[-1].state.written
            )
            if moments
            else ()
        )
        title = self.proof.lesson.scenes[number].title or self.proof.lesson.title
        return SceneDoc(title, items, tuple(self._cue(moment) for moment in moments), board, order)

    def _cue(self, moment: Moment) -> Cue:
        said: list[Run] = []
        for _, group in groupby(moment.said, key=lambda visit: id(visit.paragraph)):
            said += [*self.runs(group), Words(" ")]
        spoken = " ".join(" ".join(self.telling.spoken(visit) for visit in moment.said).split())
        move = (_move_words(moment.move),) if moment.move else ()
        written = tuple(
            line.line
            for line in moment.state.written[-1:]
            if moment.cause == "line" and isinstance(line.line, Line)
        )
        words = (
            _cue_words(spoken) or " ".join(move) or (f"Write {_brief(written[0])}" if written else "Wait.")
        )
        return Cue(words, tuple(said[:-1]), move, written, float(self.seconds(moment)), moment.waits)

    def runs(self, visits: Iterable[Visit]) -> tuple[Run, ...]:
        """Elements of a paragraph as they are printed."""
        found: list[Run] = []
        for visit in visits:
            match visit.element:
                case InlineWords(text=text, style=style):
                    found.append(Words(text, style))
                case InlineMaths(text=text):
                    line = self.telling.line(text, visit.place)
                    found.append(Words(text.text) if line is None else Maths(line))
                case Fill() as fill:
                    found.append(Words(self.telling.filled(fill, visit.place), "value"))
                case Tie(words=words):
                    found.append(Words(words.text))
                case _:
                    continue
        return _closed_up(found)


def _closed_up(runs: Sequence[Run]) -> tuple[Run, ...]:
    """Runs with single spaces, none at the ends: board moves leave gaps in the words."""
    found: list[Run] = []
    for run in runs:
        if isinstance(run, Words):
            text = re.sub(r"[ \t\r\n]+", " ", run.text)
            after_space = not found or (isinstance(found[-1], Words) and found[-1].text.endswith(" "))
            text = text.lstrip(" ") if after_space else text
            if text:
                found.append(replace(run, text=text))
        else:
            found.append(run)
    if found and isinstance(found[-1], Words):
        found[-1] = replace(found[-1], text=found[-1].text.rstrip())
    return tuple(found)


def _move_words(move: Move) -> str:
    """A board move as a sentence for the teacher."""
    names = ", ".join(each.text.strip() for each in move.of)
    return MOVES[move.word].format(names, move.with_)


def _brief(line: Line) -> str:
    """The first statement of a line, as far as a card has room for it."""
    text = plain(line.statements[0]) if line.statements else plain(line)
    return text if len(text) <= CUE_LETTERS else text[:CUE_LETTERS].rstrip() + "…"


def _cue_words(spoken: str) -> str:
    """The first few words of what is said, cut at a stop."""
    words: list[str] = []
    for word in spoken.split()[:CUE_WORDS]:
        words.append(word)
        if word[-1] in ".?!:;":
            break
    return " ".join(words).rstrip(".,;:")


def _plain(state: BoardState) -> BoardState:
    """A state for readers: nothing dimmed, nothing in focus, no line in focus."""
    written = tuple(replace(line, in_focus=False) for line in state.written)
    return replace(state, focused=(), dimmed=(), written=written)


class _Page:
    """Writes the items of each scene; remembers what was shown and said last."""

    def __init__(self, composer: Composer) -> None:
        self.composer, self.telling = composer, composer.telling
        self.moments: Sequence[Moment] = ()
        self.shown: BoardState | None = None
        self.warned = False

    def items(self, visits: Sequence[Visit], moments: Sequence[Moment]) -> Iterable[Item]:
        """The scene's blocks in reading order, with a figure wherever the picture has changed."""
        self.moments, self.warned = moments, False
        for _, group in groupby(visits, key=lambda visit: id(visit.block)):
            block = list(group)
            if not isinstance(block[0].block, CircuitBlock | BoardBlock):
                yield from self.figure(block[0] if isinstance(block[0].block, Derive) else block[-1])
            yield from self.block(block[0].block, block)

    def figure(self, visit: Visit) -> Iterable[Item]:
        """A figure before the block in which the picture changes; never one that shows a pause's answer."""
        if isinstance(visit.block, Pause) and visit.role == "answer":
            return
        state = self.state(visit.place)
        if state is None or (self.shown is not None and _same_picture(state, self.shown)):
            return
        self.shown = state
        yield from self.caution(visit.place)
        wide, near = (frame(state, shape, self.composer.lettering) for shape in SHAPES)
        assert state.circuit is not None
        yield Figure(wide, near, (Words(described(state.circuit)),))

    def state(self, place: Place) -> BoardState | None:
        """The picture at a place, for readers."""
        if place.circuit is None:
            return None
        mine = [moment for moment in self.moments if moment.state.circuit == place.circuit]
        made = [moment for moment in mine if moment.place.number <= place.number] or mine
        if not made:
            return None
        state = made[-1].state
        label = "both" if place.circuit.values else "letters"
        return replace(_plain(state), written=(), caution="", default_label=label, imagined=())

    def caution(self, place: Place) -> Iterable[Item]:
        """A caution where a circuit that can hurt comes up, once a scene."""
        caution = self.telling.caution([place])
        if caution and not self.warned:
            self.warned = True
            yield CautionItem(caution)

    def block(self, block: Block, visits: Sequence[Visit]) -> Iterable[Item]:
        """One block's items."""
        match block:
            case Paragraph():
                yield Prose(self.composer.runs(visits), block.said, block.bullet)
            case Display():
                yield from self.formulas(visits[0])
            case Derive():
                yield from self.steps(block, visits)
            case Pause():
                yield self.pause(block, visits)
            case Trap():
                yield from self.trap(block, visits)
            case Claim():
                yield self.claim(block, visits)
            case Question():
                yield self.question(block, visits)
            case _:
                yield from self.prose([visit for visit in visits if visit.role in {"lab", "brief"}])

    def prose(self, visits: Iterable[Visit]) -> tuple[Prose, ...]:
        """Paragraphs of a block."""
        found = []
        for _, group in groupby(
            (v for v in visits if v.paragraph is not None), key=lambda v: id(v.paragraph)
        ):
            many = list(group)
            paragraph = many[0].paragraph
            assert paragraph is not None
            found.append(Prose(self.composer.runs(many), paragraph.said, paragraph.bullet))
        return tuple(found)

    def formulas(self, visit: Visit) -> Iterable[Formula]:
        assert isinstance(visit.element, Display)
        for line in self.telling.lines(visit.element.text, visit.place):
            yield Formula(line, line.tag or "", self.verdict(self.telling.verdict_of(line)))

    def verdict(self, judged: JudgedStatement | None) -> Judged | None:
        """What is printed beside a line that is not plainly true."""
        if judged is None:
            return None
        words = judged.verdict.condition or (
            judged.verdict.evidence[0].text if judged.verdict.evidence else ""
        )
        return Judged(judged.verdict.kind, (Words(words),) if words else ())

    def steps(self, block: Derive, visits: Sequence[Visit]) -> Iterable[Item]:
        sought: list[Run] = []
        for target in block.targets:
            sought += [Maths(Name(target.text.strip())), Words(", ")]
        sought = sought[:-1]
        if block.group:
            sought.append(Words(f" of {block.group.text.strip()}"))
        if block.route:
            sought.append(Words(f", by {block.route.text.strip()}"))
        if not block.steps:
            derivation = self.composer.derivation(visits[0])
            if derivation is not None:
                yield Steps(tuple(sought), tuple(self.derived(derivation, visits[0])))
                yield Prose((Words(f"{derivation.closing.units} {derivation.closing.sentence}".strip()),))
            return
        steps = []
        for step in block.steps:
            mine = [visit for visit in visits if visit.paragraph in step.words or visit.element is step]
            place = next(
                (visit.place for visit in mine if isinstance(visit.element, DeriveStep)), visits[0].place
            )
            for line in self.telling.lines(step.maths, place):
                reason = (Words(", ".join(rule.text.strip() for rule in step.rules)),)
                words = self.prose([visit for visit in mine if visit.role == "step words"])
                steps.append(
                    StepItem(step.number, reason, line, words, self.verdict(self.telling.verdict_of(line)))
                )
        yield Steps(tuple(sought), tuple(steps))

    def derived(self, derivation: Derivation, visit: Visit) -> Iterable[StepItem]:
        for step in derivation.steps:
            line = self.telling.line(Source("derived", step.maths).slice(), visit.place)
            if line is not None:
                reason = (Words(", ".join(step.rules)),)
                yield StepItem(step.number, reason, line, (Prose((Words(step.words),)),))

    def pause(self, block: Pause, visits: Sequence[Visit]) -> PauseItem:
        task = self.prose(visit for visit in visits if visit.role == "task")
        answers = [visit for visit in visits if visit.role == "answer"]
        found: list[Prose | Formula] = []
        for key, group in groupby(answers, key=lambda visit: id(visit.paragraph or visit)):
            many = list(group)
            del key
            found += self.formulas(many[0]) if isinstance(many[0].element, Display) else self.prose(many)
        return PauseItem(block.seconds, task, tuple(found))

    def trap(self, block: Trap, visits: Sequence[Visit]) -> Iterable[Item]:
        refutation = self.prose(visit for visit in visits if visit.role == "refutation")
        belief = read_belief(block.belief.text) if block.belief else None
        line = self.telling.line(block.wrong, visits[0].place) if block.wrong else None
        if line is None:
            yield from refutation
            return
        judged = self.telling.verdict_of(line)
        right = judged.verdict.right if judged else None
        condition = judged.verdict.condition if judged else None
        right_line = self.telling.line(Source("right", right).slice(), visits[0].place) if right else None
        only = (self._condition(condition, visits[0]),) if condition else ()
        yield TrapItem(line, right_line, only, belief.words if belief else "", refutation)

    def _condition(self, condition: str, visit: Visit) -> Run:
        line = self.telling.line(Source("condition", condition).slice(), visit.place)
        return Words(condition) if line is None else Maths(line)

    def claim(self, block: Claim, visits: Sequence[Visit]) -> ClaimItem:
        words = self.prose(visit for visit in visits if visit.role == "claim")
        lines = [
            line for means in block.means if (line := self.telling.line(means, visits[0].place)) is not None
        ]
        found = [self.telling.judged.get((means.span.start, means.span.end)) for means in block.means]
        worst = next((each for each in found if each is not None and each.verdict.kind != "true"), None)
        first = next((each for each in found if each is not None), None)
        verdict = self.verdict(worst) or Judged(
            "true" if first else "not-checked", self._ground(block, visits[0])
        )
        return ClaimItem(block.name.text.strip() if block.name else "", words, tuple(lines), verdict)

    def _ground(self, block: Claim, visit: Visit) -> tuple[Run, ...]:
        """What a claim holds for, in words and maths."""
        if block.for_ is None:
            return (Words("for all positive values"),)
        said = block.for_.text.strip()
        if said.endswith(" fixed"):
            return (Words("for a fixed "), Maths(Name(said.removesuffix(" fixed").strip())))
        line = self.telling.line(block.for_, visit.place)
        return (Words("for "), Maths(line)) if line is not None else (Words(f"for {said}"),)

    def question(self, block: Question, visits: Sequence[Visit]) -> QuestionItem:
        stem = self.prose(v for v in visits if v.role == "stem" and v.paragraph in block.stem)
        parts = []
        for part in block.parts:
            words = self.prose(v for v in visits if v.role == "stem" and v.paragraph in part.words)
            parts.append(QuestionLine(part.label, words, _marks(part.ask.text if part.ask else "")))
        return QuestionItem(block.name.text.strip() if block.name else "", stem, None, tuple(parts))


SHAPES: Final[tuple[Shape, Shape]] = ("figure", "figure near")


def _same_picture(new: BoardState, shown: BoardState) -> bool:
    """Whether a reader would learn nothing from the new picture."""
    same = (new.circuit, new.replaced, new.hidden) == (shown.circuit, shown.replaced, shown.hidden)
    return same and set(new.arrows) <= set(shown.arrows)


def _marks(ask: str) -> int:
    """Marks of a part: the number before the word."""
    before = ask.partition(" mark")[0].split()
    return int(before[-1]) if before and before[-1].isdigit() else 0
