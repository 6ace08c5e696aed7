"""One fault after the other in a copy of the tree: does a test fail, and how soon?"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.faults.planting import Fault, planted

LONGEST_S = 240
LEFT_OUT = shutil.ignore_patterns(
    ".git", ".venv", ".test-data", ".*_cache", ".hypothesis", "__pycache__", "node_modules"
)
FAILED, PASSED = 1, 0


@dataclass(frozen=True)
class Found:
    """What became of a fault: `killed` by a test (or by taking too long), or not."""

    path: str
    fault: Fault
    killed: bool

    @property
    def words(self) -> str:
        return f"{self.path}:{self.fault.line} {self.fault.words}"


class NotSound(Exception):
    """The tests fail without any fault, or cannot be run: what they say of faults means nothing."""


class Bed:
    """A copy of the tree to plant in. The working tree is never changed."""

    def __init__(self, copy: Path, options: Sequence[str] = ()) -> None:
        self.root = copy
        self.options = options

    def outcome(self, tests: Sequence[str]) -> int:
        """The exit status of pytest over these files, in this order, up to the first failure."""
        environment = os.environ | {
            "PYTHONDONTWRITEBYTECODE": "1",
            "TEST_DATA_DIR": str(self.root / ".test-data"),
        }
        words = ["-x", "-q", "-p", "no:cacheprovider", "-p", "no:xdist", "--hypothesis-seed=0"]
        command = [sys.executable, "-m", "pytest", *words, *self.options, *tests]
        with subprocess.Popen(
            command,
            cwd=self.root,
            env=environment,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        ) as run:
            try:
                return run.wait(LONGEST_S)
            except subprocess.TimeoutExpired:
                os.killpg(run.pid, signal.SIGKILL)
                return FAILED

    def must_pass(self, tests: Sequence[str]) -> None:
        """Raises NotSound where the tests fail without a fault."""
        if self.outcome(tests) != PASSED:
            raise NotSound(" ".join(tests))

    def try_fault(self, path: str, fault: Fault, rounds: Sequence[Sequence[str]]) -> Found:
        """Plant a fault, run rounds of tests until one fails, and put the module back."""
        file = self.root / path
        right = file.read_text(encoding="utf-8")
        file.write_text(planted(right, fault), encoding="utf-8")
        try:
            killed = any(self.outcome(tests) != PASSED for tests in rounds)
            return Found(path, fault, killed)
        finally:
            file.write_text(right, encoding="utf-8")


@contextmanager
def bed(tree: Path, folder: Path, options: Sequence[str] = ()) -> Iterator[Bed]:
    """A copy of a tree within a folder, thrown away afterwards; pytest gets the options."""
    copy = Path(shutil.copytree(tree, folder / "tree", ignore=LEFT_OUT, symlinks=True))
    try:
        yield Bed(copy, options)
    finally:
        shutil.rmtree(copy, ignore_errors=True)
