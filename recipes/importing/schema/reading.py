"""Reads schema.org Recipe JSON-LD from a file or the pasted source of a page.

Ingredient lines go through the same grammar as pasted text. A recipe that Bakebench wrote is read
exactly, from its PropertyValues; see `own`.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Any

from recipes.core.choices import ComponentKind
from recipes.core.written import WrittenPart, WrittenRecipe
from recipes.importing import doubts
from recipes.importing.doubts import Doubt
from recipes.importing.errors import ImportingError, NoRecipeFound
from recipes.importing.jsontext import Fraction, load
from recipes.importing.method.steps import Method
from recipes.importing.schema.instructions import read_instructions
from recipes.importing.schema.layout import laid_out
from recipes.importing.schema.own import read_own
from recipes.importing.schema.pages import scripts
from recipes.importing.schema.plain import one_line, texts_of
from recipes.importing.settled import reading_of
from recipes.importing.text.headings import read_heading
from recipes.importing.text.lines import read_line
from recipes.importing.text.makes import Makes, read_makes
from recipes.importing.text.matching import IngredientBook
from recipes.importing.text.several import lines_in
from recipes.importing.values import Reading, ReadLine
from recipes.importing.whole.ending import (
    LONGEST_EQUIPMENT,
    LONGEST_NOTE,
    LONGEST_SUMMARY,
    LONGEST_TITLE,
)
from recipes.importing.whole.gathering import MOST_LINES, cut, gathered

_MOST_NODES = 20_000
_MOST_YIELDS = 10


def read_jsonld(text: str, book: IngredientBook) -> Reading:
    """The first Recipe of a JSON-LD text or of a page's source.

    Raises NoRecipeFound, NotJson or TooMuchText (also for more ingredients or steps than any has).
    """
    stripped = text.lstrip("\ufeff \t\r\n")
    if stripped[:1] in ("{", "["):
        return read_node(load(stripped, strict=False), book)
    found: list[dict[str, Any]] = []
    for script in scripts(text):
        try:
            found += _recipes(load(script.strip(), strict=False))
        except ImportingError:
            continue
    return _first(found, book)


def read_node(data: object, book: IngredientBook) -> Reading:
    """The first Recipe within loaded JSON-LD. Raises NoRecipeFound."""
    return _first(list(_recipes(data)), book)


def _first(found: list[dict[str, Any]], book: IngredientBook) -> Reading:
    if not found:
        raise NoRecipeFound
    own = read_own(found[0])
    read = reading_of(own, book) if own else _foreign(found[0], book)
    if len(found) > 1:
        read = replace(read, doubts=(*read.doubts, doubts.SeveralRecipes(len(found))))
    return read


def _recipes(data: object) -> Iterator[dict[str, Any]]:
    """The Recipe nodes of a graph, however they are wrapped, in order."""
    waiting = deque([data])
    for _ in range(_MOST_NODES):
        if not waiting:
            return
        node = waiting.popleft()
        if isinstance(node, list):
            waiting.extendleft(reversed(node))
        elif isinstance(node, dict):
            if _is_recipe(node):
                yield node
            else:
                waiting.extendleft(
                    value for value in reversed(node.values()) if isinstance(value, dict | list)
                )


def _is_recipe(node: dict[str, Any]) -> bool:
    types = node.get("@type", node.get("type"))
    listed = types if isinstance(types, list) else [types]
    names = {item.rpartition("/")[2].rpartition(":")[2] for item in listed if isinstance(item, str)}
    return "Recipe" in names


def _foreign(node: dict[str, Any], book: IngredientBook) -> Reading:
    told: list[Doubt] = []
    makes = _makes(node)
    method = Method()
    read_instructions(method, node.get("recipeInstructions", node.get("step")))
    head = WrittenRecipe(
        title=cut(one_line(node.get("name", node.get("headline"))), LONGEST_TITLE, told),
        summary=cut(one_line(node.get("description")), LONGEST_SUMMARY, told),
        note=cut("\n".join(texts_of(node.get("comment"))), LONGEST_NOTE, told),
        equipment=cut("\n".join(texts_of(node.get("tool"))), LONGEST_EQUIPMENT, told),
    )
    read = gathered(head, makes, *_lines(node, book), method)
    found = (*makes.doubts, *read.doubts, *_diets(node), *told)
    return laid_out(replace(read, doubts=found))


def _lines(node: dict[str, Any], book: IngredientBook) -> tuple[list[WrittenPart], list[ReadLine]]:
    """The parts and the ingredient lines; a line that is a heading opens a part."""
    parts: list[WrittenPart] = []
    lines: list[ReadLine] = []
    part: WrittenPart | None = WrittenPart(ComponentKind.DOUGH, "Dough")
    listed = node.get("recipeIngredient", node.get("ingredients", node.get("supply")))
    texts = listed.splitlines() if isinstance(listed, str) else texts_of(listed)
    for text in texts[:MOST_LINES]:
        heading = read_heading(text)
        if heading and heading.kind and not heading.rest:
            part = WrittenPart(heading.kind, heading.name)
            continue
        if not any(sign.isalnum() for sign in text):
            continue
        if part is not None:
            parts.append(part)
            part = None
        lines += [read_line(line, book, len(parts) - 1) for line in lines_in(text, book)]
    return parts, lines


def _makes(node: dict[str, Any]) -> Makes:
    """The yield; of several ways to give it, the first that names pieces."""
    value = node.get("recipeYield", node.get("yield"))
    ways = value[:_MOST_YIELDS] if isinstance(value, list) else [value]
    read = [read_makes(_yield_text(way)) for way in ways] or [Makes()]
    return max(read, key=lambda makes: (makes.pieces is not None, bool(makes.piece_name)))


def _yield_text(value: object) -> str:
    if isinstance(value, dict):
        number = value.get("value", value.get("minValue", ""))
        return f"{_yield_text(number)} {one_line(value.get('unitText'))}".strip()
    if isinstance(value, Fraction):
        return value.text
    if isinstance(value, int | Decimal) and not isinstance(value, bool):
        return str(value)
    return one_line(value)


def _diets(node: dict[str, Any]) -> list[Doubt]:
    diets = tuple(text.rpartition("/")[2] for text in texts_of(node.get("suitableForDiet")))
    return [doubts.DietIgnored(diets[:12])] if diets else []
