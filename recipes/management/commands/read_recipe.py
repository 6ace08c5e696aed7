import json
import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError

from recipes.core.regions import HomeRegion
from recipes.importing.doubts import Doubt
from recipes.importing.errors import ImportingError
from recipes.importing.intake import read_pasted
from recipes.importing.report import report, report_text
from recipes.importing.shelf import table_ingredients
from recipes.importing.text.matching import IngredientBook
from recipes.review.doubt_words import Names, told
from recipes.review.refusals import import_in_words
from recipes.selectors import home_region


class Command(BaseCommand):
    help = "Read a recipe's text and print what was understood; nothing is saved."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", help="a text file, or - for standard input")
        regions = [region.value for region in HomeRegion]
        parser.add_argument(
            "--region",
            choices=regions,
            help="whose cups and spoons are meant; the recipe book's if left out",
        )
        parser.add_argument("--format", choices=("json", "text"), default="json")

    def handle(
        self, *args: Any, file: str, format: str, region: str | None, **options: Any
    ) -> None:
        known = table_ingredients()
        book = IngredientBook(known, HomeRegion(region) if region else _book_region())
        try:
            _, read = read_pasted(_text_in(file), book)
        except ImportingError as error:
            raise CommandError(import_in_words(error)) from error
        names = Names(
            {ingredient.key: ingredient.name for ingredient in known},
            tuple(part.name for part in read.written.parts),
        )

        def in_words(doubt: Doubt) -> str:
            return told(doubt, names)[1]

        found = report(read, in_words)
        if format == "text":
            self.stdout.write(report_text(found), ending="")
        else:
            self.stdout.write(json.dumps(found, ensure_ascii=False, indent=2))


def _book_region() -> HomeRegion | None:
    """The recipe book's home region; None as long as there is no book."""
    try:
        return home_region()
    except DatabaseError:
        return None


def _text_in(file: str) -> str:
    """The text of the file or of standard input."""
    try:
        data = sys.stdin.buffer.read() if file == "-" else Path(file).read_bytes()
        return data.decode("utf-8-sig")
    except OSError as error:
        raise CommandError(f"{file}: {error.strerror}") from error
    except UnicodeDecodeError as error:
        raise CommandError(f"{file} is not a text in UTF-8.") from error
