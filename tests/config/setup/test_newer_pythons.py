"""`make test-newer`: which Pythons it finds, and what it says it ran and did not run."""

from __future__ import annotations

import sys

import pytest

from tools import newer_pythons
from tools.newer_pythons import CORES, Python, further_parts, main, newer_than

OURS = "3.11.2"


@pytest.fixture
def machine(monkeypatch):
    """A pretended machine: {program: version}, what was run, and how each part ends on it."""
    known, ran, ends = {str(newer_pythons.OURS): OURS}, [], {}

    def run(command, at):
        ran.append(command)
        part = next((word for word in command if word.startswith("tests/")), command[2])
        return ends.get(part, 0)

    monkeypatch.setattr(newer_pythons, "version_of", lambda program: known.get(program, ""))
    monkeypatch.setattr(
        newer_pythons,
        "programs",
        lambda minor: [name for name in known if name.endswith(f"python3.{minor}")],
    )
    monkeypatch.setattr(newer_pythons, "_run", run)
    monkeypatch.setattr(sys, "argv", ["newer_pythons.py"])
    return known, ran, ends


def test_a_machine_without_a_newer_one_passes_and_says_so(machine, capsys):
    _, ran, _ = machine
    assert main() == 0
    assert "Tests ran on Python 3.11.2 alone: no newer one is on this machine." in (
        capsys.readouterr().out
    )
    assert ran == []


def test_the_newest_of_each_newer_minor_version_counts(machine):
    known, *_ = machine
    known |= {
        "/a/python3.11": "3.11.9",
        "/a/python3.13": "3.13.2",
        "/b/python3.13": "3.13.11",
        "/a/python3.12": "3.12.1",
        "/shim/python3.14": "",
    }
    found = [(one.version, one.program) for one in newer_than(OURS)]
    assert found == [("3.13.11", "/b/python3.13"), ("3.12.1", "/a/python3.12")]


def test_the_cores_come_first_on_all_then_the_rest(machine, capsys):
    known, ran, _ = machine
    known |= {"/a/python3.12": "3.12.1", "/a/python3.13": "3.13.2"}
    assert main() == 0
    parts = [word for command in ran for word in command if word.startswith("tests/")]
    assert parts[: len(CORES) * 2] == [part for part in CORES for _ in range(2)]
    said = capsys.readouterr().out
    for part in (*CORES, *further_parts()):
        assert said.count(f"passed     {part} in") == 2


def test_every_test_of_the_project_is_in_one_part():
    folders = {
        path.relative_to(newer_pythons.ROOT).as_posix()
        for path in (newer_pythons.ROOT / "tests").rglob("test_*.py")
    }
    parts = (*CORES, *further_parts())
    assert {file for file in folders if not file.startswith(parts)} == set()


def test_a_failure_fails_and_the_rest_is_run_all_the_same(machine, capsys):
    known, _, ends = machine
    known["/a/python3.12"] = "3.12.1"
    ends["tests/classes/core"] = 1
    assert main() == 1
    said = capsys.readouterr().out
    assert "FAILED     tests/classes/core" in said
    assert "passed     tests/outside" in said


def test_packages_that_cannot_be_installed_fail_nothing_and_are_told(machine, capsys):
    known, ran, ends = machine
    known["/a/python3.12"] = "3.12.1"
    ends["pip"] = 1
    assert main() == 0
    assert "nothing was run: its packages could not be installed" in capsys.readouterr().out
    assert not any("pytest" in command for command in ran)


def test_what_there_was_no_time_for_is_told(machine, capsys, monkeypatch):
    known, _, ends = machine
    known["/a/python3.12"] = "3.12.1"
    ends["tests/outside"] = None
    assert main() == 0
    assert "cut off    tests/outside" in capsys.readouterr().out
    one = Python("/a/python3.12", "3.12.1", is_ready=True)
    newer_pythons.run_part(one, "tests/recipes/core", newer_pythons.monotonic())
    assert one.told == ["not run    tests/recipes/core: the time was over"]


def test_a_part_that_runs_over_is_stopped():
    began = newer_pythons.monotonic()
    command = [sys.executable, "-c", "import time; time.sleep(60)"]
    assert newer_pythons._run(command, began) is None
    assert newer_pythons.monotonic() - began < 30
    assert newer_pythons._run([sys.executable, "-c", "raise SystemExit(3)"], began + 60) == 3
