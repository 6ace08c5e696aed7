"""Where letters and calendars say that the site is."""

import os
import subprocess
import sys

import pytest

from tests.styled import ROOT

SHOWS = "from config import testing; print(testing.SITE_URL)"


@pytest.mark.parametrize(
    ("said", "address"),
    [
        ({}, "http://127.0.0.1:8000"),
        ({"PORT": "8080"}, "http://127.0.0.1:8080"),
        ({"PORT": "8080", "SITE_URL": "https://bakebench.example"}, "https://bakebench.example"),
    ],
    ids=["nothing", "a port", "an address"],
)
def test_it_is_where_the_server_listens_until_it_is_said(said, address):
    environment = {key: value for key, value in os.environ.items() if key != "PORT"} | said
    command = [sys.executable, "-c", SHOWS]
    shown = subprocess.run(
        command, cwd=ROOT, env=environment, check=True, capture_output=True, text=True
    )
    assert shown.stdout.strip() == address
