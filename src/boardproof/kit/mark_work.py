"""The work of marking, cut into pieces that any process can do: the same marks whoever does them."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from multiprocessing import get_context
from pathlib import Path
from typing import Any, Final

from boardproof.kit.files import read_folder
from boardproof.kit.paper_questions import asked_of, families_named
from boardproof.practice.class_view import MarkedPaper
from boardproof.practice.families import family
from boardproof.practice.marking import mark_paper
from boardproof.practice.prepared import Prepared
from boardproof.practice.records import Answer, Mark, Question, Solved, Variant
from boardproof.practice.selection import exit_slip, hinge
from boardproof.practice.variants import solved
from boardproof.record import record

__all__ = [
    "Batch",
    "batches",
    "changed_questions",
    "mark_batch",
    "marked",
    "paper_of",
    "prepared_of",
    "records_in",
    "source_of",
]

A_BATCH: Final = 50
NUMERIC: Final = frozenset({"number", "shown"})


@record
class Batch:
    """A piece of the work: where the questions come from, papers as recorded, and the answers on them."""

    source: str
    papers: tuple[str, ...]
    answers: tuple[Answer, ...]
    again: bool = False


def records_in(folder: Path) -> tuple[str, ...]:
    """The records of a folder of papers, a line of JSON each.

    Parameters
    ----------
    folder : Path
        As `boardproof papers` made it.
    """
    lines = (
        each for path in sorted(folder.glob("papers*.jsonl")) for each in path.read_text("utf-8").splitlines()
    )
    return tuple(each for each in lines if each.strip())


def source_of(folder: Path) -> str:
    """Families, or the path of the lesson, from which a folder's papers were made.

    Parameters
    ----------
    folder : Path
        As `boardproof papers` made it.
    """
    try:
        noted = json.loads((folder / "order.json").read_text("utf-8"))
    except (OSError, ValueError):
        return ""
    return str(noted.get("what", "")) if isinstance(noted, dict) else ""


@lru_cache(maxsize=8)
def prepared_of(source: str) -> Mapping[str, Prepared]:
    """Every question that papers from a source can hold, by its id.

    Parameters
    ----------
    source : str
        From `source_of`.
    """
    names = families_named(source)
    if names is not None:
        questions: Sequence[Prepared] = [family(name) for name in names]
    else:
        path = Path(source)
        questions = asked_of(read_folder(path.parent)[0], path.name)[0]
    found = {each.question.id: each for each in questions}
    for each in questions:
        for short in (exit_slip(each), hinge(each)):
            if short is not None:
                found.setdefault(short.question.id, short)
    return found


def paper_of(
    line: str, source: str, *, again: bool
) -> tuple[str, str, tuple[Question, ...], tuple[Variant, ...]]:
    """A recorded paper: its code, whose it is, its questions, and their numbers with keys.

    Parameters
    ----------
    line : str
        A record.
    source : str
        From `source_of`.
    again : bool
        With the questions as they are now; else a question that was changed keeps the keys that were printed.
    """
    paper = json.loads(line)
    known = prepared_of(source)
    questions, variants = [], []
    for row in paper["questions"]:
        prepared = known[row["question"]]
        draw = {letter: Fraction(value) for letter, value in row["draw"].items()}
        question, parts = prepared.question, solved(prepared, draw)
        if row["version"] != question.version and not again:
            question = replace(question, version=row["version"])
            parts = tuple(
                _as_printed(part, printed) for part, printed in zip(parts, row["parts"], strict=True)
            )
        questions.append(question)
        variants.append(Variant(question.id, question.version, int(paper["seed"]), draw, parts))
    return paper["paper"], paper["student"], tuple(questions), tuple(variants)


def _as_printed(part: Solved, printed: Mapping[str, Any]) -> Solved:
    """The key that stood on the paper's mark scheme."""
    if printed["form"] not in NUMERIC:
        return part
    wrong = {belief: Fraction(value) for belief, value in printed["wrong"].items() if isinstance(value, str)}
    return replace(part, key=Fraction(printed["key"]), shown=printed["shown"], wrong=wrong)


def changed_questions(papers: Sequence[str], source: str) -> dict[str, tuple[str, ...]]:
    """Questions that were changed since, by name, with the codes of the papers that hold them.

    Parameters
    ----------
    papers : sequence of str
        Records.
    source : str
        From `source_of`.
    """
    known = prepared_of(source)
    found: dict[str, list[str]] = {}
    for line in papers:
        paper = json.loads(line)
        for row in paper["questions"]:
            now = known.get(row["question"])
            if now is None or now.question.version != row["version"]:
                found.setdefault(row["name"], []).append(paper["paper"])
    return {name: tuple(codes) for name, codes in found.items()}


def mark_batch(batch: Batch) -> tuple[MarkedPaper, ...]:
    """Mark a piece.

    Parameters
    ----------
    batch : Batch
        Which.
    """
    by_paper: dict[tuple[str, str], list[Answer]] = {}
    for answer in batch.answers:
        by_paper.setdefault((answer.paper, answer.student), []).append(answer)
    found = []
    for line in batch.papers:
        code, who, questions, variants = paper_of(line, batch.source, again=batch.again)
        for (paper, student), answers in by_paper.items():
            if paper == code or (not paper and student == who):
                marks = mark_paper(questions, variants, [replace(each, paper=code) for each in answers])
                found.append(MarkedPaper(student, questions, variants, tuple(map(_plain, marks))))
    return tuple(found)


def _plain(mark: Mark) -> Mark:
    """A mark that can travel between processes."""
    return replace(mark, follow_through=dict(mark.follow_through), versions=dict(mark.versions))


def marked(
    papers: Sequence[str],
    answers: Sequence[Answer],
    source: str,
    *,
    again: bool,
    workers: int = 1,
    cluster: str = "",
) -> tuple[MarkedPaper, ...]:
    """Mark all papers, here, in several processes, or on a cluster.

    Parameters
    ----------
    papers : sequence of str
        Records.
    answers : sequence of Answer
        Of all students.
    source : str
        From `source_of`.
    again : bool
        With the questions as they are now.
    workers : int
        Processes on this machine.
    cluster : str
        Address of a scheduler, or ``local``; empty for none.
    """
    work = batches(papers, answers, source, again=again)
    if cluster:
        made = list(_on_a_cluster(work, cluster))
    elif workers > 1 and len(work) > 1:
        # Spawned: a forked process would inherit locks of libraries and might wait for ever.
        with ProcessPoolExecutor(workers, get_context("spawn")) as pool:
            made = list(pool.map(mark_batch, work))
    else:
        made = [mark_batch(each) for each in work]
    return tuple(sorted((each for found in made for each in found), key=lambda each: each.student))


def batches(papers: Sequence[str], answers: Sequence[Answer], source: str, *, again: bool) -> list[Batch]:
    """The pieces of the work, in the order of the pile.

    Parameters
    ----------
    papers : sequence of str
        Records.
    answers : sequence of Answer
        Of all students.
    source : str
        From `source_of`.
    again : bool
        With the questions as they are now.
    """
    by_paper: dict[str, list[Answer]] = {}
    for each in answers:
        by_paper.setdefault(each.paper or f"of {each.student}", []).append(each)
    found = []
    for at in range(0, len(papers), A_BATCH):
        lines = tuple(papers[at : at + A_BATCH])
        heads = [json.loads(line) for line in lines]
        own = [
            each
            for head in heads
            for each in (*by_paper.get(head["paper"], ()), *by_paper.get(f"of {head['student']}", ()))
        ]
        if own:
            found.append(Batch(source, lines, tuple(own), again))
    return found


def _on_a_cluster(work: Sequence[Batch], address: str) -> Iterator[tuple[MarkedPaper, ...]]:
    import distributed  # an extra, and a second to load

    client: Any = distributed.Client
    with client(None if address == "local" else address) as open_client:
        # a piece that was lost with its worker is done again by another; the order stays that of the pile
        yield from open_client.gather(open_client.map(mark_batch, work, pure=False, retries=3))
