"""The driver says plainly what is missing, and does nothing twice."""

from __future__ import annotations

import ast
import subprocess
import sys

import pytest
import run

from house.tree import ROOT


def test_an_old_python_can_read_far_enough_to_be_told() -> None:
    ast.parse((ROOT / "run.py").read_text(encoding="utf-8"), feature_version=(3, 7))


def test_an_old_python_is_told_which_one_is_needed(monkeypatch) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 9, 2))
    with pytest.raises(run.Missing, match=r"Python 3\.11 or newer; this is 3\.9"):
        run.main()


def test_a_missing_browser_is_named_where_it_cannot_be_installed(monkeypatch) -> None:
    monkeypatch.setattr(run, "find_browser", lambda: None)
    monkeypatch.setattr(run.shutil, "which", lambda _: None)
    with pytest.raises(run.Missing, match="a Chromium browser"):
        run.need_browser()


def test_as_root_on_debian_the_browser_is_installed(monkeypatch) -> None:
    asked = []
    monkeypatch.setattr(run, "find_browser", lambda: "chromium" if len(asked) == 2 else None)
    monkeypatch.setattr(run, "run", lambda *words: asked.append(words) or 0)
    monkeypatch.setattr(run.shutil, "which", lambda name: f"/usr/bin/{name}")
    monkeypatch.setattr(run.os, "geteuid", lambda: 0, raising=False)
    run.need_browser()
    assert [words[1] for words in asked] == ["update", "install"]
    assert "chromium" in asked[1]


def test_a_missing_venv_module_is_named(monkeypatch) -> None:
    monkeypatch.setattr(run.importlib.util, "find_spec", lambda _: None)
    with pytest.raises(run.Missing, match="python3-venv"):
        run.make_environment()


@pytest.fixture
def elsewhere(monkeypatch, tmp_path):
    """An environment of its own for the driver, with the packages' installation only counted."""
    installed = []
    monkeypatch.setattr(run, "VENV", tmp_path)
    monkeypatch.setattr(run, "python_version", lambda: "3.11.9")
    monkeypatch.setattr(run, "install_packages", installed.append)
    monkeypatch.setattr(run, "put_project_on_path", lambda: None)
    return installed


def test_the_second_set_up_does_nothing(elsewhere) -> None:
    run.set_up(run.LOCK)
    run.set_up(run.LOCK)
    run.set_up(run.TESTS_LOCK)
    assert elsewhere == [run.LOCK, run.TESTS_LOCK]


def test_a_changed_lock_or_python_is_installed_again(elsewhere, monkeypatch, tmp_path) -> None:
    lock = tmp_path / "requirements.lock"
    for text, version in (("a==1", "3.11.9"), ("a==2", "3.11.9"), ("a==2", "3.12.1")):
        lock.write_text(text, encoding="utf-8")
        monkeypatch.setattr(run, "python_version", lambda version=version: version)
        run.set_up(lock)
    assert len(elsewhere) == 3


def test_an_interrupted_installation_is_not_taken_for_a_whole_one(elsewhere, monkeypatch) -> None:
    def fail(_lock) -> None:
        raise run.Missing("some package")

    monkeypatch.setattr(run, "install_packages", fail)
    with pytest.raises(run.Missing):
        run.set_up(run.LOCK)
    monkeypatch.setattr(run, "install_packages", elsewhere.append)
    run.set_up(run.LOCK)
    assert elsewhere == [run.LOCK]


def test_a_stage_that_does_not_exist_is_refused_with_the_list() -> None:
    words = [sys.executable, str(ROOT / "run.py"), "fly"]
    told = subprocess.run(words, capture_output=True, text=True, check=False)
    assert told.returncode == 2
    assert "test" in told.stderr
