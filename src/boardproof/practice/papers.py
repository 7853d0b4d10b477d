"""Papers: which numbers each student gets, and the code that stands on each page.

A paper's seed follows from the teacher's seed and the student (or the set); each question's draw from that seed and
the question's id. Nothing else matters: not the order, not the worker, not the machine.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from typing import Any, Final

from boardproof.practice.draws import Pool
from boardproof.practice.records import Variant
from boardproof.practice.variants import variant_of
from boardproof.record import record

__all__ = ["Paper", "code_of", "draws_of", "paper_for", "seed_of"]

ALPHABET: Final = "ABCDEFGHJKLMNPQRTUVWXY346789"
"""Letters and digits that nobody takes for each other."""


@record
class Paper:
    """One student's paper, or one set's.

    Parameters
    ----------
    code : str
        Stands on each page: five signs and one that checks them.
    who : str
        A student's code or a set's letter.
    seed : int
        From which all its numbers follow.
    variants : tuple of Variant
        In order.
    """

    code: str
    who: str
    seed: int
    variants: tuple[Variant, ...]


def seed_of(seed: int, who: str) -> int:
    """The seed of one paper.

    Parameters
    ----------
    seed : int
        The teacher's.
    who : str
        A student's code or a set's letter.

    Examples
    --------
    >>> seed_of(1, "S01") == seed_of(1, "S01") != seed_of(1, "S02")
    True
    """
    return int.from_bytes(hashlib.sha256(f"{seed}|{who}".encode()).digest()[:8], "big")


def code_of(seed: int, versions: Sequence[str]) -> str:
    """The code on a paper's pages.

    Parameters
    ----------
    seed : int
        The paper's.
    versions : sequence of str
        Of its questions, so that a changed question gives another code.

    Examples
    --------
    >>> code_of(1, ["a"]), code_of(1, ["a"]) == code_of(1, ["b"])
    ('89H-EGH', False)
    """
    number = int.from_bytes(hashlib.sha256(f"{seed}|{'|'.join(versions)}".encode()).digest()[:8], "big")
    signs, base = [], len(ALPHABET)
    for _ in range(5):
        number, sign = divmod(number, base)
        signs.append(sign)
    signs.append(sum((n + 1) * sign for n, sign in enumerate(signs)) % base)
    text = "".join(ALPHABET[sign] for sign in signs)
    return f"{text[:3]}-{text[3:]}"


def paper_for(pools: Sequence[Pool], seed: int, who: str) -> Paper:
    """A whole paper with exact keys.

    Parameters
    ----------
    pools : sequence of Pool
        Good draws of its questions, in order.
    seed : int
        The teacher's.
    who : str
        Whose.
    """
    own = seed_of(seed, who)
    versions = [pool.prepared.question.version for pool in pools]
    return Paper(code_of(own, versions), who, own, tuple(variant_of(pool, own) for pool in pools))


def draws_of(pools: Sequence[Pool], seed: int, whos: Sequence[str]) -> Iterator[tuple[Pool, Any, Any]]:
    """Numbers and keys of many papers at once, question by question.

    Parameters
    ----------
    pools : sequence of Pool
        As for `paper_for`.
    seed : int
        The teacher's.
    whos : sequence of str
        Whose papers.

    Returns
    -------
    iterator of (Pool, ndarray of draw numbers, ndarray of shape (papers, answers))
        The same draws as `paper_for` makes, the keys as floats.
    """
    import numpy as np  # numbers by the thousand only

    seeds = np.fromiter((seed_of(seed, who) for who in whos), np.uint64, len(whos))
    for pool in pools:
        numbers = pool.pick_many(seeds)
        yield pool, numbers, pool.keys[numbers]
