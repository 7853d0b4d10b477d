"""A lesson's video in both formats, beside its playing time; goals: 3 times as quick, 1.5 MB a minute."""

from __future__ import annotations

import json
import subprocess
import sys
import time

from course import LESSONS, copied
from timing import HERE


def main():
    with copied() as course:
        path = course / LESSONS[2].name
        for shape in ("wide", "near"):
            for kind in ("mp4", "webm"):
                start = time.perf_counter()
                made = subprocess.run(
                    [sys.executable, "-m", "boardproof", "video", str(path), "--shape", shape,
                     "--format", kind, "--json"],
                    env=HERE, capture_output=True, text=True, check=True,
                )  # fmt: skip
                taken = time.perf_counter() - start
                told = json.loads(made.stdout)
                size = next(each["bytes"] for each in told["files"] if each["name"].startswith("video"))
                print(
                    f"{shape:5} {kind:5} {taken:7.1f} s for {told['seconds']:.1f} s of film: "
                    f"{told['seconds'] / taken:5.1f} times real time; goal 3.  "
                    f"{size / 1e6 / (told['seconds'] / 60):.2f} MB a minute; goal 1.5"
                )


if __name__ == "__main__":
    main()
