"""Help and version beside the bare start of Python."""

from __future__ import annotations

from timing import processes, tell

PEER = "python -c pass"


def main():
    cases = {PEER: ("-c", "pass"), "--help": ("-m", "boardproof", "--help")}
    cases |= {"check --help": ("-m", "boardproof", "check", "--help")}
    taken = processes(cases)
    for name, ours in taken.items():
        if name != PEER:
            tell(f"boardproof {name}", ours, PEER, taken[PEER], "100 ms")


if __name__ == "__main__":
    main()
