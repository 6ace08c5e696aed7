"""What is kept of a student's kitchen at home, and what becomes of kept nonsense."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest

from classes.at_home import HomeKitchen
from classes.forms.home import Baked, HomeForm
from classes.models import Enrollment
from classes.services.home import keep_home
from classes.services.leaving import erase_person
from classes.services.personal import person_document
from tests.classes.enrolled import enrolled, open_class

OWN = HomeKitchen(
    pieces={"7": 3},
    measured="cups",
    flour_cup="dipped",
    degrees="F",
    fan=True,
    mixed_by="mixer",
    yeast="active dry",
    salt="coarse-flake-salt-dense",
    room_c=Decimal("18.5"),
    altitude_m=1200,
    page="letter",
)
LOAF = Baked("7", "Hearth loaf", 2)


@pytest.fixture
def ada(db):
    return enrolled(open_class()).people.get()


def said(**changed):
    fields = OWN.kept() | {"pieces_7": "3", "fan": "on"} | changed
    return {name: value for name, value in fields.items() if name != "pieces"}


def errors(**changed):
    return HomeForm(said(**changed), HomeKitchen(), [LOAF]).errors


def test_a_kitchen_comes_back_as_it_was_kept(ada):
    keep_home(enrollment=ada, kitchen=OWN)
    ada.refresh_from_db()
    assert HomeKitchen.of(ada.home) == OWN


def test_keeping_touches_nothing_else_of_the_person(ada):
    Enrollment.objects.filter(pk=ada.pk).update(name="Ada Changed Elsewhere")
    keep_home(enrollment=ada, kitchen=OWN)
    ada.refresh_from_db()
    assert ada.name == "Ada Changed Elsewhere"


def test_the_last_kitchen_counts(ada):
    keep_home(enrollment=ada, kitchen=OWN)
    keep_home(enrollment=ada, kitchen=HomeKitchen())
    ada.refresh_from_db()
    assert HomeKitchen.of(ada.home) == HomeKitchen()


def test_what_is_kept_is_json_without_floats():
    assert json.loads(json.dumps(OWN.kept()), parse_float=pytest.fail) == OWN.kept()


def test_nothing_kept_is_the_usual_kitchen():
    assert HomeKitchen.of({}) == HomeKitchen()


@pytest.mark.parametrize(
    "nonsense",
    [
        {"room_c": "hot"}, {"room_c": "NaN"}, {"room_c": "900"}, {"room_c": None},
        {"altitude_m": -5}, {"altitude_m": "1e99"}, {"yeast": "magic"}, {"salt": ["x"]},
        {"pieces": {"7": 0}}, {"pieces": {"7": True}}, {"pieces": {"7": 10**9}}, {"pieces": [1]},
        {"fan": "yes"}, {"page": 3}, {"measured": {}}, [1, 2], None,
    ],
)  # fmt: skip
def test_kept_nonsense_is_as_usual(nonsense):
    assert HomeKitchen.of(nonsense) == HomeKitchen()


def test_the_form_starts_from_what_is_kept_and_from_the_recipes_pieces():
    usual, own = (HomeForm(None, kitchen, [LOAF]) for kitchen in (HomeKitchen(), OWN))
    assert [one["pieces_7"].value() for one in (usual, own)] == [2, 3]
    assert own["yeast"].value() == "active dry"
    assert own["room_c"].value() == "18.5"


def test_a_valid_form_tells_a_kitchen():
    form = HomeForm(said(), HomeKitchen(), [LOAF])
    assert form.is_valid(), form.errors
    assert form.kitchen() == OWN


def test_degrees_fahrenheit_are_read_too():
    form = HomeForm(said(room_c="65 F"), HomeKitchen(), [LOAF])
    assert form.is_valid()
    assert form.kitchen().room_c == Decimal("18.3")


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("room_c", "60", "Write 45 °C or less."),
        ("room_c", "", "This field is required."),
        ("altitude_m", "6000", "Write 5000 m or less."),
        ("pieces_7", "0", "Write 1 or more."),
        ("pieces_7", "49", "Write 48 or less."),
    ],
)
def test_a_wrong_figure_is_told_in_plain_words(field, value, words):
    assert errors(**{field: value})[field] == [words]


def test_a_kitchen_is_part_of_what_is_held_and_goes_with_the_person(ada):
    keep_home(enrollment=ada, kitchen=OWN)
    assert person_document(ada)["person"]["kitchen_at_home"] == OWN.kept()
    erase_person(enrollment=ada, at=ada.session.ends_at)
    ada.refresh_from_db()
    assert ada.home == {}
