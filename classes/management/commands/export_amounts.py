"""Print the amounts of a class as JSON or CSV, or list the classes."""

from __future__ import annotations

import json
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from classes.amounts.exporting import amounts_csv, amounts_document
from classes.models import ClassSession
from classes.selectors import class_plan


class Command(BaseCommand):
    help = "Print a class's amounts. Without CLASS: list the codes and titles of all classes."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("code", nargs="?", metavar="CLASS", help="the code of a class")
        parser.add_argument("--format", choices=("json", "csv"), default="json")

    def handle(self, *, code: str | None, format: str, **options: Any) -> None:
        if code is None:
            self._list()
            return
        session = ClassSession.objects.with_plan().filter(code=code.upper()).first()
        if session is None:
            raise CommandError(f"There is no class {code}. Run without CLASS to list them.")
        plan = class_plan(session)
        if not plan.has_bakers:
            raise CommandError(f"Nobody is baking in class {code} yet: its roster is empty.")
        if format == "csv":
            self.stdout.write(amounts_csv(plan), ending="")
        else:
            self.stdout.write(json.dumps(amounts_document(plan), indent=2, ensure_ascii=False))

    def _list(self) -> None:
        for session in ClassSession.objects.all():
            self.stdout.write(f"{session.code}  {session.title}")
