"""What opens somebody's page, their address and what they told never stand in a log."""

from __future__ import annotations

import logging
import logging.config

import pytest
from django.conf import settings

from classes.access import student_token
from config.logs import PrivateWordsFilter, without_private_words
from tests.factories import EnrollmentFactory, planned_class

WORD = "12-0123456789abcdef:aBcD_-9"
PLACES = ("mine", "enroll", "waiting", "calendar", "enter")


def record(message, *args, exc_info=None):
    made = logging.LogRecord("a", logging.WARNING, "f", 1, message, args, exc_info)
    assert PrivateWordsFilter().filter(made)
    return made


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("end", ["/", "/held/?format=json", ".ics", "", '" 404'])
def test_the_signed_word_of_an_address_is_hidden(place, end):
    text = without_private_words(f"Not Found: /{place}/{WORD}{end}")
    assert "0123456789abcdef" not in text
    assert "aBcD" not in text
    assert text.startswith(f"Not Found: /{place}/…")


def test_other_addresses_stay_as_they_are():
    text = "GET /classes/ABC234/mine/ and /open/calendar.ics"
    assert without_private_words(text) == text


@pytest.mark.parametrize(
    "text",
    ["550 zoe.w@example.org unknown", "<zoe.w@example.org>", "{'zoe.w@example.org': (550, b'')}"],
)
def test_an_e_mail_address_is_hidden(text):
    hidden = without_private_words(text)
    assert "zoe" not in hidden
    assert "example" not in hidden
    assert "…" in hidden


REFUSED_ROW = """IntegrityError: new row violates check constraint "seats"
DETAIL:  Failing row contains (7, Zoe Walker, sesame
and nuts, 2030-01-01).

The above exception was the direct cause of the following exception:

Traceback (most recent call last):
"""


def test_the_row_that_a_database_refuses_is_hidden_and_the_rest_stays():
    hidden = without_private_words(REFUSED_ROW)
    for private in ("Zoe", "sesame", "nuts"):
        assert private not in hidden
    assert 'constraint "seats"' in hidden
    assert "The above exception" in hidden
    assert hidden.endswith("Traceback (most recent call last):\n")


def test_arguments_are_cleaned_and_numbers_stay_numbers():
    made = record('"%s" %d %s', f"GET /mine/{WORD}/ HTTP/1.1", 200, "5")
    assert made.getMessage() == '"GET /mine/…/ HTTP/1.1" 200 5'


def test_arguments_by_name_are_cleaned():
    assert record("%(path)s", {"path": f"/enroll/{WORD}/"}).getMessage() == "/enroll/…/"


def test_a_traceback_is_cleaned():
    try:
        raise ValueError(f"/waiting/{WORD}/")
    except ValueError as error:
        made = record("Oh", exc_info=(type(error), error, error.__traceback__))
    assert "aBcD" not in logging.Formatter().format(made)
    assert "/waiting/…/" in logging.Formatter().format(made)


def test_an_exception_given_as_an_argument_is_cleaned():
    assert "aBcD" not in record("%s", ValueError(f"/mine/{WORD}/")).getMessage()


def test_every_handler_of_the_settings_has_the_filter():
    for handler in settings.LOGGING["handlers"].values():
        assert "private_words" in handler["filters"]
    for name in ("django", "django.server"):
        assert settings.LOGGING["loggers"][name]["propagate"] is False


@pytest.mark.parametrize("logger", ["django.request", "django.server", "classes"])
def test_what_is_written_out_holds_no_signed_word(logger, capsys):
    logging.config.dictConfig(settings.LOGGING)
    logging.getLogger(logger).warning("Not Found: %s", f"/mine/{WORD}/")
    written = capsys.readouterr().err
    assert "Not Found: /mine/…/" in written
    assert "aBcD" not in written


def test_a_page_not_found_is_logged_without_its_word(client, db, capsys):
    logging.config.dictConfig(settings.LOGGING)
    token = student_token(EnrollmentFactory(session=planned_class()))
    client.get(f"/mine/{token}x/")
    written = capsys.readouterr().err
    assert "/mine/…/" in written
    assert token[-20:] not in written
