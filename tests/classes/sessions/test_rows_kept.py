"""Rows that were added and left as they came are rows: what stands on the page is saved."""

import pytest
from django.urls import reverse

from tests.factories import KitchenFactory
from tests.trust.forms_on import forms_on


@pytest.fixture
def kitchen(instructor):
    return KitchenFactory(owner=instructor)


def added(client, address, prefix):
    """What a page posts after its button for one more row, nothing typed into that."""
    opened = fields_on(client.get(address), address)
    return fields_on(client.post(address, opened | {"add": [prefix]}), address)


def fields_on(answer, address):
    (form,) = [one for one in forms_on(answer.content.decode(), address) if one.buttons]
    return form.fields


def test_a_scale_that_is_as_it_came_is_kept(instructor_client, kitchen):
    kitchen.scales.all().delete()
    address = reverse("classes:kitchen", args=[kitchen.pk])
    fields = added(instructor_client, address, "scales")
    assert (fields["scales-0-step_g"], fields["scales-0-count"]) == (["1"], ["1"])
    assert instructor_client.post(address, fields).status_code == 302
    assert [(one.step_g, one.count) for one in kitchen.scales.all()] == [("1", 1)]


def test_a_scale_that_is_there_already_is_refused_and_not_dropped(instructor_client, kitchen):
    address, before = reverse("classes:kitchen", args=[kitchen.pk]), kitchen.scales.count()
    answer = instructor_client.post(address, added(instructor_client, address, "scales"))
    assert "Two rows say the same." in answer.content.decode()
    assert kitchen.scales.count() == before


@pytest.mark.parametrize("prefix", ["stations", "ovens", "mixers"])
def test_a_row_without_what_it_must_have_is_still_none(instructor_client, kitchen, prefix):
    address = reverse("classes:kitchen", args=[kitchen.pk])
    before = getattr(kitchen, prefix).count()
    fields = added(instructor_client, address, prefix)
    assert instructor_client.post(address, fields).status_code == 302
    assert getattr(kitchen, prefix).count() == before
