"""Run tests on every newer Python of this machine: the pure cores, then what there is time for.

`python3 tools/newer_pythons.py [MINUTES]`, fifteen by default, after `make test` has run them all
on the Python of `.venv`. It says what was run and what was not, and fails if a test fails. A Python
that is missing, or whose packages cannot be installed, is no failure. On a slow machine the cores
may take half as long again.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from time import monotonic

ROOT = Path(__file__).resolve().parent.parent
OURS = ROOT / ".venv" / "bin" / "python"
MINORS = range(11, 20)
MINUTES = 15.0

CORES = (
    "tests/recipes/core",
    "tests/classes/core",
    "tests/wording",
    "tests/outside",
    "tests/recipes/importing",
)
# A part that is not listed here comes last.
FURTHER = ("tests/recipes", "tests/classes", "tests/house", "tests/config", "tests/handouts")
PYTEST = ("-m", "pytest", "-q", "-n", "2", "--dist", "loadfile", "-p", "no:cacheprovider")
NOTHING_FOUND = 5
CLEARS_UP_WITHIN_S = 60


@dataclass
class Python:
    """A newer Python, and the result of each part of the tests on it."""

    program: str
    version: str
    told: list[str] = field(default_factory=list)
    failed: bool = False
    is_ready: bool = False

    @property
    def environment(self) -> Path:
        minor = ".".join(self.version.split(".")[:2])
        return ROOT / f".venv-{minor}"

    @property
    def own(self) -> str:
        return str(self.environment / "bin" / "python")


def main() -> int:
    minutes = float(sys.argv[1]) if len(sys.argv) > 1 else MINUTES
    ours = version_of(str(OURS))
    found = list(newer_than(ours))
    if not found:
        print(f"Tests ran on Python {ours} alone: no newer one is on this machine.")
        return 0
    began = monotonic()
    ends, cores_end = began + minutes * 60, began + minutes * 90
    for python in found:
        prepare(python, ends)
    for part in (*CORES, *further_parts()):
        for python in found:
            if python.is_ready:
                run_part(python, part, cores_end if part in CORES else ends)
    print(f"\nTests on newer Pythons, after all of them on {ours}, in {minutes:g} minutes:")
    for python in found:
        print(f"  Python {python.version}:")
        for line in python.told:
            print(f"    {line}")
    return int(any(python.failed for python in found))


def newer_than(ours: str) -> Iterator[Python]:
    """The newest of each newer minor version that runs here, the newest first."""
    for minor in reversed(MINORS):
        versions = {version_of(program): program for program in programs(minor)}
        newest = max(versions, key=_numbers, default="")
        if _numbers(newest)[:2] > _numbers(ours)[:2]:
            yield Python(versions[newest], newest)


def programs(minor: int) -> Iterator[str]:
    """Where a minor version may be: on the path, or where pyenv keeps its own."""
    if found := shutil.which(f"python3.{minor}"):
        yield found
    pyenv = Path(os.environ.get("PYENV_ROOT", Path.home() / ".pyenv"))
    yield from map(str, pyenv.glob(f"versions/3.{minor}.*/bin/python3.{minor}"))


def version_of(program: str) -> str:
    """The version that a program reports; empty if it does not run."""
    asked = "import platform; print(platform.python_version())"
    try:
        done = subprocess.run([program, "-c", asked], capture_output=True, text=True, check=False)
    except OSError:
        return ""
    return done.stdout.strip() if done.returncode == 0 else ""


def _numbers(version: str) -> list[int]:
    return [int(part) for part in version.split(".") if part.isdigit()]


def prepare(one: Python, ends: float) -> None:
    """Give a Python the packages of the tests, as they are pinned."""
    steps = [
        [one.program, "-m", "venv", "--clear", str(one.environment)],
        [one.own, "-m", "pip", "install", "--quiet", "--no-input", "--disable-pip-version-check"],
    ]
    steps[1] += [
        "--require-hashes",
        "--only-binary=:all:",
        "-r",
        str(ROOT / "requirements-dev.txt"),
    ]
    for step in steps:
        code = _run(step, ends)
        if code != 0:
            why = "there was no time left" if code is None else "see above"
            one.told.append(f"nothing was run: its packages could not be installed ({why})")
            return
    one.is_ready = True


def further_parts() -> tuple[str, ...]:
    """All other folders and files of tests, in the order in which they are run."""
    there = [
        f"tests/{path.name}"
        for path in sorted((ROOT / "tests").iterdir())
        if (path.is_dir() and any(path.rglob("test_*.py"))) or path.match("test_*.py")
    ]
    rest = [part for part in there if part not in CORES and part not in FURTHER]
    return (*FURTHER, *rest)


def run_part(one: Python, part: str, ends: float) -> None:
    """Run a part of the tests, and note the result."""
    ignored = [f"--ignore={core}" for core in CORES if core.startswith(f"{part}/")]
    began = monotonic()
    if ends - began < 1:
        one.told.append(f"not run    {part}: the time was over")
        return
    print(f"\nPython {one.version}: {part}", flush=True)
    code = _run([one.own, *PYTEST, part, *ignored], ends)
    took = f"{monotonic() - began:.0f} s"
    if code is None:
        one.told.append(f"cut off    {part} after {took}: the time was over")
    elif code in (0, NOTHING_FOUND):
        one.told.append(f"passed     {part} in {took}")
    else:
        one.told.append(f"FAILED     {part} in {took}")
        one.failed = True


def _run(command: list[str], ends: float) -> int | None:
    """The exit code of a command; None if it was stopped when time ran out."""
    process = subprocess.Popen(command, cwd=ROOT)
    try:
        return process.wait(max(1.0, ends - monotonic()))
    except subprocess.TimeoutExpired:
        process.send_signal(signal.SIGINT)  # so that tests stop the servers they started
    try:
        process.wait(CLEARS_UP_WITHIN_S)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()
    return None


if __name__ == "__main__":
    sys.exit(main())
