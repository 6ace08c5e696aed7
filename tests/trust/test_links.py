"""Signed links: nothing but the true one opens, and opening one changes nothing."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from django.apps import apps
from django.http import Http404
from django.test import Client
from django.urls import URLResolver, get_resolver, reverse
from django.urls.converters import IntConverter, SlugConverter
from django.utils import timezone

from classes.access import (
    booking_by_token,
    calendar_owner,
    enrollment_by_home_code,
    enrollment_by_home_token,
    enrollment_by_token,
    home_code,
    link_ends_at,
    waiting_by_token,
)
from classes.enrollment.limits import GUESSES_A_MINUTE
from classes.enrollment.models.booking import new_link_nonce
from house.access import entry_by_token
from tests.classes.enrollment.enrolled import CANARY, NOW
from tests.links import KINDS, POSTED, make_links
from tests.worlds import anew, made_once

OPENS = {
    "student": lambda token: enrollment_by_token(token, at=NOW),
    "home": lambda token: enrollment_by_home_token(token, at=NOW),
    "booking": booking_by_token,
    "waiting": lambda token: waiting_by_token(token, at=NOW),
    "staff": calendar_owner,
    "entry": lambda token: entry_by_token(token, at=timezone.now()),
}
LETTERS = "A0-_:z"


links_made_once = made_once(make_links)


@pytest.fixture
def links(links_made_once, db):
    return anew(links_made_once)


def changed(token: str):
    """The token with each character replaced, left out and doubled."""
    for place, letter in enumerate(token):
        before, after = token[:place], token[place + 1 :]
        yield from (before + other + after for other in LETTERS if other != letter)
        yield before + after
        yield before + letter * 2 + after


class TestForgeries:
    @pytest.mark.parametrize("kind", OPENS)
    def test_no_word_with_a_changed_character_opens(self, kind, links):
        token = links[kind].token()
        assert OPENS[kind](token) == links[kind].one
        opened, tried = [], 0
        for forged in changed(token):
            tried += forged != token
            try:
                OPENS[kind](forged)
            except Http404:
                continue
            opened += [forged] if forged != token else []
        assert opened == []
        assert tried > 6 * len(token)

    @pytest.mark.parametrize("kind", OPENS)
    def test_one_persons_signature_does_not_open_anothers(self, kind, links):
        mine, theirs = links[kind].token(), links[kind].token(other=True)
        mixed = mine.rpartition(":")[0] + ":" + theirs.rpartition(":")[2]
        with pytest.raises(Http404):
            OPENS[kind](mixed)

    @pytest.mark.parametrize(
        "odd", ["", ":", "1-:", "\0", "1", "é:é", "x" * 5000, "%00", "1-1:1:1"]
    )
    @pytest.mark.parametrize("kind", OPENS)
    def test_odd_words_open_nothing(self, kind, odd, db):
        with pytest.raises(Http404):
            OPENS[kind](odd)


class TestTheShortAddress:
    """It is typed from paper, so it is read as people type, and nothing else opens."""

    def test_it_is_a_number_and_sixty_bits_of_the_secret(self, links):
        person = links["home"].one
        assert re.fullmatch(rf"{person.pk}(-[0-9a-hjkmnp-tv-z]{{4}}){{3}}", home_code(person))
        before = home_code(person)
        person.link_nonce = new_link_nonce()
        assert home_code(person).split("-")[1:] != before.split("-")[1:]

    def test_letters_that_look_alike_and_large_ones_are_read(self, links):
        person = links["home"].one
        typed = home_code(person).upper().replace("0", "O").replace("1", "l")
        assert enrollment_by_home_code(typed, at=NOW) == person

    def test_no_other_word_opens(self, links):
        mine, theirs = (home_code(one) for one in (links["home"].one, links["home"].another))
        own, other = mine.partition("-"), theirs.partition("-")
        mixed = f"{own[0]}-{other[2]}"
        odd = [
            "",
            "-",
            own[0],
            f"{own[0]}-",
            "9" * 40,
            f"{'9' * 40}-{own[2]}",
            f"²-{own[2]}",
            mixed,
        ]
        forged = [word for word in changed(mine) if word.lower() != mine]
        forged = [word for word in forged if word.lower().replace("o", "0") != mine]
        for word in (*odd, *forged):
            with pytest.raises(Http404):
                enrollment_by_home_code(word, at=NOW)
        assert len(forged) > 5 * len(mine)

    def test_it_ends_with_the_link(self, links):
        person = links["home"].one
        ends_at = link_ends_at(person.session)
        assert enrollment_by_home_code(home_code(person), at=ends_at) == person
        with pytest.raises(Http404):
            enrollment_by_home_code(home_code(person), at=ends_at + timedelta(seconds=1))

    def test_wrong_ones_are_counted_like_wrong_links(self, links):
        pk, client = links["home"].one.pk, Client()
        answers = [
            client.get(reverse("handouts:short_address", args=[f"{pk}-{number:04}"])).status_code
            for number in range(GUESSES_A_MINUTE + 3)
        ]
        assert answers == [404] * GUESSES_A_MINUTE + [429] * 3


class TestTheSecret:
    def test_it_has_128_bits_of_which_each_is_by_chance(self):
        made = [int(new_link_nonce(), 16) for _ in range(200)]
        always, sometimes = (1 << 128) - 1, 0
        for number in made:
            always &= number
            sometimes |= number
        assert len(set(made)) == 200
        assert always == 0
        assert sometimes == (1 << 128) - 1

    @pytest.mark.parametrize("kind", ["student", "booking", "waiting", "entry"])
    def test_a_word_holds_a_number_and_the_secret_and_nothing_about_anybody(self, kind, links):
        pair = links[kind]
        assert re.fullmatch(r"\d+-[0-9a-f]{32}:[A-Za-z0-9_-]{43}", pair.token())
        assert pair.token().startswith(f"{pair.one.pk}-{pair.one.link_nonce}:")

    def test_what_somebody_must_not_eat_does_not_change_the_word(self, links):
        person = links["student"].one
        before = links["student"].token()
        person.must_not_eat, person.allergens = CANARY, ["sesame"]
        person.save()
        assert links["student"].token() == before


def everything() -> dict[str, list]:
    """Every row of the classes, the recipes and the house."""
    models = [*apps.get_app_config("classes").get_models()]
    models += apps.get_app_config("enrollment").get_models()
    models += apps.get_app_config("recipes").get_models()
    models += apps.get_app_config("house").get_models()
    return {one._meta.label: list(one.objects.order_by("pk").values()) for one in models}


class TestOpening:
    @pytest.mark.parametrize("name", KINDS)
    def test_looking_ahead_changes_nothing(self, name, links):
        """Mail programs fetch links before anybody reads the letter."""
        before, address = everything(), reverse(name, args=[links[KINDS[name]].token()])
        prefetch = {"Purpose": "prefetch", "Sec-Purpose": "prefetch"}
        client = Client(headers=prefetch)
        codes = {client.head(address).status_code, client.get(address).status_code}
        assert codes == ({405} if name in POSTED else {200})
        assert client.options(address).status_code in (200, 405)
        assert everything() == before

    @pytest.mark.parametrize("name", sorted(KINDS.keys() - set(POSTED)))
    def test_no_other_site_learns_the_address_and_no_search_engine_keeps_it(self, name, links):
        answer = Client().get(reverse(name, args=[links[KINDS[name]].token()]))
        assert answer.headers["Referrer-Policy"] in ("same-origin", "no-referrer")
        assert "noindex" in answer.headers["X-Robots-Tag"]
        assert answer.headers["Cache-Control"] == "private, no-store"

    @pytest.mark.parametrize(
        "name", ["classes:place", "classes:enroll", "classes:waiting", "house:enter"]
    )
    def test_its_pages_load_nothing_from_elsewhere(self, name, links):
        page = Client().get(reverse(name, args=[links[KINDS[name]].token()])).content.decode()
        loaded = re.findall(r'<(?:script|img|link|iframe|source)[^>]*(?:src|href)="([^"]*)"', page)
        assert [one for one in loaded if re.match(r"(https?:)?//", one)] == []
        assert loaded


class TestGuessing:
    def _guess(self, links, count=100, **more):
        token = links["student"].token()
        answers = []
        for number in range(count):
            forged = f"{number}{token[len(str(number)) :]}"
            headers = {"X-Forwarded-For": f"198.51.100.{number}"}
            answer = Client().get(f"/mine/x{forged}/", headers=headers, **more)
            answers.append(answer.status_code)
        return answers

    def test_a_hundred_guesses_open_nothing_and_are_slowed_down(self, links):
        answers = self._guess(links)
        assert answers == [404] * GUESSES_A_MINUTE + [429] * (100 - GUESSES_A_MINUTE)

    def test_guesses_at_different_pages_are_counted_together(self, links):
        pages = [name for name in KINDS if name not in POSTED]
        answers = [
            Client().get(reverse(pages[number % len(pages)], args=[f"guess{number}"])).status_code
            for number in range(GUESSES_A_MINUTE + 5)
        ]
        assert answers == [404] * GUESSES_A_MINUTE + [429] * 5

    def test_a_true_link_opens_all_the_same(self, links):
        self._guess(links, GUESSES_A_MINUTE + 2)
        assert Client().get(f"/mine/{links['student'].token()}/").status_code == 200

    def test_other_addresses_are_left_alone(self, links):
        self._guess(links, GUESSES_A_MINUTE + 2)
        assert self._guess(links, 1, REMOTE_ADDR="203.0.113.9") == [404]


def free_words(resolver: URLResolver) -> set[str]:
    """The parts of addresses that may hold any character, without those of the back office."""
    found: set[str] = set()
    for one in resolver.url_patterns:
        found |= {
            name
            for name, converter in one.pattern.converters.items()
            if not isinstance(converter, IntConverter | SlugConverter)
        }
        if isinstance(one, URLResolver) and one.namespace != "admin":
            found |= free_words(one)
    return found


def test_only_a_signed_word_in_an_address_may_hold_any_character():
    """A signature is checked before the database is asked, and PostgreSQL takes no zero byte."""
    assert free_words(get_resolver()) == {"token"}


@pytest.mark.parametrize("name", ["", "papers/", "papers/handouts.pdf", "roster/"])
def test_a_zero_byte_in_a_class_s_address_finds_nothing(name, instructor_client):
    assert instructor_client.get(f"/classes/a%00b/{name}").status_code == 404


class TestTheLastMoment:
    @pytest.mark.parametrize("kind", ["student", "home", "waiting"])
    def test_a_link_opens_until_it_ends_and_not_a_second_later(self, kind, links):
        by_token = {
            "student": enrollment_by_token,
            "home": enrollment_by_home_token,
            "waiting": waiting_by_token,
        }[kind]
        token = links[kind].token()
        ends_at = link_ends_at(by_token(token, at=NOW).session)
        by_token(token, at=ends_at)
        with pytest.raises(Http404):
            by_token(token, at=ends_at + timedelta(seconds=1))
