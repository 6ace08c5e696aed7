"""The fetcher opens our static files and data: addresses, and nothing else."""

import pytest

from handouts.press.fetcher import BASE_URL, AddressRefused, StaticFetcher

REFUSED = [
    "http://127.0.0.1/",
    "https://example.org/a.png",
    "HTTP://127.0.0.1/",
    "ftp://example.org/a",
    "file:///etc/hostname",
    "FILE:///etc/hostname",
    "//127.0.0.1/a.png",
    "css/paper/components.css",
    "jar:file:///a",
    "javascript:alert(1)",
    "https://static.invalid.example.org/css/paper/components.css",
    "https://static.invalid@example.org/css/paper/components.css",
    f"{BASE_URL}css/nothing-like-it.css",
    f"{BASE_URL}../config/settings.py",
    f"{BASE_URL}%2e%2e/config/settings.py",
    f"{BASE_URL}..%2fconfig%2fsettings.py",
    f"{BASE_URL}/etc/hostname",
    f"{BASE_URL}css",
    BASE_URL,
    "",
]


@pytest.mark.parametrize("address", REFUSED)
def test_an_address_is_refused_and_remembered(address):
    fetcher = StaticFetcher()
    with pytest.raises(ValueError, match="may not fetch"):
        fetcher.fetch(address)
    with pytest.raises(AddressRefused) as error:
        fetcher.check()
    assert error.value.addresses == [address]


def test_a_refusal_is_an_ordinary_exception_that_views_can_answer():
    assert issubclass(AddressRefused, Exception)


def test_a_static_file_is_read():
    fetcher = StaticFetcher()
    assert b"<svg" in fetcher.fetch(f"{BASE_URL}img/mark.svg").read()
    fetcher.check()


def test_a_data_address_is_read():
    fetcher = StaticFetcher()
    assert fetcher.fetch("data:text/plain,flour").read() == b"flour"
    fetcher.check()
