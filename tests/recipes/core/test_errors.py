"""Errors carry fields, and behave like other exceptions in logs, sets and worker processes."""

import pickle
from decimal import Decimal

import pytest

from recipes.core import errors

EXAMPLES = [
    errors.UnknownUnit("blob", ("g",)),
    errors.WrongMeasure("cm", "length", "mass"),
    errors.NoDensity("cup"),
    errors.NoPieceMass("each"),
    errors.NotDecimal("mass_g", 1.5),
    errors.NotWhole("pieces", Decimal("1.5")),
    errors.OutOfRange("mass_g", Decimal(-1), least=Decimal(0)),
    errors.Unsettled(),
    errors.NoFlour("Meringue"),
    errors.StarterUnknown(("Old starter",)),
    errors.EmptyComponent("Soaker"),
    errors.NobodyBakes(),
    errors.StationEmpty("Bench 3"),
    errors.StationUnknown("Bench 9", "Ada"),
    errors.NoGrowth("doubling rule", Decimal(60)),
    errors.NoFactor("packet-and-cake", "instant"),
    errors.NotInFormula("sesame-seeds", "Topping"),
]


def name(error):
    return type(error).__name__


def test_the_examples_are_all_the_errors_there_are():
    kinds = {
        kind for kind in errors.BakingError.__subclasses__() if kind.__module__ == errors.__name__
    }
    assert {type(error) for error in EXAMPLES} == kinds


@pytest.mark.parametrize("error", EXAMPLES, ids=name)
def test_an_error_can_be_hashed_and_travels_between_processes(error):
    assert error in {error}
    again = pickle.loads(pickle.dumps(error))  # noqa: S301  (made one line above)
    assert type(again) is type(error)
    assert vars(again) == vars(error)


@pytest.mark.parametrize("error", EXAMPLES, ids=name)
def test_an_error_shows_its_fields(error):
    for value in vars(error).values():
        assert repr(value) in repr(error)
