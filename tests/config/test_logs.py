"""What opens somebody's page never stands in a log."""

from __future__ import annotations

import logging
import logging.config

import pytest
from django.conf import settings

from classes.access import student_token
from config.logs import SignedWordsFilter, without_signed_words
from tests.factories import EnrollmentFactory, planned_class

WORD = "12-0123456789abcdef:aBcD_-9"
PLACES = ("mine", "enroll", "waiting", "calendar", "enter")


def record(message, *args, exc_info=None):
    made = logging.LogRecord("a", logging.WARNING, "f", 1, message, args, exc_info)
    assert SignedWordsFilter().filter(made)
    return made


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("end", ["/", "/held/?format=json", ".ics", "", '" 404'])
def test_the_signed_word_of_an_address_is_hidden(place, end):
    text = without_signed_words(f"Not Found: /{place}/{WORD}{end}")
    assert "0123456789abcdef" not in text
    assert "aBcD" not in text
    assert text.startswith(f"Not Found: /{place}/…")


def test_other_addresses_stay_as_they_are():
    text = "GET /classes/ABC234/mine/ and /open/calendar.ics"
    assert without_signed_words(text) == text


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
        assert "signed_words" in handler["filters"]
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
