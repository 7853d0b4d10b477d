"""Millions of answers: each different text is judged once, and the table is never held whole.

Needs the extra `scale` (polars).
"""

from __future__ import annotations

from collections.abc import Mapping
from importlib.util import find_spec
from pathlib import Path

from boardproof.practice.answer_verdict import Expected, judge_typed

__all__ = ["mark_file"]


def mark_file(path: Path, questions: Mapping[str, Expected], to: Path) -> Mapping[str, int]:
    """Mark a table with the columns question and answer; write it with its verdicts; count those.

    Parameters
    ----------
    path : Path
        A CSV file.
    questions : mapping of str to Expected
        By the text of the question's column. Other questions are left without a verdict.
    to : Path
        A Parquet file.

    Returns
    -------
    mapping of str to int
        Verdict to how many answers have it.

    Notes
    -----
    Two passes over the file, both streamed: the different texts, then the join. Memory grows with the number of
    different texts, not of answers.
    """
    if find_spec("polars") is None:
        raise RuntimeError("Millions of answers need the extra 'scale': pip install 'boardproof[scale]'")
    import polars as pl  # an extra, and slow to load

    texts = {"question": pl.String, "answer": pl.String}
    table = pl.scan_csv(path, schema_overrides=texts, empty_string_is_null=False)
    different = table.select("question", "answer").unique().collect(engine="streaming")
    labels = [
        judge_typed(answer, questions[question]).label if question in questions else None
        for question, answer in different.iter_rows()
    ]
    judged = different.with_columns(pl.Series("verdict", labels, dtype=pl.String)).lazy()
    table.join(judged, on=["question", "answer"], how="left").sink_parquet(to)
    counts = pl.scan_parquet(to).group_by("verdict").len().collect(engine="streaming")
    return {verdict: count for verdict, count in counts.iter_rows() if verdict is not None}
