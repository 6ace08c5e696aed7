from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from recipes.ingredients.table import load_ingredients


class Command(BaseCommand):
    help = "Add the shared ingredients that are missing; users' own are never touched."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument(
            "--refresh",
            action="store_true",
            help="also set the shared ingredients back to the values of the table",
        )

    def handle(self, *args: Any, refresh: bool, **options: Any) -> None:
        loaded = load_ingredients(refresh=refresh)
        self.stdout.write(
            f"Ingredients: {loaded.added} added, {loaded.refreshed} refreshed, "
            f"{loaded.left} left as they are."
        )
