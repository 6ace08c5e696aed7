"""Plant faults and print what became of each: `python -m tests.faults [WORD IN A PATH ...]`.

The same faults from run to run as long as the code is the same. Fails when less than 85 % of those
that change anything are found. It takes half an hour, so `make test` does not run it.
"""

from __future__ import annotations

import random
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from tests.faults.equal import EQUAL
from tests.faults.planting import Fault, faults
from tests.faults.running import Bed, Found, bed
from tests.faults.targets import SEED, TARGETS, Target

ROOT = Path(__file__).parents[2]
WANTED = 0.85


def chosen(target: Target, root: Path) -> list[tuple[str, Fault]]:
    """The faults that a target's share falls on, in the order of the files."""
    every = [
        (path, fault)
        for path in target.paths(root)
        for fault in faults((root / path).read_text(encoding="utf-8"))
    ]
    chance = random.Random(f"{SEED} {target.modules}")  # noqa: S311
    return sorted(
        chance.sample(every, min(target.faults, len(every))),
        key=lambda one: (one[0], one[1].line, one[1].words),
    )


def found_in(target: Target, at: Bed) -> Iterator[Found]:
    """What became of each fault of a target. Raises NotSound where its tests fail without one."""
    paths = target.paths(at.root)
    every = target.tests_of(at.root, paths[0])
    at.must_pass([test for one in every for test in one])
    for path, fault in chosen(target, at.root):
        yield at.try_fault(path, fault, target.tests_of(at.root, path))


def verdict(found: Found) -> str:
    """`killed`, `equal: why`, or `SURVIVED`."""
    if found.killed:
        return "killed"
    why = EQUAL.get((found.path, found.fault.words))
    return f"equal: {why}" if why else "SURVIVED"


def main(words: list[str]) -> int:
    """Run the targets whose pattern holds one of the words, or all; 0 when enough was found."""
    told: list[str] = []
    targets = [one for one in TARGETS if not words or any(word in one.modules for word in words)]
    with (
        tempfile.TemporaryDirectory(prefix="faults-") as folder,
        bed(ROOT, Path(folder), ["--reuse-db"]) as at,
    ):
        for target in targets:
            for found in found_in(target, at):
                told.append(verdict(found))
                _say(f"{told[-1]:9} {found.words}")
    killed, survived = told.count("killed"), told.count("SURVIVED")
    share = killed / max(1, killed + survived)
    equal = len(told) - killed - survived
    _say(f"{len(told)} planted, {killed} killed, {equal} equal, {survived} left: {share:.1%}")
    return 0 if share >= WANTED else 1


def _say(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
