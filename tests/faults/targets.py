"""Which modules faults are planted in, how many, and which tests are to find them."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

SEED = 12

# Tests of pages that are to find faults in modules which have none of their own beside them.
CONFLICTS = ("tests/classes/diets/test_conflicts.py", "tests/handouts/test_station_avoids.py")
ALSO = {
    "conflicts": CONFLICTS,
    "conflict_words": CONFLICTS,
    "marks": CONFLICTS,
    "taking_out": CONFLICTS,
    "currencies": ("tests/outside/test_currencies.py",),
    "preparation": ("tests/classes/amounts/test_preparation_page.py",),
    "regions": ("tests/handouts/test_cautions.py", "tests/handouts/kinds/test_emergency_card.py"),
}


@dataclass(frozen=True)
class Target:
    """Modules by a pattern, how many faults of all go to them, and files of tests.

    A test file named for its module is asked first.
    """

    modules: str
    faults: int
    tests: tuple[str, ...]

    def paths(self, root: Path) -> list[str]:
        found = sorted(root.glob(self.modules))
        return [str(one.relative_to(root)) for one in found if one.stat().st_size]

    def tests_of(self, root: Path, path: str) -> tuple[list[str], ...]:
        """The tests for a module in rounds: those of its own name or subject, then the others."""
        stem = Path(path).stem
        also = ALSO.get(stem, ())
        files: dict[str, None] = {}
        for name in (*also, *self.tests):
            files |= dict.fromkeys(str(one.relative_to(root)) for one in sorted(root.glob(name)))
        own = [file for file in files if f"test_{stem}" in file or file in also]
        others = [file for file in files if file not in own]
        return tuple(one for one in (own, others) if one)


TARGETS = (
    Target(
        "recipes/core/**/*.py", 90,
        ("tests/recipes/core/**/test_*.py", "tests/outside/test_packing.py",
         "tests/outside/test_thermal_model.py", "tests/outside/test_ice.py",
         "tests/outside/test_egg_classes.py", "tests/outside/test_label_rounding.py",
         "tests/outside/test_fermentation_models.py", "tests/outside/test_boiling_points.py"),
    ),
    Target("classes/core/*.py", 25, ("tests/classes/core/test_*.py",)),
    Target("classes/core/diets/*.py", 15, ("tests/classes/core/diets/test_*.py",)),
    Target("classes/core/hours/**/*.py", 30, ("tests/classes/core/hours/**/test_*.py",)),
    Target(
        "classes/enrollment/services/seats.py", 15,
        tuple(
            f"tests/classes/enrollment/test_{name}.py"
            for name in (
                "seats", "waiting_list", "leaving", "at_the_door", "holds", "enroll_form",
                "waiting_page", "place_page", "enrollment_page", "telling",
            )
        ),
    ),
    Target(
        "classes/selectors.py", 15,
        ("tests/classes/test_selectors.py", "tests/classes/amounts/test_amounts_page.py",
         "tests/classes/sessions/test_roster_page.py",
         "tests/classes/enrollment/test_door_page.py", "tests/classes/money/test_costs_page.py",
         "tests/classes/amounts/test_preparation_page.py",
         "tests/classes/amounts/test_egg_shopping.py", "tests/classes/diets/test_conflicts.py",
         "tests/classes/diets/test_diets_page.py", "tests/classes/test_demo.py"),
    ),
    Target(
        "classes/access.py", 10,
        ("tests/test_access.py", "tests/trust/test_links.py",
         "tests/classes/enrollment/test_place_page.py",
         "tests/classes/enrollment/test_waiting_page.py",
         "tests/outside/test_calendar_feeds.py"),
    ),
)  # fmt: skip
