"""The single entry point for a pasted text or a file: it detects what it is and reads it."""

from __future__ import annotations

from enum import StrEnum

from recipes.importing.amounts.region import named_region
from recipes.importing.document import FORMAT, read_data
from recipes.importing.jsontext import load
from recipes.importing.schema.pages import has_jsonld
from recipes.importing.schema.reading import read_jsonld, read_node
from recipes.importing.settled import reading_of
from recipes.importing.text.matching import IngredientBook
from recipes.importing.text.recipe import read_text
from recipes.importing.values import Reading
from recipes.importing.whole.own import read_own_text


class SourceKind(StrEnum):
    """What a text turned out to be."""

    TEXT = "text"
    JSONLD = "json-ld"
    DOCUMENT = "bakebench-recipe"


def read_pasted(text: str, book: IngredientBook) -> tuple[SourceKind, Reading]:
    """Read a recipe text, Recipe JSON-LD, a page's source with it, or our own JSON.

    A text's own statement about its measures outweighs the book's region. Raises an ImportingError;
    see each reader.
    """
    book = book.in_region(named_region(text) or book.region)
    stripped = text.lstrip("\ufeff \t\r\n")
    if stripped.startswith(("{", "[{")):
        data = load(stripped, strict=False)
        if isinstance(data, dict) and data.get("format") == FORMAT:
            return SourceKind.DOCUMENT, reading_of(read_data(load(stripped)), book)
        return SourceKind.JSONLD, read_node(data, book)
    if has_jsonld(text):
        return SourceKind.JSONLD, read_jsonld(text, book)
    if own := read_own_text(text, book):
        return SourceKind.DOCUMENT, reading_of(own, book)
    return SourceKind.TEXT, read_text(text, book)
