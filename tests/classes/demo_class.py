"""The demo class, loaded once a test that needs its worked numbers."""

from __future__ import annotations

from datetime import UTC, datetime

from classes.management.commands.load_demo import load_demo
from classes.models import ClassSession

NOW = datetime(2030, 5, 1, 9, tzinfo=UTC)


def demo_class() -> ClassSession:
    """The demo's class, fetched with all that its amounts need."""
    session = load_demo(now=NOW)
    return ClassSession.objects.with_plan().get(pk=session.pk)
