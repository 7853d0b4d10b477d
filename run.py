#!/usr/bin/env python3
"""Set up the project and run its stages; needs the standard library only.

python3 run.py          set up, then make the kits of the demo course
python3 run.py setup    set up only
python3 run.py test     set up, then lint, types and all tests, browser included
python3 run.py lint | types | docs | pages | bench | deep

What follows `test`, `docs`, `pages` or `deep` goes to pytest: `python3 run.py test -k parallel`.
"""

from __future__ import annotations

import argparse
import hashlib
import importlib.util
import os
import secrets
import shutil
import subprocess
import sys
import time
from pathlib import Path

OLDEST = (3, 11)
ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
LOCK = ROOT / "requirements.lock"
TESTS_LOCK = ROOT / "requirements-tests.lock"
COURSE = Path("examples") / "weather-buoy"
ON_WINDOWS = os.name == "nt"
PROGRAMS = VENV / ("Scripts" if ON_WINDOWS else "bin")
PYTHON = PROGRAMS / ("python.exe" if ON_WINDOWS else "python")
SEED = 20240229  # of the order of the tests; any other does, `deep` draws one
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")
BROWSER_PLACES = (
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "C:/Program Files/Google/Chrome/Application/chrome.exe",
    "C:/Program Files (x86)/Microsoft/Edge/Application/msedge.exe",
)


class Missing(Exception):
    """One thing that this machine lacks; the message names it and says how to get it."""


def run(*words: str | Path) -> int:
    """Run a program in the project's folder, its output going straight to the screen."""
    sys.stdout.flush()
    return subprocess.run([str(word) for word in words], cwd=ROOT, check=False).returncode


def set_up(lock: Path) -> None:
    """Make the virtual environment, or only complete it; a fraction of a second when nothing changed."""
    version = python_version() or make_environment()
    stamp = VENV / f"{lock.stem}.installed"
    wanted = hashlib.sha256(lock.read_bytes() + version.encode() + str(ROOT).encode()).hexdigest()
    if stamp.is_file() and stamp.read_text(encoding="ascii") == wanted:
        return
    install_packages(lock)
    put_project_on_path()
    stamp.write_text(wanted, encoding="ascii")


def python_version() -> str:
    """Version of the environment's Python; empty if there is none that works and is new enough."""
    if Path(sys.prefix).resolve() == VENV.resolve():
        return sys.version
    if not PYTHON.exists():
        return ""
    asked = (
        "import sys; sys.exit('too old') if sys.version_info < " + str(OLDEST) + " else print(sys.version)"
    )
    try:
        answer = subprocess.run([str(PYTHON), "-c", asked], capture_output=True, text=True, check=False)
    except OSError:
        return ""
    return answer.stdout.strip() if answer.returncode == 0 else ""


def make_environment() -> str:
    """Make `.venv`, afresh where a broken one stands; give its Python's version."""
    if not (importlib.util.find_spec("venv") and importlib.util.find_spec("ensurepip")):
        raise Missing("Python's venv module. On Debian or Ubuntu: apt-get install python3-venv")
    print("Making the virtual environment .venv ...")
    if run(sys.executable, "-m", "venv", "--clear", VENV):
        raise Missing("a Python that can make virtual environments; the lines above say what went wrong")
    return python_version()


def install_packages(lock: Path) -> None:
    """Install what the lock file names, each file checked against its hash."""
    wanted = sum("==" in line for line in lock.read_text(encoding="utf-8").splitlines())
    print(f"Installing {wanted} packages into .venv (once; a minute or so) ...")
    words = [str(PYTHON), "-m", "pip", "install", "--disable-pip-version-check", "--no-input", "--no-compile"]
    words += ["--require-hashes", "--only-binary=:all:", "--requirement", str(lock)]
    started = time.monotonic()
    with subprocess.Popen(
        words, cwd=ROOT, text=True, stdout=subprocess.PIPE, stderr=subprocess.STDOUT
    ) as pip:
        assert pip.stdout is not None
        said = []
        for line in pip.stdout:
            said.append(line)
            done = sum(each.startswith(("Collecting", "Requirement already")) for each in said)
            if sys.stdout.isatty():
                print(f"\r  {min(done, wanted)} of {wanted} ", end="", flush=True)
    if pip.returncode:
        print("".join(said[-15:]))
        raise Missing("some package (the lines above name it); a network connection is needed this once")
    print(f"\r  done in {time.monotonic() - started:.0f} s")


def put_project_on_path() -> None:
    """Let the environment find src/, and give it the command `boardproof`, without a build."""
    found = "import sysconfig; print(sysconfig.get_path('purelib'))"
    packages = subprocess.run([str(PYTHON), "-c", found], capture_output=True, text=True, check=True)
    pointer = Path(packages.stdout.strip()) / "boardproof-source.pth"
    pointer.write_text(f"{ROOT / 'src'}\n", encoding="utf-8")
    if ON_WINDOWS:
        (PROGRAMS / "boardproof.cmd").write_text('@"%~dp0python.exe" -m boardproof %*\n', encoding="ascii")
        return
    command = PROGRAMS / "boardproof"
    command.write_text('#!/bin/sh\nexec "$(dirname "$0")/python" -m boardproof "$@"\n', encoding="ascii")
    command.chmod(0o755)


def find_browser() -> str | None:
    """Path of a Chromium or one of its relatives, or None."""
    places = [shutil.which(name) for name in BROWSERS]
    places += [place for place in BROWSER_PLACES if Path(place).is_file()]
    return next((place for place in places if place), None)


def need_browser() -> None:
    """See that the page tests have a browser; as root on Debian install it."""
    if find_browser():
        return
    if shutil.which("apt-get") and hasattr(os, "geteuid") and os.geteuid() == 0:
        print("Installing Chromium for the page tests ...")
        os.environ["DEBIAN_FRONTEND"] = "noninteractive"
        run("apt-get", "update", "-qq")
        run("apt-get", "install", "-y", "-qq", "--no-install-recommends", "chromium", "fonts-dejavu-core")
    if not find_browser():
        raise Missing("a Chromium browser for the page tests. On Debian: sudo apt-get install chromium")


def lint() -> int:
    """Ruff's rules, then its layout."""
    rules = run(PYTHON, "-m", "ruff", "check", ".")
    return rules or run(PYTHON, "-m", "ruff", "format", "--check", ".")


def types() -> int:
    """Types, strictly."""
    return run(PYTHON, "-m", "mypy")


def pytest(*words: str) -> int:
    """Run pytest; its closing line is the summary."""
    return run(PYTHON, "-m", "pytest", f"--randomly-seed={SEED}", *words)


def docs(*words: str) -> int:
    """Every example in README, docs and docstrings; with `--write` the pages made from the code first."""
    code = run(PYTHON, Path("docs") / "make_reference.py") if "--write" in words else 0
    if code:
        return code
    return pytest("tests/docs", *(word for word in words if word != "--write"))


def pages(*words: str) -> int:
    """Page tests in a real browser."""
    need_browser()
    return pytest("tests/pages", *words)


def test(*words: str) -> int:
    """All that the continuous run holds us to; ends with pytest's summary."""
    need_browser()
    failed = []
    for stage in (lint, types):
        started = time.monotonic()
        if stage():
            failed.append(stage.__name__)
        print(f"-- {stage.__name__}: {time.monotonic() - started:.0f} s")
    code = pytest("-n", "2", "--dist", "worksteal", "--cov=boardproof", *words)
    if failed:
        print(f"Not passed: {' and '.join(failed)} (see above the tests)")
    return code or len(failed)


def deep(*words: str) -> int:
    """Long runs by hand and before a release, in an order of their own."""
    need_browser()
    seed = secrets.randbelow(2**31)
    print(f"Seed {seed}")
    chosen = ["-m", "deep or not deep", "--timeout=0", "--hypothesis-profile=deep", "-n", "2"]
    return pytest(*chosen, f"--randomly-seed={seed}", f"--hypothesis-seed={seed}", *words)


def bench() -> int:
    """Every benchmark in turn, each beside its peer; never fails a build."""
    for script in sorted((ROOT / "benchmarks").rglob("bench_*.py")):
        print(f"== {script.relative_to(ROOT / 'benchmarks')}")
        run(PYTHON, script)
    return 0


def demo() -> int:
    """Make the demo course's kits, then say in three lines what, where and how to go on."""
    code = run(PYTHON, "-m", "boardproof", "build", COURSE)
    if code:
        print(f"The demo course was not made: `boardproof build {COURSE}` ended with {code}, see above.")
        return code
    kits = sorted(path.parent for path in (ROOT / COURSE / "kits").glob("*/kit.json"))
    made = sum(path.is_file() for kit in kits for path in kit.rglob("*"))
    here = PROGRAMS.relative_to(ROOT) / "boardproof"
    print(
        f"Made: {len(kits)} kits of the demo course, {made} files: board, script, handout, page, player, proof."
    )
    print(f"Where: {COURSE / 'kits'}; open a player.html there in a browser.")
    print(
        f"Go on: `{here} studio {COURSE}` to write in the browser, or any editor and `{here} check {COURSE}`."
    )
    return 0


STAGES = {"lint": lint, "types": types, "bench": bench}
PYTEST_STAGES = {"test": test, "docs": docs, "pages": pages, "deep": deep}


def main() -> int:
    """Read the command line, set up, run."""
    if sys.version_info < OLDEST:
        raise Missing(
            f"Python {OLDEST[0]}.{OLDEST[1]} or newer; this is {sys.version_info[0]}.{sys.version_info[1]}. "
            "See python.org, then start run.py with that one"
        )
    reader = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter, usage=argparse.SUPPRESS
    )
    reader.add_argument(
        "stage", nargs="?", choices=["demo", "setup", *STAGES, *PYTEST_STAGES], default="demo"
    )
    asked, words = reader.parse_known_args()
    if words and asked.stage not in PYTEST_STAGES:
        reader.error(f"{asked.stage} takes nothing more, but got {' '.join(words)}")
    os.environ["PYTHONUTF8"] = "1"  # Ω and µ in any terminal
    started = time.monotonic()
    set_up(LOCK if asked.stage in {"demo", "setup"} else TESTS_LOCK)
    if asked.stage == "setup":
        return 0
    if asked.stage == "demo":
        return demo()
    print(f"-- set-up: {time.monotonic() - started:.0f} s")
    if asked.stage in STAGES:
        return STAGES[asked.stage]()
    return PYTEST_STAGES[asked.stage](*words)


if __name__ == "__main__":
    try:
        sys.exit(main())
    except Missing as missing:
        sys.exit(f"Missing: {missing}.")
    except KeyboardInterrupt:
        sys.exit(130)
