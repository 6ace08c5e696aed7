"""Every edit form with two people at once: none loses what the other saved, nor what it was typed.

The forms are found on the pages themselves: one that has no row here fails the tests.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from decimal import Decimal

import pytest
from django.test import Client
from django.urls import resolve

from classes.enrollment.models import Enrollment
from classes.models import ClassCost, ClassSession, Kitchen, StockItem
from config.forms.seen import plain
from recipes.models import Ingredient
from tests.factories import IngredientFactory, RevisionFactory
from tests.site import Site, make_site
from tests.test_access import TABLE
from tests.trust.forms_on import PageForm, forms_on
from tests.trust.test_fuzz import AIMS, with_booked_student
from tests.worlds import anew, made_once, undone

Fields = dict[str, list[str]]


@dataclass(frozen=True)
class EditForm:
    """Who edits, two fields with other values, and other values for fields that are particular.

    `fixed` are fields that nothing else can be put into in this site.
    """

    who: str
    one: tuple[str, str]
    two: tuple[str, str]
    others: dict[str, str] = field(default_factory=dict)
    fixed: tuple[str, ...] = ()


EDITS = {
    "classes:edit": EditForm(
        "instructor",
        ("title", "Sunday loaf"),
        ("notes", "Aprons are in the car"),
        fixed=("kitchen",),  # goes with its stations
    ),
    "classes:hours_settings": EditForm("instructor", ("welcome_min", "12"), ("show_min", "6")),
    "classes:enrollment": EditForm(
        "instructor", ("about", "Two loaves"), ("bring", "A tin and a towel")
    ),
    "classes:roster": EditForm(
        "instructor", ("people-0-must_not_eat", "no sesame"), ("people-1-name", "Bea Holm")
    ),
    "classes:kitchen": EditForm(
        "instructor", ("access_facts", "Ring twice"), ("stations-0-name", "By the window")
    ),
    "classes:pantry": EditForm(
        "instructor",
        ("stock-0-on_hand_g", "900"),
        ("stock-1-pack_g", "2500"),
        {"stock-1-ingredient": "987654"},
    ),
    "classes:costs": EditForm("instructor", ("costs-0-name", "The hall"), ("costs-1-amount", "12")),
    "classes:place_change": EditForm(
        "nobody", ("must_not_eat", "no seeds at all"), ("allergens", "milk")
    ),
    "handouts:at_home": EditForm("nobody", ("room_c", "23"), ("altitude_m", "2297 ft")),
    "recipes:ingredient_edit": EditForm(
        "instructor",
        ("note", "From the mill"),
        ("aisle", "Third on the left"),
        fixed=("cup_g", "flours", "hydration_percent"),
    ),  # a cup becomes grams in a milliliter; only a starter has flours and hydration
    "house:person": EditForm(
        "owner of the site", ("name", "Nora Crumb"), ("email", "nora@example.org")
    ),
    "house:account": EditForm("instructor", ("name", "Ines Rye"), ("email", "ines@example.org")),
}

# A recipe is a whole; its two forms have tests of their own below.
WHOLE = ("recipes:edit", "recipes:adjust")
# Forms that write and change nothing that somebody else might have written meanwhile.
NO_EDITS = {
    "sign-in": "writes nothing of anybody else's",
    "house:password": "one's own, behind the old password",
    "house:enter": "opens once",
    "house:new": "makes something new",
    "house:measures": "one choice, and the last one stands",
    "classes:new": "makes something new",
    "classes:kitchen_new": "makes something new",
    "classes:hold": "makes something new",
    "classes:wait": "makes something new",
    "classes:enroll": "makes something new",
    "classes:money": "makes a payment",
    "classes:door": "makes somebody new, or marks one person",
    "recipes:new": "makes something new",
    "recipes:bring": "makes something new",
    "recipes:ingredient_new": "makes something new",
    "recipes:variants": "makes something new",
    "recipes:photos": "makes something new, with its words",
    "classes:place_move": "changes the class under the rows' own locks",
    "handouts:desk": "asks for papers",
    "classes:diet_decide": "names the conflict that was seen, and is refused for another",
    "classes:water": "keeps one figure that was just measured",
}
PAPERS = ("handouts:papers", "handouts:paper", "handouts:rise")


# What tells rows apart, and what takes one out: rows have tests of their own.
OF_ROWS = ("_FORMS", "-id", "-DELETE", "-session", "-kitchen")
# A figure, a day, a time, a currency and an address: what a field takes that takes no letters.
OF_KINDS = ("5", "2030-05-03", "2030-05-05", "11:30", "13:30", "USD", "x@example.org")
NUMBER = re.compile(r"\d+(\.\d+)?(?![\d:-])")
SHAPE = re.compile(r"[\dA-Z]")
LAST_BY_NAME = 987_654


def furnished_site() -> Site:
    """A site with something in every row of its edit forms."""
    site = with_booked_student(make_site())
    kitchen = site.session.kitchen
    kitchen.stations.create(name="Spare", places=4)
    kitchen.mixers.create(name="Spiral", capacity_g=3000)
    Kitchen.objects.filter(pk=kitchen.pk).update(proof_places=4)
    Ingredient.objects.filter(pk=site.own.pk).update(each_g=50, each_name="piece")
    for n in (1, 2):
        ingredient = IngredientFactory(name=f"Grain {n}")
        StockItem.objects.create(
            kitchen=kitchen, ingredient=ingredient, on_hand_g=500 * n, pack_g=Decimal(1000)
        )
        ClassCost.objects.create(session=site.session, name=f"Cost {n}", amount_minor=1000 * n)
    IngredientFactory(pk=LAST_BY_NAME, name="Grain 3")
    RevisionFactory(recipe__owner=site.session.instructor)
    ClassSession.objects.filter(pk=site.session.pk).update(seats=4, price_minor=3800)
    at_home = AIMS["kitchen at home"].fields(site)
    site.clients["nobody"].post(site.address("handouts:at_home"), at_home)
    student = site.session.enrollments.first()
    student.diet, student.must_not_eat = Enrollment.Diet.TOLD, "poppy"
    student.save()
    return site


site_made_once = made_once(furnished_site)


@pytest.fixture
def site(site_made_once, db, settings):
    settings.PUBLIC_POSTS_A_MINUTE = 10**9
    return anew(site_made_once)


def edit_form(client: Client, address: str) -> PageForm:
    """The edit form at an address, as its page comes now."""
    page = client.get(address).content.decode()
    (form,) = [one for one in forms_on(page, address) if "seen" in one.fields]
    return form


def opened(client: Client, address: str) -> Fields:
    """What stands in the fields of the edit form at an address."""
    return edit_form(client, address).fields


ANEW = ("seen", "form_key", "csrfmiddlewaretoken")


def _filled(fields: Fields) -> Fields:
    """Without the words that are another each time a page is opened; 12.00 is 12."""
    return {name: list(plain(one)) for name, one in fields.items() if name not in ANEW}


def changed(fields: Fields, *changes: tuple[str, str]) -> Fields:
    return fields | {name: [value] for name, value in changes}


# Finding the forms


def _forms(site: Site) -> dict[str, PageForm]:
    """Every form that posts something typed, by the name of the page it is sent to."""
    found: dict[str, PageForm] = {}
    for name in (one for one in TABLE if not one.endswith("pdf") and one not in PAPERS):
        for who in ("nobody", "instructor", "owner of the site"):
            address = site.address(name)
            answer = site.clients[who].get(address)
            if answer.status_code != 200 or "html" not in answer.headers["Content-Type"]:
                continue
            for form in forms_on(answer.content.decode(), address):
                typed = form.fields.keys() - {"csrfmiddlewaretoken", "form_key", "next"}
                if form.method == "post" and typed:
                    view = resolve(form.address.partition("?")[0]).view_name
                    has_seen = view in found and "seen" in found[view].fields
                    found[view] = found[view] if has_seen else form
    return found


def test_every_form_has_a_row_here_and_every_edit_form_says_what_it_shows(site):
    found = _forms(site)
    assert len(found) > 25
    assert found.keys() - EDITS.keys() - {*WHOLE} - NO_EDITS.keys() == set()
    silent = [name for name in (*EDITS, *WHOLE) if "seen" not in found[name].fields]
    assert silent == []


# Two people


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("name", EDITS)
def test_what_two_people_change_apart_is_kept_of_both(name, turned, site):
    form, address = EDITS[name], site.address(name)
    client = site.clients[form.who]
    first, second = (form.two, form.one) if turned else (form.one, form.two)
    mine, theirs = opened(client, address), opened(client, address)
    assert client.post(address, changed(theirs, first)).status_code == 302
    assert client.post(address, changed(mine, second)).status_code == 302
    expected = _filled(changed(theirs, first, second))
    assert _filled(opened(client, address)) == expected


@pytest.mark.parametrize("choice", ["theirs", "mine"])
@pytest.mark.parametrize("name", EDITS)
def test_what_both_change_is_asked_about_with_all_else_kept(name, choice, site):
    form, address = EDITS[name], site.address(name)
    client, (key, value) = site.clients[form.who], form.one
    mine, theirs = opened(client, address), opened(client, address)
    other = {"welcome_min": "14", "room_c": "25", "stock-0-on_hand_g": "901"}.get(key, f"{value}!")
    client.post(address, changed(theirs, form.one))
    saved = _filled(opened(client, address))
    asked = client.post(address, changed(mine, (key, other), form.two))
    assert asked.status_code == 409
    text = asked.content.decode()
    assert value in text
    assert other in text
    assert _filled(opened(client, address)) == saved
    (page,) = [one for one in forms_on(text, address) if "seen" in one.fields]
    (chosen,) = [one for one in page.fields if one.startswith("choose-")]
    assert client.post(address, page.fields).status_code == 409
    done = client.post(address, page.fields | {chosen: [choice]})
    assert done.status_code == 302
    now = value if choice == "theirs" else other
    expected = _filled(changed(theirs, (key, now), form.two))
    assert _filled(opened(client, address)) == expected


def _candidates(form: EditForm, page: PageForm, name: str) -> list[list[str]]:
    """Other things that might stand in a field."""
    values = page.fields[name]
    if name in form.others:
        return [[form.others[name]]]
    if name in page.offered:
        chosen = [[one] for one in page.offered[name][:40] if [one] != values]
        return chosen + ([[]] if values else [])
    (text, *_) = values or [""]
    if match := NUMBER.match(text):
        number, rest = Decimal(match[0]), text[match.end() :]
        return [[f"{number + 1}{rest}"], [f"{number - 1}{rest}"], *([one] for one in OF_KINDS)]
    likely = [one for one in OF_KINDS if SHAPE.sub("0", one) == SHAPE.sub("0", text)]
    return [[one] for one in (*likely, f"{text}x" if text else "5", *OF_KINDS)]


@dataclass
class Sweep:
    """Somebody saves fields of a form that stands open elsewhere, as many at once as they can."""

    form: EditForm
    client: Client
    address: str

    def __post_init__(self) -> None:
        self.page = edit_form(self.client, self.address)
        self.before = opened(self.client, self.address)
        self.shown = _filled(self.before)
        self.lost: list[tuple[tuple[str, ...], Fields]] = []
        self.untried: list[str] = []

    def go(self) -> Sweep:
        asked = [key for key in sorted(self.shown) if not key.endswith(OF_ROWS)]
        known = (self.form.one[0], self.form.two[0])
        for key in known:
            self._save([key])
        self._save([key for key in asked if key not in known])
        return self

    def _save(self, keys: list[str]) -> None:
        """Where they cannot be saved together, by halves; one alone with any value it takes."""
        candidates = {key: _candidates(self.form, self.page, key) for key in keys}
        if len(keys) == 1:
            tried = [{keys[0]: values} for values in candidates[keys[0]]]
        else:
            tried = [{key: values[0] for key, values in candidates.items()}]
        if any(self._is_tried(change) for change in tried):
            return
        if len(keys) == 1:
            self.untried += keys
            return
        self._save(keys[: len(keys) // 2])
        self._save(keys[len(keys) // 2 :])

    def _is_tried(self, change: Fields) -> bool:
        """Save it, and then the form opened before; False where it is not saved in full."""
        probe = self.form.two if self.form.one[0] in change else self.form.one
        with undone():
            answer = self.client.post(self.address, self.page.fields | change)
            if answer.status_code != 302:
                return False
            saved = _filled(opened(self.client, self.address))
            if any(saved[key] == self.shown[key] for key in change):
                return False
            answer = self.client.post(self.address, changed(self.before, probe))
            after = _filled(opened(self.client, self.address))
            if answer.status_code != 302 or after != _filled(changed(saved, probe)):
                self.lost.append((tuple(change), after))
            return True


@pytest.mark.parametrize("name", EDITS)
def test_no_field_that_somebody_saved_is_lost_by_a_form_opened_before(name, site):
    form = EDITS[name]
    swept = Sweep(form, site.clients[form.who], site.address(name)).go()
    assert swept.lost == []
    assert tuple(sorted(swept.untried)) == form.fixed
