"""A form that is sent twice, as by a double click, makes one thing, and is answered alike."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

import pytest
from django.apps import apps
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from config.forms.saving import forget_sent
from config.models import SentForm
from recipes.core.choices import IngredientKind
from recipes.models import Ingredient
from tests.recipes.test_photos import encoded
from tests.site import Site
from tests.trust.forms_on import PageForm, forms_on
from tests.trust.test_fuzz import AIMS
from tests.trust.test_stale_forms import furnished_site
from tests.worlds import anew, made_once

site_made_once = made_once(furnished_site)
APPS = ("classes", "enrollment", "recipes", "auth")


@pytest.fixture
def site(site_made_once, db, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    site = anew(site_made_once)
    Ingredient.objects.filter(pk=site.own.pk).update(kind=IngredientKind.FLOUR)
    return site


def form_at(site: Site, name: str, who: str, *, query: str = "") -> PageForm:
    """The form with a key on a page, as somebody opens it."""
    address = site.address(name)
    page = site.clients[who].get(f"{address}{query}").content.decode()
    return next(one for one in forms_on(page, address) if "form_key" in one.fields)


def counts() -> dict[str, int]:
    """How many rows there are of everything that somebody can make."""
    models = [one for app in APPS for one in apps.get_app_config(app).get_models()]
    return {one._meta.label: one.objects.count() for one in models}


@dataclass(frozen=True)
class Making:
    """A form that makes something: what is typed into it, and what there is one more of."""

    who: str
    made: str
    typed: Callable[[Site], dict[str, Any]]
    query: str = ""


def _recipe(site: Site) -> dict[str, Any]:
    lines = {"amount": "500", "unit": "g", "ingredient": "Own flour", "note": ""}
    line = {f"part-0-line-0-{name}": value for name, value in lines.items()}
    return line | {"title": "Twice baked", "pieces": "1", "piece_g": "500"}


def _kitchen(site: Site) -> dict[str, Any]:
    rows = ("stations", "ovens", "mixers", "scales")
    counted = {f"{one}-TOTAL_FORMS": "1" if one == "stations" else "0" for one in rows}
    return counted | {"name": "The annex", "stations-0-name": "North", "stations-0-places": "4"}


def _class(site: Site) -> dict[str, Any]:
    typed = AIMS["new class"].fields(site) | {"day": "2030-07-01"}
    return {name: value for name, value in typed.items() if not name.endswith("-id")}


def _variant(site: Site) -> dict[str, Any]:
    revision = site.session.taught.get().revision
    line = revision.components.first().lines.last()
    return {
        "name": "With grain",
        "swaps-0-replaced": line.ingredient_id,
        "swaps-0-by": site.own.pk,
        "swaps-0-parts": "1",
    }


def _photo(site: Site) -> dict[str, Any]:
    picture = SimpleUploadedFile("loaf.jpg", encoded(), "image/jpeg")
    return {"picture": picture, "alt": "A cut loaf"}


MAKING = {
    "recipes:new": Making("instructor", "recipes.Recipe", _recipe),
    "recipes:ingredient_new": Making(
        "instructor", "recipes.Ingredient", lambda site: {"name": "Twice milled", "kind": "flour"}
    ),
    "recipes:variants": Making("instructor", "recipes.Variant", _variant),
    "recipes:photos": Making("instructor", "recipes.Photo", _photo),
    "classes:kitchen_new": Making("instructor", "classes.Kitchen", _kitchen),
    "classes:new": Making("instructor", "classes.ClassSession", _class),
    "house:new": Making(
        "owner of the site", "auth.User", lambda site: AIMS["somebody new"].fields(site)
    ),
    "classes:door": Making(
        "assistant",
        "enrollment.Enrollment",
        lambda site: {"walk_in": "1", "diet": "nothing", "name": "Ada Lomax"},
    ),
    "classes:money": Making(
        "instructor",
        "enrollment.Payment",
        lambda site: {"direction": "in", "amount": "38", "means": "cash", "paid_on": "2030-05-04"},
    ),
}
# Rows that an edit form adds are made twice just as easily.
ADDING = {
    "classes:roster": ("people", "enrollment.Enrollment", {"name": "Cai Rowe"}),
    "classes:costs": ("costs", "classes.ClassCost", {"name": "The way", "amount": "9"}),
    "classes:kitchen": ("ovens", "classes.Oven", {"name": "Second deck"}),
}


def sent_twice(site: Site, name: str, who: str, fields: Callable[[], dict[str, Any]], made: str):
    before, client, address = counts(), site.clients[who], site.address(name)
    first = client.post(address, fields())
    second = client.post(address, fields())
    assert (first.status_code, second.status_code) == (302, 302)
    assert first.headers["Location"] == second.headers["Location"]
    assert counts()[made] == before[made] + 1
    return address, before


@pytest.mark.parametrize("name", MAKING)
def test_what_is_made_by_a_form_sent_twice_is_made_once(name, site):
    making = MAKING[name]
    query = f"?booking={site.confirmed().pk}" if name == "classes:money" else ""
    form = form_at(site, name, making.who, query=query)
    sent_twice(site, name, making.who, lambda: form.fields | making.typed(site), making.made)


def test_an_import_saved_twice_is_one_recipe(site):
    client, address = site.clients["instructor"], site.address("recipes:bring")
    text = "Plain loaf\n\nIngredients\n500 g Own flour\n300 g water\n"
    (asked,) = [
        one
        for one in forms_on(client.get(address).content.decode(), address)
        if "text" in one.fields
    ]
    page = client.post(address, asked.fields | {"text": text}).content.decode()
    (review,) = [one for one in forms_on(page, address) if "form_key" in one.fields]
    typed = {"title": "Plain loaf", "pieces": "1", "piece_g": "500", "piece_name": "loaf"}
    sent_twice(
        site,
        "recipes:bring",
        "instructor",
        lambda: review.fields | typed | {"save": "1"},
        "recipes.Recipe",
    )


@pytest.mark.parametrize("name", ADDING)
def test_a_row_added_by_a_form_sent_twice_is_added_once(name, site):
    prefix, made, typed = ADDING[name]
    client, address = site.clients["instructor"], site.address(name)
    (form,) = [
        one
        for one in forms_on(client.get(address).content.decode(), address)
        if "seen" in one.fields
    ]
    page = client.post(address, form.fields | {"add": prefix}).content.decode()
    (form,) = [one for one in forms_on(page, address) if "seen" in one.fields]
    place = f"{prefix}-{int(form.fields[f'{prefix}-TOTAL_FORMS'][0]) - 1}"
    row = {f"{place}-{one}": value for one, value in typed.items()}
    sent_twice(site, name, "instructor", lambda: form.fields | row, made)


def test_a_form_that_was_refused_can_be_sent_again(site):
    form = form_at(site, "classes:kitchen_new", "instructor")
    client, address = site.clients["instructor"], site.address("classes:kitchen_new")
    refused = client.post(address, form.fields | _kitchen(site) | {"name": ""})
    assert refused.status_code == 200
    assert form.fields["form_key"][0] in refused.content.decode()
    assert client.post(address, form.fields | _kitchen(site)).status_code == 302


def test_the_key_of_somebody_else_is_another_form(site):
    form = form_at(site, "classes:kitchen_new", "instructor")
    address, before = site.address("classes:kitchen_new"), counts()
    for who in ("instructor", "other instructor"):
        assert site.clients[who].post(address, form.fields | _kitchen(site)).status_code == 302
    assert counts()["classes.Kitchen"] == before["classes.Kitchen"] + 2


def test_keys_are_forgotten_after_some_days(site):
    form = form_at(site, "classes:kitchen_new", "instructor")
    site.clients["instructor"].post(
        site.address("classes:kitchen_new"), form.fields | _kitchen(site)
    )
    now = timezone.now()
    assert forget_sent(at=now + timedelta(days=1)) == 0
    assert forget_sent(at=now + timedelta(days=3)) == SentForm.objects.count() + 1 == 1
