"""What is kept of a student's kitchen at home, and what becomes of kept nonsense."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest
from django.test import Client

from classes.enrollment.models import Enrollment
from classes.enrollment.services.leaving import erase_person
from classes.enrollment.services.personal import person_document
from classes.home_kitchen.forms import BakedAtHome, HomeForm
from classes.home_kitchen.services import keep_home
from classes.home_kitchen.values import HomeKitchen, HomePan
from recipes.core.pans.sizes import Pan, PanShape
from tests.classes.enrollment.enrolled import enrolled, open_class, page_of

TIN = HomePan(Pan.in_cm(PanShape.LOAF, Decimal("21.59"), Decimal("11.43"), Decimal("6.35")), 2)
OWN = HomeKitchen(
    pieces={"7": 3},
    pans={"7": TIN},
    sizes_in="in",
    tap_c=Decimal("12.5"),
    large=True,
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
LOAF = BakedAtHome("7", "Hearth loaf", 2)


@pytest.fixture
def ada(db):
    return enrolled(open_class()).people.get()


def said(**changed):
    pan = {"shape": "loaf", "length": "8.5 in", "width": "4.5", "depth": "2.5", "count": "2"}
    typed = {f"pan_7_{name}": value for name, value in pan.items()}
    fields = OWN.kept() | {"pieces_7": "3", "fan": "on", "large": "on"} | typed | changed
    return {name: value for name, value in fields.items() if name not in ("pieces", "pans")}


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
        {"large": "yes"}, {"tap_c": "90"}, {"sizes_in": 1}, {"pans": [1]}, {"pans": {"7": "tin"}},
        {"pans": {"7": {"shape": "boat", "length_cm": "20"}}},
        {"pans": {"7": TIN.kept() | {"length_cm": "NaN"}}},
        {"pans": {"7": TIN.kept() | {"length_cm": 21}}},
        {"pans": {"7": TIN.kept() | {"width_cm": None}}},
        {"pans": {"7": TIN.kept() | {"count": 99}}},
        {"pans": {"7": TIN.kept() | {"dough": "all"}}},
        {"pans": {"7": TIN.kept() | {"shape": "round"}}},
    ],
)  # fmt: skip
def test_kept_nonsense_is_as_usual(nonsense):
    assert HomeKitchen.of(nonsense) == HomeKitchen()


def test_the_form_starts_from_what_is_kept_and_from_the_recipes_pieces():
    usual, own = (HomeForm(None, kitchen, [LOAF]) for kitchen in (HomeKitchen(), OWN))
    assert [one["pieces_7"].value() for one in (usual, own)] == [2, 3]
    assert own["yeast"].value() == "active dry"
    assert own["room_c"].value() == "18.5"
    assert (own["pan_7_shape"].value(), own["pan_7_length"].value()) == ("loaf", "8.5 in")
    assert usual["pan_7_shape"].value() is None


def test_a_valid_form_tells_a_kitchen():
    form = HomeForm(said(), HomeKitchen(), [LOAF])
    assert form.is_valid(), form.errors
    assert form.kitchen() == OWN


def test_degrees_fahrenheit_are_read_too():
    form = HomeForm(said(room_c="65 F"), HomeKitchen(), [LOAF])
    assert form.is_valid()
    assert form.kitchen().room_c == Decimal("18.3")


def test_bare_sizes_are_in_the_unit_that_is_chosen():
    form = HomeForm(said(sizes_in="cm", pan_7_width="11.43", pan_7_depth="6.35"), OWN, [LOAF])
    assert form.is_valid(), form.errors
    assert form.kitchen().pans == {"7": TIN}


def test_a_round_pan_needs_neither_width_nor_depth():
    typed = {"pan_7_shape": "round", "pan_7_width": "", "pan_7_depth": ""}
    form = HomeForm(said(**typed), HomeKitchen(), [LOAF])
    assert form.is_valid(), form.errors
    assert form.kitchen().pans["7"].pan == Pan.in_cm(PanShape.ROUND, Decimal("21.59"))


def test_without_a_pan_its_sizes_say_nothing():
    form = HomeForm(said(pan_7_shape=""), OWN, [LOAF])
    assert form.is_valid(), form.errors
    assert form.kitchen().pans == {}


def test_what_was_typed_wrongly_stays_in_its_field_and_is_seen():
    form = HomeForm(said(pan_7_depth="deep", altitude_m="-1"), HomeKitchen(), [LOAF])
    assert not form.is_valid()
    (recipe,) = form.recipe_fields
    assert form["pan_7_depth"].value() == "deep"
    assert (recipe.tells_pan, form.seldom_wrong) == (True, True)


def test_what_is_right_is_not_opened():
    form = HomeForm(None, HomeKitchen(), [LOAF])
    (recipe,) = form.recipe_fields
    assert (recipe.tells_pan, form.seldom_wrong) == (False, False)


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("pan_7_length", "", "Enter how long it is inside, or across if it is round."),
        ("pan_7_width", "", "Enter how wide it is inside."),
        ("pan_7_depth", "", "Enter how deep it is: without it nobody can tell how full it gets."),
        ("pan_7_length", "3000 mm", "Enter 100 cm or less."),
        ("pan_7_count", "4", "Enter 3 or less: each pan needs a piece."),
        ("tap_c", "45", "Enter 40 °C or less."),
        ("room_c", "60", "Enter 45 °C or less."),
        ("room_c", "", "This field is required."),
        ("altitude_m", "6000", "Enter 5000 m or less."),
        ("pieces_7", "0", "Enter 1 or more."),
        ("pieces_7", "49", "Enter 48 or less."),
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


def test_what_is_held_says_how_long_it_is_kept(ada, settings):
    settings.ALLERGY_WORDS_DAYS, settings.LINK_DAYS, settings.PAPERS_DAYS = 3, 5, 8
    assert list(person_document(ada)["kept_days"].values()) == [3, 5, 8]
    page = " ".join(Client().get(page_of(ada, "held")).content.decode().split())
    assert "deleted 3 days after the class" in page
    assert "works for 5 days after it" in page
    assert "kept for 8 days" in page
