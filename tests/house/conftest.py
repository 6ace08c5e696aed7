"""An owner, somebody who assists, and the browsers that they are signed in with."""

from __future__ import annotations

import pytest
from django.test import Client

from tests.factories import UserFactory


@pytest.fixture
def owner(db):
    return UserFactory(username="olaf", role="", is_staff=True, is_superuser=True)


@pytest.fixture
def owner_client(owner) -> Client:
    client = Client()
    client.force_login(owner)
    return client
