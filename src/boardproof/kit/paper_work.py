"""The work of making papers, cut into pieces that any process can do: the same files whoever does them."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Final, Literal

from boardproof.algebra.polynomial import RationalFunction
from boardproof.caution import Danger, caution_for, dangers
from boardproof.kit.files import read_folder, write_whole
from boardproof.kit.paper_questions import Kind, asked_of, families_named, pools_for
from boardproof.practice.draws import Pool
from boardproof.practice.families import family
from boardproof.practice.papers import Paper, paper_for
from boardproof.practice.records import Key
from boardproof.practice.variants import written
from boardproof.publish.question_package import package
from boardproof.publish.quiz import quiz_page
from boardproof.publish.typeset import Typesetter
from boardproof.publish.worksheet import Batch, Printed, print_batch
from boardproof.quantities import Style

__all__ = ["Job", "Order", "do", "jobs_of", "pools_of"]

A_BATCH: Final = 25
"""Papers in one PDF: a pile that a hand can hold, and a piece of work of a few seconds."""
PRINTS: Final[tuple[Printed, ...]] = ("worksheets", "key", "mark-scheme", "marking-sheet")


@dataclass(frozen=True)
class Order:
    """All that decides a set of papers; plain values, so that it can travel.

    Parameters
    ----------
    what : str
        Path of a lesson, or names of families.
    whos : tuple of str
        Students' codes or sets' letters, in pile order.
    seed : int
        The teacher's.
    kind : {"practice", "exit", "hinge"}
        Whole papers, exit slips, hinge questions.
    large : bool
        Large print.
    quiz : {"practice", "marked"} or None
        Web quizzes besides.
    qti : {"3.0", "2.2", "2.1"} or None
        A package in that version of the open standard.
    paper_size : {"a4", "letter"}
        Of the sheets.
    seats : tuple of tuple of (str, str)
        Seat plan, with sets.
    title : str
        At the head.
    rules : str
        Words that every caution refers to.
    """

    what: str
    whos: tuple[str, ...]
    seed: int
    kind: Kind = "practice"
    large: bool = False
    quiz: Literal["practice", "marked"] | None = None
    qti: Literal["3.0", "2.2", "2.1"] | None = None
    paper_size: Literal["a4", "letter"] = "a4"
    seats: tuple[tuple[tuple[str, str], ...], ...] = ()
    title: str = ""
    rules: str = ""


@dataclass(frozen=True)
class Job:
    """One piece: some papers in one form. Its files are whole or not there, so a stopped run goes on where it was."""

    order: Order
    form: str
    first: int
    last: int
    folder: str

    @property
    def name(self) -> str:
        """Of the file it makes."""
        part = f"-{self.first + 1:04}" if len(self.order.whos) > A_BATCH else ""
        match self.form:
            case "record":
                return f"papers{part}.jsonl"
            case "quiz":
                return f"quiz{part}.made"
            case "qti":
                return "questions.zip"
            case form:
                return f"{form}{part}.pdf"


def jobs_of(order: Order, folder: Path) -> tuple[Job, ...]:
    """The pieces of an order, in a fixed sequence.

    Parameters
    ----------
    order : Order
        What is wanted.
    folder : Path
        Where the files go.
    """
    forms = ["record", *PRINTS, *(["quiz"] if order.quiz else [])]
    cuts = range(0, len(order.whos), A_BATCH)
    found = [
        Job(order, form, first, min(first + A_BATCH, len(order.whos)), str(folder))
        for first in cuts
        for form in forms
    ]
    return (*found, Job(order, "qti", 0, len(order.whos), str(folder))) if order.qti else tuple(found)


@lru_cache(maxsize=8)
def pools_of(order: Order) -> tuple[Pool, ...]:
    """The questions of an order with their good draws; found again in each process.

    Parameters
    ----------
    order : Order
        What is wanted.
    """
    names = families_named(order.what)
    if names is not None:
        return pools_for([family(name) for name in names], order.kind)[0]
    path = Path(order.what)
    folder, _ = read_folder(path.parent)
    return pools_for(asked_of(folder, path.name)[0], order.kind)[0]


@lru_cache(maxsize=1)
def _typesetter() -> Typesetter:
    return Typesetter()


def do(job: Job) -> str:
    """Do one piece; returns the name of its file.

    Parameters
    ----------
    job : Job
        Which.
    """
    pools = pools_of(job.order)
    papers = tuple(paper_for(pools, job.order.seed, who) for who in job.order.whos[job.first : job.last])
    folder = Path(job.folder)
    match job.form:
        case "record":
            lines = (json.dumps(_record(paper, pools), ensure_ascii=False) for paper in papers)
            content = "".join(f"{line}\n" for line in lines).encode()
        case "quiz":
            content = _quizzes(job.order, pools, papers, folder)
        case "qti":
            content, report = package(job.order.title, pools, papers, job.order.qti or "3.0", _typesetter())
            write_whole(folder / "questions-report.txt", report.encode())
        case form:
            prepared = tuple(pool.prepared for pool in pools)
            seats = job.order.seats if job.first == 0 else ()
            cautions = {
                paper.code: text for paper in papers if (text := _caution_of(paper, pools, job.order.rules))
            }
            order = job.order
            batch = Batch(order.title, prepared, papers, cautions, order.paper_size, order.large, seats)
            content = print_batch(batch, _printed(form), _typesetter())
    write_whole(folder / job.name, content)
    return job.name


def _printed(form: str) -> Printed:
    return next(each for each in PRINTS if each == form)


def _quizzes(order: Order, pools: Sequence[Pool], papers: Sequence[Paper], folder: Path) -> bytes:
    made = []
    for paper in papers:
        name = f"quiz-{paper.who}-{paper.code}.html"
        caution = _caution_of(paper, pools, order.rules)
        page = quiz_page(order.title, pools, paper, order.quiz or "practice", _typesetter(), caution=caution)
        write_whole(folder / name, page.encode())
        made.append(name)
    return ("\n".join(made) + "\n").encode()


def _caution_of(paper: Paper, pools: Sequence[Pool], rules: str) -> str:
    """The caution that a paper's circuits ask for; empty where nothing can hurt.

    Parameters
    ----------
    paper : Paper
        With its numbers.
    pools : sequence of Pool
        Its questions.
    rules : str
        Words that it refers to.
    """
    found: list[Danger] = []
    for pool, variant in zip(pools, paper.variants, strict=True):
        circuit = pool.prepared.question.circuit
        if circuit is not None:
            values = {**circuit.values, **variant.draw}
            found += dangers(
                type(circuit)(circuit.item, values, circuit.zero, circuit.written), style=Style()
            )
    caution = caution_for(found, rules=rules)
    return caution.full if caution is not None else ""


def _record(paper: Paper, pools: Sequence[Pool]) -> Mapping[str, object]:
    """A paper with its keys as JSON: what marking starts from. Exact numbers travel as text.

    Parameters
    ----------
    paper : Paper
        With its numbers.
    pools : sequence of Pool
        Its questions.
    """
    questions = []
    for number, (pool, variant) in enumerate(zip(pools, paper.variants, strict=True), 1):
        question = pool.prepared.question
        source = question.source if isinstance(question.source, str) else question.source.source
        parts = [
            {
                "part": solved.label,
                "form": part.asked.form,
                "marks": part.asked.marks,
                "figures": part.asked.figures,
                "key": _key(solved.key),
                "shown": solved.shown,
                "wrong": {belief: _key(value) for belief, value in solved.wrong.items()},
                "after": list(part.asked.after),
            }
            for part, solved in zip(pool.prepared.parts, variant.parts, strict=True)
        ]
        draw = {letter: str(value) for letter, value in variant.draw.items()}
        head = {"number": number, "question": question.id, "version": question.version, "source": source}
        questions.append({**head, "name": question.name, "draw": draw, "parts": parts})
    return {
        "schema": 1,
        "paper": paper.code,
        "student": paper.who,
        "seed": paper.seed,
        "questions": questions,
    }


def _key(value: Key) -> object:
    match value:
        case Fraction():
            return str(value)
        case RationalFunction():
            return written(value)
        case tuple():
            return list(value)
        case _:
            return value
