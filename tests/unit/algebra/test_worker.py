"""A warm process for what may take too long: it answers, is killed at its limit, and is replaced."""

from __future__ import annotations

import pytest

from boardproof.algebra.worker import TimeUp, Worker

pytestmark = pytest.mark.timeout(60)


@pytest.fixture
def worker():
    made = Worker()
    yield made
    made.close()


def test_the_same_process_does_job_after_job(worker):
    first = worker.ask("boardproof.algebra.polynomial:natural", "r_2", seconds=30)
    process = worker.process.pid
    assert worker.ask("boardproof.algebra.polynomial:natural", "r_2", seconds=30) == first
    assert worker.process.pid == process


def test_it_is_killed_at_its_limit_and_replaced(worker):
    worker.ask("boardproof.algebra.polynomial:natural", "r", seconds=30)
    old = worker.process
    with pytest.raises(TimeUp):
        worker.ask("boardproof.kit.claim:told", "P rises with R", None, None, "", seconds=0.0)
    assert not old.is_alive()
    assert worker.kills == 1
    assert worker.ask("boardproof.algebra.polynomial:natural", "R", seconds=30)[1] == "R"


def test_only_our_own_jobs_and_faults_are_told(worker):
    with pytest.raises(ValueError, match="not one of our jobs"):
        worker.ask("os:getcwd", seconds=1)
    with pytest.raises(RuntimeError, match="TypeError"):
        worker.ask("boardproof.algebra.polynomial:natural", seconds=30)
