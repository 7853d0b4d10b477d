"""`check` in a fresh process beside `import sympy`: its imports, then its work; and once more after an edit."""

from __future__ import annotations

import subprocess
import sys
from itertools import count

from course import LESSONS, copied, long_lesson_file
from timing import call, processes, tell

from boardproof.kit.check import check_file

PEER = "import sympy"


def memory(lesson):
    """Most memory that checking a lesson takes, in MB, asked of a process of its own."""
    words = (
        "import resource, sys; from pathlib import Path; from boardproof.kit.check import check_file; "
        "check_file(Path(sys.argv[1])); print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)"
    )
    done = subprocess.run([sys.executable, "-c", words, lesson], capture_output=True, text=True, check=True)
    return int(done.stdout) / 1024


def edited(path):
    """Checks the file again, each time with another number in its first paragraph."""
    text, numbers = path.read_text(encoding="utf-8"), count(1)
    head, blank, rest = text.partition("\n\n## ")

    def again():
        title, line, after = rest.partition("\n\n")
        path.write_text(f"{head}{blank}{title}{line}Take {next(numbers)}.\n\n{after}", encoding="utf-8")
        return check_file(path)

    return again


def main():
    with long_lesson_file() as long, copied() as course:
        cases = {PEER: ("-c", "import sympy"), "start of Python": ("-c", "pass")}
        cases |= {"its imports": ("-c", "import boardproof.kit.check")}
        cases |= {path.name: ("-m", "boardproof", "check", path) for path in (*LESSONS, long)}
        taken = processes(cases)
        for name, ours in taken.items():
            if name != PEER:
                tell(name, ours, PEER, taken[PEER], "200 ms" if name == long.name else "")
        for path in (*sorted(course.glob("*.lesson.md")), long):
            goal = "30 ms" if path == long else ""
            tell(f"{path.name}, one line edited, warm", call(edited(path)), PEER, taken[PEER], goal)
        print(f"memory: {memory(long):.0f} MB, of which Python {bare_memory():.0f} MB")


def bare_memory():
    words = "import resource; print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)"
    done = subprocess.run([sys.executable, "-c", words], capture_output=True, text=True, check=True)
    return int(done.stdout) / 1024


if __name__ == "__main__":
    main()
