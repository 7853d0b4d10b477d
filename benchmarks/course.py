"""Material for the benchmarks: the demo course in a folder of its own, and a lesson of 12 parts and 40 statements."""

from __future__ import annotations

import shutil
import tempfile
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
DEMO = ROOT / "examples" / "weather-buoy"
LESSONS = sorted(DEMO.glob("*.lesson.md"))


@contextmanager
def copied():
    """The demo course where it may be edited."""
    with tempfile.TemporaryDirectory() as folder:
        yield Path(shutil.copytree(DEMO, Path(folder) / "course"))


def long_lesson():
    """Eleven cells in a row across a load, said in forty statements, without claims."""
    count = 11
    rows = [f"C{k} = cell E_{k} = {k} V, r_{k} = {k}/10 ohm" for k in range(1, count + 1)]
    rows += ["R = resistor 4.4 ohm", f"row = {' + '.join(f'C{k}' for k in range(1, count + 1))}"]
    rows += ["main = row across R", "let E_s = emf of row", "let r_s = resistance of row"]
    said = []
    for k in range(1, count + 1):
        said += [f"V_{k} = E_{k} - I r_{k}", f"I = (E_{k} - V_{k})/r_{k}", f"V_{k} = {k} V - {k}/10 ohm I"]
    sums = [" + ".join(f"{letter}_{k}" for k in range(1, count + 1)) for letter in ("E", "r")]
    said += [f"E_s = {sums[0]}", f"r_s = {sums[1]}", "I = E_s/(R + r_s)", "V_R = I R"]
    said += ["E_s = 66 V", "r_s = 6.6 ohm", "I = 6 A"]
    scenes = [said[start : start + 10] for start in range(0, len(said), 10)]
    text = ["# A long row\n\n## The circuit\n", "```circuit\n" + "\n".join(rows) + "\n```\n"]
    for number, each in enumerate(scenes, 1):
        text.append(f"## Part {number}\n" if number > 1 else "")
        text += [f"This is how it goes on.\n\n$$ {line} $$\n" for line in each]
    return "\n".join(text)


@contextmanager
def long_lesson_file():
    """That lesson as a file."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "long-row.lesson.md"
        path.write_text(long_lesson(), encoding="utf-8")
        yield path
