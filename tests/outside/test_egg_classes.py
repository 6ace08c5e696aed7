"""Egg sizes against the classes of the law and what SR28 finds inside.

US classes: US Standards, Grades, and Weight Classes for Shell Eggs (AMS 56.218; the same table in
7 Pa. Code 87.42). EU classes: Regulation (EC) 589/2008 Art. 4. Inside the shell: USDA SR28, NDB
01123; for EU sizes it is computed, so only its bounds can be checked. See data/README.md.
"""

import csv
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

import pytest

from recipes.core.exchange.kinds import EDIBLE_SHARE, EGG_SIZES

DATA = Path(__file__).parent / "data"


def rows(name):
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, strict=True))


CLASSES = rows("egg_sizes.csv")
US_CLASSES = {row["class"]: row for row in CLASSES if row["system"].startswith("US")}
EU_CLASSES = {row["class"]: row for row in CLASSES if row["system"].startswith("EU")}
SR28_EGGS = {
    row["measure"]: Decimal(row["gram_weight"])
    for row in rows("sr28_measures.csv")
    if row["ndb_no"] == "01123"
}
US_SIZES = [size for size in EGG_SIZES if size.system == "US"]
EU_SIZES = [size for size in EGG_SIZES if size.system == "EU"]


def by_name(size):
    return f"{size.system} {size.name}"


def test_all_classes_are_there_that_have_something_known_inside():
    known = {name for name, row in US_CLASSES.items() if row["sr28_edible_g"]}
    assert {size.name for size in US_SIZES} == known
    assert {size.name for size in EU_SIZES} == set(EU_CLASSES)


@pytest.mark.parametrize("size", US_SIZES, ids=by_name)
def test_us_eggs_hold_what_sr28_weighed(size):
    assert size.edible_g == SR28_EGGS[size.name]
    assert size.edible_g == Decimal(US_CLASSES[size.name]["sr28_edible_g"])


@pytest.mark.parametrize("size", US_SIZES, ids=by_name)
def test_us_shell_weights_are_those_of_a_dozen(size):
    row = US_CLASSES[size.name]
    assert abs(size.shell_least_g * 12 - Decimal(row["min_per_dozen_g"])) <= Decimal("0.06")
    assert abs(size.shell_least_g - Decimal(row["in_shell_avg_min_g"])) <= Decimal("0.06")
    assert size.shell_most_g is None


@pytest.mark.parametrize(
    ("name", "least_g", "most_g"),
    [("XL", 73, None), ("L", 63, 73), ("M", 53, 63), ("S", None, 53)],
)
def test_eu_classes_have_the_limits_of_the_regulation(name, least_g, most_g):
    size = next(size for size in EU_SIZES if size.name == name)
    assert (size.shell_least_g, size.shell_most_g) == (least_g, most_g)
    for limit in (least_g, most_g):
        assert limit is None or str(limit) in EU_CLASSES[name]["in_shell_avg_min_g"]


def test_the_edible_share_is_that_of_the_large_us_egg():
    large = US_CLASSES["large"]
    share = Decimal(large["sr28_edible_g"]) / Decimal(large["in_shell_avg_min_g"])
    assert abs(EDIBLE_SHARE - share) < Decimal("0.001")


@pytest.mark.parametrize("size", EU_SIZES, ids=by_name)
def test_an_eu_egg_holds_less_than_it_weighs_by_a_shell(size):
    limits = [limit for limit in (size.shell_least_g, size.shell_most_g) if limit]
    middle = sum(limits) / len(limits)
    assert Decimal("0.85") < size.edible_g / middle < Decimal("0.9")


@pytest.mark.parametrize("sizes", [US_SIZES, EU_SIZES], ids=["US", "EU"])
def test_sizes_run_from_large_to_small(sizes):
    masses = [size.edible_g for size in sizes]
    assert masses == sorted(masses, reverse=True)


def test_a_dozen_limits_are_three_ounces_apart():
    dozens = [Decimal(row["min_per_dozen_oz"]) for row in US_CLASSES.values()]
    assert {one - other for one, other in pairwise(dozens)} == {3}
    ounce_g = Decimal("28.349523125")
    steps = [
        (one.shell_least_g - other.shell_least_g) * 12 / ounce_g
        for one, other in pairwise(US_SIZES)
    ]
    assert {round(step, 9) for step in steps} == {3}
