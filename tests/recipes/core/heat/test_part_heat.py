"""How warm a roux, a preferment and a soaker go into the dough, as far as the steps tell."""

from __future__ import annotations

from decimal import Decimal

import pytest

from recipes.core.choices import ComponentKind
from recipes.core.heat.part_heat import HOT_ROUX_C, Prepared, part_heat

ROOM = Decimal(21)
DOUGH, ROUX = ComponentKind.DOUGH, ComponentKind.ROUX
POOLISH, SOAKER = ComponentKind.PREFERMENT, ComponentKind.SOAKER


def pan(waiting_min=0, temperature_c=None, **fields):
    return Prepared(True, waiting_min, temperature_c and Decimal(temperature_c), **fields)


def made(waiting_min=0, temperature_c=None):
    return Prepared(False, waiting_min, temperature_c and Decimal(temperature_c))


@pytest.mark.parametrize(
    ("steps", "roux_c"),
    [
        ([pan()], HOT_ROUX_C),
        ([pan(0, 65)], Decimal(65)),
        ([pan(0, 20)], HOT_ROUX_C),
        ([pan(180)], ROOM),
        ([pan(180, 24)], ROOM),
        ([pan(720, 4)], Decimal(4)),
        ([pan(30, 28, its_own=True)], Decimal(28)),
        ([pan(30)], None),
        ([pan(119)], None),
        ([pan(120)], ROOM),
        ([made()], HOT_ROUX_C),
        ([made(), made()], None),
        ([], None),
        ([made(720, 20), pan()], HOT_ROUX_C),
    ],
    ids=[
        "straight from the pan",
        "at the temperature it is cooked to",
        "a room's temperature beside it is not its own",
        "stood for hours",
        "stood in a room that is written down",
        "stood in the refrigerator",
        "cooled to a temperature of its own",
        "stood for half an hour",
        "not quite cooled",
        "just cooled",
        "the only thing prepared",
        "one of two things prepared",
        "nothing said",
        "after another thing",
    ],
)
def test_a_roux_is_hot_cooled_or_not_told(steps, roux_c):
    found = part_heat([DOUGH, ROUX], steps, ROOM)
    assert found.roux_c == roux_c
    assert found.cannot_say == ((ROUX,) if roux_c is None else ())
    assert found.needs_masses(ROOM)


@pytest.mark.parametrize("kind", [POOLISH, SOAKER])
@pytest.mark.parametrize(
    ("steps", "part_c"),
    [
        ([made(720, 20)], ROOM),
        ([made(720)], ROOM),
        ([], ROOM),
        ([made(720, 4)], Decimal(4)),
        ([made(60, 24), made(720, 4)], None),
        ([made(0, 95)], None),
        ([made(30, 95)], None),
        ([made(720, 95)], ROOM),
    ],
    ids=["room", "no figure", "no step", "refrigerator", "some of both", "scald", "warm", "cooled"],
)
def test_what_ripens_or_soaks_is_cold_or_as_warm_as_the_room(kind, steps, part_c):
    found = part_heat([kind, DOUGH], steps, ROOM)
    known = found.preferment_c if kind is POOLISH else found.soaker_c
    assert known == part_c
    assert found.cannot_say == ((kind,) if part_c is None else ())


def test_a_roux_beside_a_poolish_is_told_by_the_pan_alone():
    found = part_heat([POOLISH, ROUX, DOUGH], [made(720, 4)], ROOM)
    assert (found.preferment_c, found.cannot_say) == (4, (ROUX,))


def test_a_plain_dough_needs_no_masses():
    assert not part_heat([DOUGH], [], ROOM).needs_masses(ROOM)
    assert not part_heat([POOLISH, DOUGH], [made(720, 4)], ROOM).needs_masses(ROOM)
    assert part_heat([SOAKER, DOUGH], [made(720, 4)], ROOM).needs_masses(ROOM)
    assert not part_heat([SOAKER, DOUGH], [made(720)], ROOM).needs_masses(ROOM)
