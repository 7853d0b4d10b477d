"""All of a lesson's kit in a fresh process, made anew and after one line was edited, beside `import sympy`."""

from __future__ import annotations

from course import LESSONS, copied
from timing import process, processes, tell

PEER = "import sympy"


def main():
    with copied() as course:
        paths = [course / path.name for path in LESSONS]
        cases = {PEER: ("-c", "import sympy")}
        cases |= {path.name: ("-m", "boardproof", "build", path, "--quiet") for path in paths}
        taken = processes(cases, times=3)
        for path in paths:
            tell(f"{path.name}, whole kit", taken[path.name], PEER, taken[PEER], "3 s")
        path = paths[2]
        text = path.read_text(encoding="utf-8")
        path.write_text(text.replace("\n\n## ", "\n\nOne line more.\n\n## ", 1), encoding="utf-8")
        edited = process("-m", "boardproof", "build", path, "--quiet", times=3)
        tell(f"{path.name}, one line edited", edited, PEER, taken[PEER], "100 ms")


if __name__ == "__main__":
    main()
