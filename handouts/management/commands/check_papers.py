"""Compare the papers of a class with each other, and print what differs."""

from __future__ import annotations

import sys
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from classes.models import ClassSession
from classes.selectors import class_plan
from handouts.checking.comparing import check
from handouts.kind import Material, NotPrinted


class Command(BaseCommand):
    help = (
        "Compare totals, temperatures, minutes and times across all papers of a class. Prints "
        "what differs and exits with 1, or with 0 and how many figures were compared."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("code", metavar="CLASS", help="the code of a class")

    def handle(self, *, code: str, **options: Any) -> None:
        session = ClassSession.objects.with_plan().filter(code=code.upper()).first()
        if session is None:
            raise CommandError(f"There is no class {code}. export_amounts lists them.")
        try:
            agreement = check(Material(class_plan(session), timezone.now()))
        except NotPrinted as problem:
            raise CommandError(f"{problem.heading}. {problem.advice}") from None
        if not agreement.compared:
            raise CommandError("No figure is on two papers, so nothing was compared.")
        for difference in agreement.differences:
            self.stdout.write(str(difference))
        compared = f"{agreement.compared} figures compared, {agreement.read} read in print"
        self.stdout.write(f"{compared}, {len(agreement.differences)} differ.")
        if agreement.differences:
            sys.exit(1)
