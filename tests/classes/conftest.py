"""The clock of the public pages."""

from __future__ import annotations

import pytest
from django.utils import timezone

from tests.classes.enrolled import NOW


@pytest.fixture
def today(monkeypatch):
    """It is the first of April 2030, a month before the class; call it to set another moment."""

    def set_to(at):
        monkeypatch.setattr(timezone, "now", lambda: at)

    set_to(NOW)
    return set_to
