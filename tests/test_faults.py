"""The script that plants faults: it tells one that tests find from one that they do not."""

from __future__ import annotations

import pytest

from tests.faults.__main__ import chosen, verdict
from tests.faults.equal import EQUAL
from tests.faults.planting import Fault, faults, planted
from tests.faults.running import Found, NotSound, bed
from tests.faults.targets import TARGETS, Target

MODULE = """def price(people):
    if not people:
        raise ValueError
    return 10 if len(people) > 5 else 12
"""
TESTS = """from sums import price


def test_two_pay_twelve():
    assert price("ab") == 12
"""
TARGET = Target("sums.py", 99, ("test_sums.py",))


def words(source: str) -> list[str]:
    return [fault.words for fault in faults(source)]


@pytest.fixture
def tree(tmp_path):
    folder = tmp_path / "small"
    folder.mkdir()
    (folder / "sums.py").write_text(MODULE)
    (folder / "test_sums.py").write_text(TESTS)
    (folder / "pytest.ini").write_text("[pytest]\naddopts = -p no:django\n")
    return folder


@pytest.mark.parametrize(
    ("source", "wrong"),
    [
        ("a < b", "a <= b"), ("a < b", "a >= b"), ("a is None", "a is not None"),
        ("a + b", "a - b"), ("a - b", "a"), ("a * b", "a / b"), ("a and b", "a or b"),
        ("a and b", "b"), ("not a", "a"), ("any(a)", "all(a)"), ("min(a)", "max(a)"),
        ("f(1)", "f(2)"), ("f(True)", "f(False)"), ("Decimal('2')", "Decimal('2') * 2"),
        ("[a for a in b if a]", "[a for a in b]"), ("f(a)", "pass"),
    ],
)  # fmt: skip
def test_a_line_is_made_wrong_in_every_usual_way(source, wrong):
    assert wrong in {planted(source, fault).strip() for fault in faults(source)}


def test_types_and_names_are_left_alone():
    assert (
        words("@once\ndef f(a: int | None = None) -> int | None:\n    'Text 1.'\n    return a")
        == []
    )


def test_a_fault_that_a_test_finds_is_killed_and_another_survives(tree, tmp_path):
    with bed(tree, tmp_path / "copy") as at:
        at.must_pass(["test_sums.py"])
        became = {
            fault.words: at.try_fault("sums.py", fault, [["test_sums.py"]]).killed
            for _, fault in chosen(TARGET, tree)
            if fault.words in ("price: 12 -> 13", "price: raise ValueError -> pass")
        }
        assert (at.root / "sums.py").read_text() == MODULE
    assert became == {"price: 12 -> 13": True, "price: raise ValueError -> pass": False}
    assert (tree / "sums.py").read_text() == MODULE


def test_tests_that_fail_anyway_prove_nothing(tree, tmp_path):
    (tree / "test_sums.py").write_text("def test_nothing():\n    assert False\n")
    with bed(tree, tmp_path / "copy") as at, pytest.raises(NotSound):
        at.must_pass(["test_sums.py"])


def test_a_survivor_is_told_as_one_unless_it_is_equal(monkeypatch):
    fault = Fault(1, 0, 4, "price", "5", "6")
    assert verdict(Found("sums.py", fault, killed=True)) == "killed"
    assert verdict(Found("sums.py", fault, killed=False)) == "SURVIVED"
    monkeypatch.setitem(EQUAL, ("sums.py", fault.words), "nobody comes with five")
    assert verdict(Found("sums.py", fault, killed=False)) == "equal: nobody comes with five"


def test_the_same_faults_are_chosen_from_run_to_run(tree):
    few = Target("sums.py", 3, ())
    assert chosen(few, tree) == chosen(few, tree)
    assert len(chosen(few, tree)) == 3


def test_two_hundred_faults_are_planted_where_modules_and_tests_are(request):
    root = request.config.rootpath
    assert sum(target.faults for target in TARGETS) == 200
    for target in TARGETS:
        paths = target.paths(root)
        assert paths
        for path in paths:
            assert target.tests_of(root, path)


def test_what_is_called_equal_can_still_be_planted(request):
    for path, words in EQUAL:
        source = (request.config.rootpath / path).read_text(encoding="utf-8")
        assert words in {fault.words for fault in faults(source)}, (path, words)
