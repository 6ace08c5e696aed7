"""Instructors open the recipe book; for everybody else it does not exist."""

from importlib import import_module

import pytest
from django.apps import apps
from django.contrib.auth.models import AnonymousUser, Group
from django.http import Http404, HttpResponse

from recipes.access import instructor_required, is_instructor
from tests.factories import UserFactory

pytestmark = pytest.mark.django_db


@instructor_required
def page(request):
    return HttpResponse("ours")


def test_the_migrations_make_the_two_groups_once():
    Group.objects.all().delete()  # a browser test before this one empties all tables anyway
    add_groups = import_module("recipes.migrations.0002_groups").add_groups
    for _ in range(2):
        add_groups(apps, None)
    assert set(Group.objects.values_list("name", flat=True)) == {"instructor", "assistant"}


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        pytest.param({}, True, id="instructor"),
        pytest.param({"role": "assistant"}, False, id="assistant"),
        pytest.param({"role": ""}, False, id="no group"),
        pytest.param({"role": "", "is_superuser": True}, True, id="superuser"),
        pytest.param({"is_active": False}, False, id="switched off"),
    ],
)
def test_the_group_or_a_superuser_makes_an_instructor(fields, expected):
    assert is_instructor(UserFactory(**fields)) is expected


def test_nobody_signed_in_is_no_instructor():
    assert is_instructor(AnonymousUser()) is False


def test_the_group_is_asked_for_once_a_request(django_assert_num_queries):
    user = UserFactory()
    with django_assert_num_queries(1):
        assert is_instructor(user) is is_instructor(user) is True


def test_a_guarded_page_opens_for_an_instructor(rf):
    request = rf.get("/")
    request.user = UserFactory()
    assert page(request).content == b"ours"


def test_a_guarded_page_is_missing_for_an_assistant(rf):
    request = rf.get("/")
    request.user = UserFactory(role="assistant")
    with pytest.raises(Http404):
        page(request)
