"""The demo's class, for every measure that prints papers of it."""

from __future__ import annotations

from datetime import UTC, datetime
from functools import cache

from classes.management.commands.load_demo import load_demo
from classes.models import ClassSession

NOW = datetime(2030, 5, 1, 9, tzinfo=UTC)


@cache
def demo_class() -> ClassSession:
    """The demo, loaded once a run: other measures leave classes of their own beside it."""
    return load_demo(now=NOW)
