"""What all tests share: how hard property tests try, how long a test may take, seconds a folder."""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings

if TYPE_CHECKING:
    from collections.abc import Iterator

HERE = Path(__file__).parent
SECONDS_IN_A_BROWSER = 60

# No deadline: the machines are noisy, and pytest's own timeout stops what hangs.
CALM = [HealthCheck.too_slow]
settings.register_profile(
    "quick",
    derandomize=True,
    deadline=None,
    database=None,
    max_examples=50,
    suppress_health_check=CALM,
)
settings.register_profile(
    "deep", deadline=None, max_examples=2000, print_blob=True, suppress_health_check=CALM
)
settings.load_profile("quick")


def folder_of(path: Path) -> str:
    return path.relative_to(HERE).parts[0] if path.is_relative_to(HERE) else "other"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if folder_of(item.path) == "pages" and item.get_closest_marker("timeout") is None:
            item.add_marker(pytest.mark.timeout(SECONDS_IN_A_BROWSER))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print the seconds that each folder's tests took, all processes together."""
    seconds: dict[str, float] = defaultdict(float)
    for report in reports(terminalreporter):
        seconds[folder_of(HERE.parent / report.fspath)] += report.duration
    if len(seconds) > 1:
        told = ", ".join(f"{folder} {spent:.0f}" for folder, spent in sorted(seconds.items()))
        terminalreporter.write_line(f"-- seconds of work: {told}")


def reports(reporter: pytest.TerminalReporter) -> Iterator[pytest.TestReport]:
    for found in reporter.stats.values():
        yield from (report for report in found if isinstance(report, pytest.TestReport))
