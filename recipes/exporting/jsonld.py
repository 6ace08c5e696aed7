"""A recipe as schema.org Recipe JSON-LD, also without any loss.

Numbers are written as text in plain digits, so that no reader turns them into binary floats.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from recipes.core.choices import StepKind
from recipes.core.written import (
    NamedIngredient,
    WrittenLine,
    WrittenPart,
    WrittenRecipe,
    WrittenStep,
    flour_of,
    said,
)
from recipes.importing.document import VERSION
from recipes.importing.method.durations import duration
from recipes.importing.schema import vocabulary as words
from wording.figures import plain
from wording.lists import pieces_in_words


def jsonld(written: WrittenRecipe) -> dict[str, Any]:
    """The recipe as a schema.org Recipe; parts and percentages are PropertyValues."""
    cooking = _minutes(step for step in written.steps if step.kind is StepKind.BAKE)
    total = _minutes(written.steps)
    page: dict[str, Any] = {
        "@context": words.CONTEXT,
        "@type": "Recipe",
        "name": written.title,
        "description": written.summary,
        "recipeYield": pieces_in_words(said(written.pieces), written.piece_name),
        "yield": _yield(written),
        "prepTime": duration(total - cooking),
        "cookTime": duration(cooking),
        "totalTime": duration(total),
        "recipeIngredient": [
            _ingredient_text(line) for part in written.parts for line in part.lines
        ],
        "supply": _supplies(written),
        "tool": [{"@type": "HowToTool", "name": tool} for tool in written.equipment.split("\n")],
        "recipeInstructions": [_step(n, step) for n, step in enumerate(written.steps, start=1)],
    }
    if not written.equipment:
        del page["tool"]
    if written.note:
        page["comment"] = {"@type": "Comment", "text": written.note}
    return page


def jsonld_text(written: WrittenRecipe) -> str:
    """The JSON-LD as text that can be put into a page: no `<` can end its script element."""
    text = json.dumps(jsonld(written), ensure_ascii=False, indent=2)
    return text.replace("<", "\\u003c") + "\n"


def _minutes(steps: Iterable[WrittenStep]) -> int:
    return sum(step.hands_on_min + step.waiting_min for step in steps)


def _property(
    name: str, identifier: str, value: Decimal | str | int, unit: str = "", **more: Any
) -> dict[str, Any]:
    written = plain(value) if isinstance(value, Decimal) else value
    code = {"unitCode": unit} if unit else {}
    return {
        "@type": "PropertyValue", "propertyID": identifier, "name": name, "value": written,
        **code, **more,
    }  # fmt: skip


def _yield(written: WrittenRecipe) -> dict[str, Any]:
    properties = [
        _property("Format", words.FORMAT_ID, VERSION),
        _property("Dough in one piece", words.PIECE_ID, said(written.piece_g), words.GRAM),
        _property("Bake loss", words.BAKE_LOSS_ID, said(written.bake_loss_percent), words.PERCENT),
    ]
    for name, identifier, temperature_c in (
        ("Dough temperature", words.DOUGH_TEMPERATURE_ID, written.dough_temperature_c),
        ("Core temperature", words.CORE_TEMPERATURE_ID, written.core_temperature_c),
    ):
        if temperature_c is not None:
            properties.append(_property(name, identifier, temperature_c, words.CELSIUS))
    for name, (label, identifier, unit) in words.OWN_PAN.items():
        if value := getattr(written, name):
            properties.append(_property(label, identifier, value, unit))
    properties += [_part_property(part) for part in written.parts]
    return {
        "@type": "QuantitativeValue",
        "value": written.pieces,
        "unitText": written.piece_name,
        "additionalProperty": properties,
    }


def _part_property(part: WrittenPart) -> dict[str, Any]:
    details = [
        _property("Cooking loss", words.COOKING_LOSS_ID, part.cooking_loss_percent, words.PERCENT)
    ]
    if part.for_pieces is not None:
        details.append(_property("For pieces", words.FOR_PIECES_ID, part.for_pieces))
    return _property(part.name, words.PART_ID, part.kind, valueReference=details)


def _ingredient_text(line: WrittenLine) -> str:
    note = f", {line.note}" if line.note else ""
    return f"{plain(line.grams)} g {line.ingredient.name}{note}"


def _supplies(written: WrittenRecipe) -> list[dict[str, Any]]:
    flour_g = flour_of(written)
    return [
        _supply(line, n, flour_g) for n, part in enumerate(written.parts) for line in part.lines
    ]


def _supply(line: WrittenLine, part: int, flour_g: Decimal | None) -> dict[str, Any]:
    properties = [
        _property("Part", words.PART_ID, part),
        _property("Kind", words.KIND_ID, line.ingredient.kind),
    ]
    properties += _starter_properties(line.ingredient)
    if line.entered:
        properties.append(_property("As entered", words.ENTERED_ID, line.entered))
    if flour_g:
        share = (line.grams * 100 / flour_g).quantize(Decimal("0.01"), ROUND_HALF_UP)
        name = "Baker's percentage"
        properties.append(_property(name, words.BAKERS_PERCENT_ID, share, words.PERCENT))
    supply: dict[str, Any] = {
        "@type": "HowToSupply",
        "name": line.ingredient.name,
        "requiredQuantity": {
            "@type": "QuantitativeValue",
            "value": plain(line.grams),
            "unitCode": words.GRAM,
            "additionalProperty": properties,
        },
    }
    if line.ingredient.key:
        supply["identifier"] = line.ingredient.key
    if line.note:
        supply["description"] = line.note
    return supply


def _starter_properties(named: NamedIngredient) -> list[dict[str, Any]]:
    found = []
    if named.hydration_percent is not None:
        water = named.hydration_percent
        found.append(_property("Hydration", words.HYDRATION_ID, water, words.PERCENT))
    for flour in named.flours:
        key = {"identifier": flour.key} if flour.key else {}
        found.append(_property(flour.name, words.FLOUR_ID, flour.percent, words.PERCENT) | key)
    return found


def _step(position: int, step: WrittenStep) -> dict[str, Any]:
    properties = [_property("Kind", words.STEP_KIND_ID, step.kind)]
    if step.temperature_c is not None:
        temperature = _property(
            "Temperature", words.TEMPERATURE_ID, step.temperature_c, words.CELSIUS
        )
        properties.append(temperature)
    if step.temperature_of:
        properties.append(_property("Temperature of", words.TEMPERATURE_OF_ID, step.temperature_of))
    if step.worked:
        properties.append(_property("Worked", words.WORKED_ID, step.worked))
    return {
        "@type": "HowToStep",
        "position": position,
        "name": step.kind.label,
        "text": step.text,
        "itemListElement": {
            "@type": "HowToDirection",
            "text": step.text,
            "prepTime": duration(step.hands_on_min),
            "performTime": duration(step.waiting_min),
        },
        "additionalProperty": properties,
    }
