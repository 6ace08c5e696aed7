"""How tests move about in the pages of the house."""

from __future__ import annotations

import re
from html import unescape

from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

NEW = "a pass phrase of my own"
FACTS = {"name": "Rosa Kernel", "email": "rosa@example.org"}
LINK = re.compile(r'value="(http://testserver/enter/[^"]+)"')


def add(client: Client, **more: object):
    fields = {"username": "rosa", **FACTS, "roles": ["assistant"], **more}
    return client.post(reverse("house:new"), fields)


def added(client: Client, **more: object) -> User:
    """Somebody new, as an owner adds them."""
    answer = add(client, **more)
    assert answer.status_code == 302, answer.context["form"].errors
    return User.objects.get(username=more.get("username", "rosa"))


def person(user: User) -> str:
    return reverse("house:person", args=[user.pk])


def link_on_page(client: Client, user: User) -> str:
    """The link that an owner reads on somebody's page."""
    page = client.get(person(user)).content.decode()
    found = LINK.search(page)
    assert found, page
    return unescape(found[1])


def do(client: Client, what: str, user: User, **options: object):
    return client.post(reverse(f"house:{what}", args=[user.pk]), **options)


def choose(link: str, password: str = NEW, again: str | None = None, client: Client | None = None):
    fields = {"new_password1": password, "new_password2": password if again is None else again}
    return (client or Client()).post(link, fields)


def sign_in(username: str, password: str):
    """A browser that tried to sign in, and whether it is in."""
    client = Client()
    client.post(reverse("sign-in"), {"username": username, "password": password})
    return client, is_in(client)


def is_in(client: Client) -> bool:
    return client.get(reverse("house:account")).status_code == 200
