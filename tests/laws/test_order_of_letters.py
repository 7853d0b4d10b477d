"""What is written does not depend on the order in which letters were met, nor on how sets are ordered."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

LESSON = Path(__file__).parents[2] / "examples" / "weather-buoy" / "4-one-cell-reversed.lesson.md"
MET = """
import random, sys
from boardproof.algebra.ring import LETTERS
seed = int(sys.argv[1])
letters = ["E_1", "E_2", "r_1", "r_2", "r_3", "R", "I", "V", "n", "x"]
names = [*letters, *(s + t for s in ("E", "r", "R", "I", "V") for t in ("", "_A", "_B", "_both", "_P", "_Q", "_T"))]
random.Random(seed).shuffle(names)
for name in names:
    LETTERS.slot(name)
"""
RATIOS = """
from boardproof.algebra.answer import When
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain
from boardproof.algebra.sign import sign_of
from boardproof.algebra.tidy import to_expression
draw = random.Random(7)
def term():
    made = RationalFunction.constant(draw.choice((1, 1, 1, 2, 3, -1, -1, -2)))
    for letter in draw.sample(letters, draw.choice((1, 1, 2, 2, 3))):
        made = made * RationalFunction.letter(letter)
    return made
def total():
    return sum((term() for _ in range(draw.choice((1, 2, 2, 3)))), RationalFunction.constant(0))
for _ in range(80):
    over, under = total() * total(), total() * total()
    if under.is_zero:
        continue
    print(plain(to_expression(over / under)), repr(over), over.factors())
for _ in range(8):
    answer = sign_of(term() + term() - term(), ">", counts={"n"})
    print(answer, [[plain(each) for each in case] for case in answer.cases] if isinstance(answer, When) else "")
"""
BUILD = """
from boardproof.cli import main
sys.exit(main(["build", sys.argv[2], "--to", sys.argv[3], "--quiet", "--only", "board,page,proof", "--theme", "paper"]))
"""


def ran(program: str, seed: int, *given: str) -> str:
    """What a process that met letters in its own order prints."""
    command = [sys.executable, "-c", MET + program, str(seed), *given]
    environment = {**os.environ, "PYTHONHASHSEED": str(seed)}
    return subprocess.run(
        command, check=True, env=environment, capture_output=True, text=True, timeout=60
    ).stdout


def test_ratios_and_conditions_are_written_alike_whichever_letters_came_first() -> None:
    one, other, third = (ran(RATIOS, seed).splitlines() for seed in (1, 2, 3))
    assert len(one) > 80
    assert [pair for pair in zip(one, other, strict=True) if pair[0] != pair[1]] == []
    assert one == third


def test_a_kit_is_the_same_bytes_whichever_letters_came_first(tmp_path: Path) -> None:
    kits = []
    for seed in (1, 2):
        folder = tmp_path / str(seed)
        ran(BUILD, seed, str(LESSON), str(folder))
        files = {path.relative_to(folder): path for path in sorted(folder.rglob("*")) if path.is_file()}
        kits.append({name: path.read_bytes() for name, path in files.items()})
    one, other = kits
    assert len(one) > 20
    assert one.keys() == other.keys()
    assert [name for name in one if one[name] != other[name]] == []
